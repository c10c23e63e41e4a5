#include "cli/sentences/closed_out_text.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <iterator>
#include <map>

#include "cli/sentences/play_text.hpp"
#include "cli/words/lengths.hpp"
#include "cli/words/say.hpp"
#include "cli/words/trade_words.hpp"
#include "cli/words/words.hpp"
#include "model/geometry/turn.hpp"

namespace dryfit::cli {
namespace {

using planner::Contact;
using planner::ContactId;
using planner::ContactKind;
using planner::MoveKind;
using planner::Refusal;

class Words {
 public:
  Words(const model::Frame& frame, const planner::ContactList& list, ContactId stuck)
      : frame_(frame), stuck_(list.contact(stuck)) {}

  std::string text(const std::vector<Refusal>& refusals) {
    for (const Refusal& refusal : refusals) {
      if (refusal.why == Refusal::Why::too_wide) {
        (nearly_goes_through(refusal.wanted, refusal.given) ? tight_ : wide_)[refusal.moving].push_back(refusal);
      } else {
        add(clause(refusal));
      }
    }
    for (const auto& [board, blocked] : wide_) clauses_.insert(clauses_.begin(), wide_clause(board, blocked));
    for (const auto& [board, blocked] : tight_) clauses_.insert(clauses_.begin(), wide_clause(board, blocked));
    constexpr std::size_t kMost = 3;  // the rest only repeats that it does not go from there either
    if (clauses_.size() > kMost) clauses_.resize(kMost);
    return fmt::format("{}", fmt::join(clauses_, "; "));
  }

 private:
  [[nodiscard]] std::string name(model::PartId part) const {
    return part == model::kNone ? say("it") : name_of(frame_, part);
  }
  [[nodiscard]] std::string length(double mm) const { return length_text(mm, frame_.units); }
  [[nodiscard]] std::string clearance(double mm) const { return Lengths(frame_.units).fine(mm); }

  void add(const std::string& clause) {
    if (!clause.empty() && std::find(clauses_.begin(), clauses_.end(), clause) == clauses_.end())
      clauses_.push_back(clause);
  }

  /// "a hole for B1", "holes for B1 and B2"; slots where they are slots.
  [[nodiscard]] std::string holes_of(model::PartId board_part) const {
    const model::Board& board = frame_.board_of(board_part);
    std::vector<std::string> drilled, slotted;
    for (const model::Hole& hole : board.holes) (hole.notch ? slotted : drilled).push_back(name(hole.pipe));
    std::vector<std::string> all;
    if (!drilled.empty()) {
      all.push_back(drilled.size() == 1 ? say("the hole for {}", drilled.front())
                                        : say("the holes for {}", listed(drilled)));
    }
    if (!slotted.empty()) {
      all.push_back(slotted.size() == 1 ? say("the slot for {}", slotted.front())
                                        : say("the slots for {}", listed(slotted)));
    }
    return listed(all);
  }

  [[nodiscard]] std::string wide_clause(model::PartId board, const std::vector<Refusal>& blocked) const {
    std::vector<std::string> names;
    double widest = 0.0, hole = blocked.front().given;
    for (const Refusal& r : blocked) {
      const std::string who = name(r.blocking);
      if (std::find(names.begin(), names.end(), who) == names.end()) names.push_back(who);
      widest = std::max(widest, r.wanted);
      hole = std::min(hole, r.given);
    }
    if (nearly_goes_through(widest, hole)) {
      const std::string play = play_text(widest, hole, frame_.units);
      return names.size() == 1 ? say("{2} is too tight in {1} in {0} ({3} in {4}: {5})", name(board), holes_of(board),
                                     names.front(), clearance(widest), clearance(hole), play)
                               : say("{2} are too tight in {1} in {0} ({3} in {4}: {5})", name(board), holes_of(board),
                                     listed(names), clearance(widest), clearance(hole), play);
    }
    return names.size() == 1 ? say("{2} doesn't go through {1} in {0} ({3} wide, the hole is {4})", name(board),
                                   holes_of(board), names.front(), clearance(widest), clearance(hole))
                             : say("{2} don't go through {1} in {0} ({3} wide, the hole is {4})", name(board),
                                   holes_of(board), listed(names), clearance(widest), clearance(hole));
  }

