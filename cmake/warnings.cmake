# Warnings of our own code; every one is an error. Third-party headers are SYSTEM.
function(weighwright_warnings target)
  set(common -Wall -Wextra -Wpedantic -Wshadow -Wconversion -Wdouble-promotion -Wold-style-cast
             -Wnon-virtual-dtor -Woverloaded-virtual -Werror)
  target_compile_options(${target} PRIVATE ${common})
  if(CMAKE_CXX_COMPILER_ID STREQUAL "GNU")
    # -Wrestrict is wrong about std::string at -O2 in g++ 12 (GCC bug 105651).
    target_compile_options(${target} PRIVATE -Wduplicated-cond -Wlogical-op -Wno-restrict)
  endif()
endfunction()
