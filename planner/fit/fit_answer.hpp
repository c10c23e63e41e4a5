#pragma once
/// Whether a frame fits, as data: closures, levels and the turns to give or take.
/// Notation: a turn is extra, counted from the make-up of the frame; positive screws the pipe deeper and brings the
/// two parts closer by one pitch per turn. Lengths in mm.
#include <array>
#include <cmath>
#include <functional>
#include <memory>
#include <string>
#include <vector>

#include "model/frame/frame.hpp"
#include "planner/base/foreman.hpp"
#include "planner/state/overlap.hpp"

namespace dryfit::planner {

class TurnMemory;

/// The one tolerance of the fit, mm: a gap or a difference in height of no more than this meets, as made up, after
/// turning, between whole turns, with other stock. See meets().
inline constexpr double kExact = 0.5;

/// True for a gap within the tolerance; one that hits it exactly is.
[[nodiscard]] inline bool meets(double mm) { return std::abs(mm) <= kExact + 1e-6; }

/// Best first, so that the larger of two is the worse.
enum class FitState { exact, by_turning, by_wrenching, open };
/// "exact", "by-turning", "by-wrenching", "open".
[[nodiscard]] const char* word_for(FitState state);

/// Extra turns at a joint (index into Frame::joints), a multiple of a quarter.
struct JointTurn {
  int joint = model::kNone;
  double turns = 0.0;
};

/// A pipe made of other pieces.
struct PipeChange {
  model::PartId pipe = model::kNone;  ///< the pipe to replace
  std::vector<double> pieces;         ///< lengths, longest first; a coupling between each two
  double made_up = 0.0;               ///< end to end with the couplings' gaps, mm
};

/// What to buy instead of one or several pipes so that an open closure closes.
struct Cure {
  std::vector<PipeChange> changes;  ///< by pipe
  FitState state = FitState::open;  ///< of the closure when built so; never worse than by_turning
  double left = 0.0;                ///< largest gap of the closure after turning, mm
  double turning = 0.0;             ///< turns that still have to be given, all joints together
  int still_open = 0;               ///< other closures of the frame that are open then
  bool cut = false;                 ///< no stock does it: one pipe, cut and threaded to that length

  [[nodiscard]] int pieces() const {
    int sum = 0;
    for (const PipeChange& change : changes) sum += static_cast<int>(change.pieces.size());
    return sum;
  }
  [[nodiscard]] int couplings() const { return pieces() - static_cast<int>(changes.size()); }
};

/// How far a gap can stray when every thread of it is off by as much as the standard allows (one turn each).
struct Spread {
  double worst = 0.0;   ///< all threads off the same way, mm
  double likely = 0.0;  ///< root of the sum of squares, mm
  int threads = 0;      ///< threads that count
};

/// One closure of the frame, judged. Same order as Frame::closures.
struct ClosureFit {
  int closure = model::kNone;  ///< index into Frame::closures
  FitState state = FitState::exact;
  model::Vec3 gap;               ///< as made up
  model::Vec3 left;              ///< after the turns of the whole frame, found by placing it again
  std::vector<JointTurn> turns;  ///< the turns of the whole frame that bear on this closure
  std::array<Spread, 3> spread;  ///< per axis
  std::vector<Cure> cures;       ///< only when open; fewest pieces first
  /// Only when open: turning would close it, but then these are in one place, or behind a surface.
  std::vector<Overlap> in_the_way;
  bool from_memory = false;  ///< the gap rests on a dimension that no published source confirms
};

/// A board on its carriers (or on flanges), or a leg on its surface.
struct LevelFit {
  model::PartId part = model::kNone;
  int surface = model::kNone;        ///< legs: the surface it stands on
  std::vector<std::string> between;  ///< the board and what carries it; the leg and its surface
  FitState state = FitState::exact;
  double gap = 0.0;   ///< boards: largest height difference as made up; legs: too long (> 0) or short
  double left = 0.0;  ///< after the turns, mm
  double span = 0.0;  ///< distance over which `gap` falls, mm
  /// mm per m as made up: over the distance of two supports; on more, of the steepest plane that it can lie on.
  double slope = 0.0;
  double slope_left = 0.0;    ///< mm per m after the turns
  double slope_worst = 0.0;   ///< mm per m that the threads' worst spread tilts it by, over its own supports
  double slope_likely = 0.0;  ///< the same for the likely spread
  double rock = 0.0;          ///< mm that a support hangs below the plane of three others, as made up
  double rock_left = 0.0;     ///< after the turns, mm
  bool from_memory = false;   ///< as for closures
  std::vector<JointTurn> turns;
  Spread spread;
};

/// A pipe that is likely wrong: with that length, and nothing else changed, all that is open would close.
struct Suspect {
  model::PartId pipe = model::kNone;
  double length = 0.0;  ///< that it would have, mm
};

struct Fit {
  FitState state = FitState::exact;  ///< the worst of all closures
  std::vector<JointTurn> turns;      ///< whole frame, by joint; what makes all that can close close
  /// How far the frame moves to stand on its surfaces, along the axes that the file leaves open; `gap` of a closure
  /// is counted from where its first closure is nought.
  model::Vec3 shift;
  std::vector<ClosureFit> closures;
  std::vector<LevelFit> levels;   ///< boards in file order, then legs
  std::vector<Suspect> suspects;  ///< when a closure is open: the likeliest only, by place in the file
  int spare_leg = model::kNone;   ///< index into levels: the leg whose threads stray most, when legs differ
  bool proven = true;             ///< the turns are proven to be the fewest
  /// False: something is open, and a limit was met, or the foreman ended the work, before it was known that something
  /// has to be.
  bool decided = true;
  bool rechecked = true;     ///< placing the frame again gave the same gaps
  bool from_memory = false;  ///< a closure rests on a dimension that no published source confirms
  long long nodes = 0;       ///< branch-and-bound nodes spent
};

struct FitOptions {
  bool cures = true;   ///< look for stock that closes what is open, and for the pipe that is likely wrong
  bool room = true;    ///< turn where there is room; false: as if all parts could pass through one another
  int max_pieces = 4;  ///< pieces per cure
  /// Asked about every cure before it is told; it may plan the design again with that change. Empty: every one is told.
  std::function<bool(const std::vector<PipeChange>&)> accept;
  long long node_limit = 20000;  ///< per program
  Foreman* foreman = nullptr;    ///< asked now and then; once he ends the work, the answer is what is known by then
  /// What was solved before, for designs that differ in little; without one each call begins anew.
  std::shared_ptr<TurnMemory> memory;
};

}  // namespace dryfit::planner
