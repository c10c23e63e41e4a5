#include "cli/sentences/play_text.hpp"

#include "cli/words/lengths.hpp"
#include "cli/words/say.hpp"
#include "model/geometry/convex.hpp"

namespace dryfit::cli {

bool nearly_goes_through(double across, double hole) { return hole - across > -model::kTouch; }

std::string play_text(double across, double hole, model::Units units) {
  constexpr double kSeen = 0.05;  // mm: what is less is told as nothing
  const Lengths length(units);
  const double play = hole - across;
  if (play >= model::kTouch) return say("only {} of play", length.play(play));
  const std::string needed = length.play(model::kTouch);
  return play < kSeen ? say("no play, and it takes {}", needed)
                      : say("{0} of play, and it takes {1}", length.play(play), needed);
}

}  // namespace dryfit::cli
