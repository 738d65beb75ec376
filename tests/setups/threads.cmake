# cmake -S . -B build/threads -G Ninja -C tests/setups/threads.cmake
# The rooms that use threads, under the thread sanitizer.
set(CMAKE_BUILD_TYPE Debug CACHE STRING "")
set(CMAKE_CXX_FLAGS_DEBUG "-O1 -g1 -fsanitize=thread" CACHE STRING "")
set(CMAKE_EXE_LINKER_FLAGS "-fsanitize=thread" CACHE STRING "")
include(${CMAKE_CURRENT_LIST_DIR}/joint.cmake)
