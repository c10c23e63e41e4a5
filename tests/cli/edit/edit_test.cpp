/// dryfit edit: a frame grows by one part at a time, and its text stays what a person wrote.
#include <doctest/doctest.h>

#include <nlohmann/json.hpp>

#include "tests/support/program/program.hpp"

using dryfit::tests::Ran;
using dryfit::tests::run;
using dryfit::tests::scenario;
using dryfit::tests::ScratchFolder;
using dryfit::tests::slurp;
using nlohmann::json;

namespace {

constexpr const char* kStart =
    "# Hers.\n"
    "dryfit: 1\n"
    "name: Post   # to be\n"
    "pipe: {standard: npt, size: 3/4}\n"
    "\n"
    "surfaces: {floor: {normal: up, at: 0}}\n"
    "\n"
    "runs:\n"
    "  post:\n"
    "    from: floor\n"
    "    at: [0, 0]\n"
    "    parts:\n"
    "      - F1: flange       # four screws\n"
    "      - P1: {pipe: 6}\n"
    "\n"
    "# The end.\n";

std::string replaced(std::string text, const std::string& from, const std::string& to) {
  return text.replace(text.find(from), from.size(), to);
}

}  // namespace

TEST_CASE("a part goes behind the last one of its run, with the next free name") {
  const ScratchFolder folder;
  const std::string frame = folder.file("post.yaml", kStart);
  const Ran ran = run({"edit", frame, "--add", "P1.end=coupling"});
  CHECK(ran.err == "");
  CHECK(ran.code == 0);
  CHECK(ran.out == replaced(kStart, "      - P1: {pipe: 6}\n", "      - P1: {pipe: 6}\n      - C1: coupling\n"));
  CHECK(slurp(frame) == kStart);
}

TEST_CASE("a branch begins a run of its own, and a run can begin at the floor") {
  const ScratchFolder folder;
  const std::string frame = folder.file("post.yaml", kStart);
  const Ran ran = run({"edit", frame, "--add", "P1.end=tee: right", "--add", "T1.right=pipe: 12", "--add",
                       "P2.end={elbow: down}", "--add", "floor@24,0=flange", "--json"});
  CHECK(ran.err == "");
  const json answer = json::parse(ran.out);
  CHECK(answer["added"] == json({"T1", "P2", "E1", "F2"}));
  CHECK(answer["text"] == replaced(kStart, "      - P1: {pipe: 6}\n",
                                   "      - P1: {pipe: 6}\n"
                                   "      - T1: {tee: right}\n"
                                   "  rail:\n"
                                   "    from: T1.right\n"
                                   "    parts:\n"
                                   "      - P2: {pipe: 12}\n"
                                   "      - E1: {elbow: down}\n"
                                   "  post 2:\n"
                                   "    from: floor\n"
                                   "    at: [24, 0]\n"
                                   "    parts:\n"
                                   "      - F2: flange\n"));
}

TEST_CASE("what is put on and taken off again leaves the very bytes") {
  const ScratchFolder folder;
  for (const char* what : {"coupling", "tee: left", "elbow: back", "cap", "union"}) {
    CAPTURE(what);
    const std::string frame = folder.file("post.yaml", kStart);
    const json added = json::parse(run({"edit", frame, "--add", std::string("P1.end=") + what, "--json"}).out);
    const std::string longer = folder.file("longer.yaml", added["text"]);
    const Ran back = run({"edit", longer, "--take-off", added["added"][0]});
    CHECK(back.err == "");
    CHECK(back.out == kStart);
  }
  // A whole run goes with its only part; lists in one line keep their form.
  const std::string tee =
      folder.file("tee.yaml", run({"edit", folder.path("post.yaml"), "--add", "P1.end=tee: right"}).out);
  const std::string branch = folder.file("branch.yaml", run({"edit", tee, "--add", "T1.right=pipe: 12"}).out);
  CHECK(run({"edit", branch, "--take-off", "P2"}).out == slurp(tee));
  const std::string flow = folder.file("flow.yaml",
                                       "dryfit: 1\npipe: {standard: npt, size: 1/2}\nruns:\n"
                                       "  a: {go: up, at: [0, 0, 0], parts: [A: {pipe: 6}, E: {elbow: right} ]}\n");
  const std::string longer = folder.file("longer.yaml", run({"edit", flow, "--add", "E.right=pipe: 4"}).out);
  CHECK(slurp(longer).find("E: {elbow: right}, P1: {pipe: 4} ]}") != std::string::npos);
  CHECK(run({"edit", longer, "--take-off", "P1"}).out == slurp(flow));
}

