#include "cli/undo_text.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "cli/words.hpp"
#include "planner/steps.hpp"

namespace dryfit::cli {
namespace {

std::string labels(const model::Frame& frame, const std::vector<model::PartId>& parts) {
  return listed_briefly(labels_of(frame, parts), 5);
}

}  // namespace

planner::Step undo_step(const model::Frame& frame, const planner::Move& move, int number) {
  planner::Step step = planner::step_of(frame, move);
  step.number = number;
  step.travel = move.travel;
  step.strapped_first.clear();  // straps for the turn back, not for taking apart
  return step;
}

StepWords undo_words(const model::Frame& frame, const planner::ContactList& list, const planner::Move& move) {
  StepWords words;
  const planner::Contact& main = list.contacts[static_cast<std::size_t>(move.contacts.front())];
  const auto moves = [&](model::PartId p) { return std::binary_search(move.moving.begin(), move.moving.end(), p); };
  switch (move.kind) {
    case planner::MoveKind::unscrew: {
      const model::PartId in_hand = moves(main.a) ? main.a : main.b, held = moves(main.a) ? main.b : main.a;
      const std::string whole =
          move.moving.size() > 1 ? fmt::format(", all of {} as one", labels(frame, move.moving)) : std::string();
      words.text = fmt::format("Unscrew {} from {}: hold {}, turn {} {} the other way{}.", name_of(frame, in_hand),
                               name_of(frame, held), name_of(frame, held), name_of(frame, in_hand),
                               turns_in_words(move.turns), whole);
      break;
    }
    case planner::MoveKind::slide:
    case planner::MoveKind::sideways:
      words.text = fmt::format("Slide {} {}, off {}.", labels(frame, move.moving),
                               going(nearest_direction(move.travel)), labels(frame, move.holding));
      break;
    case planner::MoveKind::swing:
      words.text =
          fmt::format("Swing {} out of its slots, off {}.", labels(frame, move.moving), labels(frame, move.holding));
      break;
    case planner::MoveKind::take_away:
      words.text = fmt::format("Take {} off {}.", labels(frame, move.moving), labels(frame, move.holding));
      break;
    case planner::MoveKind::undo_nut: words.text = fmt::format("Undo the nut of {}.", main.id); break;
    case planner::MoveKind::unfasten: {
      const std::string what = main.id.substr(0, main.id.find('/'));
      std::string from = main.id.substr(main.id.find('/') + 1);
      const bool strap = from.ends_with(" strap");
      if (strap) from.resize(from.size() - 6);
      words.text = strap ? fmt::format("Take the strap of {} off {}.", what, from)
                         : fmt::format("Take the screws of {} out of the {}.", what, from);
      break;
    }
  }
  if (move.mass > kOnePersonKg) {
    words.hands = 2;
    words.cautions.push_back(fmt::format("{}: two people.", weight(move.mass, frame.units)));
  }
  return words;
}

}  // namespace dryfit::cli