  /// The part at the joint that would turn, and the one it would turn in, or on.
  [[nodiscard]] std::pair<std::string, std::string> turning(const Refusal& refusal) const {
    const model::PartId turns = refusal.turning == model::kNone ? stuck_.a : refusal.turning;
    return {name(turns), turns == stuck_.a ? say_in("a thread", "in {}", name(stuck_.b))
                                           : say_in("a thread", "on {}", name(stuck_.a))};
  }

  /// Farthest point of the part from the axis of the joint, mm.
  [[nodiscard]] double swing(model::PartId part) const {
    const model::Axis axis{stuck_.on_axis, stuck_.axis};
    double r = 0.0;
    for (const model::Solid& solid : frame_.part(part).solids) {
      r = std::max(r, model::swing_radius(solid, axis));
    }
    return r;
  }

  /// What turning `turner` in `in` would knock something against.
  [[nodiscard]] std::string strikes(const std::string& turner, const std::string& in, const Refusal& refusal,
                                    const std::string& against) const {
    const std::string radius = length(swing(refusal.moving)), moving = name(refusal.moving);
    return moving == turner
               ? say("{0} can't be turned {1}: it swings at {2} radius and hits {3}", turner, in, radius, against)
               : say("{0} can't be turned {1}: {2} turns with it, swings at {3} radius and hits {4}", turner, in,
                     moving, radius, against);
  }

  [[nodiscard]] std::string clause(const Refusal& refusal) const {
    const bool turns = refusal.kind == MoveKind::unscrew;
    const auto [turner, in] = turning(refusal);
    switch (refusal.why) {
      case Refusal::Why::ring:
        return turns ? say("{0} and {1} are already joined the other way round, so neither can turn in the other",
                           name(stuck_.a), name(stuck_.b))
                     : say("{0} and {1} are already joined the other way round", name(stuck_.a), name(stuck_.b));
      case Refusal::Why::holds_room: return say("{} is already fixed and can't turn", name(refusal.turning));
      case Refusal::Why::loose_board:
        return say("turning {0} {1} would throw off {2}, which is only resting there", turner, in,
                   name(refusal.moving));
      case Refusal::Why::hits_part:
        return turns ? strikes(turner, in, refusal, name(refusal.blocking))
                     : say("{1} is in the way of {0}", name(refusal.moving), name(refusal.blocking));
      case Refusal::Why::hits_surface: {
        const std::string surface =
            refusal.surface == model::kNone ? say("the room") : the_surface(frame_.surface(refusal.surface).id);
        return turns ? strikes(turner, in, refusal, surface)
                     : say("{0} would have to go through {1}", name(refusal.moving), surface);
      }
      case Refusal::Why::board_in_the_way:
        return say("to turn {0} {1}, {2} would have to slide {3} out of the way and has only {4}", turner, in,
                   name(refusal.moving), length(refusal.wanted), length(refusal.given));
      case Refusal::Why::loose_in_the_way:
        return say("to turn {0} {1}, {2}, which hangs loose, would have to give way {3} and has only {4}", turner, in,
                   name(refusal.moving), length(refusal.wanted), length(refusal.given));
      case Refusal::Why::fastened:
        return say("{0} is fastened to {1}, or held down by it", name(refusal.moving), name(refusal.blocking));
      case Refusal::Why::no_reach:
        return refusal.blocking == model::kNone
                   ? say("a screwdriver can't reach the screws of {} there", name(refusal.moving))
                   : say("a screwdriver can't reach the screws of {0} under {1}", name(refusal.moving),
                         name(refusal.blocking));
      case Refusal::Why::struck_out:
      case Refusal::Why::too_wide:
      case Refusal::Why::no_way: break;
    }
    return "";
  }

