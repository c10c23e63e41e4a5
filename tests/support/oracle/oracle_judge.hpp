#pragma once
/// The geometric half of the oracle: may this part pass that one? Every answer says how sure it is.
#include <functional>
#include <map>
#include <optional>
#include <tuple>
#include <utility>
#include <vector>

#include "model/frame/frame.hpp"
#include "model/geometry/at.hpp"
#include "tests/support/oracle/sampled_motion.hpp"

namespace dryfit::test {

using model::Board;
using model::Frame;
using model::Hole;
using model::Part;
using model::PartId;

/// Ordered: of several judgments the greatest holds. In doubt: would go the other way if a gap were 1 mm other.
enum class Verdict { clear, clear_in_doubt, hit_in_doubt, hit };

/// Within this distance two parallel lines are one, mm.
inline constexpr double kOneLine = 0.3;
/// A thing passes a hole that is wider by this in diameter, mm; also the overlap that still counts as touching.
inline constexpr double kPlay = 0.5;
/// Whether there is that much play between a hole and what is to go through; sums of sizes may end a rounding short.
[[nodiscard]] inline bool enough_play(double hole, double across) { return hole - across >= kPlay - 1e-6; }

/// From an overlap in mm: a hit from `touch` on.
[[nodiscard]] Verdict verdict_of_overlap(double overlap, double touch = kPlay);

/// A hit by `touch` or not, and in doubt where a gap that is about 1 mm other would turn it.
[[nodiscard]] Verdict in_steps(double touch, const std::function<bool(double)>& hits_by);

/// Judges pairs of parts in the places that the finished frame gives them.
class Judge {
 public:
  explicit Judge(const Frame& frame);

  [[nodiscard]] const Board* board_of(PartId part) const;
  [[nodiscard]] bool on_line(const Solid& solid, Vec3 point, Direction along) const;
  /// The hole or slot of the board whose line the solid lies on, or nullptr.
  [[nodiscard]] const Hole* hole_for(const Board& board, const Solid& solid) const;
  /// True for a board with a hole or notch round this line.
  [[nodiscard]] bool has_hole_on(PartId part, const TurnAxis& axis) const;

  /// Part `a` turned a full turn about the axis, shifted anywhere from 0 to `shift`, against `b`.
  [[nodiscard]] Verdict turn(PartId a, PartId b, const TurnAxis& axis, Vec3 shift);
  /// True when a joint of the frame is between the two and d leads `a` straight out of it.
  [[nodiscard]] bool drawn_out(PartId a, PartId b, Direction d) const;
  /// One of the two carries the other, a board, and `a` moved along d does not press the board down on its carrier.
  [[nodiscard]] bool lies_on(PartId a, PartId b, Direction d) const;
  /// Part `a` carried along d by `length`, against `b`; what lies on the line of a hole is judged by its diameter.
  [[nodiscard]] Verdict slide(PartId a, PartId b, Direction d, double length);
  /// Of part `a` carried along d against `b` only what of both lies round the axis.
  [[nodiscard]] Verdict slide_on_axis(PartId a, PartId b, const TurnAxis& axis, Direction d, double length) const;
  /// Part `a` carried along d, out of slots or out of pipes in its own slots: what fits in a slot of the other does not
  /// count.
  [[nodiscard]] Verdict out_of_slots(PartId a, PartId b, Direction d, double length);
  /// Until the board is clear of the pipe in the slot when it turns about the axis in that sense, by steps of a
  /// twentieth of a degree; nothing when a quarter does not do.
  [[nodiscard]] std::optional<double> angle_out_of(const Board& board, const Hole& slot, const TurnAxis& axis,
                                                   int sense) const;
  /// The sense in which the board has to turn about the axis so that the pipe comes out of the slot; 0: neither.
  [[nodiscard]] static int sense_out_of(const Hole& slot, const TurnAxis& axis);
  /// Bodies of `b` on the line of a hole of board `a`, which is carried along d.
  [[nodiscard]] Verdict on_its_line(PartId a, PartId b, const Hole& hole, Direction d, double length) const;
  /// Board `a` on one pipe, turned aside: one entry per half degree in the sense, from 0 to a full turn.
  struct Aside {
    std::vector<Verdict> in_place;  ///< against `b`, turned to that angle
    std::vector<Verdict> sliding;   ///< and carried along d from there
  };
  [[nodiscard]] const Aside& aside(PartId a, PartId b, const TurnAxis& axis, int sense, Direction d, double length);
  [[nodiscard]] Aside aside_in_room(PartId a, const TurnAxis& axis, int sense, Direction d, double length) const;
  /// Board `a` turned by `angle` about the axis: what stands in its holes and slots does not count.
  [[nodiscard]] Verdict swing(PartId a, PartId b, const TurnAxis& axis, double angle);

