#pragma once
/// What a build order costs: seconds of easy work, by the rates of model/data/effort.csv, added up over the moves.
///
/// Two kinds of rates. The *base* is paid by every order of the frame alike: each part is fetched once, each contact is
/// made once. The *extra* of a move depends on what it moves and what it meets:
/// - swing: turning what is made up already, by its moment of inertia and the reach of its far end;
/// - carry: lifting what is made up already a second time; heavier than one person's limit, by a factor;
/// - start: two pieces of work meet, so one of them was begun apart;
/// - air: a fitting with openings to level is put on the end of a pipe that is not upright, while the held work stands
///   too far above or below it to lie on the bench;
/// - strap: loose boards have to be strapped before the turn;
/// - hole: what turns is in the hole of a board, which has to be held at its height meanwhile;
/// - room: the joint is made on work that is screwed to the room already;
/// - aside: boards have to be held out of the driver's way while a flange is screwed on;
/// - heavy: what takes two people to lift goes on before what carries it is screwed to the room (heavy_last.hpp).
/// A *piece of work* is two parts or more that threads, nuts and flanges under boards hold together; boards that hang
/// on pipes, lie on them or are strapped to them hold nothing together, and neither does the room. No extra ever falls
/// when a part more hangs on the work, and a part that hangs by one contact, by holes or by rests never decides whether
/// two pieces meet. So what takes such a part off at no extra costs nothing now or later, and an order without any
/// extra cannot be beaten. The screws of a foot that carries something heavy are no bare part: they may be needed.
#include <vector>

#include "model/geometry/at.hpp"
#include "model/measure/mass_properties.hpp"
#include "planner/base/lifting.hpp"
#include "planner/effort/heavy_last.hpp"
#include "planner/moves/moves.hpp"
#include "planner/state/body_index.hpp"

namespace dryfit::planner {

/// model/data/effort.csv, in seconds, metres and kilograms.
struct EffortRates {
  double fetch_part = 0.0, fetch_mass = 0.0;
  double thread_start = 0.0, thread_turn = 0.0, hole_aim = 0.0, lay_board = 0.0, close_nut = 0.0;
  double fasten_flange = 0.0, fasten_board = 0.0, fasten_strap = 0.0;
  double swing_inertia = 0.0, swing_radius = 0.0, start_piece = 0.0, carry_piece = 0.0;
  double air = 0.0, strap_before_turn = 0.0, turn_in_hole = 0.0, held_by_room = 0.0, hold_aside = 0.0,
         heavy_before_feet = 0.0;
  double turn_work = 0.0, turn_work_mass = 0.0, from_below = 0.0, board_level = 0.0, board_uphill = 0.0, prop = 0.0,
         at_the_foot = 0.0;
  double tip_angle = 0.0;    ///< degrees
  double in_one_hand = 0.0;  ///< kg
  double hand_reach = 0.0;   ///< mm
  double in_the_air = 0.0;   ///< mm
  double arm_length = 0.0;   ///< mm
  double second_person = 0.0, alone_over_limit = 0.0;
};
[[nodiscard]] const EffortRates& effort_rates();

/// The parts of a move's extra, seconds.
struct Extra {
  double swing = 0.0;
  double carry = 0.0;
  double start = 0.0;
  double air = 0.0;
  double strap = 0.0;
  double hole = 0.0;
  double room = 0.0;
  double aside = 0.0;
  double heavy = 0.0;
  [[nodiscard]] double total() const { return swing + carry + start + air + strap + hole + room + aside + heavy; }
  /// Without what it costs whenever it is undone: feet that have gone do not come back.
  [[nodiscard]] double avoidable() const { return total() - heavy; }
};

/// A legal way to undo, with what it costs beyond the base when it is done forward.
struct PricedMove {
  Move move;
  Extra extra;
};

/// Ascending. `marks` per part, not nought where it is one. O(parts), without sorting.
[[nodiscard]] std::vector<PartId> marked_parts(const std::vector<char>& marks);

/// Prices the moves of one frame. Holds references to the undoer's frame and lists.
class Effort {
 public:
  /// `people`: hands at work, 1 or more. Without `heavy_counts` the rate of that name is left out.
  Effort(const Undoer& undoer, int people, bool heavy_counts = true);