  const model::Frame& frame_;
  const Contact& stuck_;
  std::map<model::PartId, std::vector<Refusal>> wide_, tight_;  ///< by board: what doesn't go through its holes
  std::vector<std::string> clauses_;
};

}  // namespace

std::string closed_out_text(const model::Frame& frame, const planner::ContactList& list, ContactId stuck,
                            const std::vector<Refusal>& refusals) {
  return Words(frame, list, stuck).text(refusals);
}

std::string contact_text(const model::Frame& frame, const planner::ContactList& list, ContactId contact) {
  const Contact& c = list.contact(contact);
  const std::string a = c.a < 0 ? std::string() : name_of(frame, c.a);
  switch (c.kind) {
    case ContactKind::nut: return say("the nut of {}", frame.part(c.a).label);
    case ContactKind::fastening:
      return c.b == model::kRoom
                 ? say("{0} screwed to {1}", a, the_surface(frame.surface(frame.fastening(c.fastening).surface).id))
                 : say("{0} screwed to {1}", a, name_of(frame, c.b));
    case ContactKind::thread: return say("{0} into {1}", a, name_of(frame, c.b));
    case ContactKind::hole: return say("{0} over {1}", a, name_of(frame, c.b));
    case ContactKind::notch:
    case ContactKind::rest: break;
  }
  return say("{0} on {1}", a, name_of(frame, c.b));
}

std::string undone_text(const model::Frame& frame, const planner::ContactList& list, ContactId contact) {
  const Contact& c = list.contact(contact);
  if (c.kind == ContactKind::nut) return say("the nut of {}", frame.part(c.a).label);
  if (c.kind == ContactKind::fastening && c.b == model::kRoom) {
    return fmt::format("{} {}", name_of(frame, c.a),
                       from_surface(frame.surface(frame.fastening(c.fastening).surface).id));
  }
  return say("{0} from {1}", name_of(frame, c.a), name_of(frame, c.b));
}

namespace {

/// What leaves pipes or carriers in one move, board by board: "S1 from P3 and P8", "S1 from P3 together with S2
/// from P4".
std::string taken_off_text(const model::Frame& frame, const planner::ContactList& list,
                           const std::vector<ContactId>& contacts) {
  std::map<model::PartId, std::vector<std::string>> of_board;
  for (const ContactId c : contacts) of_board[list.contact(c).a].push_back(name_of(frame, list.contact(c).b));
  std::string text;
  for (const auto& [board, from] : of_board) {
    const std::string one = say("{0} from {1}", name_of(frame, board), listed(from));
    text = text.empty() ? one : say("{0} together with {1}", text, one);
  }
  return text;
}

}  // namespace

std::string contacts_text(const model::Frame& frame, const planner::ContactList& list,
                          const std::vector<ContactId>& contacts, std::size_t most) {
  std::vector<std::string> words;
  for (const ContactId c : contacts) words.push_back(contact_text(frame, list, c));
  return listed_briefly(words, most);
}

std::string undone_texts(const model::Frame& frame, const planner::ContactList& list,
                         const std::vector<planner::Move>& moves, const std::vector<ContactId>& told,
                         std::size_t most) {
  std::vector<std::string> words;
  for (const planner::Move& move : moves) {
    std::vector<ContactId> contacts;
    std::copy_if(move.contacts.begin(), move.contacts.end(), std::back_inserter(contacts),
                 [&](ContactId c) { return std::find(told.begin(), told.end(), c) != told.end(); });
    std::sort(contacts.begin(), contacts.end());
    if (contacts.size() == 1) words.push_back(undone_text(frame, list, contacts.front()));
    if (contacts.size() > 1) words.push_back(taken_off_text(frame, list, contacts));
  }
  return listed_briefly(words, most);
}

}  // namespace dryfit::cli
