/// One rule has one limit: search and judge, written apart, are asked the same questions on random and changed frames.
/// DRYFIT_BENCHES sets how many frames the long runs draw.
#include <doctest/doctest.h>

#include <algorithm>
#include <cstdlib>
#include <functional>
#include <random>
#include <string>
#include <vector>

#include "model/geometry/at.hpp"
#include "planner/early/last_call.hpp"
#include "planner/judge/replay.hpp"
#include "planner/judge/replay_judge.hpp"
#include "planner/moves/moves.hpp"
#include "planner/order/order.hpp"
#include "planner/state/named_part.hpp"
#include "tests/support/frames/design.hpp"
#include "tests/support/frames/given_steps.hpp"
#include "tests/support/frames/random_benches.hpp"

namespace dryfit::test {
namespace {

using planner::ContactId;
using planner::ContactKind;
using planner::GivenStep;

struct Subject {
  explicit Subject(const model::Frame& drawn) : frame(drawn), list(planner::contacts_of(frame)) {}
  const model::Frame& frame;
  planner::ContactList list;
  [[nodiscard]] std::string names(const std::vector<ContactId>& contacts) const {
    std::string out;
    for (const ContactId c : contacts) out += list.contacts[dryfit::at(c)].id + " ";
    return out;
  }
};

/// What the judge takes off with contact `c` in one move, whatever else goes along; empty when it refuses.
std::vector<ContactId> judged_off(planner::judge::Judge& judge, const std::vector<char>& made, ContactId c) {
  std::vector<ContactId> all;
  for (std::size_t i = 0; i < made.size(); ++i) {
    if (made[i] != 0) all.push_back(static_cast<ContactId>(i));
  }
  const planner::Contact& contact = judge.scene().contact(c);
  switch (contact.kind) {
    case ContactKind::nut: return {c};
    case ContactKind::fastening: return judge.unfasten(made, c).undone;
    case ContactKind::thread: return judge.unscrew(made, c, {}).undone;
    case ContactKind::rest: return judge.take_away(made, contact.a, {all}).undone;
    default: return judge.off_pipe(made, c, {all}).undone;
  }
}

struct Tally {
  int frames = 0, locked = 0, questions = 0, refused = 0, last_calls = 0;
};

/// Takes the frame apart by random moves of the search; on the way judge and search say the same to every contact.
void ask_both_in_random_states(const Subject& subject, std::uint32_t seed, Tally& tally) {
  std::mt19937 rng(seed);
  planner::Undoer undoer(subject.frame, subject.list);
  planner::judge::Judge judge(subject.frame, subject.list);
  planner::State state(subject.list);
  while (true) {
    std::vector<planner::Move> moves;
    for (ContactId c = 0; c < static_cast<ContactId>(subject.list.contacts.size()); ++c) {
      if (!state.made(c)) continue;
      planner::Attempt attempt = undoer.try_undo(state, c);
      const std::vector<ContactId> off = judged_off(judge, state.all(), c);
      ++tally.questions;
      tally.refused += attempt.legal ? 0 : 1;
      std::vector<ContactId> left;
      for (ContactId i = 0; i < static_cast<ContactId>(subject.list.contacts.size()); ++i) {
        if (state.made(i)) left.push_back(i);
      }
      CHECK_MESSAGE(
          attempt.legal == !off.empty(), subject.names({c}),
          std::string(attempt.legal ? "comes off by the search alone, at " : "comes off by the judge alone, at "),
          subject.names(left));
      if (attempt.legal) moves.push_back(std::move(attempt.move));
    }
    if (moves.empty()) break;
    state.undo(moves[rng() % moves.size()].contacts);
  }
}

/// The judge takes nothing off the knot.
void judge_the_knot(const Subject& subject, const planner::Order& order, Tally& tally) {
  if (order.knot.empty()) return;
  ++tally.locked;
  planner::judge::Judge judge(subject.frame, subject.list);
  std::vector<char> made(subject.list.contacts.size(), 0);
  for (const ContactId c : order.knot) made[dryfit::at(c)] = 1;
  for (const ContactId c : order.knot) {
    CHECK_MESSAGE(judged_off(judge, made, c).empty(), subject.names({c}), "comes off the knot ",
                  subject.names(order.knot));
  }
}

/// The order with the part put off past its last call, and with it what waits for it.
std::vector<GivenStep> put_off_by_one(const Subject& subject, const planner::Order& order,
                                      const std::vector<ContactId>& own, const planner::LastCall& call) {
  std::vector<GivenStep> first, late, rest;
  for (const planner::Step& step : order.steps) {
    if (step.number > call.step) {
      rest.push_back({step.action, step.contacts, {}});
      continue;
    }
    const bool waits = std::find(call.put_off.begin(), call.put_off.end(), step.number) != call.put_off.end();
    std::vector<ContactId> now, later;
    for (const ContactId c : step.contacts) {
      (waits || std::binary_search(own.begin(), own.end(), c) ? later : now).push_back(c);
    }
    if (!now.empty()) first.push_back(fitting_step(subject.list, now));
    if (!later.empty()) late.push_back(fitting_step(subject.list, later));
  }
  first.insert(first.end(), late.begin(), late.end());
  first.insert(first.end(), rest.begin(), rest.end());
  return first;
}

void put_every_part_off(const Subject& subject, const planner::Order& order, Tally& tally) {
  if (!order.buildable) return;
  planner::Undoer undoer(subject.frame, subject.list);
  planner::StepContacts made_by;
  for (const planner::Step& step : order.steps) made_by.push_back(step.contacts);
  for (const planner::NamedPart& part : planner::named_parts(subject.frame, subject.list)) {
    const planner::LastCall call = planner::last_call(undoer, part.contacts, made_by);
    if (call.step == 0) continue;
    ++tally.last_calls;
    CHECK_MESSAGE(
        !planner::replay(subject.frame, subject.list, put_off_by_one(subject, order, part.contacts, call)).legal,
        part.label, " goes on after step ", call.step, ", its last call");
  }
}

void ask_everything(const model::Frame& frame, std::uint32_t seed, Tally& tally) {
  const Subject subject(frame);
  ++tally.frames;
  const planner::Order order = planner::find_order(subject.frame, subject.list);
  judge_the_knot(subject, order, tally);
  ask_both_in_random_states(subject, seed, tally);
  put_every_part_off(subject, order, tally);
}

/// Random frames of both kinds, every other one changed.
Tally ask_about_frames(std::uint32_t first, int benches, int others) {
  Tally tally;
  for (std::uint32_t seed = first; seed < first + static_cast<std::uint32_t>(benches); ++seed) {
    CAPTURE(seed);
    const RandomBench bench = random_bench(seed, {3, 24});
    CAPTURE(bench.text);
    ask_everything(bench.frame, seed, tally);
    std::mt19937 rng(seed);
    if (const auto changed = tests::with_other_length(bench.text, bench.frame, rng)) {
      INFO("with one pipe of another length, seed " << seed);
      ask_everything(*changed, seed, tally);
    }
  }
  for (std::uint32_t seed = first; seed < first + static_cast<std::uint32_t>(others); ++seed) {
    CAPTURE(seed);
    const RandomFrame random = random_frame(seed, {4, 20});
    CAPTURE(random.text);
    ask_everything(random.frame, seed, tally);
    std::mt19937 rng(seed);
    if (const auto changed = tests::with_other_length(random.text, random.frame, rng)) {
      INFO("with one pipe of another length, seed " << seed);
      ask_everything(*changed, seed, tally);
    }
  }
  return tally;
}

int frames_wanted(int otherwise) {
  const char* text = std::getenv("DRYFIT_BENCHES");
  return text == nullptr ? otherwise : std::atoi(text);
}

/// A quarter of a longer run, so that they can be judged side by side.
void long_run(std::uint32_t quarter) {
  const int benches = frames_wanted(2000) / 4;
  const Tally tally =
      ask_about_frames(200000 + quarter * static_cast<std::uint32_t>(benches), benches, frames_wanted(2000) / 8);
  MESSAGE("frames " << tally.frames << ", locked " << tally.locked << ", questions " << tally.questions << ", refused "
                    << tally.refused << ", last calls " << tally.last_calls);
  CHECK(tally.locked * 20 >= tally.frames);  // floors set by hand, here and below
  CHECK(tally.last_calls >= tally.frames);
}

}  // namespace

TEST_CASE("search and judge say the same of every contact, every knot and every last call of random frames") {
  const Tally tally = ask_about_frames(1, 120, 60);
  MESSAGE("frames " << tally.frames << ", locked " << tally.locked << ", questions " << tally.questions << ", refused "
                    << tally.refused << ", last calls " << tally.last_calls);
  CHECK(tally.questions >= 5000);
  CHECK(tally.refused >= 500);
  CHECK(tally.locked >= 10);
  CHECK(tally.last_calls >= 100);
}

TEST_CASE("search and judge say the same with a hair less and a hair more room, too") {
  Tally tally;
  for (std::uint32_t seed = 300; seed < 360; ++seed) {
    CAPTURE(seed);
    const RandomBench bench = random_bench(seed, {3, 24});
    CAPTURE(bench.text);
    for (const double by : {-planner::kHairOfRoom, planner::kHairOfRoom}) {
      Subject subject(bench.frame);
      subject.list = planner::with_more_room(subject.list, by);
      ask_both_in_random_states(subject, seed, tally);
      put_every_part_off(subject, planner::find_order(subject.frame, subject.list), tally);
    }
  }
  CHECK(tally.last_calls >= 50);
  CHECK(tally.questions >= 5000);  // floors set by hand
  CHECK(tally.refused >= 500);
}

TEST_CASE(
    "random benches have uneven carriers, holes beside slots, slots to several edges and slots that stay, often") {
  BenchTraits traits;
  int laid = 0, drilled = 0, both = 0, differ = 0, fixed = 0, loose = 0, overhead = 0, near_hole = 0;
  Rejects rejects;
  constexpr int kFrames = 400;
  for (std::uint32_t seed = 1; seed <= kFrames; ++seed) {
    traits = random_bench(seed, {3, 24}, &rejects).traits;
    laid += traits.uneven_laid ? 1 : 0;
    drilled += traits.uneven_drilled ? 1 : 0;
    both += traits.hole_and_slot ? 1 : 0;
    differ += traits.slots_differ ? 1 : 0;
    fixed += traits.fixed_slots ? 1 : 0;
    loose += traits.loose_post ? 1 : 0;
    overhead += traits.overhead ? 1 : 0;
    near_hole += traits.near_hole ? 1 : 0;
  }
  MESSAGE("uneven laid " << laid << ", uneven drilled " << drilled << ", hole and slot " << both << ", slots differ "
                         << differ << ", fixed slots " << fixed << ", loose posts " << loose << ", overhead "
                         << overhead << ", near holes " << near_hole << "; unreadable " << rejects.unreadable
                         << ", overlapping " << rejects.overlapping << ", wrong size " << rejects.wrong_size << "; "
                         << rejects.last_fault);
  for (const int count : {laid, drilled, both, differ, fixed, loose, overhead, near_hole}) CHECK(count * 20 >= kFrames);
  CHECK(rejects.unreadable <= kFrames);
  CHECK(rejects.overlapping <= 2 * kFrames);
}

TEST_SUITE("slow") {
  TEST_CASE("search and judge say the same of thousands of random frames, first quarter") { long_run(0); }
  TEST_CASE("search and judge say the same of thousands of random frames, second quarter") { long_run(1); }
  TEST_CASE("search and judge say the same of thousands of random frames, third quarter") { long_run(2); }
  TEST_CASE("search and judge say the same of thousands of random frames, last quarter") { long_run(3); }
}

}  // namespace dryfit::test
