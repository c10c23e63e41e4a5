#include "tests/support/given_steps.hpp"

#include <array>
#include <sstream>
#include <stdexcept>

#include "model/reader.hpp"

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
  for (const Action action :
       {Action::screw, Action::slide, Action::pass, Action::lay, Action::join, Action::fasten}) {
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

std::string undo(const Workpiece& piece, const std::string& line, const std::vector<std::string>& gone) {
  std::vector<char> made(piece.list.contacts.size(), 1);
  for (const std::string& id : gone) {
    if (id.front() != '*') {
      made[static_cast<std::size_t>(contact_named(piece, id))] = 0;
      continue;
    }
    for (const planner::ContactId c : piece.list.at[static_cast<std::size_t>(part_named(piece, id.substr(1)))]) {
      made[static_cast<std::size_t>(c)] = 0;
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
