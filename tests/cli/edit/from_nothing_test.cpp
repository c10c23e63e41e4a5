/// Whole frames out of an empty file by one small change at a time, held against the scenarios that a person wrote.
#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <nlohmann/json.hpp>

#include "model/placing/reader.hpp"
#include "tests/support/program/program.hpp"

using namespace dryfit;
using dryfit::tests::Ran;
using dryfit::tests::run;
using dryfit::tests::scenario;
using dryfit::tests::ScratchFolder;
using dryfit::tests::slurp;
using nlohmann::json;

namespace {

/// A text that changes are made in, each by a call of its own.
class Grown {
 public:
  /// One change; the first name that came of it.
  std::string edit(const std::string& option, const std::string& value) {
    const Ran ran = run({"edit", "-", option, value, "--json"}, text);
    CAPTURE(option);
    CAPTURE(value);
    CHECK(ran.err == "");
    REQUIRE(ran.code == 0);
    const json answer = json::parse(ran.out);
    text = answer["text"];
    return answer["added"].empty() ? "" : answer["added"][0].get<std::string>();
  }
  /// Parts one on the other from an open end on; the last of their ends. `way` is where fittings go on.
  std::string put(std::string end, const std::string& way, const std::vector<std::string>& parts) {
    for (const std::string& part : parts) {
      const std::string id = edit("--add", end + "=" + part);
      end = id + (part.starts_with("pipe") ? ".end" : "." + way);
    }
    return end;
  }
  std::string text;
};

void start_on_floor(Grown& grown, const std::string& pipe) {
  const Ran ran = run({"edit", "-", "--start", pipe, "--add", "floor@0,0=flange"}, "");
  CHECK(ran.err == "");
  grown.text = ran.out;
}

/// Where everything is, whatever it is called.
std::vector<std::string> places(const model::Frame& frame) {
  std::vector<std::string> all;
  for (const model::Part& part : frame.parts) {
    const auto hundredths = [](double mm) { return std::to_string(std::lround(mm * 100.0) + 0); };
    std::string place = std::string(model::word_for(part.kind)) + " " + hundredths(part.centre.x) + " " +
                        hundredths(part.centre.y) + " " + hundredths(part.centre.z);
    for (const model::Port& port : part.ports) place += " " + port.facing.name();
    all.push_back(place);
  }
  std::sort(all.begin(), all.end());
  return all;
}

}  // namespace

TEST_CASE("the plant rack grows from an empty file, and all stands where the scenario has it") {
  Grown rack;
  start_on_floor(rack, "npt 3/4");
  rack.put("F1.up", "up",
           {"pipe: 6", "tee: right", "pipe: 8", "coupling", "pipe: 10", "coupling", "pipe: 10", "coupling", "pipe: 4",
            "cap"});
  rack.edit("--copy", "post=" + rack.put("T1.right", "right", {"pipe: 30"}));
  for (const char* pipes : {"[P3, P9]", "[P4, P10]", "[P5, P11]"}) {
    rack.edit("--board", std::string("through: ") + pipes + ", stock: pine");
  }
  rack.edit("--fix", "S3=wall");
  const model::Frame grown = model::read_frame(rack.text, "grown.yaml");
  const model::Frame written = model::read_frame(slurp(scenario("plant-rack")), "plant-rack.yaml");
  CHECK(places(grown) == places(written));
  CHECK(grown.closures.size() == written.closures.size());
  // No coordinate but that of the first post; nothing longer than a person writes it.
  CHECK(rack.text.find("at: [") == rack.text.rfind("at: ["));
  CHECK(rack.text.size() < slurp(scenario("plant-rack")).size());
  const json order = json::parse(run({"check", "-", "--json"}, rack.text).out);
  CHECK(order["verdict"] == "buildable");
}

TEST_CASE("the towel ladder grows from an empty file, and all stands where the scenario has it") {
  Grown ladder;
  start_on_floor(ladder, "npt 1/2");
  std::vector<std::string> stile{"pipe: 6"};
  for (int rung = 1; rung <= 6; ++rung) {
    stile.insert(stile.end(), {"tee: right", rung < 6 ? "pipe: 10" : "pipe: 4"});
  }
  stile.push_back("cap");
  ladder.put("F1.up", "up", stile);
  ladder.edit("--copy", "post=" + ladder.put("T1.right", "right", {"pipe: 11", "union", "pipe: 6"}));
  for (int rung = 2; rung <= 6; ++rung) ladder.edit("--copy", "rail=T" + std::to_string(rung) + ".right");
  const model::Frame grown = model::read_frame(ladder.text, "grown.yaml");
  const model::Frame written = model::read_frame(slurp(scenario("towel-ladder")), "towel-ladder.yaml");
  CHECK(places(grown) == places(written));
  CHECK(ladder.text.find("to: T12.left") != std::string::npos);
}

