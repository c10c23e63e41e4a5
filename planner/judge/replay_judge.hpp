#pragma once
/// The undo moves one by one, each judged from a state.
/// Letters as in the rules: G the graph of made contacts less those that the move lets go, S the piece that turns,
/// O the piece at the other end of the thread, W the piece that holds the room, K a piece that slides, R what it
/// slides against.
#include <functional>
#include <optional>
#include <vector>

#include "model/geometry/turn.hpp"
#include "planner/judge/replay_pieces.hpp"
#include "planner/judge/replay_words.hpp"

namespace dryfit::planner::judge {

/// A judged move: the contacts that go, ascending, or the reason why it cannot be done.
struct Verdict {
  std::vector<ContactId> undone;  ///< empty when refused
  Message why;                    ///< empty when legal
  [[nodiscard]] bool legal() const { return why.empty(); }
};
[[nodiscard]] Verdict refused(Message why);

/// Why something cannot move; nothing when it can.
using Obstacle = std::optional<Message>;

/// Which side of a thread is to turn.
struct Wanted {
  std::vector<PartId> moving;  ///< empty: either side
  bool whole = true;           ///< the side must hold all of `moving`; else none of it may be on the other side
};

/// The contacts that a step names. A move lets go none but these; with `all` no fewer either.
struct Named {
  std::vector<ContactId> contacts;  ///< ascending
  bool all = false;
};

class Judge {
 public:
  Judge(const model::Frame& frame, const ContactList& list);
  [[nodiscard]] const Scene& scene() const { return scene_; }
  void tell_both_units() { scene_.tell_both_units(); }

  [[nodiscard]] Verdict unscrew(const Made& made, ContactId thread, const Wanted& wanted);
  /// A hole or notch by whatever move there is for it: sliding first; the reasons of all of them when there is none.
  [[nodiscard]] Verdict off_pipe(const Made& made, ContactId hole, const Named& named);
  [[nodiscard]] Verdict slide_apart(const Made& made, ContactId hole, const Named& named);
  /// Out of the slot of the contact and all others that let go with it: the board's side or the pipe's is moved.
  [[nodiscard]] Verdict sideways(const Made& made, ContactId notch, const Named& named);
  [[nodiscard]] Verdict swing(const Made& made, PartId board, const Named& named);
  [[nodiscard]] Verdict take_away(const Made& made, PartId board, const Named& named);
  [[nodiscard]] Verdict unfasten(const Made& made, ContactId fastening);

 private:
  struct Turn;
  struct Slide;
  struct Lift;
  struct Standing;
  struct Screws;

  // replay_turn.cpp
  Obstacle turning_blocked(Turn& turn, int turning, int still);
  Obstacle turning_hits(Turn& turn, int turning, int still);
  Obstacle turning_meets_surface(Turn& turn, int turning);
  Obstacle taken_round_hits(Turn& turn, int turning, int still);
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
  Obstacle blocked_both_ways(Slide& slide, const Contact& c);
  Obstacle sliding_blocked(Slide& slide, model::Direction way);
  [[nodiscard]] double sliding_travel(const Slide& slide, model::Direction way) const;
  /// The pipe of a hole and all that is screwed to it on its line, one to the next, that the hole slips over.
  [[nodiscard]] std::vector<PartId> strung(const Slide& slide, const Contact& hole) const;
  Obstacle too_wide(Slide& slide, model::Direction way, double travel);
  /// Width of the widest body of the part on the hole's line, mm.
  [[nodiscard]] double widest_at(PartId part, const model::Hole& hole, model::Direction along) const;
  /// A pipe that has less play in a slot that lets go than it takes; of one slot, `its_own`: of the board spoken of.
  [[nodiscard]] Obstacle tight_in_slot(const Slide& slide) const;
  [[nodiscard]] Obstacle tight_in_slot(const Contact& notch, bool its_own) const;
  Obstacle sliding_hits(Slide& slide, model::Direction way, double travel);
  /// A body on the line of a hole that lets go is judged by its diameter; out of a slot goes what fits in it.
  [[nodiscard]] bool judged_by_width(const Slide& slide, PartId board, const model::Solid& solid) const;
  Obstacle sliding_meets_surface(Slide& slide, model::Direction way, double travel);

