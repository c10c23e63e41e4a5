#include "tests/support/frames/given_steps.hpp"

#include <array>
#include <sstream>
#include <stdexcept>

#include "model/geometry/at.hpp"
#include "model/placing/reader.hpp"

namespace dryfit::test {
namespace {

using planner::Action;

planner::ContactId contact_named(const Workpiece& piece, const std::string& id) {
  const planner::ContactId found = piece.list.find(id);
  if (found == model::kNone) throw std::invalid_argument("no contact " + id);
  return found;
}

model::PartId part_named(const Workpiece& piece, const std::string& id) {
  const model::PartId found = piece.frame.find(id);
  if (found == model::kNone) throw std::invalid_argument("no part " + id);
  return found;
}

Action action_named(const std::string& word) {
  for (const Action action : {Action::screw, Action::slide, Action::pass, Action::lay, Action::join, Action::fasten}) {
    if (word == word_for(action)) return action;
  }
  throw std::invalid_argument("no action " + word);
}

}  // namespace

Workpiece workpiece(std::string_view text) {
  Workpiece piece;
  piece.frame = model::read_frame(text, "test.yaml");
  piece.list = planner::contacts_of(piece.frame);
  return piece;
}

Workpiece tray_rack(const std::string& upper_pipe) {
  return workpiece(R"(
dryfit: 1
name: Seed tray rack
units: in
pipe: {standard: npt, size: 3/4}
surfaces:
  floor: {normal: up, at: 0}
runs:
  left post:
    from: floor
    at: [0, 0]
    parts:
      - FL: flange
      - P1: {pipe: 6}
      - C1: coupling
      - P2: {pipe: 12}
      - C2: coupling
      - P3: {pipe: )" +
                   upper_pipe + R"(}
      - K1: cap
  right post:
    from: floor
    at: [30, 0]
    parts:
      - FR: flange
      - P5: {pipe: 6}
      - C3: coupling
      - P6: {pipe: 12}
      - C4: coupling
      - P7: {pipe: )" +
                   upper_pipe + R"(}
      - K2: cap
boards:
  S1: {through: [P2, P6], rests-on: [C1, C3], size: {x: 36, y: 8, z: 3/4}, reach: {left: 3, front: 4}}
  S2: {through: [P3, P7], rests-on: [C2, C4], size: {x: 36, y: 8, z: 3/4}, reach: {left: 3, front: 4}}
)");
}

planner::GivenStep given_step(const Workpiece& piece, const std::string& line) {
  std::istringstream words(line);
  std::string word;
  words >> word;
  planner::GivenStep step{action_named(word), {}, {}};
  bool moving = false;
  std::string last;
  while (words >> word) {
    if (word == "moving") {
      moving = true;
    } else if (word == "strap") {  // the one id with a space in it: "TOP/P3 strap"
      step.contacts.back() = contact_named(piece, last + " strap");
    } else if (moving) {
      step.moving.push_back(part_named(piece, word));
    } else {
      step.contacts.push_back(contact_named(piece, word));
      last = word;
    }
  }
  return step;
}

std::vector<planner::GivenStep> given_steps(const std::vector<planner::Step>& steps) {
  std::vector<planner::GivenStep> out;
  for (const planner::Step& step : steps) out.push_back({step.action, step.contacts, step.moving});
  return out;
}

planner::GivenStep fitting_step(const planner::ContactList& list, const std::vector<planner::ContactId>& contacts) {
  using planner::ContactKind;
  Action action = Action::slide;
  for (const planner::ContactId c : contacts) {
    switch (list.contacts[dryfit::at(c)].kind) {
      case ContactKind::thread: return {Action::screw, contacts, {}};
      case ContactKind::rest: action = Action::lay; break;
      case ContactKind::nut: action = Action::join; break;
      case ContactKind::fastening: action = Action::fasten; break;
      default: break;
    }
  }
  return {action, contacts, {}};
}

std::string undo(const Workpiece& piece, const std::string& line, const std::vector<std::string>& gone) {
  std::vector<char> made(piece.list.contacts.size(), 1);
  for (const std::string& id : gone) {
    if (id.front() != '*') {
      made[dryfit::at(contact_named(piece, id))] = 0;
      continue;
    }
    for (const planner::ContactId c : piece.list.at[dryfit::at(part_named(piece, id.substr(1)))]) {
      made[dryfit::at(c)] = 0;
    }
  }
  std::string why;
  const planner::GivenStep step = given_step(piece, line);
  return planner::MoveJudge(piece.frame, piece.list).can_undo(made, step, &why) ? "legal" : why;
}

std::string replayed(const Workpiece& piece, const std::vector<std::string>& lines) {
  std::vector<planner::GivenStep> steps;
  for (const std::string& line : lines) steps.push_back(given_step(piece, line));
  const planner::ReplayResult result = planner::replay(piece.frame, piece.list, steps);
  return result.legal ? "legal" : result.why;
}

}  // namespace dryfit::test