TEST_CASE("an end is offered what closes, what comes level and what could be copied there") {
  Grown posts;
  start_on_floor(posts, "npt 3/4");
  posts.put("F1.up", "up", {"pipe: 6", "tee: right", "pipe: 8"});
  const std::string rail = posts.put("T1.right", "right", {"pipe: 30"});
  const auto offers = [&](const std::string& end) {
    const Ran ran = run({"edit", "-", "--offers", end, "--json"}, posts.text);
    CHECK(ran.err == "");
    return json::parse(ran.out)["offers"];
  };
  CHECK(offers(rail)["copies"] == json({"post"}));
  CHECK(offers("P2.end")["male"] == true);
  posts.edit("--copy", "post=" + rail);
  // Without the rail between, its length is the one that closes; the other post keeps its place.
  const json off = json::parse(run({"edit", "-", "--take-off-all", "P3", "--json"}, posts.text).out);
  CHECK(off["taken_off"] == json({"P3"}));
  posts.text = off["text"];
  const json open = offers("T1.right");
  CHECK(open["lengths"][0]["text"] == "30");
  CHECK(open["lengths"][0]["closes"] == "T2.left");
  CHECK(open["lengths"][1].contains("closes") == false);
  // On a free coupling of the one post, 10 in would be level with a pipe of 10 in on the other.
  posts.edit("--add", "P2.end=coupling");
  posts.edit("--add", "C1.up=pipe: 10");
  posts.edit("--add", "P5.end=coupling");
  CHECK(offers("C2.up")["lengths"][0]["text"] == "10");
  CHECK(offers("C2.up")["lengths"][0]["level_with"] == "P3.end");
  // A pipe that meets the port ahead is joined to it.
  posts.edit("--add", "T1.right=pipe: 30");
  CHECK(offers("P6.end")["joins"] == json({"T2.left"}));
  posts.edit("--join", "P6.end=T2.left");
  CHECK(posts.text.find("    to: T2.left\n") != std::string::npos);
  CHECK(run({"edit", "-", "--offers", "T1.right"}, posts.text).code == 2);
}

TEST_CASE("a fitting in a pipe leaves it as long as stock pieces allow, and boards where they are") {
  const std::string rack = slurp(scenario("plant-rack"));
  const json made = json::parse(run({"edit", "-", "--insert", "R1=union", "--json"}, rack).out);
  REQUIRE(made["added"] == json({"U1", "R2"}));
  const model::Frame frame = model::read_frame(made["text"].get<std::string>(), "rack.yaml");
  const model::Frame before = model::read_frame(rack, "rack.yaml");
  const double was = norm(before.part(before.find("R1")).ports[1].at - before.part(before.find("R1")).ports[0].at);
  const double now = norm(frame.part(frame.find("R2")).ports[1].at - frame.part(frame.find("R1")).ports[0].at);
  CHECK(std::abs(now - was) < 6.4);  // half an inch of stock on either side is the most that can be missed
  // The comment at the end of the pipe's line is there, and the run ends where it did.
  CHECK(made["text"].get<std::string>().find("    to: T2.left\n") != std::string::npos);
  const std::string said = run({"edit", "-", "--insert", "R1@12=coupling"}, rack).out;
  CHECK(said.find("- R1: {pipe: 12}\n      - C7: coupling\n") != std::string::npos);
  CHECK(run({"edit", "-", "--insert", "C1=union"}, rack).code == 2);
  CHECK(run({"edit", "-", "--insert", "R1@60=union"}, rack).code == 2);
}

TEST_CASE("a board on rails stays between their fittings, and a wall that is near is touched") {
  Grown bench;
  start_on_floor(bench, "npt 3/4");
  bench.put("F1.up", "up", {"pipe: 12", "tee: right", "pipe: 6", "cap"});
  bench.edit("--surface", "wall=5");
  bench.edit("--copy", "post=" + bench.put("T1.right", "right", {"pipe: 24"}));
  bench.edit("--board", "rests-on: [P3]");
  const model::Frame frame = model::read_frame(bench.text, "bench.yaml");
  const model::Board& board = frame.boards.at(0);
  const model::Part& rail = frame.part(frame.find("P3"));
  CHECK(board.lo.x > rail.ports[0].at.x);
  CHECK(board.hi.x < rail.ports[1].at.x);
  CHECK(board.hi.x - board.lo.x > 22.0 * 25.4);
  CHECK(board.hi.y == doctest::Approx(5.0 * 25.4));
  CHECK(json::parse(run({"check", "-", "--json"}, bench.text).out)["verdict"] == "buildable");
  CHECK(run({"edit", "-", "--board", "size: {x: 3}"}, bench.text).code == 2);
  CHECK(run({"edit", "-", "--board", "through: [P9]"}, bench.text).code == 2);
}
