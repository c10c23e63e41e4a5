#pragma once
/// The undo moves one by one, each judged from a state.
/// Letters as in the rules: G the graph of made contacts less those that the move lets go, S the piece that turns,
/// O the piece at the other end of the thread, W the piece that holds the room, K a piece that slides, R what it
/// slides against.
#include <functional>
#include <optional>
#include <string>
#include <vector>

#include "model/geometry/turn.hpp"
#include "planner/judge/replay_pieces.hpp"
#include "planner/judge/replay_words.hpp"

namespace dryfit::planner::judge {

/// A judged move: the contacts that go, ascending, or the reason why it cannot be done.
struct Verdict {
  std::vector<ContactId> undone;  ///< empty when refused
  std::string why;                ///< empty when legal
  [[nodiscard]] bool legal() const { return why.empty(); }
};
[[nodiscard]] Verdict refused(std::string why);

/// Why something cannot move; nothing when it can.
using Obstacle = std::optional<std::string>;

/// Which side of a thread is to turn.
struct Wanted {
  std::vector<PartId> moving;  ///< empty: either side
  bool whole = true;           ///< the side must hold all of `moving`; else none of it may be on the other side
};

class Judge {
 public:
  Judge(const model::Frame& frame, const ContactList& list);
  [[nodiscard]] const Scene& scene() const { return scene_; }
  void tell_both_units() { scene_.tell_both_units(); }

  [[nodiscard]] Verdict unscrew(const Made& made, ContactId thread, const Wanted& wanted);
  /// `allowed`, ascending: the contacts that the step names; the move may let go none but these.
  [[nodiscard]] Verdict slide_apart(const Made& made, ContactId hole, const std::vector<ContactId>& allowed);
  [[nodiscard]] Verdict sideways(const Made& made, PartId board, const std::vector<ContactId>& allowed);
  [[nodiscard]] Verdict swing(const Made& made, PartId board, const std::vector<ContactId>& allowed);
  [[nodiscard]] Verdict take_away(const Made& made, PartId board, const std::vector<ContactId>& allowed);

 private:
  struct Turn;
  struct Slide;
  struct Lift;

  // replay_turn.cpp
  Obstacle turning_blocked(Turn& turn, int turning, int still);
  Obstacle turning_hits(Turn& turn, int turning, int still);
  Obstacle turning_meets_surface(Turn& turn, int turning);
  // replay_carried.cpp
  /// What came to a stop behind a board and ahead of it, and the way that was left.
  struct Pushed {
    double given = 0.0;
    PartId behind = model::kNone, behind_met = model::kNone;
    PartId ahead = model::kNone, ahead_met = model::kNone;
    int surface = model::kNone;  ///< ahead, when nothing else was met
  };
  Obstacle float_missing(Turn& turn, int turning, int still);
  [[nodiscard]] Obstacle gives_way(const Turn& turn, int turning, PartId board, const Pushed& pushed) const;

  // replay_slide.cpp
  Obstacle sliding_blocked(Slide& slide, model::Direction way);
  Obstacle too_wide(Slide& slide, model::Direction way, double travel);
  Obstacle sliding_hits(Slide& slide, model::Direction way, double travel);
  Obstacle sliding_meets_surface(Slide& slide, model::Direction way, double travel);

  // replay_board.cpp
  [[nodiscard]] std::string burden(const Made& made, PartId board) const;
  std::vector<std::string> in_the_way(Lift& lift, const model::Bounds& place,
                                      const std::function<bool(const Body&)>& hit);
  std::vector<std::string> carried_into(Lift& lift, model::Vec3 by, bool off_carriers);

  Scene scene_;
  Marks marks_;
  Marks cluster_marks_;
  Marks load_marks_;
};

/// Questions about the cluster that a vertex belongs to, asked at most once.
class Cluster {
 public:
  Cluster(const Scene& scene, const Made& made, int vertex, Marks& marks);
  [[nodiscard]] bool holds_room();
  /// The part hangs together with the vertex.
  [[nodiscard]] bool holds(int part);

 private:
  const Scene* scene_;
  const Made* made_;
  int vertex_;
  Marks* marks_;
  std::optional<Pieces> pieces_;
  std::optional<bool> answer_;
};

/// Ids of the contacts of `undone` that are not in `allowed` (ascending).
[[nodiscard]] std::vector<std::string> not_allowed(const Scene& scene, const std::vector<ContactId>& undone,
                                                   const std::vector<ContactId>& allowed);
/// True when p and q are the two parts of a thread (undone by now) and p, moved along `way` past q, draws out of it.
[[nodiscard]] bool draws_out(const Scene& scene, PartId p, PartId q, model::Direction way);
/// True when one of p and q carries the other and p, moved along `way` past q, lifts off.
[[nodiscard]] bool lifts_off(const Scene& scene, PartId p, PartId q, model::Direction way);
/// Overlap that is no hit between the two parts, mm.
[[nodiscard]] double touch_of(const Scene& scene, PartId p, PartId q);

/// True when the board has a round hole made and open slots besides that all let go when it turns about the hole one
/// way. `sense`: +1 or -1, turning right-handed about the board's facing or against it.
struct QuarterTurn {
  ContactId hole = model::kNone;
  int sense = 0;
};
[[nodiscard]] std::optional<QuarterTurn> quarter_turn(const Scene& scene, const Made& made, PartId board,
                                                      bool notches_made);

}  // namespace dryfit::planner::judge
