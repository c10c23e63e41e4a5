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
  string(APPEND entries "    {\"${language}.mo\", {k_${language}, sizeof k_${language}}},\n")
endforeach()
file(WRITE "${OUTPUT}" "// Written by cli/languages/embed_catalogues.cmake. Edit the catalogues, not this file.
#include <span>

#include \"model/standards/tables.hpp\"

namespace dryfit::cli {
namespace {
${arrays}}  // namespace

std::span<const dryfit::model::BuiltInFile> catalogue_files();
std::span<const dryfit::model::BuiltInFile> catalogue_files() {
  static constexpr dryfit::model::BuiltInFile kFiles[] = {
${entries}  };
  return kFiles;
}

}  // namespace dryfit::cli
")
