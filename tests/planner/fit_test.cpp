// Closures and turns of whole frames.
#include "planner/fit.hpp"

#include <doctest/doctest.h>
#include <fmt/format.h>

#include <cmath>
#include <string>

#include "model/reader.hpp"

using namespace dryfit;
using namespace dryfit::planner;

namespace {

std::size_t at(int i) { return static_cast<std::size_t>(i); }

model::Frame read(const std::string& text) { return model::read_frame(text, "test.yaml"); }

bool near(double a, double b, double tolerance = 1e-6) { return std::abs(a - b) <= tolerance; }

double total(const std::vector<JointTurn>& turns) {
  double sum = 0.0;
  for (const JointTurn& t : turns) sum += std::abs(t.turns);
  return sum;
}

/// Two posts under one bar with an elbow at each end: the bar is level when both posts are equally long.
std::string two_posts(const std::string& left, const std::string& right) {
  return fmt::format(R"(
dryfit: 1
name: Two posts under a bar
pipe: {{standard: npt, size: 1}}
surfaces: {{floor: {{normal: up, at: 0}}}}
runs:
  left post:
    from: floor
    at: [0, 0]
    parts:
      - FL: flange
{}
      - EL: {{elbow: right}}
      - BAR: {{pipe: 36}}
      - ER: {{elbow: down}}
{}
      - FR: flange
    to: floor
)",
                     left, right);
}

std::string pipes(const std::string& side, const std::vector<std::string>& parts) {
  std::string out;
  int n = 0;
  for (const std::string& part : parts) {
    if (!out.empty()) out += "\n";
    ++n;
    if (part == "coupling") {
      out += fmt::format("      - {}{}: coupling", side, n);
    } else if (part == "tee") {
      out += fmt::format("      - {}{}: {{tee: back}}", side, n);
    } else {
      out += fmt::format("      - {}{}: {{pipe: {}}}", side, n, part);
    }
  }
  return out;
}

}  // namespace

// Common practice, no source: 1 in hand-tight work.
TEST_CASE("a 30 in post comes out level with 12 + 12 + 4-1/2 and two couplings by turning") {
  const model::Frame frame = read(two_posts(pipes("A", {"30"}), pipes("B", {"4-1/2", "coupling", "12", "coupling", "12"})));
  REQUIRE(frame.closures.size() == 1);
  // By hand: 28.5 in of pipe and two coupling gaps of 1.67 - 2 x 0.40 in are 30.24 in, 0.24 in over.
  CHECK(near(frame.closures[0].gap.z, 0.24 * 25.4, 0.01));
  const Fit fit = find_fit(frame);
  CHECK(fit.state == FitState::by_turning);
  CHECK(fit.rechecked);
  CHECK(fit.proven);
  CHECK(std::abs(fit.closures[0].left.z) <= kExact);
  // 0.24 in is 2.76 turns; to come within 0.5 mm takes 2.53, so 2-3/4 in quarters.
  CHECK(near(total(fit.turns), 2.75));
  for (const JointTurn& t : fit.turns) CHECK(std::abs(t.turns) <= 1.0);
}

TEST_CASE("48 in closes against 30 + tee + 10 + coupling + 5 by turning, not against 30 + tee + 8 + coupling + 8") {
  const model::Frame good = read(two_posts(pipes("A", {"48"}), pipes("B", {"30", "tee", "10", "coupling", "5"})));
  // By hand: 45 in of pipe, 2 x 1.50 - 2 x 0.40 in of tee, 1.67 - 2 x 0.40 in of coupling: 48.07 in.
  CHECK(near(good.closures[0].gap.z, 0.07 * 25.4, 0.01));
  const Fit fits = find_fit(good);
  CHECK(fits.state == FitState::by_turning);
  CHECK(std::abs(fits.closures[0].left.z) <= kExact);
  const model::Frame bad = read(two_posts(pipes("A", {"48"}), pipes("B", {"30", "tee", "8", "coupling", "8"})));
  CHECK(near(bad.closures[0].gap.z, 1.07 * 25.4, 0.01));
  const Fit does_not = find_fit(bad);
  CHECK(does_not.state > FitState::by_turning);
}

TEST_CASE("posts of one length are exact and need no turn") {
  const Fit fit = find_fit(read(two_posts(pipes("A", {"30"}), pipes("B", {"30"}))));
  CHECK(fit.state == FitState::exact);
  CHECK(fit.turns.empty());
}

TEST_CASE("what no thread can give is open, and stock closes it") {
  const model::Frame frame = read(two_posts(pipes("A", {"30"}), pipes("B", {"24"})));
  const Fit fit = find_fit(frame);
  CHECK(fit.state == FitState::open);
  CHECK(fit.turns.empty());
  REQUIRE_FALSE(fit.closures[0].cures.empty());
  bool longer = false;
  for (const Cure& cure : fit.closures[0].cures) {
    CHECK(cure.state <= FitState::by_turning);
    longer = longer || (frame.parts[at(cure.pipe)].id == "B1" && cure.pieces == std::vector<double>{30 * 25.4});
  }
  CHECK(longer);
}