TEST_CASE("every free end of the scenarios takes a part, and nothing else changes") {
  const ScratchFolder folder;
  int ends = 0;
  for (const char* name : {"plant-rack", "pot-rail", "towel-ladder", "bakery-cart", "boot-bench-metric"}) {
    CAPTURE(name);
    // The caps are taken off one by one: each leaves an end that is free.
    std::string text = slurp(scenario(name));
    const std::string file = folder.file("frame.yaml", text);
    const std::string numbers = folder.path("numbers.json");
    REQUIRE(run({"show", file, "-o", numbers}).code == 0);
    const json whole = json::parse(slurp(numbers));
    for (const json& part : whole["parts"]) {
      if (part["kind"] != "cap") continue;
      const std::string cap = part["label"];
      const Ran off = run({"edit", file, "--take-off", cap});
      if (off.code != 0) continue;  // a run that begins with it
      const std::string bare = folder.file("bare.yaml", off.out);
      REQUIRE(run({"show", bare, "-o", numbers}).code == 0);
      const json opened = json::parse(slurp(numbers));
      for (const json& open : opened["parts"]) {
        for (const json& end : open["free_ends"]) {
          const std::string place = open["label"].get<std::string>() + "." + end["end"].get<std::string>();
          CAPTURE(place);
          const Ran on =
              run({"edit", bare, "--add", place + (end["male"] == true ? "=coupling" : "=pipe: 3"), "--json"});
          CHECK(on.err == "");
          REQUIRE(on.code == 0);
          const json answer = json::parse(on.out);
          const std::string id = answer["added"][0];
          CHECK(run({"edit", folder.file("on.yaml", answer["text"]), "--take-off", id}).out == off.out);
          ++ends;
        }
      }
    }
  }
  CHECK(ends >= 4);
}

TEST_CASE("what cannot be put on is refused, and nothing is written") {
  const ScratchFolder folder;
  const std::string frame = folder.file("post.yaml", kStart);
  const std::string out = folder.path("out.yaml");
  const auto refused = [&](const std::vector<std::string>& call, const std::string& tell) {
    CAPTURE(call.back());
    std::vector<std::string> all{"edit", frame, "-o", out};
    all.insert(all.end(), call.begin(), call.end());
    const Ran ran = run(all);
    CHECK(ran.code == 2);
    CHECK_MESSAGE(ran.err.find(tell) != std::string::npos, ran.err);
  };
  refused({"--add", "P1.start=coupling"}, "'P1.start' is no free end; free are P1.end");
  refused({"--add", "P1.end=cupling"}, "cupling");
  refused({"--add", "P1.end"}, "both sides of '='");
  refused({"--add", "wall=flange"}, "wall");
  refused({"--take-off", "F1"}, "'F1' is not the last part of run 'post'");
  refused({"--take-off", "X9"}, "there is no part 'X9'");
  refused({"--set", "P1.weight=3"}, "has no value 'weight'");
  const Ran nothing = run({"edit", frame});
  CHECK(nothing.code == 2);
  CHECK(run({"show", frame, "-o", folder.path("n.json")}).code == 0);
  CHECK(run({"edit", frame, "--set", "P1.length=8", "-o", out}).code == 0);
  CHECK(slurp(out) == replaced(kStart, "{pipe: 6}", "{pipe: 8}"));
}
