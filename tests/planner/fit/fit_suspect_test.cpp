// Which pipe is likely wrong, on frames of which a fitter can tell.
#include "planner/fit/fit_suspect.hpp"

#include <doctest/doctest.h>

#include <string>
#include <vector>

#include "model/placing/reader.hpp"
#include "planner/fit/fit.hpp"

using namespace dryfit;

namespace {

/// Names and lengths in inches of the pipes that are told to be likely wrong.
std::vector<std::string> suspects(const std::string& runs) {
  const std::string text =
      "dryfit: 1\nname: Trestle\nunits: in\npipe: {standard: npt, size: 3/4}\n"
      "surfaces: {floor: {normal: up, at: 0}}\nruns:\n" +
      runs;
  const model::Frame frame = model::read_frame(text, "trestle.yaml");
  std::vector<std::string> out;
  for (const planner::Suspect& one : planner::find_fit(frame).suspects) {
    out.push_back(frame.part(one.pipe).id + " " + std::to_string(static_cast<int>(one.length / 25.4 + 0.5)));
  }
  return out;
}

// A rail with a leg at each end, put nowhere but by its legs.
std::string trestle(const char* legs) {
  return std::string("  rail:\n    go: right\n    parts: [T1: {tee: down}, R: {pipe: 24}, T2: {tee: down}]\n") + legs;
}

}  // namespace

TEST_CASE("of two legs that are not as long either is likely wrong, wherever the frame stands by itself") {
  const std::string legs =
      "  left:\n    from: T1.down\n    parts: [P1: {pipe: 12}, F1: flange]\n    to: floor\n"
      "  right:\n    from: T2.down\n    parts: [P2: {pipe: 18}, F2: flange]\n    to: floor\n";
  CHECK(suspects(trestle(legs.c_str())) == std::vector<std::string>{"P1 18", "P2 12"});
}
