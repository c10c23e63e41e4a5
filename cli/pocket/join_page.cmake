# Joins the files of the page, the module and what is beside it into one HTML file.
#   cmake -DOUTPUT=dryfit.html -DPAGE=folder -DWORK=folder -DMODULE_SCRIPT=glue.js [-DMODULE_BINARY=dryfit.wasm]
#         -DSPACE=three.min.js -DSCENARIOS=a.yaml|b.yaml -DCATALOGUES=de.po -DLICENCES=LICENSE|three.licence.txt
#         [-DCONNECT=http://127.0.0.1:8000] -P join_page.cmake
# Lists are split at '|' because a ';' would not survive the command line. CONNECT lets a page under test ask a server;
# the page as it ships connects to nothing.
cmake_minimum_required(VERSION 3.25)
find_program(GZIP gzip REQUIRED)
find_program(BASE64 base64 REQUIRED)
find_program(XGETTEXT xgettext REQUIRED)
find_program(MSGMERGE msgmerge REQUIRED)
find_program(MSGFMT msgfmt REQUIRED)
file(MAKE_DIRECTORY "${WORK}")
if(NOT CONNECT)
  set(CONNECT "'none'")
endif()

function(run)
  execute_process(COMMAND ${ARGV} RESULT_VARIABLE failed ERROR_VARIABLE said)
  if(failed)
    message(FATAL_ERROR "${ARGV}: ${said}")
  endif()
endfunction()

# A file as the page holds it: packed, in letters and digits; in lines of so many where a third word tells the number.
# Nothing in it can end the element it stands in.
function(pack file into)
  set(width 0 ${ARGN})
  list(GET width -1 width)
  execute_process(COMMAND "${GZIP}" -9nc "${file}" COMMAND "${BASE64}" -w${width} OUTPUT_VARIABLE packed RESULTS_VARIABLE failed)
  if(NOT failed STREQUAL "0;0")
    message(FATAL_ERROR "${file} cannot be packed")
  endif()
  set(${into} "${packed}" PARENT_SCOPE)
endfunction()

set(modules words build lengths length_wheel frame_text packing engine link store editor progress walk told app library view turned_step sheets page_copy
  dialogs put_on put_start put_part put_cures put_frame picture_marks put_adjust door_steps door_picture door_forget door_now door_change door_fit door_drill door_buy door_print pocket)
set(scripts ${modules})
list(TRANSFORM scripts APPEND .mjs)
list(TRANSFORM scripts PREPEND "${PAGE}/")
include(${CMAKE_CURRENT_LIST_DIR}/join_scripts.cmake)
join_scripts(script ${scripts})

set(style "")
foreach(name steps view pocket print)
  file(READ "${PAGE}/${name}.css" text)
  string(APPEND style "${text}")
endforeach()

# The worker, what it shares with the page and the module's script are one script. A page under test has no binary.
file(READ "${MODULE_SCRIPT}" worker)
join_scripts(worker_shared "${PAGE}/packing.mjs")
file(READ "${PAGE}/worker.js" worker_own)
string(APPEND worker "\n${worker_shared}${worker_own}")
if(worker MATCHES "</script|<!--")
  message(FATAL_ERROR "the worker's script ends the element it stands in")
endif()
# The module comes in pieces: the first are compiled while the others are still being read. After each its end is told.
set(module_text "")
if(MODULE_BINARY)
  pack("${MODULE_BINARY}" module_text 262144)
  string(REGEX REPLACE "([^\n]+)\n?" "<script type=\"text/plain\" class=\"module\">\\1</script>\n<script>dispatchEvent(new Event('piece'));</script>\n" module_text "${module_text}")
endif()
pack("${SPACE}" space)

string(REPLACE "|" ";" scenarios "${SCENARIOS}")
set(listed "")
foreach(scenario IN LISTS scenarios)
  file(READ "${scenario}" text)
  cmake_path(GET scenario FILENAME name)
  string(REPLACE "\\" "\\\\" text "${text}")
  string(REPLACE "\"" "\\\"" text "${text}")
  string(REPLACE "\t" "\\t" text "${text}")
  string(REPLACE "\n" "\\n" text "${text}")
  string(REPLACE "<" "\\u003c" text "${text}")
  string(APPEND listed "${comma}{\"name\":\"${name}\",\"text\":\"${text}\"}")
  set(comma ",")
endforeach()

# Of the catalogues only what the page itself says: the program's own words come out of the module.
run("${XGETTEXT}" --language=JavaScript --from-code=UTF-8 --keyword --keyword=say:1 --keyword=sayN:2,3 --add-location=never
  --no-wrap --output=${WORK}/page.pot ${scripts})
string(REPLACE "|" ";" catalogues "${CATALOGUES}")
set(words "")
foreach(catalogue IN LISTS catalogues)
  cmake_path(GET catalogue STEM language)
  run("${MSGMERGE}" --quiet --no-fuzzy-matching --no-wrap --output-file=${WORK}/${language}.po "${catalogue}" ${WORK}/page.pot)
  run("${MSGFMT}" --output-file=${WORK}/${language}.mo ${WORK}/${language}.po)
  execute_process(COMMAND "${BASE64}" -w0 "${WORK}/${language}.mo" OUTPUT_VARIABLE text)
  string(APPEND words "<script type=\"text/plain\" data-language=\"${language}\">${text}</script>\n")
endforeach()

string(REPLACE "|" ";" licences "${LICENCES}")
set(rights "")
foreach(licence IN LISTS licences)
  file(READ "${licence}" text)
  string(APPEND rights "${text}\n\n----\n\n")
endforeach()
if(rights MATCHES "</script")
  message(FATAL_ERROR "a licence ends the element it stands in")
endif()

file(READ "${PAGE}/pocket.html" page)
# Large parts last: each replacement looks at all that is there.
string(REPLACE "@CONNECT@" "${CONNECT}" page "${page}")
string(REPLACE "@STYLE@" "${style}" page "${page}")
string(REPLACE "@CATALOGUES@" "${words}" page "${page}")
string(REPLACE "@SCRIPT@" "${script}" page "${page}")
string(REPLACE "@LICENCES@" "${rights}" page "${page}")
string(REPLACE "@SCENARIOS@" "[${listed}]" page "${page}")
string(REPLACE "@SPACE@" "${space}" page "${page}")
string(REPLACE "@WORKER@" "${worker}" page "${page}")
string(REPLACE "@MODULE@" "${module_text}" page "${page}")
file(WRITE "${OUTPUT}" "${page}")
