# join_scripts(INTO FILE...): the scripts of a page as one. They are modules with imports and exports of one line each.
# Here each becomes a function of its own, so that names of one file stay in it: imports take from what the files before
# gave back. A file is known by its name without folders.
function(join_scripts into)
  set(script "")
  foreach(file IN LISTS ARGN)
    cmake_path(GET file STEM module)
    file(READ "${file}" text)
    string(REGEX REPLACE "import {([^}]*)} from '[./a-z]*/([a-z_]+)\\.mjs';" "const {\\1} = page_\\2;" text "${text}")
    string(REGEX MATCHALL "\nexport (async )?(function|class|const) [A-Za-z_]+" exports "\n${text}")
    list(TRANSFORM exports REPLACE ".* ([A-Za-z_]+)$" "\\1")
    list(JOIN exports ", " exports)
    string(REGEX REPLACE "(^|\n)export " "\\1" text "${text}")
    string(APPEND script "const page_${module} = (() => {\n${text}return { ${exports} };\n})();\n")
  endforeach()
  if(script MATCHES "</script|\nimport |\nexport ")
    message(FATAL_ERROR "a script of the page has an import or export that is not understood, or ends its element")
  endif()
  set(${into} "${script}" PARENT_SCOPE)
endfunction()

# As a program: cmake -DOUTPUT=page.js "-DFILES=a.mjs|b.mjs" -P join_scripts.cmake
if(CMAKE_SCRIPT_MODE_FILE STREQUAL CMAKE_CURRENT_LIST_FILE)
  string(REPLACE "|" ";" files "${FILES}")
  join_scripts(script ${files})
  file(WRITE "${OUTPUT}" "${script}")
endif()
