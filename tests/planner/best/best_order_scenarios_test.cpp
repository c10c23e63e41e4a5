/// The search on the frames that come with the program. Work is counted, not timed.
#include <doctest/doctest.h>

#include <algorithm>
#include <fstream>
#include <sstream>

#include "model/placing/reader.hpp"
#include "planner/best/best_order.hpp"
#include "planner/judge/replay.hpp"
#include "planner/state/overlap.hpp"
#include "tests/support/program/program.hpp"

namespace dryfit::planner {
namespace {

TEST_CASE("every scenario of up to 60 contacts that can be built gets an order that is proven best") {
  int proven = 0;
  for (const std::string& file : tests::scenario_files()) {
    CAPTURE(file);
    std::stringstream text;
    text << std::ifstream(file).rdbuf();
    const model::Frame frame = model::read_frame(text.str(), file);
    const ContactList list = contacts_of(frame);
    if (list.contacts.size() > 60 || !overlaps_of(frame, list).empty()) continue;
    const BestOrder best = find_best_order(frame, list);
    if (!best.order.buildable) continue;
    CHECK(best.effort.proven);
    CHECK(best.effort.value == doctest::Approx(best.effort.lower_bound));
    // Counted, so that the answer is the same on every machine; a few seconds on common ones for the ladder, whose feet
    // hardly hold it up, well under a second for all others.
    CHECK(best.effort.moves_tried < (list.contacts.size() == 60 ? 200'000 : 20'000));
    std::vector<GivenStep> given;
    for (const Step& step : best.order.steps) given.push_back({step.action, step.contacts, step.moving});
    const ReplayResult judged = replay(frame, list, given);
    CHECK_MESSAGE(judged.legal, judged.why);
    ++proven;
  }
  CHECK(proven >= 10);
}

}  // namespace
}  // namespace dryfit::planner