  /// Paid by every order. O(parts + contacts), worked out once.
  [[nodiscard]] double base() const { return base_; }
  /// The share of the base that is paid for making this contact, by whatever order.
  [[nodiscard]] double making(ContactId contact) const;
  /// The move with what it costs beyond the base, made when all of `before` is made. It comes back turned round where
  /// bringing the other side is lighter. O(parts).
  [[nodiscard]] PricedMove price(const State& before, Move move) const;
  /// The move, priced, and for a slide the one with the other side brought instead, where the room does not hold that
  /// and nothing else forbids it: dearer or equal, but perhaps handier. O(parts).
  [[nodiscard]] std::vector<PricedMove> price_both_ways(const State& before, Move move) const;
  /// The contact makes one piece of work of its two ends: a thread, a nut, a flange screwed to a board.
  [[nodiscard]] bool holds_together(const Contact& c) const;
  /// Undoing made contact c alone leaves its ends in two pieces of work. O(parts).
  [[nodiscard]] bool parts_work(const State& before, ContactId c) const;
  /// What lifting these parts as one takes, by the rule in lifting.hpp. O(parts).
  [[nodiscard]] Lift lift_of(const std::vector<PartId>& parts) const;
  [[nodiscard]] double mass_of(const std::vector<PartId>& parts) const;
  /// The share of a move's extra that is `heavy`.
  [[nodiscard]] double heavy_extra(const State& before, const Move& move) const {
    return rates_.heavy_before_feet * static_cast<double>(heavy_.too_early(before, move));
  }
  [[nodiscard]] const model::Frame& frame() const { return frame_; }
  [[nodiscard]] const ContactList& list() const { return list_; }
  /// When which heavy board may go on.
  [[nodiscard]] const HeavyLast& heavy_last() const { return heavy_; }
  [[nodiscard]] const model::MassProperties& properties(PartId part) const { return properties_[at(part)]; }
  [[nodiscard]] const model::Bounds& bounds(PartId part) const { return bounds_[at(part)]; }
  [[nodiscard]] int people() const { return people_; }

 private:
  [[nodiscard]] static std::vector<model::MassProperties> properties_of(const model::Frame& frame);
  [[nodiscard]] static std::vector<model::Bounds> bounds_of_parts(const model::Frame& frame);
  [[nodiscard]] HeavyLast find_heavy(const Undoer& undoer, bool counts) const;
  [[nodiscard]] Extra weigh(const State& before, Move& move) const;
  [[nodiscard]] double factor_for(const Lift& lift) const;
  [[nodiscard]] double carry_of(const std::vector<PartId>& parts) const;
  [[nodiscard]] double swing_of(const Move& move) const;
  [[nodiscard]] double holes_turned_in(const State& before, const Move& move) const;
  [[nodiscard]] bool in_the_air(const State& before, const Move& move) const;
  /// The part is not bare.
  [[nodiscard]] bool is_work(const State& state, PartId part) const;
  /// Both are in one piece of work. O(size of the cluster), and mostly less.
  [[nodiscard]] bool hang_together(const State& state, PartId one, PartId other) const;
  [[nodiscard]] std::vector<PartId> piece_of_work(const State& state, PartId start) const;
  [[nodiscard]] std::vector<PartId> other_side(const State& before, const Move& move) const;
  void bring_lighter(const State& before, Move& move, Extra& extra) const;
  void turn_round(Move& move, std::vector<PartId> parts) const;
  /// What a slide parts.
  struct Sides {
    std::vector<PartId> mover, other;
    bool mover_fixed = false, other_fixed = false;  ///< the room holds it
  };
  [[nodiscard]] Sides sides_of_slide(const State& before, const Move& move) const;
  void lift(const State& before, Move& move, Extra& extra) const;

  const model::Frame& frame_;
  const ContactList& list_;
  const BodyIndex& index_;
  const EffortRates& rates_;
  int people_;
  double base_ = 0.0;
  std::vector<model::MassProperties> properties_;  ///< per part
  std::vector<model::Bounds> bounds_;              ///< per part
  HeavyLast heavy_;
};

}  // namespace dryfit::planner