  /// A bit carried along `way` against `other`; of a fitting on the run, only what goes all round it counts.
  [[nodiscard]] Verdict bit_against(PartId other, const TurnAxis& run, const Solid& bit, Vec3 way);
  /// The same against every surface of the room.
  [[nodiscard]] Verdict bit_in_room(const Solid& bit, Vec3 way) const;

  /// Part `a` against every surface of the room in such motions.
  [[nodiscard]] Verdict turn_in_room(PartId a, const TurnAxis& axis, Vec3 shift, double angle);
  [[nodiscard]] Verdict slide_in_room(PartId a, Direction d, double length);

  /// How far `a` goes along d before it meets `b`, or a surface; at most kFarEnough, more than any thread is long.
  [[nodiscard]] double free_way(PartId a, PartId b, Direction d);
  [[nodiscard]] double free_way_in_room(PartId a, Direction d);
  /// The same of bodies of which one lies round the axis, along it: turned about the axis they are no farther apart.
  [[nodiscard]] double free_way_on_axis(PartId a, PartId b, const TurnAxis& axis, Direction d);
  static constexpr double kFarEnough = 40.0;

 private:
  /// The convex bodies of a part; a board falls into pieces between its holes and slots.
  [[nodiscard]] const std::vector<Solid>& bodies(PartId part) const;
  /// The worst verdict on the bodies of a with those of b. Whole boards are asked first: they hold all their pieces.
  template <typename Judged>
  [[nodiscard]] Verdict worst_of(PartId a, PartId b, const Judged& judged) const {
    const auto worst = [&](const std::vector<Solid>& of_a, const std::vector<Solid>& of_b) {
      Verdict w = Verdict::clear;
      for (const Solid& sa : of_a) {
        for (const Solid& sb : of_b) {
          if (w != Verdict::hit) w = std::max(w, judged(sa, sb));
        }
      }
      return w;
    };
    const auto whole = [&](PartId part) -> const std::vector<Solid>& { return frame_.part(part).solids; };
    const Verdict w = worst(whole(a), whole(b));
    if (w == Verdict::clear || (board_of(a) == nullptr && board_of(b) == nullptr)) return w;
    // Pieces of a board are not made smaller one by one; of two boards the first is taken smaller as a whole.
    const bool boards = board_of(a) != nullptr && board_of(b) != nullptr;
    return worst(boards ? smaller_[dryfit::at(a)] : bodies(a), bodies(b));
  }
  [[nodiscard]] double free_way(PartId a, const Solid& sa, PartId b, const Solid& sb, Direction d);

  const Frame& frame_;
  /// The part stands in the board as drawn and is clear of it where the board lies on its highest carrier.
  [[nodiscard]] bool sunk_in(PartId part, PartId board_part) const;
  [[nodiscard]] bool sunk_as_drawn(PartId part, PartId board_part) const;

  std::vector<std::vector<Solid>> bodies_, smaller_;
  using Key = std::tuple<PartId, PartId, int, int, int, double, double, double, double>;
  std::map<Key, Verdict> turns_, slides_;
  mutable std::map<std::pair<PartId, PartId>, bool> sunk_;  ///< asked in every state, and the same in all
  std::map<std::tuple<PartId, PartId, Direction>, double> ways_;
  std::map<std::tuple<PartId, PartId, int, Direction, double>, Aside> asides_;
};

}  // namespace dryfit::test
