#include "cli/early/half_built_report.hpp"

#include <fmt/ostream.h>

#include <algorithm>
#include <nlohmann/json.hpp>
#include <ostream>

#include "cli/early/hair_report.hpp"
#include "cli/early/early_report.hpp"
#include "cli/sentences/closed_out_text.hpp"
#include "cli/words/lengths.hpp"
#include "cli/words/say.hpp"
#include "cli/words/words.hpp"
#include "model/geometry/at.hpp"

namespace dryfit::cli {
namespace {

std::vector<planner::ContactId> comes_off(const planner::FewestMoves& price) {
  std::vector<planner::ContactId> contacts;
  for (const planner::Move& move : price.moves) {
    contacts.insert(contacts.end(), move.contacts.begin(), move.contacts.end());
  }
  return contacts;
}

std::string why(const model::Frame& frame, const planner::ContactList& list, const HalfBuiltPart& part) {
  return part.now.closed ? closed_out_text(frame, list, part.now.stuck, part.now.why) : std::string();
}

/// Asks about each part once more, with a hair less room where it can go on and a hair more where it cannot.
void look_for_hairs(std::vector<HalfBuiltPart>& parts, const planner::Undoer& undoer, const std::vector<char>& made) {
  if (made.size() > kMostAskedOfHairs) return;
  const planner::ContactList less = planner::with_more_room(undoer.list(), -planner::kHairOfRoom);
  const planner::ContactList more = planner::with_more_room(undoer.list(), planner::kHairOfRoom);
  planner::Undoer tighter(undoer.frame(), less), wider(undoer.frame(), more);
  for (HalfBuiltPart& part : parts) {
    if (part.on) continue;
    planner::HalfBuilt other = planner::half_built(part.now.closed ? wider : tighter, part.part.contacts, made);
    if (other.closed != part.now.closed) part.within_hair = std::move(other);
  }
}

/// What a hair would change about a part, or "".
std::string hair_line(const model::Frame& frame, const planner::ContactList& list, const HalfBuiltPart& part) {
  if (!part.within_hair) return "";
  const std::string hair = hair_text(frame.units);
  if (!part.within_hair->closed)
    return say("Too close to call, measure first: with {} more room it could go on.", hair);
  return say("Too close to call, measure first: with {0} less room {1} would be locked out: {2}.", hair,
             part.part.label, closed_out_text(frame, list, part.within_hair->stuck, part.within_hair->why));
}

}  // namespace

std::vector<HalfBuiltPart> half_built_parts(planner::Undoer& undoer, const std::vector<char>& made, long long budget,
                                            planner::Foreman* foreman) {
  std::vector<HalfBuiltPart> result;
  std::vector<planner::NamedPart> parts = planner::named_parts(undoer.frame(), undoer.list());
  for (planner::NamedPart& named : parts) {
    const auto done = static_cast<long long>(result.size());
    const bool goes_on = planner::may_go_on(foreman, done, static_cast<long long>(parts.size()));
    HalfBuiltPart part;
    part.on = std::all_of(named.contacts.begin(), named.contacts.end(),
                          [&](planner::ContactId c) { return made[at(c)] != 0; });
    part.begun = std::any_of(named.contacts.begin(), named.contacts.end(),
                             [&](planner::ContactId c) { return made[at(c)] != 0; });
    if (!part.on) part.now = planner::half_built(undoer, named.contacts, made);
    if (part.now.closed) part.price = planner::price_when_closed(undoer, named.contacts, made, goes_on ? budget : 1);
    part.part = std::move(named);
    result.push_back(std::move(part));
  }
  look_for_hairs(result, undoer, made);
  return result;
}

bool can_be_finished(const std::vector<HalfBuiltPart>& parts) {
  return std::none_of(parts.begin(), parts.end(), [](const HalfBuiltPart& p) { return p.now.closed; });
}

Json half_built_json(const model::Frame& frame, const planner::ContactList& list,
                     const std::vector<HalfBuiltPart>& parts) {
  Json all = Json::array();
  for (const HalfBuiltPart& part : parts) {
    Json json;
    json["part"] = part.part.label;
    json["state"] = part.on ? "on" : part.now.closed ? "closed" : "open";
    json["state_within_hair"] = !part.within_hair ? Json(nullptr) : Json(part.within_hair->closed ? "closed" : "open");
    if (part.now.closed) {
      json["held_by"] = contact_ids(list, part.now.held_by);
      json["price_moves"] = part.price.possible ? Json(part.price.at_most()) : Json(nullptr);
      json["price_at_least"] = part.price.at_least;
      json["price_proven"] = part.price.proven();
      json["comes_off"] = contact_ids(list, comes_off(part.price));
      json["why"] = why(frame, list, part);
    }
    all.push_back(std::move(json));
  }
  return all;
}

void print_half_built(const model::Frame& frame, const planner::ContactList& list, int built,
                      const std::vector<HalfBuiltPart>& parts, std::ostream& out) {
  std::vector<std::string> open;
  std::vector<const HalfBuiltPart*> closed;
  for (const HalfBuiltPart& part : parts) {
    if (part.now.closed) {
      closed.push_back(&part);
    } else if (!part.begun) {
      open.push_back(part.part.label);
    }
  }
  const std::string done = say_n(built, "{1} after {0} step", "{1} after {0} steps", frame.name);
  fmt::print(out, "{}: {}\n", done,
             closed.empty()
                 ? say("nothing is locked out.")
                 : say_n(static_cast<long long>(closed.size()), "{} part is locked out.", "{} parts are locked out."));
  for (const HalfBuiltPart* part : closed) {
    fmt::print(out, "  {}\n", wrapped(fmt::format("{}: {}.", part->part.label, why(frame, list, *part)), 6));
    if (!part->price.possible) {
      fmt::print(out, "      {}\n", say("Nothing you can undo would let it in."));
    } else {
      fmt::print(out, "      {}\n",
                 wrapped(say_n(part->price.at_most(), "To get it in, undo {1} joint: {2}.",
                               "To get it in, undo {1} joints: {2}.",
                               bounded_text(part->price.at_least, part->price.at_most()),
                               undone_texts(frame, list, part->price.moves, comes_off(part->price))),
                         8));
    }
    if (const std::string line = hair_line(frame, list, *part); !line.empty()) {
      fmt::print(out, "      {}\n", wrapped(line, 8));
    }
  }
  for (const HalfBuiltPart& part : parts) {
    if (part.now.closed || !part.within_hair) continue;
    fmt::print(out, "  {}\n", wrapped(hair_line(frame, list, part), 4));
  }
  if (!open.empty()) fmt::print(out, "  {}\n", wrapped(say("Still to be joined: {}.", listed(open)), 4));
}

}  // namespace dryfit::cli
