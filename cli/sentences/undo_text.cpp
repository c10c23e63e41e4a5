#include "cli/sentences/undo_text.hpp"

#include <algorithm>

#include "cli/sentences/lift_text.hpp"
#include "cli/words/lengths.hpp"
#include "cli/words/say.hpp"
#include "cli/words/trade_words.hpp"
#include "cli/words/words.hpp"
#include "model/geometry/at.hpp"
#include "planner/base/lifting.hpp"
#include "planner/order/lifts.hpp"
#include "planner/order/steps.hpp"

namespace dryfit::cli {
namespace {

std::string labels(const model::Frame& frame, const std::vector<model::PartId>& parts) {
  return listed_briefly(labels_of(frame, parts), 5);
}

/// What goes along with the part in hand.
std::vector<model::PartId> on_it(const model::Frame& frame, std::vector<model::PartId> moving, model::PartId in_hand) {
  std::erase_if(moving, [&](model::PartId p) { return frame.part(p).label == frame.part(in_hand).label; });
  return moving;
}

/// Pipes leave boards, and not boards their pipes.
bool out_of_boards(const model::Frame& frame, const planner::Move& move) {
  const auto is_board = [&](model::PartId p) { return frame.part(p).kind == model::PartKind::board; };
  return std::all_of(move.holding.begin(), move.holding.end(), is_board) &&
         !std::all_of(move.moving.begin(), move.moving.end(), is_board);
}

}  // namespace

planner::Step undo_step(const model::Frame& frame, const planner::Move& move, int number) {
  planner::Step step = planner::step_of(frame, move);
  step.number = number;
  step.travel = move.travel;
  step.lift = planner::lift_of(frame, move);
  step.strapped_first.clear();  // straps for the turn back, not for taking apart
  return step;
}

namespace {

/// Boards that do not come along though pipes of what turns are in their holes or slots; "" where there are none.
std::string boards_that_stay(const model::Frame& frame, const planner::ContactList& list, const planner::Move& move,
                             model::PartId in_hand, const std::vector<char>& made) {
  if (move.kind != planner::MoveKind::unscrew) return "";
  std::vector<model::PartId> boards;
  for (const model::PartId p : move.moving) {
    for (const planner::ContactId c : list.at[at(p)]) {
      const planner::Contact& k = list.contact(c);
      const bool hangs = k.kind == planner::ContactKind::hole || k.kind == planner::ContactKind::notch;
      if (!hangs || k.b != p || made[at(c)] == 0) continue;
      if (!std::binary_search(move.moving.begin(), move.moving.end(), k.a)) boards.push_back(k.a);
    }
  }
  std::sort(boards.begin(), boards.end());
  boards.erase(std::unique(boards.begin(), boards.end()), boards.end());
  if (boards.empty()) return "";
  return boards.size() == 1
             ? say("{0} stays on: hold it while {1} turns.", labels(frame, boards), name_of(frame, in_hand))
             : say("{0} stay on: hold them while {1} turns.", labels(frame, boards), name_of(frame, in_hand));
}

/// Boards that what was drawn out of them has left without any hold; "" where there are none.
std::string boards_left_loose(const model::Frame& frame, const planner::ContactList& list, const planner::Move& move,
                              const std::vector<char>& made) {
  std::vector<model::PartId> boards;
  for (const planner::ContactId c : move.contacts) {
    const model::PartId board = list.contact(c).a;
    if (!std::binary_search(move.holding.begin(), move.holding.end(), board)) continue;
    if (frame.part(board).kind != model::PartKind::board) continue;
    const auto& all = list.at[at(board)];
    const bool held = std::any_of(all.begin(), all.end(), [&](planner::ContactId k) { return made[at(k)] != 0; });
    if (!held && std::find(boards.begin(), boards.end(), board) == boards.end()) boards.push_back(board);
  }
  return boards.empty() ? "" : say("Take {} away.", labels(frame, boards));
}

StepWords undo_move_words(const model::Frame& frame, const planner::ContactList& list, const planner::Move& move,
                          const std::vector<char>& made) {
  StepWords words;
  const planner::Contact& main = list.contact(move.contacts.front());
  const auto moves = [&](model::PartId p) { return std::binary_search(move.moving.begin(), move.moving.end(), p); };
  switch (move.kind) {
    case planner::MoveKind::unscrew: {
      const model::PartId in_hand = moves(main.a) ? main.a : main.b, held = moves(main.a) ? main.b : main.a;
      const std::string turn = name_of(frame, in_hand), hold = name_of(frame, held), turns = turns_in_words(move.turns);
      words.text = !on_it(frame, move.moving, in_hand).empty()
                       ? say("Unscrew {0}, with {3} on it, from {1}: hold {1}, turn {0} {2} the other way.", turn, hold,
                             turns, labels(frame, on_it(frame, move.moving, in_hand)))
                       : say("Unscrew {0} from {1}: hold {1}, turn {0} {2} the other way.", turn, hold, turns);
      if (const std::string stay = boards_that_stay(frame, list, move, in_hand, made); !stay.empty()) {
        words.text += " " + stay;
      }
      break;
    }
    case planner::MoveKind::slide:
    case planner::MoveKind::sideways: {
      const std::string what = labels(frame, move.moving), way = going(nearest_direction(move.travel)),
                        from = labels(frame, move.holding);
      words.text = out_of_boards(frame, move) ? say("Draw {0} {1}, out of {2}.", what, way, from)
                                              : say("Slide {0} {1}, off {2}.", what, way, from);
      break;
    }
    case planner::MoveKind::swing:
      words.text = say("Swing {0} out of its slots, off {1}.", labels(frame, move.moving), labels(frame, move.holding));
      break;
    case planner::MoveKind::take_away:
      words.text = say("Take {0} off {1}.", labels(frame, move.moving), labels(frame, move.holding));
      break;
    case planner::MoveKind::undo_nut: words.text = say("Undo the nut of {}.", main.id); break;
    case planner::MoveKind::unfasten: {
      const std::string what = main.id.substr(0, main.id.find('/'));
      std::string from = main.id.substr(main.id.find('/') + 1);
      const bool strap = from.ends_with(" strap");
      if (strap) from.resize(from.size() - 6);
      words.text =
          strap ? say("Take the strap of {0} off {1}.", what, from)
                : say("Take the screws of {0} out of {1}.", what, main.b == model::kRoom ? the_surface(from) : from);
      break;
    }
  }
  const planner::Lift lift = planner::lift_of(frame, move);
  words.hands = lift.people;
  if (move.swing_radius > planner::arm_length()) {
    words.hands = std::max(words.hands, 2);
    words.cautions.push_back(
        say("The far end swings at {0} radius. Clear the space, and have a second person guide it.",
            length_text(move.swing_radius, frame.units)));
  }
  if (lift.people > 1) words.cautions.push_back(lift_text(lift, frame.units));
  return words;
}

}  // namespace

std::vector<StepWords> undo_words(const model::Frame& frame, const planner::ContactList& list,
                                  const std::vector<planner::Move>& moves, std::vector<char> made) {
  std::vector<StepWords> words;
  for (const planner::Move& move : moves) {
    words.push_back(undo_move_words(frame, list, move, made));
    for (const planner::ContactId c : move.contacts) made[at(c)] = 0;
    if (const std::string loose = boards_left_loose(frame, list, move, made); !loose.empty()) {
      words.back().text += " " + loose;
    }
  }
  return words;
}

}  // namespace dryfit::cli
