/// show --watch as a process, with a file that is saved as editors save.
#include "cli/show/show_watch.hpp"

#include <doctest/doctest.h>
#include <fmt/format.h>
#include <unistd.h>

#include <csignal>
#include <filesystem>
#include <fstream>
#include <nlohmann/json.hpp>
#include <regex>

#include "tests/support/program/child.hpp"
#include "tests/support/program/program.hpp"
#include "tests/support/program/schema_check.hpp"

using dryfit::tests::Child;
using dryfit::tests::Ran;
using dryfit::tests::run;
using dryfit::tests::scenario;
using dryfit::tests::ScratchFolder;
using dryfit::tests::slurp;

namespace {

/// The pot rail with its long pipes of that length, inches; in the scenario they are 24.
std::string rail(int length) {
  return std::regex_replace(slurp(scenario("pot-rail")), std::regex("pipe: 24"), "pipe: " + std::to_string(length));
}

/// As `cat >file` does, and editors that write over the file.
void write_over(const std::string& path, const std::string& text) { std::ofstream(path, std::ios::binary) << text; }

/// As editors do that write beside the file first.
void rename_into_place(const std::string& path, const std::string& text) {
  write_over(path + ".new", text);
  std::filesystem::rename(path + ".new", path);
}

/// As editors do that keep the old file as a backup.
void put_aside(const std::string& path, const std::string& text) {
  std::filesystem::rename(path, path + "~");
  write_over(path, text);
}

/// The line without its time, which has to be one.
std::string said(const std::string& line) {
  CAPTURE(line);
  REQUIRE(std::regex_search(line, std::regex("^\\d\\d:\\d\\d:\\d\\d ")));
  return std::regex_replace(line.substr(9), std::regex("\\d\\d:\\d\\d:\\d\\d"), "TIME");
}

const std::string kFits = "Pot rail: everything lines up*, and it can be built.";

}  // namespace

TEST_CASE("show --watch says and draws what every way of saving made of the frame") {
  const ScratchFolder folder;
  const std::string frame = folder.file("f.yaml", rail(24)), picture = folder.path("p.svg");
  Child child({"show", frame, "--watch", "-o", picture});
  CHECK(said(child.line(1)) == kFits);
  std::string before = slurp(picture);
  CHECK(before.find("</svg>") != std::string::npos);
  std::size_t lines = 1;
  int length = 24;
  for (const auto save : {write_over, rename_into_place, put_aside}) {
    const int was = length, is = length + 2;
    length = is;
    save(frame, rail(length));
    CHECK(said(child.line(++lines)) ==
          fmt::format("{0} Changed: R1 is {1} in, was {2} in; R2 is {1} in, was {2} in; 6 parts have moved.", kFits, is,
                      was));
    const std::string now = slurp(picture);
    CHECK(now != before);
    before = now;
  }
  write_over(frame, rail(length) + "# a comment\n");
  CHECK(said(child.line(++lines)) == kFits + " The frame is unchanged.");
  CHECK(slurp(picture) == before);
  child.send(SIGTERM);
  CHECK(child.end() == 0);
  CHECK(child.err == "");
  CHECK(folder.entries() == std::vector<std::string>{"f.yaml", "f.yaml~", "p.svg"});
}

TEST_CASE("a save with faults leaves the last good picture, and the next good one goes on") {
  const ScratchFolder folder;
  const std::string frame = folder.file("f.yaml", rail(24)), picture = folder.path("p.svg");
  Child child({"show", frame, "--watch", "-o", picture});
  child.line(1);
  const std::string good = slurp(picture);
  std::string faulty = rail(24);
  faulty.replace(faulty.find("{tee: back}"), 11, "{tea: back}");
  write_over(frame, faulty);
  CHECK(said(child.line(2)) == frame + ": 1 fault. The picture stays as of TIME.");
  CHECK(slurp(picture) == good);
  child.wait_for_error("\n");
  // The fault is told as every command tells it.
  CHECK(child.err == run({"check", frame}).err);
  CHECK(child.err.find(":20:14: part 'T1': unknown kind 'tea'") != std::string::npos);

  std::filesystem::remove(frame);
  CHECK(said(child.line(3)) ==
        "cannot read '" + frame + "': No such file or directory; waiting for it. The picture stays as of TIME.");
  std::string locked = slurp(scenario("cellar-rail-ring"));
  write_over(frame, locked);
  const std::string line = said(child.line(4));
  CHECK(
      line.starts_with("Cellar rail without a union: LOCKED. There is no order in which it can be put together. 8 joints "
                       "lock each other. Changed: was buildable; "));
  CHECK(slurp(picture) != good);
  child.send(SIGINT);
  CHECK(child.end() == 0);
  CHECK(folder.entries() == std::vector<std::string>{"f.yaml", "p.svg"});
}

