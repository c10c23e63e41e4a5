#pragma once
/// The closures of a frame as one linear system over extra turns.
/// Notation: t_j = extra turns at joint j, u = the way its port faces (out of the fitting, toward the pipe), p = its
/// pitch. A turn moves the pipe by -p t u as seen from the fitting, so the place of a part is that of its root
/// plus the sum over the joints that placed it, and every axis that a closure binds is gap + sum(a_j t_j) = 0.
#include <array>
#include <utility>
#include <vector>

#include "model/frame/frame.hpp"

namespace dryfit::planner {

/// What does not count in a comparison of millimetres, mm.
inline constexpr double kHair = 1e-6;

/// mm by which a gap grows per turn deeper at a joint.
struct TurnTerm {
  int joint = model::kNone;
  double mm_per_turn = 0.0;
};

struct Equation {
  int closure = model::kNone;
  int axis = 0;                 ///< 0 x, 1 y, 2 z
  double gap = 0.0;             ///< as made up, mm
  std::vector<TurnTerm> terms;  ///< joints ascending, no zeros
  double mm_per_shift = 0.0;    ///< per mm that the loose root moves along `axis`: -1, 0 or 1
};

/// The one root of the frame when the file leaves it free to stand elsewhere along some axis; kNone when there is
/// none, or when another root is there to be measured against.
[[nodiscard]] model::PartId loose_root(const model::Frame& frame);

/// Which part gives each part its place, axis by axis: a board takes its height from its first carrier and
/// its place in its own plane from its first pipe.
class Lineage {
 public:
  explicit Lineage(const model::Frame& frame);

  /// How the place of `part` less the place of `other` (kRoom: a fixed point) changes with turns, along `axis`.
  /// Joints ascending, no zeros. O(length of both ways to the part they have in common).
  [[nodiscard]] std::vector<TurnTerm> difference(model::PartId part, model::PartId other, int axis) const;
  /// What the part's coordinate hangs on in the end; kNone for the room.
  [[nodiscard]] model::PartId root(model::PartId part, int axis) const;

 private:
  struct Link {
    model::PartId parent = model::kNone;
    int joint = model::kNone;
  };
  [[nodiscard]] Link link(model::PartId part, int axis) const;

  const model::Frame& frame_;
  std::array<std::vector<int>, 3> depth_;  ///< per axis and part: links to its root
};

/// mm by which the female part moves, seen from the male part, per turn deeper.
[[nodiscard]] model::Vec3 closing_in(const model::Frame& frame, int joint);

/// One equation per closure and bound axis, in that order.
[[nodiscard]] std::vector<Equation> equations_of(const model::Frame& frame, const Lineage& lineage);

}  // namespace dryfit::planner
