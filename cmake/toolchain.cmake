# Language level, warnings as errors, compiler cache and linker. The shipped build is portable: no -march=native.
set(CMAKE_CXX_STANDARD 20)
set(CMAKE_CXX_STANDARD_REQUIRED ON)
set(CMAKE_CXX_EXTENSIONS OFF)
set(CMAKE_EXPORT_COMPILE_COMMANDS ON)

find_program(BARM_CCACHE ccache)
if(BARM_CCACHE)
  set(CMAKE_CXX_COMPILER_LAUNCHER "${BARM_CCACHE}")
endif()
find_program(BARM_MOLD mold)
if(BARM_MOLD)
  add_link_options(-fuse-ld=mold)
endif()

add_library(barm_flags INTERFACE)
# -Wno-restrict: GCC 12 warns of overlapping copies inside its own std::string at -O2 (its bug 105651).
target_compile_options(barm_flags INTERFACE -Wall -Wextra -Wconversion -Wshadow
  $<$<CXX_COMPILER_ID:GNU>:-Werror> $<$<CXX_COMPILER_ID:GNU>:-Wno-restrict>)  # clang builds only what is fuzzed
target_compile_options(barm_flags INTERFACE $<$<CXX_COMPILER_ID:Clang>:-fbracket-depth=2048>)  # unrolled sums

set(BARM_SANITIZE "" CACHE STRING "Sanitizers to build with, as the compiler spells them (address,undefined)")
if(BARM_SANITIZE)
  add_compile_options(-Wno-maybe-uninitialized)  # GCC 12 warns falsely of std::optional under sanitizers
  add_compile_options(-fsanitize=${BARM_SANITIZE} -fno-sanitize-recover=all -fno-omit-frame-pointer -g1)
  add_link_options(-fsanitize=${BARM_SANITIZE})
endif()
option(BARM_COVERAGE "Count which lines the tests run" OFF)
if(BARM_COVERAGE)
  add_compile_options(--coverage -O0)
  add_link_options(--coverage)
endif()
