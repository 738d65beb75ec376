# cmake -S . -B build/asan -G Ninja -C tests/setups/asan.cmake
# Every test again, under the address and undefined-behaviour sanitizers, with assertions on.
set(CMAKE_BUILD_TYPE Debug CACHE STRING "")
set(CMAKE_CXX_FLAGS_DEBUG "-O1 -g1 -D_GLIBCXX_ASSERTIONS" CACHE STRING "")
set(WHICHLINK_SANITIZE ON CACHE BOOL "")
include(${CMAKE_CURRENT_LIST_DIR}/joint.cmake)
