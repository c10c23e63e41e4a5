# Compiles catalogues and writes a C++ source that holds them as bytes.
#   cmake -DOUTPUT=catalogues.cpp -DMSGFMT=msgfmt -DFILES=de.po|... -P embed_catalogues.cmake
# FILES is split at '|' because a ';' would not survive the command line.
string(REPLACE "|" ";" files "${FILES}")
set(arrays "")
set(entries "")
foreach(file IN LISTS files)
  get_filename_component(language "${file}" NAME_WE)
  set(compiled "${OUTPUT}.${language}.mo")
  execute_process(COMMAND "${MSGFMT}" --check-format --check-domain -o "${compiled}" "${file}" RESULT_VARIABLE failed)
  if(failed)
    message(FATAL_ERROR "${file} cannot be compiled")
  endif()
  file(READ "${compiled}" bytes HEX)
  file(REMOVE "${compiled}")
  string(REGEX REPLACE "(................................)" "\\1\n" bytes "${bytes}")
  string(REGEX REPLACE "([0-9a-f][0-9a-f])" "'\\\\x\\1'," bytes "${bytes}")
  string(APPEND arrays "constexpr char k_${language}[] = {\n${bytes}};\n")
  # The rule of plurals is an expression of C over n; gettext's own syntax.
  file(STRINGS "${file}" plural REGEX "^\"Plural-Forms:" LIMIT_COUNT 1)
  string(REPLACE "\\;" ";" plural "${plural}")
  if(NOT plural MATCHES "plural=(.*);\\\\n")
    message(FATAL_ERROR "${file} says nothing of its plural forms")
  endif()
  string(APPEND arrays "unsigned long form_${language}(unsigned long n) { return static_cast<unsigned long>(${CMAKE_MATCH_1}); }\n")
  string(APPEND entries "    {\"${language}\", {k_${language}, sizeof k_${language}}, form_${language}},\n")
endforeach()
file(WRITE "${OUTPUT}" "// Written by cli/languages/embed_catalogues.cmake. Edit the catalogues, not this file.
#include \"cli/words/catalogue.hpp\"

namespace dryfit::cli {
namespace {
${arrays}}  // namespace

std::span<const Catalogue> catalogues() {
  static constexpr Catalogue kCatalogues[] = {
${entries}  };
  return kCatalogues;
}

}  // namespace dryfit::cli
")
