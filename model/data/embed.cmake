# Writes a C++ source that holds data files as constant text.
#   cmake -DOUTPUT=tables.cpp -DFILES=a.csv|b.csv [-DSPACE=dryfit::model] [-DFUNCTION=built_in_files] -P embed.cmake
# The function that it defines returns them as std::span<const dryfit::model::BuiltInFile>.
# FILES is split at '|' because a ';' would not survive the command line.
if(NOT SPACE)
  set(SPACE dryfit::model)
endif()
if(NOT FUNCTION)
  set(FUNCTION built_in_files)
endif()
string(REPLACE "|" ";" files "${FILES}")
set(entries "")
foreach(file IN LISTS files)
  get_filename_component(name "${file}" NAME)
  file(READ "${file}" text)
  string(APPEND entries "    {\"${name}\", R\"table(${text})table\"sv},\n")
endforeach()
file(WRITE "${OUTPUT}" "// Written by model/data/embed.cmake. Edit the files that it was written from, not this one.
#include \"model/standards/tables.hpp\"

namespace ${SPACE} {

std::span<const dryfit::model::BuiltInFile> ${FUNCTION}();
std::span<const dryfit::model::BuiltInFile> ${FUNCTION}() {
  using namespace std::string_view_literals;  // the length comes with the text: large ones need not be walked
  static constexpr dryfit::model::BuiltInFile kFiles[] = {
${entries}  };
  return kFiles;
}

}  // namespace ${SPACE}
")
