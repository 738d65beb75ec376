# cmake -S . -B build/coverage -G Ninja -C tests/setups/coverage.cmake
# Which lines of engine/ the tests go through; gcovr reads what they leave.
set(CMAKE_BUILD_TYPE Debug CACHE STRING "")
set(CMAKE_CXX_FLAGS_DEBUG "-O1 -g1 --coverage -fprofile-update=atomic" CACHE STRING "")
