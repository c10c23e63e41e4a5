/// A pipe fitter's rule of 1918 in the orders of frames with a beam between tees: before a fitting is laid out, ask
/// whether it can still be screwed on where it lies, and make fittings up on the pipe at the bench wherever that is
/// possible (S. E. Dibble, Elements of Plumbing, 1918; the wording is from memory).
#include <doctest/doctest.h>

#include <algorithm>
#include <set>

#include "model/geometry/at.hpp"
#include "model/placing/reader.hpp"
#include "planner/best/best_order.hpp"
#include "planner/judge/replay.hpp"
#include "tests/support/program/program.hpp"

using namespace dryfit;
using planner::ContactId;

namespace {

struct Beam {
  model::PartId pipe = model::kNone;
  std::vector<ContactId> joints;  ///< its two threads
};

/// Pipes with a tee on either end that lies across the beam: the beam is screwed into the tees' branches.
std::vector<Beam> beams_of(const model::Frame& frame, const planner::ContactList& list) {
  std::vector<Beam> beams;
  for (model::PartId p = 0; p < static_cast<model::PartId>(frame.parts.size()); ++p) {
    const model::Part& pipe = frame.part(p);
    if (pipe.kind != model::PartKind::pipe || pipe.ports[0].facing.z != 0) continue;
    Beam beam{p, {}};
    for (const ContactId c : list.at[at(p)]) {
      const planner::Contact& contact = list.contact(c);
      if (contact.kind != planner::ContactKind::thread) continue;
      const model::Part& fitting = frame.part(contact.b);
      if (fitting.kind != model::PartKind::tee) continue;
      const model::Joint& joint = frame.joint(contact.joint);
      if (joint.female_port == 2) beam.joints.push_back(c);
    }
    if (beam.joints.size() == 2) beams.push_back(beam);
  }
  return beams;
}

}  // namespace

TEST_CASE("a beam between tees gets its tees at the bench, each screwed on by itself, before anything is fast") {
  int seen = 0;
  for (const char* name : {"plant-rack", "boot-bench-metric", "seed-store", "hall-rack", "work-table"}) {
    CAPTURE(name);
    const std::string file = tests::scenario(name);
    const model::Frame frame = model::read_frame(tests::slurp(file), file);
    const planner::ContactList list = planner::contacts_of(frame);
    const planner::BestOrder best = planner::find_best_order(frame, list);
    REQUIRE(best.order.buildable);
    for (const Beam& beam : beams_of(frame, list)) {
      CAPTURE(frame.part(beam.pipe).id);
      ++seen;
      std::set<model::PartId> fast;  // hangs on the room once it is fastened
      bool fastened = false;
      for (const planner::Step& step : best.order.steps) {
        const planner::Contact& first = list.contact(step.contacts.front());
        fastened |= first.kind == planner::ContactKind::fastening && first.b == model::kRoom;
        const bool beam_joint = std::any_of(step.contacts.begin(), step.contacts.end(), [&](ContactId c) {
          return std::find(beam.joints.begin(), beam.joints.end(), c) != beam.joints.end();
        });
        if (!beam_joint) continue;
        CHECK_FALSE(fastened);
        CHECK(step.action == planner::Action::screw);
        // One bare piece turns: the pipe, or the tee before anything stands on it.
        CHECK(step.moving.size() == 1);
      }
    }
  }
  CHECK(seen >= 3);  // a floor set by hand, so that the rule is tried at all
}

TEST_CASE("a tee that could not be screwed on any more where it is laid out is never left for later") {
  // The beam's second tee kept until the post through it has been made up to the floor: it cannot turn there, for the
  // post is in its way and the beam holds its other end. The judge refuses that order.
  const std::string file = tests::scenario("plant-rack");
  const model::Frame frame = model::read_frame(tests::slurp(file), file);
  const planner::ContactList list = planner::contacts_of(frame);
  const planner::BestOrder best = planner::find_best_order(frame, list);
  const std::vector<Beam> beams = beams_of(frame, list);
  REQUIRE(beams.size() == 1);
  for (const ContactId late : beams.front().joints) {
    std::vector<planner::GivenStep> steps;
    const planner::Step* kept = nullptr;
    bool placed = false;
    for (const planner::Step& step : best.order.steps) {
      if (step.contacts.front() == late) {
        kept = &step;
        continue;
      }
      steps.push_back({step.action, step.contacts, {}});
      const planner::Contact& made = list.contact(step.contacts.front());
      const bool last_fastening =
          made.kind == planner::ContactKind::fastening && made.b == model::kRoom && &step == &best.order.steps.back();
      if (last_fastening && kept != nullptr) {
        steps.push_back({kept->action, kept->contacts, {}});
        placed = true;
      }
    }
    REQUIRE(placed);
    const auto judged = planner::replay(frame, list, steps);
    CHECK_FALSE(judged.legal);
    CHECK(judged.first_bad_step == static_cast<int>(steps.size()));
  }
}
