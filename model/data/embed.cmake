# Writes a C++ source that holds data files as constant text.
#   cmake -DOUTPUT=tables.cpp -DFILES=a.csv|b.csv -P embed.cmake
# FILES is split at '|' because a ';' would not survive the command line.
string(REPLACE "|" ";" files "${FILES}")
set(entries "")
foreach(file IN LISTS files)
  get_filename_component(name "${file}" NAME)
  file(READ "${file}" text)
  string(APPEND entries "    {\"${name}\", R\"table(${text})table\"},\n")
endforeach()
file(WRITE "${OUTPUT}" "// Written by model/data/embed.cmake from model/data. Edit those files, not this one.
#include \"model/tables.hpp\"

namespace dryfit::model {

std::span<const BuiltInFile> built_in_files() {
  static constexpr BuiltInFile kFiles[] = {
${entries}  };
  return kFiles;
}

}  // namespace dryfit::model
")
