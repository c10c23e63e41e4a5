#include "tests/support/frames/design.hpp"

#include <doctest/doctest.h>

#include <algorithm>

#include "model/editing/edit.hpp"
#include "model/geometry/at.hpp"
#include "model/placing/reader.hpp"
#include "planner/judge/replay.hpp"
#include "planner/order/steps.hpp"
#include "planner/peel/peel.hpp"
#include "planner/state/overlap.hpp"

namespace dryfit::tests {

Design::Design(model::Frame from) : frame(std::move(from)), list(planner::contacts_of(frame)) {}

Design::Design(const std::string& text) : Design(model::read_frame(text, "t.yaml")) {}

bool Design::buildable() const {
  planner::Undoer undoer(frame, list);
  planner::State whole(list);
  return planner::peel(undoer, whole).remaining.empty();
}

std::set<std::string> Design::names(const std::vector<planner::ContactId>& contacts) const {
  std::set<std::string> ids;
  for (const planner::ContactId c : contacts) ids.insert(list.contact(c).id);
  return ids;
}

std::optional<model::Frame> with_other_length(const std::string& text, const model::Frame& frame, std::mt19937& rng) {
  std::vector<std::string> pipes;
  for (const model::Part& part : frame.parts) {
    if (part.kind == model::PartKind::pipe) pipes.push_back(part.id);
  }
  if (pipes.empty()) return std::nullopt;
  static const char* const kLengths[] = {"4 in", "6 in", "8 in", "12 in", "18 in"};
  try {
    model::Frame next = model::read_frame(
        model::with_value(text, pipes[rng() % pipes.size()] + ".length", kLengths[rng() % 5]), "next.yaml");
    if (!planner::overlaps_of(next, planner::contacts_of(next)).empty()) return std::nullopt;
    return next;
  } catch (const std::exception&) {
    return std::nullopt;
  }
}

std::optional<std::pair<Design, Design>> random_change(std::uint32_t seed, test::FrameSize size, std::mt19937& rng) {
  test::RandomFrame random = test::random_frame(seed, size);
  std::optional<model::Frame> next = with_other_length(random.text, random.frame, rng);
  if (!next) return std::nullopt;
  std::pair designs(Design(std::move(random.frame)), Design(std::move(*next)));
  if (!designs.first.buildable() || !designs.second.buildable()) return std::nullopt;
  return designs;
}

void check_plan(const Design& from, const Design& to, const planner::Matching& match, const std::vector<char>& built,
                const planner::ChangePlan& plan) {
  planner::MoveJudge old_judge(from.frame, from.list), new_judge(to.frame, to.list);
  std::vector<char> made = built;
  for (const planner::Move& move : plan.undo) {
    std::string why;
    const planner::GivenStep step{planner::action_of(from.frame, move), move.contacts, {}};
    CHECK_MESSAGE(old_judge.can_undo(made, step, &why), why);
    for (const planner::ContactId c : move.contacts) made[at(c)] = 0;
  }
  std::vector<char> now(to.list.contacts.size(), 0);
  for (std::size_t c = 0; c < made.size(); ++c) {
    if (made[c] == 0) continue;
    REQUIRE(match.kept_as[c] != model::kNone);
    now[at(match.kept_as[c])] = 1;
  }
  for (const planner::Step& step : plan.then) {
    for (const planner::ContactId c : step.contacts) {
      CHECK(now[at(c)] == 0);
      now[at(c)] = 1;
    }
    std::string why;
    CHECK_MESSAGE(new_judge.can_undo(now, {step.action, step.contacts, {}}, &why), why);
  }
  CHECK(std::count(now.begin(), now.end(), 0) == 0);
}

}  // namespace dryfit::tests
