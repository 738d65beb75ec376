# cmake -S . -B build/tidy -G Ninja -C tests/setups/tidy.cmake
# Only configured: clang-tidy reads compile_commands.json, whose flags must be clang's.
set(CMAKE_CXX_COMPILER clang++ CACHE STRING "")
set(CMAKE_BUILD_TYPE Debug CACHE STRING "")
# Files of one room are read eight at a time: most of the work is in the headers, and is the same.
set(CMAKE_UNITY_BUILD ON CACHE BOOL "")
