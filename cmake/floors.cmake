# The table of floors: which floor may include which, and which third-party headers it may use.
# One line a floor: name | floors it may include | third-party roots it may include.
# Read by CMake (which links accordingly) and by tests/house/floors_test.py (which reads every
# #include of the tree against it). Arrows point down only.
set(WEIGHWRIGHT_FLOORS
  "units      |                                                              | "
  "chance     |                                                              | boost/math"
  "record     | units                                                        | "
  "record/encoding | record units                                            | nlohmann"
  "journal    | record/encoding record units                                 | sqlite3 sodium fmt"
  "deck       | units                                                        | "
  "deck/reading | deck units                                                 | toml++"
  "signal     | record deck units                                            | Eigen"
  "statics    | deck units                                                   | Eigen boost/math"
  "share      | chance statics signal record deck units                      | Eigen boost/math"
  "trim       | chance statics signal record deck units                      | Eigen boost/math"
  "span       | trim chance statics signal record deck units                 | Eigen boost/math"
  "rehearsal  | chance share statics signal record deck units                | Eigen boost/math"
  "diagnose   | chance trim share statics signal record deck units           | Eigen boost/math"
  "link       | record deck units                                            | modbus fmt"
  "report     | deck units                                                   | fmt nlohmann"
  "job        | journal link chance diagnose rehearsal span trim share statics signal record deck/reading deck report units | Eigen fmt"
  "web        | job report units                                             | httplib openssl sodium qrencode fmt nlohmann"
  "cli        | web job report units                                         | CLI11 CLI fmt nlohmann"
)

# weighwright_floor(statics grillage.cpp ...): a static library of one floor, linked to what the
# table allows.
function(weighwright_floor floor)
  string(REPLACE "/" "_" target "ww_${floor}")
  add_library(${target} STATIC ${ARGN})
  target_include_directories(${target} PUBLIC ${PROJECT_SOURCE_DIR}/src)
  target_compile_features(${target} PUBLIC cxx_std_20)
  weighwright_warnings(${target})
  foreach(row IN LISTS WEIGHWRIGHT_FLOORS)
    string(REPLACE "|" ";" cells "${row}")
    list(GET cells 0 name)
    string(STRIP "${name}" name)
    if(NOT name STREQUAL floor)
      continue()
    endif()
    list(GET cells 1 below)
    separate_arguments(below UNIX_COMMAND "${below}")
    foreach(other IN LISTS below)
      string(REPLACE "/" "_" other_target "ww_${other}")
      target_link_libraries(${target} PUBLIC ${other_target})
    endforeach()
    list(GET cells 2 third)
    if(third MATCHES "Eigen")
      target_link_libraries(${target} PUBLIC Eigen3::Eigen)
    endif()
    if(third MATCHES "fmt")
      target_link_libraries(${target} PUBLIC fmt::fmt)
    endif()
    if(third MATCHES "sqlite3")
      target_link_libraries(${target} PUBLIC PkgConfig::SQLITE3)
    endif()
    if(third MATCHES "sodium")
      target_link_libraries(${target} PUBLIC PkgConfig::SODIUM)
    endif()
    if(third MATCHES "modbus")
      target_link_libraries(${target} PUBLIC PkgConfig::MODBUS Threads::Threads)
    endif()
    if(third MATCHES "httplib")
      target_link_libraries(${target} PUBLIC PkgConfig::HTTPLIB Threads::Threads)
    endif()
    if(third MATCHES "openssl")
      target_link_libraries(${target} PUBLIC PkgConfig::OPENSSL)
    endif()
    if(third MATCHES "qrencode")
      target_link_libraries(${target} PUBLIC PkgConfig::QRENCODE)
    endif()
    return()
  endforeach()
  message(FATAL_ERROR "floor ${floor} is not in the table of cmake/floors.cmake")
endfunction()

# weighwright_tests(statics a_test.cpp ...): one test binary a floor, each test known to CTest.
function(weighwright_tests floor)
  string(REPLACE "/" "_" name "${floor}")
  set(target "${name}_tests")
  add_executable(${target} ${ARGN})
  target_link_libraries(${target} PRIVATE ww_${name} GTest::gtest_main rapidcheck)
  target_include_directories(${target} PRIVATE ${PROJECT_SOURCE_DIR}/tests)
  target_compile_definitions(${target} PRIVATE WEIGHWRIGHT_SOURCE_DIR="${PROJECT_SOURCE_DIR}")
  weighwright_warnings(${target})
  # What is tested is built as it is shipped; the tests' own code need not be fast, and compiles in
  # half the time.
  target_compile_options(${target} PRIVATE $<$<CONFIG:Release>:-O1>)
  gtest_discover_tests(${target} TEST_PREFIX "${floor}/" DISCOVERY_TIMEOUT 60
                       PROPERTIES TIMEOUT 600 LABELS "${floor}")
endfunction()