  // replay_hanging.cpp
  /// Beyond K and R, with a board on a pipe that a board of the move leaves.
  [[nodiscard]] bool hangs_in_the_way(Slide& slide, int part);
  /// K holds the room: what moves against what hangs on K and stays there.
  Obstacle runs_into_what_hangs(Slide& slide, model::Vec3 by);
  /// What moves draws a pipe along its line into another one that hangs loose there in a board that stays.
  Obstacle runs_into_end(Slide& slide, model::Vec3 by);

  // replay_aside.cpp
  [[nodiscard]] bool slides_turned_aside(Slide& slide, const Made& made, const Contact& c);
  [[nodiscard]] bool passes_turned(Slide& slide, const Contact& c, model::Direction way);
  [[nodiscard]] std::vector<Standing> standing_around(Slide& slide, const Contact& c, model::Direction way,
                                                      double travel);

  // replay_sideways.cpp
  [[nodiscard]] std::vector<int> pushed_along(const Made& made, int seed, int stop, model::Direction way) const;
  [[nodiscard]] Message held_in_slot(const Made& made, PartId board) const;

  // replay_reach.cpp
  Obstacle over_screws(Screws& screws, int step);
  Obstacle cannot_be_pushed(Screws& screws, PartId part);
  PartId stopped_when_pushed(Screws& screws, PartId part, double way);
  [[nodiscard]] bool leans_past(const Screws& screws, const Body& body) const;
  [[nodiscard]] bool hangs_in_holes(const Screws& screws, PartId part) const;

  // replay_board.cpp
  [[nodiscard]] Message burden(const Made& made, PartId board) const;
  std::vector<Message> in_the_way(Lift& lift, const model::Bounds& place,
                                  const std::function<bool(const Body&)>& hit);
  std::vector<Message> carried_into(Lift& lift, model::Vec3 by);

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

/// Why a move that lets go `undone` is not the step: what else it would let go, or what it would leave; or empty.
[[nodiscard]] Message not_the_step(const Scene& scene, const std::vector<ContactId>& undone, const Named& named);
/// Ids of the contacts of `undone` that are not named.
[[nodiscard]] std::vector<Message> not_allowed(const Scene& scene, const std::vector<ContactId>& undone,
                                               const Named& named);
/// True when p and q are the two parts of a thread (undone by now) and p, moved along `way` past q, draws out of it.
[[nodiscard]] bool draws_out(const Scene& scene, PartId p, PartId q, model::Direction way);
[[nodiscard]] bool carries(const Scene& scene, PartId carrier, PartId board);
/// True when one of p and q carries the other and p, moved along `way` past q, does not press the board down onto its
/// carrier: it is lifted off or slides over it, however high the carrier is drawn. `way`: along an axis.
[[nodiscard]] bool lies_on(const Scene& scene, PartId p, PartId q, model::Direction way);
/// Overlap that is no hit between the two parts, mm.
[[nodiscard]] double touch_of(const Scene& scene, PartId p, PartId q);

/// A board has a round hole made and made slots besides that all let go when it turns about the hole one way, within a
/// quarter. `sense`: +1 or -1, turning right-handed about the board's facing or against it; `angle`: until all are out.
struct SwingOut {
  ContactId hole = model::kNone;
  int sense = 0;
  double angle = 0.0;
};
[[nodiscard]] std::optional<SwingOut> swing_out(const Scene& scene, const Made& made, PartId board);

/// The sense in which a board that turns about `pivot` lets a pipe out of the slot; 0: neither.
[[nodiscard]] int sense_out_of(const model::Hole& slot, model::Vec3 pivot, model::Direction facing);

}  // namespace dryfit::planner::judge
