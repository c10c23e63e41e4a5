#include "cli/refusal_text.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "cli/words.hpp"
#include "model/length.hpp"

namespace dryfit::cli {
namespace {

using planner::MoveKind;
using planner::Refusal;

std::string who(const model::Frame& frame, model::PartId part) {
  return part == model::kRoom ? std::string("it") : name_of(frame, part);
}

/// "turn", "slide off", ...: what was tried.
const char* doing(MoveKind kind) {
  switch (kind) {
    case MoveKind::unscrew: return "turn";
    case MoveKind::slide: return "slide off";
    case MoveKind::sideways: return "come out of its slots";
    case MoveKind::swing: return "swing out of its slots";
    case MoveKind::take_away: return "be lifted off";
    case MoveKind::undo_nut: return "be opened";
    case MoveKind::unfasten: return "be unscrewed";
  }
  return "move";
}

/// The part that a sentence is about: for a turn the one at the joint.
model::PartId subject(const Refusal& refusal) {
  return refusal.kind == MoveKind::unscrew && refusal.turning != model::kNone ? refusal.turning : refusal.moving;
}

/// "with A1, " for what goes along and is what fails; "" when it is the subject itself.
std::string carrying(const model::Frame& frame, const Refusal& refusal) {
  const model::PartId part = subject(refusal);
  if (refusal.moving == model::kNone || refusal.moving == part) return "";
  return fmt::format(" with {} on it", name_of(frame, refusal.moving));
}

}  // namespace

std::string refusal_text(const model::Frame& frame, const planner::ContactList& list, const Refusal& refusal) {
  const std::string part = who(frame, subject(refusal));
  const char* verb = doing(refusal.kind);
  switch (refusal.why) {
    case Refusal::Why::ring: {
      std::vector<std::string> ids;
      for (const planner::ContactId id : refusal.held_by) ids.push_back(list.contacts[static_cast<std::size_t>(id)].id);
      if (ids.empty()) return "its two sides hang together another way round";
      return fmt::format("its two sides hang together another way round, over {}", listed_briefly(ids, 4));
    }
    case Refusal::Why::holds_room: return fmt::format("{} cannot {}: that side is screwed to the room", part, verb);
    case Refusal::Why::loose_board:
      return fmt::format("{} cannot {}: {}, which only lies there, would fall off", part, verb,
                         who(frame, refusal.moving));
    case Refusal::Why::hits_part:
      return fmt::format("{}{} cannot {}: it would hit {}", part, carrying(frame, refusal), verb,
                         who(frame, refusal.blocking));
    case Refusal::Why::hits_surface:
      return fmt::format("{}{} cannot {}: it would hit the {}", part, carrying(frame, refusal), verb,
                         refusal.surface == model::kNone
                             ? std::string("room")
                             : frame.surfaces[static_cast<std::size_t>(refusal.surface)].id);
    case Refusal::Why::board_in_the_way:
      return fmt::format("{} cannot {}: {} would have to give way {} and has only {}", part, verb,
                         who(frame, refusal.moving), model::in_units(refusal.wanted, frame.units),
                         model::in_units(refusal.given, frame.units));
    case Refusal::Why::too_wide:
      return fmt::format("{} cannot {}: {} is {} across, too wide for a hole of {}", part, verb,
                         who(frame, refusal.blocking), model::in_units(refusal.wanted, frame.units),
                         model::in_units(refusal.given, frame.units));
    case Refusal::Why::fastened:
      return fmt::format("{} cannot {}: something is fastened to it or lies on it", part, verb);
    case Refusal::Why::no_way: break;
  }
  return fmt::format("{} cannot {}", part, verb);
}

std::vector<std::string> refusal_texts(const model::Frame& frame, const planner::ContactList& list,
                                       const std::vector<Refusal>& refusals) {
  std::vector<std::string> texts;
  for (const Refusal& refusal : refusals) {
    if (refusal.why == Refusal::Why::no_way) continue;
    std::string text = refusal_text(frame, list, refusal);
    if (std::find(texts.begin(), texts.end(), text) == texts.end()) texts.push_back(std::move(text));
  }
  return texts;
}

}  // namespace dryfit::cli
