#include "cli/closed_out_text.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <map>

#include "cli/words.hpp"
#include "model/length.hpp"
#include "model/turn.hpp"

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
      : frame_(frame), list_(list), stuck_(list.contacts[static_cast<std::size_t>(stuck)]) {}

  std::string text(const std::vector<Refusal>& refusals) {
    for (const Refusal& refusal : refusals) {
      if (refusal.why == Refusal::Why::too_wide) {
        wide_[refusal.moving].push_back(refusal);
      } else {
        add(clause(refusal));
      }
    }
    for (const auto& [board, blocked] : wide_) clauses_.insert(clauses_.begin(), wide_clause(board, blocked));
    constexpr std::size_t kMost = 3;  // the rest only repeats that it does not go from there either
    if (clauses_.size() > kMost) clauses_.resize(kMost);
    return fmt::format("{}", fmt::join(clauses_, "; "));
  }

 private:
  [[nodiscard]] std::string name(model::PartId part) const {
    return part == model::kNone ? std::string("it") : name_of(frame_, part);
  }
  [[nodiscard]] std::string length(double mm) const { return model::in_units(mm, frame_.units); }

  void add(const std::string& clause) {
    if (!clause.empty() && std::find(clauses_.begin(), clauses_.end(), clause) == clauses_.end())
      clauses_.push_back(clause);
  }

  /// "a hole for B1", "holes for B1 and B2"; slots where they are slots.
  [[nodiscard]] std::string holes_of(model::PartId board_part) const {
    const model::Board& board =
        frame_.boards[static_cast<std::size_t>(frame_.parts[static_cast<std::size_t>(board_part)].board)];
    std::vector<std::string> drilled, slotted;
    for (const model::Hole& hole : board.holes) (hole.notch ? slotted : drilled).push_back(name(hole.pipe));
    std::string text;
    if (!drilled.empty()) text = fmt::format("{} for {}", drilled.size() == 1 ? "a hole" : "holes", listed(drilled));
    if (!slotted.empty()) {
      text += fmt::format("{}{} for {}", text.empty() ? "" : " and ", slotted.size() == 1 ? "a slot" : "slots",
                          listed(slotted));
    }
    return text;
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
    return fmt::format("{} has {}; {} {} wider than the hole ({} against {})", name(board), holes_of(board),
                       listed(names), names.size() == 1 ? "is" : "are", length(widest), length(hole));
  }

  /// The part at the joint that would turn and the one it would turn in.
  [[nodiscard]] std::string turning(const Refusal& refusal) const {
    const model::PartId turns = refusal.turning == model::kNone ? stuck_.a : refusal.turning;
    return fmt::format("turning {} in {}", name(turns), name(turns == stuck_.a ? stuck_.b : stuck_.a));
  }

  /// Farthest point of the part from the axis of the joint, mm.
  [[nodiscard]] double swing(model::PartId part) const {
    const model::Axis axis{stuck_.on_axis, stuck_.axis};
    double r = 0.0;
    for (const model::Solid& solid : frame_.parts[static_cast<std::size_t>(part)].solids) {
      r = std::max(r, model::swing_radius(solid, axis));
    }
    return r;
  }

  [[nodiscard]] std::string clause(const Refusal& refusal) const {
    const bool turns = refusal.kind == MoveKind::unscrew;
    switch (refusal.why) {
      case Refusal::Why::ring: {
        if (!turns) {
          return fmt::format("{} and {} hang together another way round", name(stuck_.a), name(stuck_.b));
        }
        return fmt::format("{} and {} hang together another way round, so that neither can turn in the other",
                           name(stuck_.a), name(stuck_.b));
      }
      case Refusal::Why::holds_room:
        return fmt::format("{} is fast to the room and cannot turn", name(refusal.turning));
      case Refusal::Why::loose_board:
        return fmt::format("{} would drop {}, which only lies there", turning(refusal), name(refusal.moving));
      case Refusal::Why::hits_part:
        if (turns) {
          return fmt::format("{} would swing {} of {} through {}", turning(refusal), length(swing(refusal.moving)),
                             name(refusal.moving), name(refusal.blocking));
        }
        return fmt::format("{} would have to pass through {}", name(refusal.moving), name(refusal.blocking));
      case Refusal::Why::hits_surface: {
        const std::string surface =
            refusal.surface == model::kNone ? "room" : frame_.surfaces[static_cast<std::size_t>(refusal.surface)].id;
        if (turns) {
          return fmt::format("{} would swing {} of {} into the {}", turning(refusal), length(swing(refusal.moving)),
                             name(refusal.moving), surface);
        }
        return fmt::format("{} would have to pass through the {}", name(refusal.moving), surface);
      }
      case Refusal::Why::board_in_the_way:
        return fmt::format("{} needs {} to give way {} along the pipe, and it can give {}", turning(refusal),
                           name(refusal.moving), length(refusal.wanted), length(refusal.given));
      case Refusal::Why::fastened:
        return fmt::format("{} is fastened to {} or lies under it", name(refusal.moving), name(refusal.blocking));
      case Refusal::Why::too_wide:
      case Refusal::Why::no_way: break;
    }
    return "";
  }

  const model::Frame& frame_;
  const planner::ContactList& list_;
  const Contact& stuck_;
  std::map<model::PartId, std::vector<Refusal>> wide_;
  std::vector<std::string> clauses_;
};

}  // namespace

std::string closed_out_text(const model::Frame& frame, const planner::ContactList& list, ContactId stuck,
                            const std::vector<Refusal>& refusals) {
  return Words(frame, list, stuck).text(refusals);
}

std::string contact_text(const model::Frame& frame, const planner::ContactList& list, ContactId contact) {
  const Contact& c = list.contacts[static_cast<std::size_t>(contact)];
  switch (c.kind) {
    case ContactKind::nut: return fmt::format("the nut of {}", frame.parts[static_cast<std::size_t>(c.a)].label);
    case ContactKind::fastening: {
      const model::Fastening& f = frame.fastenings[static_cast<std::size_t>(c.fastening)];
      if (c.b == model::kRoom) {
        return fmt::format("{} fast to the {}", name_of(frame, c.a),
                           frame.surfaces[static_cast<std::size_t>(f.surface)].id);
      }
      return fmt::format("{} fast to {}", name_of(frame, c.a), name_of(frame, c.b));
    }
    case ContactKind::thread: return fmt::format("{} in {}", name_of(frame, c.a), name_of(frame, c.b));
    case ContactKind::hole:
    case ContactKind::notch:
    case ContactKind::rest: break;
  }
  return fmt::format("{} on {}", name_of(frame, c.a), name_of(frame, c.b));
}

std::string contacts_text(const model::Frame& frame, const planner::ContactList& list,
                          const std::vector<ContactId>& contacts, std::size_t most) {
  std::vector<std::string> words;
  for (const ContactId c : contacts) words.push_back(contact_text(frame, list, c));
  return listed_briefly(words, most);
}

}  // namespace dryfit::cli
