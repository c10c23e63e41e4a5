#pragma once
/// Who may include whom: the list of rooms, the #include lines of a source tree, and what of them runs against the
/// list.
#include <filesystem>
#include <map>
#include <string>
#include <string_view>
#include <vector>

namespace dryfit::tests {

/// A folder with one purpose.
struct Room {
  std::string path;               ///< "planner/moves"
  std::string purpose;            ///< one line
  std::vector<std::string> uses;  ///< rooms that it may include; what those may include comes with them
};

/// Reads a list such as rooms.yaml, in its order. Throws YAML::Exception when it is none.
[[nodiscard]] std::vector<Room> read_rooms(const std::string& text);

/// Per source file (path from the top of the tree, "planner/moves/slide.cpp") what it includes in quotes, as written.
using Includes = std::map<std::string, std::vector<std::string>>;

/// All .hpp and .cpp files below model, planner, cli and tests of the tree.
[[nodiscard]] Includes read_includes(const std::filesystem::path& top);

/// What is wrong, one sentence each, in a fixed order; empty when the house is in order:
/// - the list: a room that uses one which does not stand above it;
/// - a file in a folder that is no room (and does not hold the tests of one);
/// - an include that the list does not allow, or that leads to no file;
/// - a circle of units: a unit is what has one path but for .hpp or .cpp. Each circle is told once, as a way round it.
/// O(files + includes) but for the closure of `uses`.
[[nodiscard]] std::vector<std::string> faults_of(const std::vector<Room>& rooms, const Includes& includes);

}  // namespace dryfit::tests
