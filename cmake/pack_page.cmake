# Builds the page where that is asked for, and writes it as a C++ file that the assembler fills.
#   PAGE, NPM, BUILT   the page's sources, npm, where to build; or
#   READY              a folder that holds the built page; or neither: no page
#   DESCRIPTION        the description of the API
#   LICENCES           the licences of what the program and the page are made of
#   DATA, WORK         the C++ file to write, a folder for what it takes in
cmake_minimum_required(VERSION 3.25)

# run(FOLDER COMMAND...): what it says is shown only when it fails.
function(run folder)
  execute_process(COMMAND ${ARGN} WORKING_DIRECTORY ${folder} RESULT_VARIABLE failed
                  OUTPUT_VARIABLE said ERROR_VARIABLE said)
  if(failed)
    message(FATAL_ERROR "in ${folder}: ${ARGN} failed:\n${said}")
  endif()
endfunction()

if(DEFINED PAGE)
  # Whole files only: what was deleted in the sources is to go here too.
  foreach(old src public)
    file(REMOVE_RECURSE ${BUILT}/${old})
  endforeach()
  file(GLOB parts RELATIVE ${PAGE} ${PAGE}/*)
  list(REMOVE_ITEM parts node_modules dist tests test-results)
  foreach(part IN LISTS parts)
    file(COPY ${PAGE}/${part} DESTINATION ${BUILT})
  endforeach()
  file(SHA256 ${PAGE}/package-lock.json wanted)
  set(installed "")
  if(EXISTS ${BUILT}/node_modules/.installed)
    file(READ ${BUILT}/node_modules/.installed installed)
  endif()
  if(NOT installed STREQUAL wanted)
    # No package runs anything of its own here: what is needed comes as files.
    run(${BUILT} ${NPM} ci --ignore-scripts --no-audit --no-fund)
    file(WRITE ${BUILT}/node_modules/.installed ${wanted})
  endif()
  file(REMOVE_RECURSE ${BUILT}/dist)
  run(${BUILT} ${NPM} run build)
  set(READY ${BUILT}/dist)
endif()

set(files)
if(DEFINED READY)
  if(NOT EXISTS ${READY}/index.html)
    message(FATAL_ERROR "the page's build left no index.html in ${READY}")
  endif()
  file(GLOB_RECURSE files RELATIVE ${READY} ${READY}/*)
  list(SORT files)
endif()

file(REMOVE_RECURSE ${WORK})
file(MAKE_DIRECTORY ${WORK})

# take_in(NAME FILE): text of the C++ file that holds a file's bytes as `NAME`.
function(take_in name file result)
  string(CONCAT text
    "__asm__(\".section .rodata\\n.balign 16\\n.hidden ${name}\\n.global ${name}\\n${name}:\\n\"\n"
    "        \".incbin \\\"${file}\\\"\\n.hidden ${name}_end\\n.global ${name}_end\\n\"\n"
    "        \"${name}_end:\\n.byte 0\\n.previous\\n\");\n"
    "extern \"C\" const char ${name}[];\nextern \"C\" const char ${name}_end[];\n")
  set(${result} "${text}" PARENT_SCOPE)
endfunction()

set(bytes "")
set(rows "")
set(number 0)
foreach(file IN LISTS files)
  file(COPY_FILE ${READY}/${file} ${WORK}/${number}.plain)
  run(${WORK} gzip -9 -n -k -S .gz ${number}.plain)
  file(SHA256 ${WORK}/${number}.plain hash)
  string(SUBSTRING ${hash} 0 32 hash)
  take_in(ww_page_${number}_plain ${WORK}/${number}.plain plain)
  take_in(ww_page_${number}_gzip ${WORK}/${number}.plain.gz gzip)
  string(APPEND bytes "${plain}${gzip}")
  string(APPEND rows "      {.path = \"${file}\",\n"
    "       .plain = span(ww_page_${number}_plain, ww_page_${number}_plain_end),\n"
    "       .gzip = span(ww_page_${number}_gzip, ww_page_${number}_gzip_end),\n"
    "       .etag = \"\\\"${hash}\\\"\"},\n")
  math(EXPR number "${number} + 1")
endforeach()
take_in(ww_page_description ${DESCRIPTION} description)
take_in(ww_page_licences ${LICENCES} licences)

file(WRITE ${DATA} "// Written by cmake/pack_page.cmake.
#include \"web/page_files.h\"

${bytes}${description}${licences}
namespace weighwright::web {
namespace {
std::string_view span(const char* begin, const char* end) {
  return {begin, static_cast<std::size_t>(end - begin)};
}
}  // namespace

const std::vector<BuiltInFile>& built_in_files() {
  static const std::vector<BuiltInFile> kFiles = {
${rows}  };
  return kFiles;
}

std::string_view built_in_description() {
  return span(ww_page_description, ww_page_description_end);
}

std::string_view built_in_licences() {
  return span(ww_page_licences, ww_page_licences_end);
}
}  // namespace weighwright::web
")
