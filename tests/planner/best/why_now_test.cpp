/// What is told of a step is all that its moves cost, each kind by itself.
#include "planner/best/why_now.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <vector>

#include "model/geometry/at.hpp"
#include "planner/best/best_order.hpp"
#include "tests/support/frames/given_steps.hpp"

namespace dryfit::planner {

TEST_CASE("a step is told each kind of effort that its moves cost, and no other") {
  const test::Workpiece w = test::workpiece(R"(dryfit: 1
pipe: {standard: npt, size: 1}
surfaces:
  floor: {normal: up, at: 0}
runs:
  left: {from: floor, at: [0, 0], parts: [F1: flange, P1: {pipe: 24}, C1: coupling, P2: {pipe: 12}, K1: cap]}
  right: {from: floor, at: [36, 0], parts: [F2: flange, P3: {pipe: 24}, C2: coupling, P4: {pipe: 12}, K2: cap]}
boards:
  S: {through: [P2, P4], rests-on: [C1, C2], size: {x: 60, y: 12, z: 3/4}, reach: {left: 12, front: 6}}
)");
  BestOrder best = find_best_order(w.frame, w.list);
  REQUIRE(best.order.buildable);
  REQUIRE(best.choices.size() == best.undo_moves.size());
  double Extra::*const kinds[] = {&Extra::swing, &Extra::carry, &Extra::start, &Extra::air,  &Extra::strap,
                                  &Extra::hole,  &Extra::room,  &Extra::aside, &Extra::heavy};
  const Undoer undoer(w.frame, w.list);
  const Effort effort(undoer, 2);
  for (double Extra::*const kind : kinds) {
    // One kind at a time, and of each move another number.
    std::vector<double> of_step(best.order.steps.size(), 0.0);
    for (std::size_t k = 0; k < best.choices.size(); ++k) {
      best.choices[k].extra = {};
      best.choices[k].extra.*kind = static_cast<double>(k + 1);
      for (std::size_t i = 0; i < best.order.steps.size(); ++i) {
        const std::vector<ContactId>& made = best.order.steps[i].contacts;
        const ContactId first = best.undo_moves[k].contacts.front();
        if (std::find(made.begin(), made.end(), first) != made.end()) of_step[i] += static_cast<double>(k + 1);
      }
    }
    const std::vector<WhyNow> told = why_now(w.frame, w.list, effort, best);
    REQUIRE(told.size() == of_step.size());
    for (std::size_t i = 0; i < told.size(); ++i) {
      CHECK(told[i].extra.*kind == doctest::Approx(of_step[i]));
      CHECK(told[i].extra.total() == doctest::Approx(of_step[i]));
    }
  }
}

}  // namespace dryfit::planner
