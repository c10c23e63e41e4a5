#pragma once
/// Whether a laid board that is lifted off could get out from between what stands round it.
#include <functional>
#include <optional>
#include <vector>

#include "model/frame/message.hpp"
#include "planner/judge/replay_scene.hpp"

namespace dryfit::planner::judge {

/// What is over a laid board that is shut in on all sides, as words; nothing when it may have a way out. With b its
/// shorter side: shut in is what is borne in the outer quarter at every edge, has something over the outer eighth at
/// every edge, none more than b / 4 up, and beside every edge near both of its corners something within b / 16 that
/// goes up as far. `stays`: the part does not go along; `surfaces`: the floor, walls and ceiling do not.
[[nodiscard]] std::optional<model::Message> lid_of_cage(const Scene& scene, PartId board,
                                                        const std::vector<int>& carriers,
                                                        const std::function<bool(PartId)>& stays, bool surfaces);

}  // namespace dryfit::planner::judge
