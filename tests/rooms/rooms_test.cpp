#include <doctest/doctest.h>
#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>
#include <array>
#include <cctype>
#include <cstdlib>
#include <filesystem>
#include <fstream>

#include "tests/rooms/house.hpp"
#include "tests/support/program/program.hpp"

using dryfit::tests::faults_of;
using dryfit::tests::read_includes;
using dryfit::tests::read_rooms;
using dryfit::tests::Room;
using dryfit::tests::ScratchFolder;
using dryfit::tests::slurp;

namespace {

const std::string kTop = DRYFIT_SOURCE_DIR;
const std::string kDevelopers = kTop + "/DEVELOPERS.md";
constexpr std::string_view kMapBegins = "<!-- the map of rooms, written from tests/rooms/rooms.yaml -->\n";
constexpr std::string_view kMapEnds = "<!-- end of the map -->\n";

constexpr std::array<std::string_view, 6> kTops{"model/", "planner/", "cli/", "tests/", "scenarios/", ".ci/"};

std::vector<Room> rooms() { return read_rooms(slurp(kTop + "/tests/rooms/rooms.yaml")); }

/// A made-up tree: two rooms, of which the upper one uses the lower, each with one unit, and a test.
class MadeUpTree {
 public:
  MadeUpTree() {
    write("model/low/a.hpp", "#pragma once\n");
    write("planner/high/b.hpp", "#pragma once\n#include \"model/low/a.hpp\"\n");
    write("planner/high/b.cpp", "#include \"planner/high/b.hpp\"\n\n#include <vector>\n");
    write("tests/model/low/a_test.cpp", "#include \"model/low/a.hpp\"\n");
  }
  void write(const std::string& name, const std::string& text) const {
    std::filesystem::create_directories(std::filesystem::path(folder_.path(name)).parent_path());
    std::ofstream(folder_.path(name)) << text;
  }
  [[nodiscard]] std::vector<std::string> faults(const std::string& list = kList) const {
    return faults_of(read_rooms(list), read_includes(folder_.path("")));
  }

 private:
  static constexpr const char* kList =
      "model/low: {for: the lower one, uses: []}\n"
      "planner/high: {for: the upper one, uses: [model/low]}\n";
  ScratchFolder folder_;
};

using Faults = std::vector<std::string>;

/// The rows of the map for people.
std::string map_of(const std::vector<Room>& all) {
  std::string text = "| room | what it is for | may use, with what these use |\n| --- | --- | --- |\n";
  for (const Room& room : all) {
    text += fmt::format("| `{}` | {} | {} |\n", room.path, room.purpose,
                        room.uses.empty() ? "nothing" : fmt::format("{}", fmt::join(room.uses, ", ")));
  }
  return text;
}

/// `a/b.cpp`, `a/b` (a folder, or a unit) and `a/b.{hpp,cpp}` as they are; names with wildcards are left out.
std::vector<std::string> paths_named_in(const std::string& page) {
  std::vector<std::string> paths;
  for (std::size_t at = 0; (at = page.find('`', at)) != std::string::npos; ++at) {
    const std::size_t end = page.find('`', at + 1);
    if (end == std::string::npos) break;
    const std::string name = page.substr(at + 1, end - at - 1);
    at = end;
    const bool ours =
        std::any_of(kTops.begin(), kTops.end(), [&](std::string_view top) { return name.starts_with(top); });
    const bool exact = std::none_of(name.begin(), name.end(), [](char c) {
      return std::isupper(static_cast<unsigned char>(c)) != 0 || c == '*' || c == ' ' || c == '{';
    });
    if (ours && exact) paths.push_back(name);
  }
  return paths;
}

}  // namespace

TEST_CASE("every unit stands in a room and includes only what its room may use, and no units go round in a circle") {
  const auto includes = read_includes(kTop);
  CHECK(includes.size() > 500);
  for (const std::string& fault : faults_of(rooms(), includes)) FAIL_CHECK(fault);
}

TEST_CASE("every room of the list is there and has a unit in it") {
  const auto includes = read_includes(kTop);
  for (const Room& room : rooms()) {
    CAPTURE(room.path);
    CHECK(std::any_of(includes.begin(), includes.end(),
                      [&](const auto& file) { return file.first.starts_with(room.path + "/"); }));
  }
}

TEST_CASE("a made-up house in order has no faults") {
  const MadeUpTree tree;
  CHECK(tree.faults() == Faults{});
}

TEST_CASE("a planted arrow from a lower room to an upper one is found") {
  const MadeUpTree tree;
  tree.write("model/low/c.cpp", "  #include \"planner/high/b.hpp\"  // planted\n");
  CHECK(tree.faults() == Faults{"model/low/c.cpp includes planner/high/b.hpp: model/low may not use planner/high"});
}

TEST_CASE("a planted arrow between rooms that the list does not join is found, and allowed once it does") {
  const MadeUpTree tree;
  const std::string apart = "model/low: {for: one, uses: []}\nplanner/high: {for: another, uses: []}\n";
  CHECK(tree.faults(apart) ==
        Faults{"planner/high/b.hpp includes model/low/a.hpp: planner/high may not use model/low"});
  // What a room uses brings along what that uses.
  const std::string between =
      "model/low: {for: one, uses: []}\ncli/middle: {for: a third, uses: [model/low]}\n"
      "planner/high: {for: another, uses: [cli/middle]}\n";
  CHECK(tree.faults(between) == Faults{});
}

