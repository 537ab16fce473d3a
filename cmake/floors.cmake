# The table of floors: which floor may include which, and which third-party headers it may use.
# One line a floor: name | floors it may include | third-party roots it may include.
# Read by CMake (which links accordingly) and by tests/house/floors_test.py (which reads every
# #include of the tree against it). Arrows point down only.
set(WEIGHWRIGHT_FLOORS
  "units      |                                                              | "
  "toml       | units                                                        | "
  "chance     |                                                              | boost/math"
  "record     | units                                                        | "
  "record/encoding | record units                                            | nlohmann"
  "journal    | record/encoding record units                                 | sqlite3 sodium fmt"
  "deck       | units                                                        | "
  "deck/reading | toml deck units                                            | toml++"
  "signal     | record deck units                                            | Eigen"
  "statics    | deck units                                                   | Eigen boost/math"
  "share      | chance statics signal record deck units                      | Eigen boost/math"
  "trim       | chance statics signal record deck units                      | Eigen boost/math"
  "span       | trim chance statics signal record deck units                 | Eigen boost/math"
  "rehearsal  | chance share statics signal record deck units                | Eigen boost/math"
  "diagnose   | chance trim share statics signal record deck units           | Eigen boost/math"
  "rules      | units                                                        | "
  "rules/reading | toml rules units                                          | toml++"
  "proof      | rules chance statics signal record deck units                | Eigen boost/math"
  "link       | record deck units                                            | modbus fmt"
  "report     | deck units                                                   | fmt nlohmann"
  "report/paper | report deck units                                          | cairo pango qrencode fmt"
  "report/exchange | report deck units                                       | pugixml fmt"
  "job        | journal link chance proof rules/reading rules diagnose rehearsal span trim share statics signal record deck/reading deck report/paper report/exchange report units | Eigen fmt"
  "web        | job report units                                             | httplib openssl sodium qrencode fmt nlohmann"
  "cli        | web job report units                                         | CLI11 CLI fmt nlohmann"
)

# What computes for long: optimised in every build, also in the one for the hand (preset quick).
set(WEIGHWRIGHT_COMPUTING chance statics signal share trim span rehearsal diagnose)

# weighwright_floor(statics grillage.cpp ...): a static library of one floor, linked to what the
# table allows.
function(weighwright_floor floor)
  string(REPLACE "/" "_" target "ww_${floor}")
  add_library(${target} STATIC ${ARGN})
  target_include_directories(${target} PUBLIC ${PROJECT_SOURCE_DIR}/src)
  target_compile_features(${target} PUBLIC cxx_std_20)
  weighwright_warnings(${target})
  if(WEIGHWRIGHT_QUICK AND NOT floor IN_LIST WEIGHWRIGHT_COMPUTING)
    target_compile_options(${target} PRIVATE -O0)
  endif()
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
    foreach(pair "Eigen|Eigen3::Eigen" "fmt|fmt::fmt" "sqlite3|PkgConfig::SQLITE3"
                 "sodium|PkgConfig::SODIUM" "modbus|PkgConfig::MODBUS" "modbus|Threads::Threads"
                 "httplib|PkgConfig::HTTPLIB" "httplib|Threads::Threads"
                 "openssl|PkgConfig::OPENSSL" "qrencode|PkgConfig::QRENCODE"
                 "pango|PkgConfig::PANGOCAIRO" "pugixml|PkgConfig::PUGIXML")
      string(REPLACE "|" ";" words "${pair}")
      list(GET words 0 root)
      list(GET words 1 library)
      if(third MATCHES "${root}")
        target_link_libraries(${target} PUBLIC ${library})
      endif()
    endforeach()
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
  target_compile_options(${target} PRIVATE $<$<CONFIG:Release>:-O$<IF:$<BOOL:${WEIGHWRIGHT_QUICK}>,0,1>>)
  if(WEIGHWRIGHT_SANITIZE)
    # g++ 12 warns falsely inside <regex> when it is instrumented.
    target_compile_options(${target} PRIVATE -Wno-maybe-uninitialized)
  endif()
  gtest_discover_tests(${target} TEST_PREFIX "${floor}/" DISCOVERY_TIMEOUT 60
                       PROPERTIES TIMEOUT 600 LABELS "${floor}")
endfunction()

# weighwright_script_tests(cli a_test.py ...): Python scripts that run the built program; every method
# of them is a test of its own to CTest.
function(weighwright_script_tests label)
  find_package(Python3 REQUIRED COMPONENTS Interpreter)
  foreach(script IN LISTS ARGN)
    set(file ${CMAKE_CURRENT_SOURCE_DIR}/${script})
    set_property(DIRECTORY APPEND PROPERTY CMAKE_CONFIGURE_DEPENDS ${file})
    file(STRINGS ${file} lines REGEX "^class |^    def test_")
    foreach(line IN LISTS lines)
      if(line MATCHES "^class ([A-Za-z]+)")
        set(class ${CMAKE_MATCH_1})
      elseif(line MATCHES "def (test_[A-Za-z0-9_]+)")
        set(name ${label}/${class}.${CMAKE_MATCH_1})
        add_test(NAME ${name}
                 COMMAND ${Python3_EXECUTABLE} -B ${file} $<TARGET_FILE:weighwright>
                         ${PROJECT_SOURCE_DIR} ${class}.${CMAKE_MATCH_1})
        set_tests_properties(${name} PROPERTIES LABELS ${label} TIMEOUT 300)
      endif()
    endforeach()
  endforeach()
endfunction()
