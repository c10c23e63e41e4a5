// What the first line says of a frame of which it was not found out whether it lines up, and what stands below it once
// it was.
#include "cli/check/headline.hpp"

#include <doctest/doctest.h>

#include <string>
#include <utility>

#include "cli/check/finding.hpp"
#include "cli/io/exit_code.hpp"
#include "model/placing/reader.hpp"
#include "planner/state/contacts.hpp"
#include "tests/support/program/program.hpp"

using namespace dryfit;
using namespace dryfit::cli;

namespace {

/// Has had enough before anything was tried.
class Gone : public planner::Foreman {
 public:
  [[nodiscard]] bool go_on(long long, long long) override { return false; }
};

// The rung is 1/16 in too long between posts that are 20 in apart: half a turn back at both of its ends.
const char* const kLadder = R"(dryfit: 1
name: Ladder
units: in
pipe: {standard: npt, size: 3/4}
surfaces: {floor: {normal: up, at: 0}}
runs:
  left:
    from: floor
    at: [0, 0]
    parts: [F1: flange, P1: {pipe: 12}, T1: {tee: right}]
  right:
    from: floor
    at: [20, 0]
    parts: [F2: flange, P2: {pipe: 12}, T2: {tee: left}]
  rung:
    from: T1.right
    parts: [R1: {pipe: 18}]
    to: T2.left
)";

}  // namespace

TEST_CASE("whether it lines up is undecided when the work was ended before it was known, and a yes once it is") {
  const model::Frame frame = model::read_frame(kLadder, "ladder.yaml");
  const planner::ContactList contacts = planner::contacts_of(frame);
  Gone gone;
  const Finding ended = find_out(frame, contacts, &gone);
  CHECK(verdict_of(ended) == Verdict::undecided);
  CHECK(code_of(ended) == kUndecided);
  CHECK(headline(frame, ended) == "Ladder: it could be put together; whether it LINES UP wasn't found out.");
  REQUIRE_FALSE(ended.notes.empty());
  CHECK(ended.notes.front() ==
        "Whether the frame lines up wasn't found out. The rest of this answer holds once it does.");
  const Finding whole = find_out(frame, contacts);
  CHECK(verdict_of(whole) == Verdict::buildable);
  CHECK(code_of(whole) == kYes);
}

TEST_CASE("that two runs are both placed is said once, however many rungs are between them") {
  std::string text = kLadder;
  for (const auto& [from, to] : {std::pair{"T1: {tee: right}", "T1: {tee: right}, P3: {pipe: 12}, T3: {tee: right}"},
                                 std::pair{"T2: {tee: left}", "T2: {tee: left}, P4: {pipe: 12}, T4: {tee: left}"}}) {
    text.replace(text.find(from), std::string(from).size(), to);
  }
  text += "  upper rung: {from: T3.right, parts: [R2: {pipe: 18}], to: T4.left}\n";
  const std::string told = tests::run({"fit", "-"}, text).out;
  const std::string advice = "'left' and 'right' both have an `at`.";
  const std::size_t first = told.find(advice);
  REQUIRE(first != std::string::npos);
  CHECK(told.find(advice, first + 1) == std::string::npos);
  CHECK(told.find("Between R2 and T4: off by 1/16 in") != std::string::npos);
}
