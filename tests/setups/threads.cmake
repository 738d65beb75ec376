# cmake -S . -B build/threads -G Ninja -C tests/setups/threads.cmake
# The rooms that use threads, under the thread sanitizer.
set(CMAKE_BUILD_TYPE Debug CACHE STRING "")
set(CMAKE_CXX_FLAGS_DEBUG "-O1 -g1 -fsanitize=thread" CACHE STRING "")
set(CMAKE_EXE_LINKER_FLAGS "-fsanitize=thread" CACHE STRING "")
# Files of one room are compiled eight at a time, which saves some two fifths of the work: their
# headers and templates. The release build, one by one, keeps each of them whole.
set(CMAKE_UNITY_BUILD ON CACHE BOOL "")
