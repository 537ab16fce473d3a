# What makes a mistake in memory hard to use, in the program that is shipped (the preset `release`).
#   stack protector, stack clash   a function that overruns its own arrays ends the program
#   FORTIFY_SOURCE                 functions of the C library know the size of what they write to
#   relro, now, PIE                what the loader bound can't be written to; nothing has a known address
# Not in `quick` (no optimisation, without which FORTIFY_SOURCE does nothing) and not under
# sanitizers, which watch the same and more. tests/house/hardening_test.py reads the built program.
set(hardened OFF)
if(CMAKE_BUILD_TYPE STREQUAL "Release" AND NOT WEIGHWRIGHT_QUICK AND NOT WEIGHWRIGHT_SANITIZE)
  set(hardened ON)
endif()
option(WEIGHWRIGHT_HARDENED "build as it is shipped: stack protector, FORTIFY_SOURCE, BIND_NOW, PIE"
       ${hardened})

if(WEIGHWRIGHT_HARDENED)
  include(CheckPIESupported)
  check_pie_supported(LANGUAGES CXX)
  set(CMAKE_POSITION_INDEPENDENT_CODE ON)
  add_compile_options(-fstack-protector-strong -fstack-clash-protection)
  # Some compilers define it by themselves.
  add_compile_options(-U_FORTIFY_SOURCE -D_FORTIFY_SOURCE=2)
  add_link_options(LINKER:-z,relro LINKER:-z,now LINKER:-z,noexecstack)
endif()
