#pragma once
/// How a piece of work lies while it is worked on.
#include <array>
#include <cstddef>

namespace dryfit::planner {

/// standing: as in the finished frame; laid: on its back or side on floor or bench; over: upside down.
enum class Pose { standing, laid, over };
[[nodiscard]] const char* word_for(Pose pose);

inline constexpr std::size_t kPoses = 3;
inline constexpr std::array<Pose, kPoses> kAllPoses{Pose::standing, Pose::laid, Pose::over};

/// What a person prefers; `free`: whatever is least trouble.
enum class PosePreference { free, laid, standing };

}  // namespace dryfit::planner
