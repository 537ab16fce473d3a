# Warnings of our own code; every one is an error. Third-party headers are SYSTEM.
function(weighwright_warnings target)
  set(common -Wall -Wextra -Wpedantic -Wshadow -Wconversion -Wdouble-promotion -Wold-style-cast
             -Wnon-virtual-dtor -Woverloaded-virtual -Werror)
  target_compile_options(${target} PRIVATE ${common})
  if(CMAKE_CXX_COMPILER_ID STREQUAL "GNU")
    target_compile_options(${target} PRIVATE -Wduplicated-cond -Wlogical-op)
  endif()
endfunction()
