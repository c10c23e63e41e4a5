#include "cli/sentences/safety_text.hpp"

#include <algorithm>

#include "cli/words/say.hpp"

namespace dryfit::cli {

std::string wear_text() { return say("Wear gloves and eye protection."); }

std::string climb_text(const model::Frame& frame) {
  const bool fastened = std::any_of(frame.fastenings.begin(), frame.fastenings.end(),
                                    [](const model::Fastening& f) { return f.surface != model::kNone; });
  if (fastened) return say("Don't climb on the frame or load it until it is fastened to floor or wall.");
  const bool rolls = std::any_of(frame.parts.begin(), frame.parts.end(),
                                 [](const model::Part& part) { return part.kind == model::PartKind::caster; });
  return rolls ? say("Lock the casters. Don't climb on it, and keep heavy things low: it stands free and can tip.")
               : say("Don't climb on it, and keep heavy things low: it stands free and can tip.");
}

std::string codes_text() {
  return say(
      "This is not a structural check. For loads, guardrails, stairs or anything overhead, follow your local code and "
      "ask a licensed (UK: chartered) engineer.");
}

std::string as_finished_text() {
  return say(
      "Up, down, left and right are those of the finished frame, even if you lay it down or turn it over for the work. Hold or prop what "
      "doesn't stand by itself, and tie down boards that only rest on something.");
}

std::string loose_text() {
  return say("A joint that is backed off stays loose: never do this where people climb, lean or hold on.");
}

}  // namespace dryfit::cli
