# The pocket page: those rooms of the engine that guide a case, compiled to WebAssembly by Debian's
# clang, in one HTML page with the script around them. Makes `pocket_page`, an object library that
# holds the page as bytes; cli/pocket/page.cc puts an installation into it.
enable_language(ASM)
find_program(WHICHLINK_WASM_CXX clang++-14 REQUIRED)

set(here ${CMAKE_CURRENT_LIST_DIR})
set(wasm_folder ${CMAKE_CURRENT_BINARY_DIR}/pocket)
file(MAKE_DIRECTORY ${wasm_folder})

# No exceptions: engine code throws none, and what the libraries would throw ends the module.
set(wasm_flags
    --target=wasm32-wasi -std=c++20 -O2 -flto -ffp-contract=off -fno-exceptions -fno-rtti
    -Wall -Wextra -Werror -Wno-defaulted-function-deleted -DNDEBUG
    -I${CMAKE_SOURCE_DIR}/engine -I${CMAKE_SOURCE_DIR}/cli
    # fmt is compiled in; neither it nor the JSON library asks for a locale or a file system.
    -DFMT_HEADER_ONLY -DFMT_STATIC_THOUSANDS_SEPARATOR=1
    -DJSON_HAS_FILESYSTEM=0 -DJSON_HAS_EXPERIMENTAL_FILESYSTEM=0)

set(wasm_sources ${here}/module.cc ${here}/rates.cc ${here}/stand_ins.cc
                 ${here}/tree.cc)
foreach(room base belief chain faults search moves flat plan guide load)
  get_target_property(sources whichlink_${room} SOURCES)
  list(APPEND wasm_sources ${sources})
endforeach()
# YAML and files stay outside, and what only they or other commands read.
list(FILTER wasm_sources EXCLUDE REGEX
     "/load/(placed_tree|syntax_words|decimal|files|lessons|sessions|stores_file)\\.cc$")
foreach(name pocket case_words text)
  list(APPEND wasm_sources ${CMAKE_SOURCE_DIR}/engine/render/${name}.cc)
endforeach()
list(FILTER wasm_sources INCLUDE REGEX "\\.cc$")

set(wasm_objects "")
foreach(source IN LISTS wasm_sources)
  file(RELATIVE_PATH name ${CMAKE_SOURCE_DIR} ${source})
  string(REPLACE "/" "_" name ${name})
  set(object ${wasm_folder}/${name}.o)
  add_custom_command(
    OUTPUT ${object}
    COMMAND ${CMAKE_CXX_COMPILER_LAUNCHER} ${WHICHLINK_WASM_CXX} ${wasm_flags} -MD -MF ${object}.d
            -c ${source} -o ${object}
    DEPENDS ${source}
    DEPFILE ${object}.d
    COMMENT "Building ${name} for the pocket page"
    VERBATIM)
  list(APPEND wasm_objects ${object})
endforeach()

set(wasm_module ${wasm_folder}/engine.wasm)
set(wasm_exports "")
foreach(name room begin show answer)
  list(APPEND wasm_exports -Wl,--export=whichlink_${name})
endforeach()
add_custom_command(
  OUTPUT ${wasm_module}
  COMMAND ${WHICHLINK_WASM_CXX} --target=wasm32-wasi -O2 -flto -mexec-model=reactor
          -Wl,--gc-sections -Wl,--strip-all -Wl,-z,stack-size=1048576 ${wasm_exports}
          ${wasm_objects} -o ${wasm_module}
  DEPENDS ${wasm_objects}
  COMMENT "Linking the engine of the pocket page"
  VERBATIM)

set(page_parts ${here}/page.html ${here}/page.css ${here}/page.js ${here}/assemble.sh)
set(WHICHLINK_POCKET_PAGE ${wasm_folder}/page.html)
add_custom_command(
  OUTPUT ${WHICHLINK_POCKET_PAGE}
  COMMAND sh ${here}/assemble.sh ${here} ${wasm_module} ${WHICHLINK_POCKET_PAGE}
  DEPENDS ${page_parts} ${wasm_module}
  COMMENT "Assembling the pocket page"
  VERBATIM)

configure_file(${here}/page_bytes.S.in ${wasm_folder}/page_bytes.S @ONLY)
set_source_files_properties(${wasm_folder}/page_bytes.S PROPERTIES OBJECT_DEPENDS
                                                                   ${WHICHLINK_POCKET_PAGE})
add_library(pocket_page OBJECT ${wasm_folder}/page_bytes.S)
