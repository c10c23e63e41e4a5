#include "cli/order/ring_words.hpp"

#include <nlohmann/json.hpp>

#include "cli/words/say.hpp"
#include "cli/words/words.hpp"

namespace dryfit::cli {

std::string in_ring_text(const model::Frame& frame, const planner::InRing& ring) {
  const std::string through = name_of(frame, ring.through), pipes = listed_briefly(labels_of(frame, ring.ring), 5);
  const std::string what =
      ring.closes
          ? say("This closes the ring of {0} round {1}: both have to be where they belong.", pipes, through)
          : say("{1} has to be in the ring of {0} now, where it belongs: later it cannot get in.", pipes, through);
  return what + " " +
         (ring.until > 0 ? say("Move neither without the other until step {}.", ring.until)
                         : say("From here on neither is moved without the other."));
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
