// How the work lies while it is built lying: pieces that are held in the other hand may point anywhere, so the work
// that lies there decides. The frame is drawn by hand.
#include "planner/order/attitude_of_pose.hpp"

#include <doctest/doctest.h>

#include <string>

#include "planner/best/best_order.hpp"
#include "planner/best/standing.hpp"
#include "tests/support/frames/given_steps.hpp"

namespace dryfit::planner {
namespace {

/// A rack of two uprights under a top rail, each with a rear post that two short rails carry, one with a union.
/// `back`: the way the rear posts are.
std::string boot_rack(const std::string& back, const std::string& front) {
  const auto rails = [&](const std::string& low, const std::string& high, const std::string& to, const std::string& n) {
    return "  low" + n + ": {from: " + low + "." + back + ", parts: [R" + n + ": {pipe: 10}], to: T" + to + "1." +
           front + "}\n  high" + n + ": {from: " + high + "." + back + ", parts: [S" + n + ": {pipe: 4}, U" + n +
           ": union, V" + n + ": {pipe: 4-1/4}], to: T" + to + "2." + front + "}\n";
  };
  const auto rear = [&](const std::string& n) {
    return "  rear" + n + ": {from: floor, parts: [F" + n + ": foot, A" + n + ": {pipe: 5}, T" + n +
           "1: {tee: " + front + "}, B" + n + ": {pipe: 8}, T" + n + "2: {tee: " + front + "}, C" + n +
           ": {pipe: 5}, K" + n + ": cap]}\n";
  };
  return "dryfit: 1\nunits: in\npipe: {standard: npt, size: 3/4}\nsurfaces: {floor: {normal: up, at: 0}}\nruns:\n"
         "  arch: {from: floor, at: [0, 0], parts: [F1: foot, P1: {pipe: 5}, L1: {tee: " +
         back + "}, P2: {pipe: 8}, L2: {tee: " + back +
         "}, P3: {pipe: 5}, E1: {elbow: right}, TOP: {pipe: 30}, E2: {elbow: down}, Q3: {pipe: 5}, M2: {tee: " + back +
         "}, Q2: {pipe: 8}, M1: {tee: " + back + "}, Q1: {pipe: 5}, F2: foot], to: floor}\n" + rear("a") + rear("b") +
         rails("L1", "L2", "a", "x") + rails("M1", "M2", "b", "y");
}

Attitudes attitudes_for(const std::string& text) {
  const test::Workpiece w = test::workpiece(text);
  const BestOrder best = find_best_order(w.frame, w.list);
  REQUIRE(best.order.buildable);
  const Undoer undoer(w.frame, w.list);
  const StandingPlan plan = standing_of(w.frame, w.list, Effort(undoer, 2), best);
  CHECK(plan.dips.empty());
  return attitudes_of(w.frame, best.order.steps, plan.pose_of_step, effort_rates().in_one_hand);
}

}  // namespace

TEST_CASE("an arch whose tees point to the back lies on its front while the rear posts are joined to it") {
  CHECK(attitudes_for(boot_rack("back", "front")).laid.up == model::kFront);
}

TEST_CASE("and one whose tees point to the front lies on its back") {
  CHECK(attitudes_for(boot_rack("front", "back")).laid.up == model::kBack);
}

}  // namespace dryfit::planner