TEST_CASE("a frame with faults from the start waits for its first picture") {
  const ScratchFolder folder;
  const std::string frame = folder.file("f.yaml", "dryfit: 2\n");
  Child child({"show", frame, "--watch", "-o", folder.path("p.svg")});
  CHECK(child.line(1).ends_with(" No picture yet."));
  CHECK(folder.entries() == std::vector<std::string>{"f.yaml"});
  rename_into_place(frame, rail(24));
  CHECK(said(child.line(2)) == kFits);
  CHECK(slurp(folder.path("p.svg")).find("</svg>") != std::string::npos);
  child.send(SIGHUP);
  CHECK(child.end() == 0);
}

TEST_CASE("show --watch --json prints a document to a line, each as its schema says") {
  const ScratchFolder folder;
  const std::string frame = folder.file("f.yaml", rail(24));
  Child child({"show", frame, "--watch", "-o", folder.path("p.svg"), "--json", "--units", "both"});
  const auto document = [&](std::size_t number) {
    auto json = nlohmann::json::parse(child.line(number));
    for (const std::string& fault : dryfit::tests::faults_by_schema("show", json)) FAIL_CHECK(fault);
    std::set<std::string> seen;
    auto unknown = dryfit::tests::undescribed_keys("show", json, seen);
    std::erase_if(unknown, [](const std::string& key) { return key.ends_with("_in"); });  // said of --units as a whole
    CHECK(unknown == std::set<std::string>{});
    return json;
  };
  const auto first = document(1);
  CHECK(first["verdict"] == "buildable");
  CHECK(first["drawn"] == true);
  CHECK(first["changed"].empty());
  CHECK(first["over_all_mm"].size() == 3);
  CHECK(first["over_all_in"][0].get<double>() * 25.4 == doctest::Approx(first["over_all_mm"][0].get<double>()));
  write_over(frame, rail(26));
  const auto second = document(2);
  CHECK(second["changed"][0] == "R1 is 26 in (660.4 mm), was 24 in (609.6 mm)");  // 26 and 24 x 25.4
  write_over(frame, "dryfit: 1\n");
  const auto third = document(3);
  CHECK(third["verdict"] == "faulty");
  CHECK(third["drawn"] == false);
  CHECK(third["frame"] == "Pot rail");
  CHECK_FALSE(third["faults"].empty());
  CHECK_FALSE(third.contains("labels"));
  child.send(SIGTERM);
  CHECK(child.end() == 0);
}

TEST_CASE("what cannot be drawn is told, and the watch goes on") {
  const ScratchFolder folder;
  const std::string frame = folder.file("f.yaml", rail(24)), picture = folder.path("p.svg");
  Child child({"show", frame, "--watch", "-o", picture, "--step", "7"});
  CHECK(said(child.line(1)) == kFits);
  const std::string good = slurp(picture);
  write_over(frame, slurp(scenario("cellar-rail-ring")));
  CHECK(child.line(2).find(" The picture stays as of ") != std::string::npos);
  child.wait_for_error("\n");
  CHECK(child.err == "dryfit: Cellar rail without a union has no build order, so no step can be shown\n");
  CHECK(slurp(picture) == good);
  write_over(frame, rail(28));
  CHECK(said(child.line(3)).starts_with(kFits));
  CHECK(slurp(picture) != good);
}

