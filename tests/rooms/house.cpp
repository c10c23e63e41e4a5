#include "tests/rooms/house.hpp"

#include <fmt/format.h>
#include <yaml-cpp/yaml.h>

#include <algorithm>
#include <array>
#include <fstream>
#include <optional>
#include <set>

namespace dryfit::tests {
namespace {

namespace fs = std::filesystem;

using Names = std::set<std::string>;

std::string folder_of(const std::string& path) { return fs::path(path).parent_path().generic_string(); }
std::string unit_of(const std::string& path) { return fs::path(path).replace_extension().generic_string(); }

/// `#include "x/y.hpp"` gives x/y.hpp.
std::optional<std::string> included_by(std::string_view line) {
  constexpr std::string_view kWord = "#include \"";
  const std::size_t begin = line.find_first_not_of(" \t");
  if (begin == std::string_view::npos || !line.substr(begin).starts_with(kWord)) return std::nullopt;
  const std::string_view rest = line.substr(begin + kWord.size());
  return std::string(rest.substr(0, rest.find('"')));
}

/// What each room may include: itself, what it uses, and what that uses.
std::map<std::string, Names> reach_of(const std::vector<Room>& rooms, std::vector<std::string>& faults) {
  std::map<std::string, Names> reach;
  for (const Room& room : rooms) {
    Names all{room.path};
    for (const std::string& used : room.uses) {
      const auto above = reach.find(used);
      if (above == reach.end()) {
        faults.push_back(fmt::format("{} uses {}, which does not stand above it in the list", room.path, used));
      } else {
        all.insert(above->second.begin(), above->second.end());
      }
    }
    reach[room.path] = std::move(all);
  }
  return reach;
}

/// The rooms of one list, and the folders of their tests.
class House {
 public:
  House(const std::vector<Room>& rooms, std::vector<std::string>& faults) : reach_(reach_of(rooms, faults)) {}

  [[nodiscard]] bool is_room(const std::string& folder) const { return reach_.count(folder) != 0; }
  /// The folder holds the tests of a room.
  [[nodiscard]] bool is_tests_of_room(const std::string& folder) const {
    return folder.starts_with("tests/") && !is_room(folder) && is_room(folder.substr(std::string("tests/").size()));
  }
  [[nodiscard]] bool may_include(const std::string& from, const std::string& to) const {
    if (from == to) return true;
    return is_tests_of_room(from) ? is_room(to) : is_room(from) && reach_.at(from).count(to) != 0;
  }

 private:
  std::map<std::string, Names> reach_;
};

/// The file that an include leads to; empty for what is generated while building (no folder in its name).
std::string target_of(const Includes& includes, const std::string& from, const std::string& written) {
  const std::string beside = folder_of(from) + "/" + written;
  if (includes.count(written) == 0 && includes.count(beside) != 0) return beside;
  return written.find('/') == std::string::npos ? "" : written;
}

void find_wrong_arrows(const House& house, const Includes& includes, std::vector<std::string>& faults) {
  for (const auto& [file, written] : includes) {
    const std::string room = folder_of(file);
    if (!house.is_room(room) && !house.is_tests_of_room(room)) {
      faults.push_back(fmt::format("{} stands in no room", file));
      continue;
    }
    for (const std::string& include : written) {
      const std::string target = target_of(includes, file, include);
      if (target.empty()) continue;
      if (includes.count(target) == 0) {
        faults.push_back(fmt::format("{} includes {}, which is not there", file, include));
      } else if (!house.may_include(room, folder_of(target))) {
        faults.push_back(fmt::format("{} includes {}: {} may not use {}", file, target, room, folder_of(target)));
      }
    }
  }
}

/// Units and the units that they include.
using Graph = std::map<std::string, Names>;

Graph units_of(const Includes& includes) {
  Graph graph;
  for (const auto& [file, written] : includes) {
    Names& to = graph[unit_of(file)];
    for (const std::string& include : written) {
      const std::string target = target_of(includes, file, include);
      if (includes.count(target) != 0 && unit_of(target) != unit_of(file)) to.insert(unit_of(target));
    }
  }
  return graph;
}

/// The shortest way from a unit back to itself, both ends named; empty when there is none.
std::vector<std::string> way_round(const Graph& graph, const std::string& start) {
  std::map<std::string, std::string> from;
  std::vector<std::string> queue{start};
  for (std::size_t i = 0; i < queue.size(); ++i) {
    for (const std::string& next : graph.at(queue[i])) {
      if (next != start) {
        if (from.emplace(next, queue[i]).second) queue.push_back(next);
        continue;
      }
      std::vector<std::string> way{start};
      for (std::string unit = queue[i]; unit != start; unit = from.at(unit)) way.push_back(unit);
      way.push_back(start);
      std::reverse(way.begin(), way.end());
      return way;
    }
  }
  return {};
}

void find_circles(const Includes& includes, std::vector<std::string>& faults) {
  Graph graph = units_of(includes);
  // What includes nothing, or only units that are on no circle, is on none: take such units off until none is left.
  for (bool less = true; less;) {
    less = false;
    for (auto& [unit, to] : graph) {
      less = std::erase_if(to, [&](const std::string& next) { return graph.at(next).empty(); }) != 0 || less;
    }
  }
  Names told;
  for (const auto& [unit, to] : graph) {
    if (told.count(unit) != 0) continue;
    const std::vector<std::string> way = way_round(graph, unit);
    if (way.empty()) continue;
    told.insert(way.begin(), way.end());
    std::string text = way.front();
    for (std::size_t i = 1; i < way.size(); ++i) text += " -> " + way[i];
    faults.push_back("circle: " + text);
  }
}

}  // namespace

std::vector<Room> read_rooms(const std::string& text) {
  std::vector<Room> rooms;
  for (const auto& entry : YAML::Load(text)) {
    Room room{entry.first.as<std::string>(), entry.second["for"].as<std::string>(), {}};
    for (const auto& used : entry.second["uses"]) room.uses.push_back(used.as<std::string>());
    rooms.push_back(std::move(room));
  }
  return rooms;
}

Includes read_includes(const fs::path& top) {
  Includes includes;
  for (const char* part : {"model", "planner", "cli", "tests"}) {
    if (!fs::exists(top / part)) continue;
    for (const auto& entry : fs::recursive_directory_iterator(top / part)) {
      const fs::path& path = entry.path();
      if (path.extension() != ".hpp" && path.extension() != ".cpp") continue;
      std::vector<std::string>& written = includes[path.lexically_relative(top).generic_string()];
      std::ifstream in(path);
      for (std::string line; std::getline(in, line);) {
        if (auto include = included_by(line)) written.push_back(std::move(*include));
      }
    }
  }
  return includes;
}

std::vector<std::string> faults_of(const std::vector<Room>& rooms, const Includes& includes) {
  std::vector<std::string> faults;
  const House house(rooms, faults);
  find_wrong_arrows(house, includes, faults);
  find_circles(includes, faults);
  return faults;
}

}  // namespace dryfit::tests