TEST_CASE("a planted circle of units is found, though each arrow of it is allowed") {
  const MadeUpTree tree;
  // c needs b only in its .cpp, and b needs c only in its header: no compiler minds.
  tree.write("planner/high/b.hpp", "#pragma once\n#include \"planner/high/c.hpp\"\n");
  tree.write("planner/high/c.hpp", "#pragma once\n");
  tree.write("planner/high/c.cpp", "#include \"planner/high/d.hpp\"\n");
  tree.write("planner/high/d.hpp", "#pragma once\n#include \"planner/high/b.hpp\"\n");
  CHECK(tree.faults() == Faults{"circle: planner/high/b -> planner/high/c -> planner/high/d -> planner/high/b"});
}

TEST_CASE("a unit that stands in no room is found, and so is an include that leads nowhere") {
  const MadeUpTree tree;
  tree.write("planner/lost.cpp", "#include <vector>\n");
  tree.write("planner/high/c.cpp", "#include \"planner/high/gone.hpp\"\n#include \"dryfit_generated.hpp\"\n");
  CHECK(tree.faults() == Faults{"planner/high/c.cpp includes planner/high/gone.hpp, which is not there",
                                "planner/lost.cpp stands in no room"});
}

TEST_CASE("tests of a room may include any room, but no room may include tests, nor tests other tests") {
  const MadeUpTree tree;
  tree.write("tests/model/low/a_test.cpp", "#include \"planner/high/b.hpp\"\n");
  CHECK(tree.faults() == Faults{});
  tree.write("tests/model/low/a_frame.hpp", "#pragma once\n");
  tree.write("tests/planner/high/b_test.cpp", "#include \"tests/model/low/a_frame.hpp\"\n");
  tree.write("model/low/c.cpp", "#include \"tests/model/low/a_frame.hpp\"\n");
  CHECK(tree.faults() ==
        Faults{"model/low/c.cpp includes tests/model/low/a_frame.hpp: model/low may not use tests/model/low",
               "tests/planner/high/b_test.cpp includes tests/model/low/a_frame.hpp: tests/planner/high may not use "
               "tests/model/low"});
}

TEST_CASE("a list in which a room uses one that does not stand above it is at fault itself") {
  const MadeUpTree tree;
  const std::string list = "planner/high: {for: one, uses: [model/low]}\nmodel/low: {for: another, uses: []}\n";
  CHECK(tree.faults(list).front() == "planner/high uses model/low, which does not stand above it in the list");
}

TEST_CASE("the judge may not see the search: neither its moves nor anything that rests on them") {
  // The two must stay independent, so this is not a matter of the list alone.
  const auto includes = read_includes(kTop);
  int files = 0;
  for (const auto& [file, written] : includes) {
    if (!file.starts_with("planner/judge/")) continue;
    ++files;
    for (const std::string& include : written) {
      CAPTURE(file);
      CAPTURE(include);
      const bool independent = include.starts_with("planner/judge/") || include.starts_with("planner/state/") ||
                               include.starts_with("planner/base/") || include.starts_with("model/");
      CHECK(independent);
    }
  }
  CHECK(files > 10);
}

TEST_CASE("every header that an installed header includes is installed too") {
  const auto includes = read_includes(kTop);
  const std::string list = slurp(kTop + "/cli/package.cmake");
  const auto installed = [&](const std::string& header) { return list.find("\n  " + header) != std::string::npos; };
  int headers = 0;
  for (const auto& [file, written] : includes) {
    if (!file.ends_with(".hpp") || !installed(file)) continue;
    ++headers;
    for (const std::string& include : written) {
      CAPTURE(file);
      CAPTURE(include);
      CHECK(installed(include));
    }
  }
  CHECK(headers > 30);
}

TEST_CASE("the map of rooms in DEVELOPERS.md is exactly as expected from the list") {
  const std::string page = slurp(kDevelopers);
  const std::size_t begin = page.find(kMapBegins);
  const std::size_t end = page.find(kMapEnds);
  REQUIRE(begin != std::string::npos);
  REQUIRE(end != std::string::npos);
  const std::string now = page.substr(0, begin + kMapBegins.size()) + "\n" + map_of(rooms()) + "\n" + page.substr(end);
  if (std::getenv("DRYFIT_RENEW_EXPECTED") != nullptr) std::ofstream(kDevelopers, std::ios::binary) << now;
  CHECK(slurp(kDevelopers) == now);
}

TEST_CASE("every path that DEVELOPERS.md and the README name is there") {
  int named = 0;
  for (const std::string& page : {kDevelopers, kTop + "/README.md"}) {
    for (const std::string& path : paths_named_in(slurp(page))) {
      CAPTURE(path);
      ++named;
      const std::string whole = kTop + "/" + path;
      CHECK((std::filesystem::exists(whole) || std::filesystem::exists(whole + ".hpp") ||
             std::filesystem::exists(whole + ".cpp")));
    }
  }
  CHECK(named > 60);
}
