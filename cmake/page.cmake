# The page, built and put into the program.
#
# With node (18 or later) and npm: page/ is copied to the build directory and built there (its
# packages lie there too), and again only when one of its files changed. Without them a page/dist
# that somebody else has built is taken as it is. WEIGHWRIGHT_PAGE=OFF builds a program that serves
# the API only, and a page from a folder (serve --page).
option(WEIGHWRIGHT_PAGE "build the page and put it into the program" ON)

# weighwright_page(TARGET): adds web::built_in_files() and built_in_description() to a floor.
function(weighwright_page target)
  set(page ${PROJECT_SOURCE_DIR}/page)
  set(description ${PROJECT_SOURCE_DIR}/schema/page-api.json)
  set(packer ${PROJECT_SOURCE_DIR}/cmake/pack_page.cmake)
  set(data ${CMAKE_CURRENT_BINARY_DIR}/page_data.cpp)
  set(licences ${PROJECT_SOURCE_DIR}/THIRD-PARTY.txt)
  set(arguments -DDESCRIPTION=${description} -DLICENCES=${licences} -DDATA=${data}
                -DWORK=${CMAKE_CURRENT_BINARY_DIR}/page_data)
  set(sources)

  if(WEIGHWRIGHT_PAGE)
    find_program(NODE node)
    find_program(NPM npm)
    set(version 0)
    if(NODE AND NPM)
      execute_process(COMMAND ${NODE} --version OUTPUT_VARIABLE version
                      OUTPUT_STRIP_TRAILING_WHITESPACE)
      string(REGEX REPLACE "^v" "" version "${version}")
    endif()
    if(version VERSION_GREATER_EQUAL 18)
      file(GLOB_RECURSE sources CONFIGURE_DEPENDS ${page}/src/* ${page}/public/*)
      file(GLOB tops CONFIGURE_DEPENDS ${page}/*.html ${page}/*.js ${page}/*.ts ${page}/*.json)
      list(APPEND sources ${tops})
      list(APPEND arguments -DPAGE=${page} -DNPM=${NPM} -DBUILT=${PROJECT_BINARY_DIR}/page)
    elseif(EXISTS ${page}/dist/index.html)
      file(GLOB_RECURSE sources CONFIGURE_DEPENDS ${page}/dist/*)
      list(APPEND arguments -DREADY=${page}/dist)
    else()
      message(FATAL_ERROR
        "The page can't be built: node 18 or later with npm is missing (found: ${version}), and there "
        "is no page/dist that was built elsewhere. On Debian 12: apt-get install nodejs npm. Or "
        "-DWEIGHWRIGHT_PAGE=OFF for a program without the page.")
    endif()
  endif()

  add_custom_command(
    OUTPUT ${data}
    COMMAND ${CMAKE_COMMAND} ${arguments} -P ${packer}
    DEPENDS ${sources} ${description} ${licences} ${packer}
    COMMENT "Packing the page"
    VERBATIM)
  target_sources(${target} PRIVATE ${data})
endfunction()
