#include "cli/sentences/refusal_text.hpp"

#include <algorithm>

#include "cli/sentences/closed_out_text.hpp"
#include "cli/sentences/play_text.hpp"
#include "cli/words/lengths.hpp"
#include "cli/words/say.hpp"
#include "cli/words/trade_words.hpp"
#include "cli/words/words.hpp"

namespace dryfit::cli {
namespace {

using planner::MoveKind;
using planner::Refusal;

std::string who(const model::Frame& frame, model::PartId part) {
  return part == model::kRoom ? say("it") : name_of(frame, part);
}

/// What was tried and failed.
std::string cannot(const std::string& part, MoveKind kind) {
  switch (kind) {
    case MoveKind::unscrew: return say("{} can't turn", part);
    case MoveKind::slide: return say("{} can't slide off", part);
    case MoveKind::sideways: return say("{} can't come out of its slots", part);
    case MoveKind::swing: return say("{} can't swing out of its slots", part);
    case MoveKind::take_away: return say("{} can't be lifted off", part);
    case MoveKind::undo_nut: return say("{} can't be opened", part);
    case MoveKind::unfasten: return say("{} can't be unscrewed", part);
  }
  return say("{} can't move", part);
}

/// The part that a sentence is about: for a turn the one at the joint.
model::PartId subject(const Refusal& refusal) {
  return refusal.kind == MoveKind::unscrew && refusal.turning != model::kNone ? refusal.turning : refusal.moving;
}

/// "A1 with A2 on it" where what goes along is what fails; the name alone when it is the subject itself.
std::string laden(const model::Frame& frame, const Refusal& refusal) {
  const model::PartId part = subject(refusal);
  if (refusal.moving == model::kNone || refusal.moving == part) return who(frame, part);
  return say("{0} with {1} on it", who(frame, part), name_of(frame, refusal.moving));
}

}  // namespace

std::string refusal_text(const model::Frame& frame, const planner::ContactList& list, const Refusal& refusal) {
  const std::string fails = cannot(who(frame, subject(refusal)), refusal.kind);
  switch (refusal.why) {
    case Refusal::Why::ring: {
      if (refusal.held_by.empty()) return say("its two sides are joined the other way round");
      return say("its two sides are joined the other way round, by {}", contacts_text(frame, list, refusal.held_by, 4));
    }
    case Refusal::Why::holds_room: return say("{}: that side is already fixed", fails);
    case Refusal::Why::loose_board:
      return say("{0}: {1}, which is only resting there, would fall off", fails, who(frame, refusal.moving));
    case Refusal::Why::hits_part:
      return say("{0}: it would hit {1}", cannot(laden(frame, refusal), refusal.kind), who(frame, refusal.blocking));
    case Refusal::Why::hits_surface:
      return say("{0}: it would hit {1}", cannot(laden(frame, refusal), refusal.kind),
                 refusal.surface == model::kNone ? say("the room") : the_surface(frame.surface(refusal.surface).id));
    case Refusal::Why::board_in_the_way:
      if (refusal.carried != model::kNone && refusal.carried != refusal.moving) {
        const std::string met = refusal.surface != model::kNone ? the_surface(frame.surface(refusal.surface).id)
                                                                : who(frame, refusal.blocking);
        return say(
            "{0}: {1} would have to slide {2} out of the way and has only {3}, because {4}, which it takes "
            "along, meets {5}",
            fails, who(frame, refusal.moving), length_text(refusal.wanted, frame.units),
            length_text(refusal.given, frame.units), who(frame, refusal.carried), met);
      }
      return say("{0}: {1} would have to slide {2} out of the way and has only {3}", fails, who(frame, refusal.moving),
                 length_text(refusal.wanted, frame.units), length_text(refusal.given, frame.units));
    case Refusal::Why::loose_in_the_way:
      return say(
          "{0}: {1}, which hangs loose in front of it, would have to give way {2} and has only {3}, because {4} meets "
          "{5}",
          fails, who(frame, refusal.moving), length_text(refusal.wanted, frame.units),
          length_text(refusal.given, frame.units), who(frame, refusal.carried),
          refusal.surface != model::kNone ? the_surface(frame.surface(refusal.surface).id)
                                          : who(frame, refusal.blocking));
    case Refusal::Why::too_wide:
      if (nearly_goes_through(refusal.wanted, refusal.given)) {
        const Lengths length(frame.units);
        return say("{0}: {1} is too tight in it ({2} in {3}: {4})", fails, who(frame, refusal.blocking),
                   length.fine(refusal.wanted), length.fine(refusal.given),
                   play_text(refusal.wanted, refusal.given, frame.units));
      }
      return say("{0}: {1} is {2} across, too wide for the {3} hole", fails, who(frame, refusal.blocking),
                 length_text(refusal.wanted, frame.units), length_text(refusal.given, frame.units));
    case Refusal::Why::fastened: return say("{}: something is fastened to it or lies on it", fails);
    case Refusal::Why::no_reach: {
      // To 1/64 in: nearer than that nothing is asked for.
      const Lengths length(frame.units);
      const std::string needed = length.fine(refusal.wanted);
      if (refusal.blocking == model::kNone) {
        return say("the screwdriver can't reach the screws of {0}: {1} is nearer than {2}", who(frame, refusal.moving),
                   the_surface(frame.surfaces[static_cast<std::size_t>(refusal.surface)].id), needed);
      }
      return say("the screwdriver can't reach the screws of {0}: {1} is only {2} away from them, and it needs {3}",
                 who(frame, refusal.moving), who(frame, refusal.blocking), length.fine(refusal.given), needed);
    }
    case Refusal::Why::struck_out: return say("{}: the second check doesn't allow it", fails);
    case Refusal::Why::no_way: break;
  }
  return fails;
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
