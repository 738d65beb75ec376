# cmake -S . -B build/fuzz -G Ninja -C tests/setups/fuzz.cmake
# The libFuzzer targets, with both sanitizers and with assertions on.
set(CMAKE_CXX_COMPILER clang++ CACHE STRING "")
set(CMAKE_BUILD_TYPE Debug CACHE STRING "")
set(CMAKE_CXX_FLAGS_DEBUG "-O1 -g1 -D_GLIBCXX_ASSERTIONS" CACHE STRING "")
set(WHICHLINK_SANITIZE ON CACHE BOOL "")
set(WHICHLINK_FUZZ ON CACHE BOOL "")
# The rooms that only reckon, in which a guided case spends its time: optimized, watched neither by
# the fuzzer nor by the sanitizers, which makes it four times as fast. Assertions stay on. All their
# tests run with both sanitizers in the asan build.
set(WHICHLINK_UNWATCHED_ROOMS belief search flat plan upkeep CACHE STRING "")
set(WHICHLINK_UNWATCHED_OPTIONS -O2 -fno-sanitize=all CACHE STRING "")
include(${CMAKE_CURRENT_LIST_DIR}/joint.cmake)
