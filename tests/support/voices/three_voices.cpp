#include "tests/support/voices/three_voices.hpp"

#include <algorithm>
#include <stdexcept>

namespace dryfit::test {
namespace {

std::size_t place_of(const Workpiece& piece, const std::string& id) {
  const planner::ContactId found = piece.list.find(id);
  if (found == model::kNone) throw std::invalid_argument("no contact " + id);
  return static_cast<std::size_t>(found);
}

/// The words of a step that make the contact, and with it what `moves` say that goes along.
std::vector<std::string> lines_for(const Workpiece& piece, const std::string& id,
                                   const std::vector<planner::Move>& moves) {
  std::vector<std::string> lines;
  for (const char* action : {"screw", "slide", "pass", "lay", "join", "fasten"}) {
    lines.push_back(std::string(action) + " " + id);
    for (const planner::Move& move : moves) {
      std::string line = action;
      for (const planner::ContactId c : move.contacts) line += " " + piece.list.contact(c).id;
      lines.push_back(line);
    }
  }
  return lines;
}

}  // namespace

ThreeVoices::ThreeVoices(const std::string& text)
    : piece_(workpiece(text)), undoer_(piece_.frame, piece_.list), oracle_(piece_.frame) {}

const model::Part& ThreeVoices::part(const std::string& id) const {
  const model::PartId found = piece_.frame.find(id);
  if (found == model::kNone) throw std::invalid_argument("no part " + id);
  return piece_.frame.part(found);
}

const model::Board& ThreeVoices::board(const std::string& id) const {
  return piece_.frame.boards.at(static_cast<std::size_t>(part(id).board));
}

std::string ThreeVoices::undoes(const std::string& id, const std::vector<std::string>& gone) {
  std::vector<char> made(piece_.list.contacts.size(), 1);
  for (const std::string& g : gone) made[place_of(piece_, g)] = 0;
  const std::vector<planner::Move> moves =
      undoer_.ways(planner::State(piece_.list, made), static_cast<planner::ContactId>(place_of(piece_, id)));

  const std::vector<std::string> lines = lines_for(piece_, id, moves);
  const bool judged = std::any_of(lines.begin(), lines.end(),
                                  [&](const std::string& line) { return undo(piece_, line, gone) == "legal"; });

  State left = oracle_.all();
  for (std::size_t i = 0; i < oracle_.ids().size(); ++i) {
    if (std::find(gone.begin(), gone.end(), oracle_.ids()[i]) != gone.end()) left.reset(i);
  }
  const std::vector<UndoMove> tried = oracle_.legal_undo_moves(left);
  const bool sampled = std::any_of(tried.begin(), tried.end(),
                                   [&](const UndoMove& move) { return oracle_.names(move.undone).contains(id); });

  const auto word = [](bool yes) { return std::string(yes ? "yes" : "no"); };
  const bool searched = !moves.empty();
  if (searched == judged && judged == sampled) return word(searched);
  return "search " + word(searched) + ", judge " + word(judged) + ", oracle " + word(sampled);
}

}  // namespace dryfit::test