TEST_CASE("a link is followed to the file that is saved, and to another one when it is set anew") {
  const ScratchFolder folder;
  std::filesystem::create_directory(folder.path("designs"));
  const std::string real = folder.file("designs/real.yaml", rail(24)), link = folder.path("f.yaml");
  const std::string other = folder.file("designs/other.yaml", rail(30));
  REQUIRE(::symlink("designs/real.yaml", link.c_str()) == 0);
  Child child({"show", link, "--watch", "-o", folder.path("p.svg")});
  child.line(1);
  rename_into_place(real, rail(26));
  CHECK(said(child.line(2)).starts_with(kFits + " Changed: R1 is 26 in, was 24 in;"));
  REQUIRE(::symlink("designs/other.yaml", folder.path("new").c_str()) == 0);
  std::filesystem::rename(folder.path("new"), link);
  CHECK(said(child.line(3)).starts_with(kFits + " Changed: R1 is 30 in, was 26 in;"));
  write_over(other, rail(32));
  CHECK(said(child.line(4)).starts_with(kFits + " Changed: R1 is 32 in, was 30 in;"));
}

TEST_CASE("a watched folder that goes away ends the watch with a message") {
  const ScratchFolder folder;
  std::filesystem::create_directory(folder.path("designs"));
  const std::string frame = folder.file("designs/f.yaml", rail(24));
  Child child({"show", frame, "--watch", "-o", folder.path("p.svg")});
  child.line(1);
  std::filesystem::rename(folder.path("designs"), folder.path("elsewhere"));
  CHECK(child.end() == 2);
  CHECK(child.err == "dryfit: the folder of '" + frame + "' is gone or has another name: nothing is left to watch\n");
}

TEST_CASE("the page of a watch reads itself again, shows the last good picture, and the faults above it") {
  const ScratchFolder folder;
  const std::string frame = folder.file("f.yaml", rail(24)), page = folder.path("p.html");
  Child child({"show", frame, "--watch", "-o", page});
  child.line(1);
  const std::string good = slurp(page);
  CHECK(good.find("<meta http-equiv=\"refresh\" content=\"1\">") != std::string::npos);
  CHECK(good.find("<p role=\"status\" class=\"good\">" + child.line(1) + "</p>") != std::string::npos);
  const std::string drawing = good.substr(good.find("<svg"));
  CHECK(drawing.find("</svg>") != std::string::npos);
  CHECK(good.find("<?xml") == std::string::npos);
  write_over(frame, "dryfit: 1 <&\n");
  child.line(2);
  const std::string bad = slurp(page);
  CHECK(bad.find("class=\"bad\"") != std::string::npos);
  CHECK(bad.find("&lt;&amp;") != std::string::npos);
  CHECK(bad.substr(bad.find("<svg")) == drawing);
}

TEST_CASE("what show --watch cannot do is refused before anything is written") {
  const ScratchFolder folder;
  const auto refused = [&](const std::vector<std::string>& args, const std::string& message) {
    const Ran ran = run(args);
    CHECK(ran.code == 2);
    CHECK(ran.out == "");
    CHECK(ran.err == message);
    CHECK(folder.entries().empty());
  };
  refused({"show", "-", "--watch", "-o", folder.path("p.svg")},
          "dryfit: --watch follows a file as it is saved, and standard input is not a file\n");
  refused({"show", folder.path("f.yaml"), "--watch", "-o", folder.path("p.svg")},
          "dryfit: cannot read '" + folder.path("f.yaml") + "': No such file or directory\n");
  refused({"show", "/nowhere/f.yaml", "--watch", "-o", folder.path("p.svg")},
          "dryfit: cannot watch '/nowhere/f.yaml': No such file or directory\n");
  refused({"show", scenario("pot-rail"), "--watch", "-o", "/nowhere/p.svg"},
          "dryfit: cannot write '/nowhere/p.svg': No such file or directory\n");
  refused({"show", scenario("pot-rail"), "--watch", "-o", folder.path("p.svg"), "--only", "NOPE"},
          "dryfit: --only: there is no part 'NOPE' in Pot rail\n");
  const Ran page = run({"show", scenario("pot-rail"), "-o", folder.path("p.html")});
  CHECK(page.code == 2);
  CHECK(folder.entries().empty());
}
