# cmake -S . -B build/asan -G Ninja -C tests/setups/asan.cmake
# Every test again, under the address and undefined-behaviour sanitizers, with assertions on.
set(CMAKE_BUILD_TYPE Debug CACHE STRING "")
set(CMAKE_CXX_FLAGS_DEBUG "-O1 -g1 -D_GLIBCXX_ASSERTIONS" CACHE STRING "")
set(WHICHLINK_SANITIZE ON CACHE BOOL "")
# Files of one room are compiled eight at a time, which saves some two fifths of the work: their
# headers and templates. The release build, one by one, keeps each of them whole.
set(CMAKE_UNITY_BUILD ON CACHE BOOL "")
