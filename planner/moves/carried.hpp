#pragma once
/// What a turn carries along. Private to planner/moves.
/// Boards on the turning axis do not turn with it, but what turns moves along the axis by the engaged length and takes
/// them along once their play is used up; they push on in turn. Bodies that hang rigidly together make a *load*;
/// between loads there are gaps along the axis. The turn has room when on every way from what turns, over boards on the
/// axis, to what stays or to a surface the gaps add up to the engaged length.
/// A pipe that hangs loose on the axis, with all that is screwed to it, is pushed as well. It can be turned aside, so
/// of its ways only those count that no turn about the axis makes longer: from load to load on the axis, over bodies of
/// which one lies round it, and to surfaces square to it.
#include <map>
#include <optional>
#include <unordered_map>
#include <vector>

#include "planner/moves/moves_impl.hpp"

namespace dryfit::planner {

/// One thread about to be undone, as seen by what slides along its axis.
class Carried {
 public:
  /// `turning` and `staying`: the joint's ends; S leaves along `way`.
  Carried(Undoer::Impl& impl, const State& state, ContactId thread, int turning, int staying, model::Direction way);

  /// A way that is too short: `moving` is what comes to a stop, at `stop` or at `surface`.
  struct Stopped {
    PartId board = model::kNone;  ///< the board on the axis that the way leads over, or the loose pipe
    PartId moving = model::kNone;
    PartId stop = model::kNone;
    int surface = model::kNone;
    double given = 0.0;              ///< the gaps of the way, mm
    std::vector<ContactId> held_by;  ///< as long as these are made the way is there
  };
  /// The first board on the axis over which a way is shorter than `engaged`, of those for which `asked` holds.
  [[nodiscard]] std::optional<Stopped> first_stopped(double engaged,
                                                     const std::function<bool(const HoleOnLine&)>& asked);
  /// The first pipe that hangs loose on the axis and cannot give way by `engaged`.
  [[nodiscard]] std::optional<Stopped> first_loose_stopped(double engaged);

 private:
  /// Loads are numbered as they are met; the first two have their numbers.
  static constexpr int kTurning = 0, kStaying = 1;
  /// A step from one load to the next along a direction.
  struct Step {
    double gap = 0.0;
    PartId from = model::kNone;
    PartId to = model::kNone;  ///< kNone: a surface
    int surface = model::kNone;
  };
  /// The shortest way found from a start to an end: steps in the order they are taken.
  struct Way {
    double length = 0.0;
    std::vector<Step> steps;  ///< empty: none within the limit, or no step needed
  };

  [[nodiscard]] int load_of(int vertex);
  int keep(const std::vector<int>& members);
  [[nodiscard]] std::optional<Stopped> stopped_at(PartId start, double engaged);
  [[nodiscard]] Way shortest(PartId board, int load, model::Direction d, int goal, double limit);
  void steps_from(const std::vector<int>& members, int load, model::Direction d, double limit,
                  std::map<int, Step>& nearest);
  void step_to_surface(int member, model::Direction d, double limit, std::map<int, Step>& nearest) const;
  void hold(const Way& way, PartId start, int load, int goal, std::vector<ContactId>& held);
  void hold_in_load(PartId from, PartId to, std::vector<ContactId>& held);

  Undoer::Impl& impl_;
  const State& state_;
  const Contact& thread_;
  const int turning_, staying_;
  const model::Direction way_;
  const Without without_;
  const bool with_room_;
  bool on_axis_ = false;                           ///< only steps that no turn about the axis makes longer
  std::map<int, PartId> loose_;                    ///< with on_axis_: the loads with a pipe on the axis, and that pipe
  std::unordered_map<int, int> load_;              ///< of the vertices asked for so far
  std::vector<std::vector<int>> members_{{}, {}};  ///< per load; of the first two only what was walked
  bool turning_known_ = false, staying_known_ = false;
};

}  // namespace dryfit::planner
