# Writes the built-in rulebooks as a C++ file.
#   as a script   -DFOLDER=rulebooks -DCODES=R76,H44 -DDATA=the C++ file to write
#   included      weighwright_rulebooks(TARGET): adds rules::built_in_texts() to a floor
if(NOT CMAKE_SCRIPT_MODE_FILE)
  set(WEIGHWRIGHT_RULEBOOKS_SCRIPT ${CMAKE_CURRENT_LIST_FILE})

  function(weighwright_rulebooks target)
    set(folder ${PROJECT_SOURCE_DIR}/rulebooks)
    set(data ${CMAKE_CURRENT_BINARY_DIR}/built_in_texts.cpp)
    add_custom_command(
      OUTPUT ${data}
      COMMAND ${CMAKE_COMMAND} -DFOLDER=${folder} -DCODES=R76,H44 -DDATA=${data}
              -P ${WEIGHWRIGHT_RULEBOOKS_SCRIPT}
      DEPENDS ${folder}/R76.toml ${folder}/H44.toml ${WEIGHWRIGHT_RULEBOOKS_SCRIPT}
      COMMENT "Packing the rulebooks"
      VERBATIM)
    target_sources(${target} PRIVATE ${data})
  endfunction()
  return()
endif()

set(rows "")
string(REPLACE "," ";" codes "${CODES}")
foreach(code IN LISTS codes)
  file(READ ${FOLDER}/${code}.toml text)
  if(text MATCHES "\\)rulebook\"")
    message(FATAL_ERROR "${code}.toml holds the mark that ends its text in C++")
  endif()
  string(APPEND rows "      {\"${code}\", R\"rulebook(${text})rulebook\"},\n")
endforeach()

file(WRITE ${DATA} "// Written by cmake/pack_rulebooks.cmake.
#include \"rules/reading/built_in_texts.h\"

namespace weighwright::rules::reading {

const std::vector<BuiltInText>& built_in_texts() {
  static const std::vector<BuiltInText> kTexts = {
${rows}  };
  return kTexts;
}

}  // namespace weighwright::rules::reading
")
