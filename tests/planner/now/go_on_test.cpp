/// What can be done of an order while a part is missing: on frames whose truth a fitter knows, and on random ones whose
/// steps are judged in the order that it gives.
#include <doctest/doctest.h>

#include <algorithm>

#include "model/geometry/at.hpp"
#include "planner/now/go_on.hpp"
#include "planner/order/order.hpp"
#include "tests/support/every/early_checks.hpp"
#include "tests/support/frames/early_frames.hpp"
#include "tests/support/frames/random_frames.hpp"

using namespace dryfit;
using planner::ContactId;
using planner::GoOn;
using planner::Step;
using planner::WithoutIt;
using tests::Example;

namespace {

/// The first step with a contact of the part.
std::size_t brought_at(const std::vector<Step>& steps, const planner::NamedPart& part) {
  const auto step = std::find_if(steps.begin(), steps.end(), [&](const Step& one) {
    return std::any_of(one.contacts.begin(), one.contacts.end(), [&](ContactId c) {
      return std::find(part.contacts.begin(), part.contacts.end(), c) != part.contacts.end();
    });
  });
  return at(step - steps.begin());
}

/// The steps as they are done: those before, those without the part, all that was left out.
std::vector<planner::GivenStep> as_done(const std::vector<Step>& steps, std::size_t first, const WithoutIt& found) {
  std::vector<std::size_t> order;
  for (std::size_t k = 0; k < first; ++k) order.push_back(k);
  order.insert(order.end(), found.steps.begin(), found.steps.end());
  for (std::size_t k = first; k < steps.size(); ++k) {
    if (!std::binary_search(found.steps.begin(), found.steps.end(), k)) order.push_back(k);
  }
  std::vector<planner::GivenStep> given;
  for (const std::size_t k : order) given.push_back({steps[k].action, steps[k].contacts, {}});
  return given;
}

std::vector<std::string> made_without(const Example& e, const std::vector<Step>& steps, const char* part) {
  GoOn go_on(e.frame, e.list, steps);
  const planner::NamedPart named = e.part(part);
  std::vector<std::string> ids;
  for (const std::size_t k : go_on.without(brought_at(steps, named), named.contacts).steps) {
    ids.push_back(e.list.contact(steps[k].contacts.front()).id);
  }
  std::sort(ids.begin(), ids.end());
  return ids;
}

/// Steps that make these contacts one after the other.
std::vector<Step> steps_making(const Example& e, const std::vector<std::pair<planner::Action, std::vector<const char*>>>& told) {
  std::vector<Step> steps;
  for (const auto& [action, ids] : told) {
    Step step;
    step.number = static_cast<int>(steps.size()) + 1;
    step.action = action;
    for (const char* id : ids) step.contacts.push_back(e.id(id));
    steps.push_back(step);
  }
  return steps;
}

}  // namespace

TEST_CASE("without the shelf all goes on but the caps that would lock it out") {
  using planner::Action;
  const Example e(tests::trestle_text());
  const auto steps = steps_making(e, {{Action::screw, {"A1/F1.up"}},
                                      {Action::screw, {"A1/T1.down"}},
                                      {Action::screw, {"B1/T1.up"}},
                                      {Action::screw, {"R/T1.right"}},
                                      {Action::screw, {"R/T2.left"}},
                                      {Action::screw, {"A2/T2.down"}},
                                      {Action::screw, {"A2/F2.up"}},
                                      {Action::screw, {"B2/T2.up"}},
                                      {Action::slide, {"S/B1", "S/B2"}},
                                      {Action::screw, {"B1/K1.down"}},
                                      {Action::screw, {"B2/K2.down"}},
                                      {Action::fasten, {"F1/floor"}},
                                      {Action::fasten, {"F2/floor"}}});
  CHECK(made_without(e, steps, "S") == std::vector<std::string>{"F1/floor", "F2/floor"});
  // Without a cap everything else goes on: nothing is locked out.
  CHECK(made_without(e, steps, "K1") == std::vector<std::string>{"B2/K2.down", "F1/floor", "F2/floor"});
  // Without the rail between them the other trestle is not joined to anything the order has by then.
  CHECK(made_without(e, steps, "R") == std::vector<std::string>{"A2/F2.up", "A2/T2.down", "B2/T2.up"});
}

TEST_CASE("what 300 random orders go on with while a part is missing passes the judge, and so does the rest") {
  int asked = 0, some = 0, whole = 0;
  for (std::uint32_t seed = 1; asked < 300 && seed < 3000; ++seed) {
    const test::RandomFrame random = test::random_frame(seed, {4, 14});
    const Example e(random.text);
    const planner::Order order = planner::find_order(e.frame, e.list);
    if (!order.buildable) continue;
    CAPTURE(seed);
    CAPTURE(random.text);
    GoOn go_on(e.frame, e.list, order.steps);
    for (const planner::NamedPart& part : planner::named_parts(e.frame, e.list)) {
      const std::size_t first = brought_at(order.steps, part);
      if (first == order.steps.size()) continue;
      const WithoutIt found = go_on.without(first, part.contacts);
      CAPTURE(part.label);
      ++asked;
      some += found.steps.empty() ? 0 : 1;
      whole += found.steps.size() > 3 ? 1 : 0;
      CHECK(std::is_sorted(found.steps.begin(), found.steps.end()));
      for (const std::size_t k : found.steps) {
        CHECK(k >= first);
        for (const ContactId c : order.steps[k].contacts) {
          CHECK(std::find(part.contacts.begin(), part.contacts.end(), c) == part.contacts.end());
        }
      }
      const auto judged = planner::replay(e.frame, e.list, as_done(order.steps, first, found));
      CHECK_MESSAGE(judged.legal, judged.why);
    }
  }
  // Floors set by hand: that something can be done must stay common.
  CHECK(asked >= 300);
  CHECK(some >= 150);
  CHECK(whole >= 20);
}
