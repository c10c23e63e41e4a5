#pragma once
/// A frame file before it is text: what the random generator makes, what can be mirrored, turned, renamed and
/// shuffled, and what is written out as YAML. Lengths in mm.
#include <map>
#include <optional>
#include <random>
#include <string>
#include <utility>
#include <vector>

#include "model/frame/frame.hpp"
#include "model/geometry/direction.hpp"

namespace dryfit::test {

using model::Direction;
using model::Vec3;

/// "- ID: {kind: value, option: value}". Options that are directions are kept apart, since they turn with the frame.
struct PartSpec {
  std::string id;
  std::string kind;                                          ///< word of the frame file
  std::optional<double> length;                              ///< value of a pipe
  std::optional<Direction> toward;                           ///< value of an elbow, tee, ...
  std::optional<Direction> side;                             ///< side-elbow, side-tee
  std::optional<std::pair<int, int>> plane;                  ///< cross: the two axes of its plane
  std::vector<std::pair<std::string, std::string>> options;  ///< written as they are
};

/// "T1.right", "P3.end", "floor", "TOP.down".
struct LinkSpec {
  std::string to;                   ///< id of a part, surface or board
  std::optional<Direction> facing;  ///< port or face
  std::string end;                  ///< "start" or "end" of a pipe
};

struct RunSpec {
  std::string id;
  std::optional<LinkSpec> from;
  std::optional<Vec3> at;  ///< in the room; on a surface the coordinate across it is left out
  std::optional<Direction> go;
  std::vector<PartSpec> parts;
  std::optional<LinkSpec> to;
};

struct SurfaceSpec {
  std::string id;
  Direction normal;
  double at = 0.0;
};

struct BoardSpec {
  std::string id;
  std::vector<std::string> through;
  std::vector<std::pair<std::string, Direction>> notches;
  std::vector<std::string> rests_on;
  std::optional<double> underside;  ///< `height`; only while it faces up
  Vec3 size;
  Direction facing = model::kUp;
  std::vector<std::pair<Direction, double>> reach;
  std::optional<Vec3> corner;  ///< `at`: lowest corner; only while it faces up
  std::optional<double> hole;
  std::vector<std::string> fix;
  std::vector<std::pair<std::string, int>> strap;
};

struct FrameSpec {
  std::string name;
  std::string standard = "npt";
  std::string size = "3/4";
  std::string make_up = "hand";
  std::optional<double> driver;
  std::vector<SurfaceSpec> surfaces;
  std::vector<RunSpec> runs;
  std::vector<BoardSpec> boards;
  std::vector<std::pair<std::string, std::string>> clips;  ///< pipe, surface
};

[[nodiscard]] std::string yaml_of(const FrameSpec& spec);

/// A right-angled change of axes: every direction and place of the frame goes through it.
struct Axes {
  Direction x = model::kRight;  ///< where +x goes
  Direction y = model::kBack;
  Direction z = model::kUp;
  [[nodiscard]] Direction of(Direction d) const;
  [[nodiscard]] Vec3 of(Vec3 p) const;
};

/// x -> -x. Threads stay right-handed: only places and directions change.
inline constexpr Axes kMirror{model::kLeft, model::kBack, model::kUp};
/// A quarter turn about z, seen from above against the clock.
inline constexpr Axes kQuarterTurn{model::kBack, model::kLeft, model::kUp};

[[nodiscard]] FrameSpec turned(const FrameSpec& spec, const Axes& axes);
/// Every id anew; `names` gets old -> new.
[[nodiscard]] FrameSpec renamed(const FrameSpec& spec, std::mt19937& rng, std::map<std::string, std::string>& names);
/// Runs, boards and surfaces in another order.
[[nodiscard]] FrameSpec shuffled(const FrameSpec& spec, std::mt19937& rng);

/// A contact id of the old frame as the new frame has it: "P4/T1.right" -> "P4/T1.left" in the mirror.
[[nodiscard]] std::string contact_after(const std::string& contact, const Axes& axes,
                                        const std::map<std::string, std::string>& names);

/// Picks 0..n-1. The standard distributions differ from library to library.
[[nodiscard]] inline int below(std::mt19937& rng, int n) {
  return static_cast<int>(rng() % static_cast<std::mt19937::result_type>(n));
}

}  // namespace dryfit::test
