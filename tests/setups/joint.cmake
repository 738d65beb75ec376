# For the set-ups that compile everything once more; not one of its own.
# Files of one room are compiled eight at a time, which saves some two fifths of the work: their
# headers and templates. The release build, one by one, keeps each of them whole.
set(CMAKE_UNITY_BUILD ON CACHE BOOL "")
