#include "cli/order/door_report.hpp"

#include <fmt/ostream.h>

#include <algorithm>
#include <cmath>
#include <nlohmann/json.hpp>
#include <ostream>

#include "cli/order/now_words.hpp"
#include "cli/order/opening.hpp"
#include "cli/order/step_json.hpp"
#include "cli/sentences/lift_text.hpp"
#include "cli/sentences/safety_text.hpp"
#include "cli/sentences/undo_text.hpp"
#include "cli/words/lengths.hpp"
#include "cli/words/say.hpp"
#include "cli/words/words.hpp"
#include "planner/order/subassembly.hpp"

namespace dryfit::cli {
namespace {

using planner::CarriedPiece;

Json carried_json(const model::Frame& frame, const CarriedPiece& carried, bool boxed) {
  Json json = {{"parts", part_ids(frame, carried.piece.parts)},
               {"mass_kg", rounded(carried.piece.lift.mass)},
               {"hands", carried.piece.lift.people},
               {"tie_down", part_ids(frame, carried.piece.slack)}};
  if (!boxed) return json;
  json["box_mm"] = Json::array();
  for (const double edge : carried.box.edges) json["box_mm"].push_back(rounded(edge));
  json["too_large_by_mm"] = rounded(carried.box.lacks);
  return json;
}

Json carried_all_json(const model::Frame& frame, const std::vector<CarriedPiece>& all, bool boxed) {
  Json json = Json::array();
  for (const CarriedPiece& carried : all) json.push_back(carried_json(frame, carried, boxed));
  return json;
}

std::string step_count_text(std::size_t count) { return say_n(static_cast<long long>(count), "{} step", "{} steps"); }

/// The first line behind the frame's name.
std::string headline_of(const LoadedFrame& loaded, const DoorAnswer& answer) {
  const std::string door = answer.opening ? opening_text(*answer.opening, loaded.frame.units) : "";
  if (!answer.too_large().empty()) return say("no order gets it through {}.", door);
  if (!answer.down) {
    if (!answer.carry.undo.empty()) {
      return say("it goes through {0}: {1} to undo, {2} before the door, {3} on the spot.", door,
                 step_count_text(answer.carry.undo.size()), step_count_text(answer.carry.before.size()),
                 step_count_text(answer.carry.on_spot.size()));
    }
    if (answer.carry.on_spot.empty()) return say("it fits through {} in one piece.", door);
    return say("it goes through {0}: {1} before the door, {2} on the spot.", door,
               step_count_text(answer.carry.before.size()), step_count_text(answer.carry.on_spot.size()));
  }
  if (answer.apart.undo.empty()) {
    return answer.opening ? say("it fits through {} as it stands.", door) : say("nothing is put together.");
  }
  return answer.opening ? say("taking it down so far that it fits through {0} takes {1}.", door,
                              undo_total(answer.apart.undo_moves))
                        : say("taking it apart takes {}.", step_count_text(answer.apart.undo.size()));
}

void print_too_large(const LoadedFrame& loaded, const DoorAnswer& answer, std::ostream& out) {
  for (const CarriedPiece& carried : answer.too_large()) {
    fmt::print(
        out, "{}\n",
        wrapped(say("{0} doesn't fit by itself: it needs {1}, and the opening is {2} too small.",
                    listed(labels_of(loaded.frame, carried.piece.parts)), box_text(carried.box, loaded.frame.units),
                    length_text(carried.box.lacks, loaded.frame.units)),
                0));
  }
}

/// What is unscrewed from the room can tip.
void print_hold_it(const LoadedFrame& loaded, const std::vector<planner::Move>& undo, std::ostream& out) {
  const auto& contacts = loaded.contacts;
  if (std::any_of(undo.begin(), undo.end(), [&](const planner::Move& move) {
        return contacts.contact(move.contacts.front()).b == model::kRoom;
      })) {
    out << '\n'
        << wrapped(say("Have the frame held before you take out its screws to floor or wall: it can tip."), 0) << '\n';
  }
}

/// What is carried through: pieces of several parts one by one, all else in one line.
void print_pieces(const LoadedFrame& loaded, const std::vector<CarriedPiece>& pieces, std::ostream& out) {
  const model::Frame& frame = loaded.frame;
  std::vector<std::string> single;
  int number = 0;
  out << '\n' << say("Carry through the door:") << "\n\n";
  for (const CarriedPiece& carried : pieces) {
    const planner::LoosePiece& piece = carried.piece;
    const std::string mass = weight(piece.lift.mass, frame.units), box = box_text(carried.box, frame.units);
    if (piece.parts.size() == 1 && piece.lift.people < 2) {
      single.push_back(listed(labels_of(frame, piece.parts)));
      continue;
    }
    const std::string parts = listed(labels_of(frame, piece.parts)), name = planner::piece_name(number++);
    const std::string text = piece.lift.people < 2 ? say("Piece {0}, {1}, {2}: {3}.", name, box, mass, parts)
                                                   : say("Piece {0}, {1}, {2}, for {3}: {4}.", name, box, mass,
                                                         people_text(piece.lift.people), parts);
    fmt::print(out, "  - {}\n", wrapped(text, 4));
    if (!piece.slack.empty()) {
      fmt::print(
          out, "    ! {}\n",
          wrapped(say("Tie down {} first: it can slide or fall off.", listed(labels_of(frame, piece.slack))), 6));
    }
  }
  if (!single.empty()) fmt::print(out, "  - {}\n", wrapped(say("Single parts: {}.", listed(single)), 4));
}

void print_carry(const LoadedFrame& loaded, const Finding& finding, const DoorAnswer& answer, std::ostream& out) {
  const planner::Carry& carry = answer.carry;
  if (!carry.undo.empty()) {
    out << '\n' << capitalized(say("undo first: {}.", undo_total(carry.undo_moves))) << "\n\n";
    const std::vector<StepWords> off = undo_words(loaded.frame, loaded.contacts, carry.undo, answer.built);
    print_some(loaded.frame, off, 0, off.size(), out);
    print_hold_it(loaded, carry.undo, out);
  }
  const std::vector<StepWords> words = words_from_here(loaded, finding, answer.made_before, answer.steps());
  if (!carry.before.empty()) {
    out << '\n' << say("Before the door:") << "\n\n";
    print_some(loaded.frame, words, 0, carry.before.size(), out);
  }
  print_pieces(loaded, carry.pieces, out);
  if (!carry.on_spot.empty()) {
    out << '\n' << say("On the spot:") << "\n\n";
    print_some(loaded.frame, words, carry.before.size(), words.size(), out);
    const long long least = std::llround(carry.spot_moves.at_least);
    out << '\n'
        << wrapped(is_exact(carry.spot_moves)
                       ? say("No order leaves less to do on the spot.")
                       : say_n(least, "Another order may leave less to do on the spot, but {} move at least.",
                               "Another order may leave less to do on the spot, but {} moves at least."),
                   0)
        << '\n';
  }
  print_effort(carry.effort, out);
}

void print_down(const LoadedFrame& loaded, const DoorAnswer& answer, std::ostream& out) {
  const planner::TakeDown& apart = answer.apart;
  if (!apart.undo.empty()) {
    out << '\n' << say("Undo:") << "\n\n";
    const std::vector<StepWords> words = undo_words(loaded.frame, loaded.contacts, apart.undo, answer.built);
    print_some(loaded.frame, words, 0, words.size(), out);
  }
  if (answer.opening) print_pieces(loaded, apart.pieces, out);
  if (!apart.undo.empty()) print_effort(apart.effort, out);
  print_hold_it(loaded, apart.undo, out);
}

}  // namespace

void add_door(Json& document, const LoadedFrame& loaded, const Finding& finding, const DoorAnswer& answer) {
  const bool fits = answer.too_large().empty();
  const bool boxed = answer.opening.has_value();
  const auto& pieces = answer.down ? answer.apart.pieces : answer.carry.pieces;
  Json carry = {{"down", answer.down}, {"fits", fits}, {"opening_mm", Json::array()}};
  if (boxed) {
    for (const double side : answer.opening->sides) {
      if (std::isfinite(side)) carry["opening_mm"].push_back(rounded(side));
    }
  }
  carry["too_large"] = carried_all_json(loaded.frame, answer.too_large(), boxed);
  carry["pieces"] = carried_all_json(loaded.frame, pieces, boxed);
  if (!fits) {
    document["carry"] = std::move(carry);
    return;
  }
  if (answer.down || answer.from_built) {
    std::vector<planner::ContactId> built;
    for (std::size_t c = 0; c < answer.built.size(); ++c) {
      if (answer.built[c] != 0) built.push_back(static_cast<planner::ContactId>(c));
    }
    const planner::Bounded& moves = answer.undo_moves();
    document["built"] = contact_ids(loaded.contacts, built);
    document["undo"] = undo_json(loaded, answer.undo(), answer.built);
    document["undo_moves"] = whole(moves.at_most);
    document["undo_moves_at_least"] = whole(moves.at_least);
    document["undo_proven"] = is_exact(moves);
  }
  if (answer.down) {
    document["carry"] = std::move(carry);
    document["effort"] = effort_json(answer.apart.effort, answer.apart.states);
    return;
  }
  if (answer.from_built) document["stays"] = contact_ids(loaded.contacts, answer.carry.kept);
  const std::vector<planner::Step> steps = answer.steps();
  const auto words = words_from_here(loaded, finding, answer.made_before, steps);
  Json told = Json::array();
  for (std::size_t i = 0; i < words.size(); ++i) {
    told.push_back(step_json(loaded.frame, loaded.contacts, steps[i], words[i]));
  }
  const planner::Bounded& spot = answer.carry.spot_moves;
  carry["steps_before"] = answer.carry.before.size();
  carry["spot_moves"] = whole(spot.at_most);
  carry["spot_moves_at_least"] = whole(spot.at_least);
  carry["proven"] = is_exact(spot);
  document["carry"] = std::move(carry);
  document["steps"] = std::move(told);
  document["effort"] = effort_json(answer.carry.effort, answer.carry.states);
}

void print_door(const LoadedFrame& loaded, const Finding& finding, const DoorAnswer& answer, std::ostream& out) {
  fmt::print(out, "{}\n", wrapped(fmt::format("{}: {}", loaded.frame.name, headline_of(loaded, answer)), 0));
  print_too_large(loaded, answer, out);
  if (answer.too_large().empty()) {
    if (!answer.undo().empty() || !answer.steps().empty()) out << '\n' << wrapped(as_finished_text(), 0) << '\n';
    if (answer.down) {
      print_down(loaded, answer, out);
    } else {
      print_carry(loaded, finding, answer, out);
    }
  }
  fmt::print(out, "\n{}\n", wrapped(wear_text() + " " + climb_text(loaded.frame), 0));
}

}  // namespace dryfit::cli
