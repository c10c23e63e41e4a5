#include "cli/order/ring_words.hpp"

#include <nlohmann/json.hpp>

#include "cli/words/say.hpp"
#include "cli/words/words.hpp"

namespace dryfit::cli {

std::string in_ring_text(const model::Frame& frame, const planner::InRing& ring) {
  const std::string through = name_of(frame, ring.through), pipes = listed_briefly(labels_of(frame, ring.ring), 5);
  const std::string what =
      ring.closes ? say("This closes the loop of {0} round {1}. Check that both are where they belong.", pipes, through)
                  : say("{1} has to be inside the loop of {0} now. It can't get in later.", pipes, through);
  return what + " " +
         (ring.until > 0 ? say("Until step {} move the two only together.", ring.until)
                         : say("From here on move the two only together."));
}

Json in_ring_json(const model::Frame& frame, const planner::InRing& ring) {
  return {{"ring", part_ids(frame, ring.ring)},
          {"through", name_of(frame, ring.through)},
          {"closes", ring.closes},
          {"joined_in_step", ring.until > 0 ? Json(ring.until) : Json(nullptr)}};
}

Json in_rings_json(const model::Frame& frame, const std::vector<planner::InRing>& rings, int step) {
  Json of_step = Json::array();
  for (const planner::InRing& ring : rings) {
    if (ring.step == step) of_step.push_back(in_ring_json(frame, ring));
  }
  return of_step;
}

}  // namespace dryfit::cli
