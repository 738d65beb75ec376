# cmake -S . -B build/tidy -G Ninja -C tests/setups/tidy.cmake
# Only configured: clang-tidy reads compile_commands.json, whose flags must be clang's.
set(CMAKE_CXX_COMPILER clang++ CACHE STRING "")
set(CMAKE_BUILD_TYPE Debug CACHE STRING "")
include(${CMAKE_CURRENT_LIST_DIR}/joint.cmake)
