#include "tests/support/frames/three_answers.hpp"

#include <algorithm>
#include <array>
#include <set>
#include <stdexcept>

#include "model/geometry/at.hpp"
#include "model/placing/reader.hpp"
#include "planner/judge/replay.hpp"
#include "planner/moves/moves.hpp"
#include "planner/order/order.hpp"
#include "planner/state/overlap.hpp"
#include "tests/support/oracle/oracle.hpp"

namespace dryfit::test {
namespace {

using planner::Action;
using planner::ContactId;
using planner::ContactKind;

struct Position {
  const char* name;
  Axes axes;
};
constexpr std::array kPositions{Position{"as drawn", {}}, Position{"mirrored", kMirror},
                                Position{"turned", kQuarterTurn},
                                Position{"mirrored and turned", {model::kFront, model::kLeft, model::kUp}}};

Action action_for(ContactKind kind) {
  switch (kind) {
    case ContactKind::thread: return Action::screw;
    case ContactKind::rest: return Action::lay;
    case ContactKind::nut: return Action::join;
    case ContactKind::fastening: return Action::fasten;
    default: return Action::slide;
  }
}

/// A frame of the wrong kind would make any answer worthless.
model::Frame sound_frame(const FrameSpec& spec) {
  model::Frame frame = model::read_frame(yaml_of(spec), "bench.yaml");
  const planner::ContactList list = planner::contacts_of(frame);
  if (!planner::overlaps_of(frame, list).empty()) throw std::invalid_argument("overlaps: " + yaml_of(spec));
  return frame;
}

std::string agreed(bool search, bool judge, bool oracle, const char* yes, const char* no) {
  const auto word = [&](bool answer) { return answer ? yes : no; };
  if (search == judge && judge == oracle) return word(search);
  return std::string("search ") + word(search) + ", judge " + word(judge) + ", oracle " + word(oracle);
}

template <typename Ask>
std::string in_all_positions(const FrameSpec& spec, const Ask& ask) {
  std::string first;
  for (const Position& position : kPositions) {
    const std::string answer = ask(sound_frame(turned(spec, position.axes)), position.axes);
    if (&position == kPositions.data()) {
      first = answer;
    } else if (answer != first) {
      return first + " as drawn, " + answer + " " + position.name;
    }
  }
  return first;
}

}  // namespace

std::string comes_off(const FrameSpec& spec, const std::vector<std::string>& undone,
                      const std::vector<std::string>& gone) {
  return in_all_positions(spec, [&](const model::Frame& frame, const Axes& axes) {
    const planner::ContactList list = planner::contacts_of(frame);
    std::vector<char> made(list.contacts.size(), 1);
    std::set<std::string> made_ids, wanted;
    std::vector<ContactId> contacts;
    const auto numbered = [&](const std::string& id) {
      const ContactId c = list.find(contact_after(id, axes, {}));
      if (c == model::kNone) throw std::invalid_argument("no contact " + id);
      return c;
    };
    for (const std::string& id : gone) made[static_cast<std::size_t>(numbered(id))] = 0;
    for (const std::string& id : undone) {
      contacts.push_back(numbered(id));
      wanted.insert(list.contacts[static_cast<std::size_t>(contacts.back())].id);
    }
    for (std::size_t c = 0; c < made.size(); ++c) {
      if (made[c] != 0) made_ids.insert(list.contacts[c].id);
    }
    planner::Undoer undoer(frame, list);
    const std::vector<planner::Move> moves = undoer.ways(planner::State(list, made), contacts.front());
    const bool search = std::any_of(moves.begin(), moves.end(), [&](const planner::Move& move) {
      std::set<std::string> ids;
      for (const ContactId c : move.contacts) ids.insert(list.contacts[dryfit::at(c)].id);
      return ids == wanted;
    });
    const ContactKind kind = list.contacts[static_cast<std::size_t>(contacts.front())].kind;
    const bool judge = planner::MoveJudge(frame, list).can_undo(made, {action_for(kind), contacts, {}});
    Oracle oracle(frame);
    const std::vector<UndoMove> theirs = oracle.legal_undo_moves(oracle.state_of(made_ids));
    const bool third = std::any_of(theirs.begin(), theirs.end(),
                                   [&](const UndoMove& move) { return oracle.names(move.undone) == wanted; });
    return agreed(search, judge, third, "yes", "no");
  });
}

std::string verdict_three_times(const FrameSpec& spec) {
  return in_all_positions(spec, [](const model::Frame& frame, const Axes&) {
    const planner::ContactList list = planner::contacts_of(frame);
    const planner::Order order = planner::find_order(frame, list);
    bool judge = false;
    if (order.buildable) {
      std::vector<planner::GivenStep> steps;
      for (const planner::Step& step : order.steps) steps.push_back({step.action, step.contacts, step.moving});
      judge = planner::replay(frame, list, steps).legal;
    }
    return agreed(order.buildable, judge, solve(frame).buildable, "buildable", "locked");
  });
}

}  // namespace dryfit::test
