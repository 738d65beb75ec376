# cmake -S . -B build/fuzz -G Ninja -C tests/setups/fuzz.cmake
# The libFuzzer targets, with both sanitizers and with assertions on.
set(CMAKE_CXX_COMPILER clang++ CACHE STRING "")
set(CMAKE_BUILD_TYPE Debug CACHE STRING "")
set(CMAKE_CXX_FLAGS_DEBUG "-O1 -g1 -D_GLIBCXX_ASSERTIONS" CACHE STRING "")
set(WHICHLINK_SANITIZE ON CACHE BOOL "")
set(WHICHLINK_FUZZ ON CACHE BOOL "")
