#pragma once
/// Undo moves: what can be taken apart in a state, by the rules of legality, and why not where it cannot.
/// Notation: j the thread undone, a its axis; S the piece that turns, O the piece it leaves, W the room's piece;
/// K the piece that slides, R the pieces it leaves, d the way it goes; E engaged length. Lengths in mm.
#include <memory>
#include <string>
#include <vector>

#include "model/geometry/at.hpp"
#include "planner/state/body_index.hpp"
#include "planner/state/state.hpp"

namespace dryfit::planner {

enum class MoveKind { unscrew, slide, sideways, swing, take_away, undo_nut, unfasten };

/// A legal undo move.
struct Move {
  MoveKind kind = MoveKind::unscrew;
  std::vector<ContactId> contacts;        ///< all that go at once; the one asked for first
  std::vector<PartId> moving;             ///< parts that move, ascending
  std::vector<PartId> holding;            ///< parts at the other end of the contacts, ascending
  model::Vec3 travel;                     ///< undo direction; slide, sideways, take_away: full way; unscrew: v * E
  double turns = 0.0;                     ///< unscrew
  double swing_radius = 0.0;              ///< unscrew: farthest point of S from a; swing: of the board from the hole
  double mass = 0.0;                      ///< kg that move
  std::vector<ContactId> strapped_first;  ///< fastenings of laid boards in S that are not made at this moment
  std::vector<PartId> aside;              ///< unfasten: boards that are held out of the driver's way, ascending
};

/// Why a move is refused, in a form that words can be made from.
struct Refusal {
  enum class Why {
    ring,              ///< both sides of the contact are one piece, held together by `held_by`
    holds_room,        ///< the side that would move is screwed to the room
    loose_board,       ///< `moving` would fall off: laid, fastened to nothing, axis not vertical
    hits_part,         ///< `moving` would hit `blocking`
    hits_surface,      ///< `moving` would hit surface `surface`
    board_in_the_way,  ///< float: board `moving` cannot give `wanted` mm, only `given`; stopped by `blocking`,
                       ///< `surface`
    loose_in_the_way,  ///< the same of pipe `moving`, which hangs loose on the axis of the turn
    too_wide,          ///< `blocking`, `wanted` mm across, has to pass the hole of board `moving`, `given` mm
    fastened,          ///< something is fastened to or laid on the board
    no_reach,          ///< `blocking` or `surface` is `given` mm over the screws of `moving`, the driver takes `wanted`
    struck_out,        ///< a judge that has no part in the search refused it
    no_way             ///< not a move of this kind
  };
  MoveKind kind = MoveKind::unscrew;
  Why why = Why::no_way;
  PartId moving = model::kNone;
  PartId blocking = model::kNone;
  PartId carried = model::kNone;  ///< board_in_the_way: what comes to a stop, `moving` itself or what it takes along
  PartId turning = model::kNone;  ///< unscrew: the joint's part on the side that would turn
  int surface = model::kNone;
  double wanted = 0.0;
  double given = 0.0;
  /// As long as all of these are made this refusal stands. Empty: it stands for good (or for no_way).
  std::vector<ContactId> held_by;
};

/// What came of asking for one contact.
struct Attempt {
  bool legal = false;
  Move move;                      ///< when legal
  std::vector<Refusal> refusals;  ///< when not: one for every way tried
  bool capped = false;            ///< some way was not decided because a piece was larger than the cap
  std::vector<Move> other_ways;   ///< filled by Undoer::ways alone: further legal ways to undo the same contacts
};

/// Work done, for budgets and reports.
struct Work {
  long long attempts = 0;
  long long clearance_tests = 0;
  long long visited = 0;
};

/// Asks for undo moves in states of one frame. Keeps scratch memory: one per thread.
class Undoer {
 public:
  Undoer(const model::Frame& frame, const ContactList& list);
  ~Undoer();
  Undoer(const Undoer&) = delete;
  Undoer& operator=(const Undoer&) = delete;

  static constexpr std::size_t kNoCap = at(-1) / 4;

  /// The best way (least mass moved; for threads the side with the smaller swing) to undo contact c in the state.
  /// Pieces of more than `cap` parts on both sides are left undecided. With `frozen`, ways that would undo a
  /// contact marked there are refused, with one such contact as what they are held by. O(smaller piece * log n)
  /// typically.
  [[nodiscard]] Attempt try_undo(const State& state, ContactId c, std::size_t cap = kNoCap,
                                 const std::vector<char>* frozen = nullptr);

  /// As try_undo; of a legal move only its contacts are sure to be told. What peels needs no more, and it saves
  /// choosing between sides that both may turn.
  [[nodiscard]] Attempt try_briefly(const State& state, ContactId c, std::size_t cap = kNoCap,
                                    const std::vector<char>* frozen = nullptr);

  /// Every legal way to undo contact c: for threads either side that can turn; for a contact with a pipe every set of
  /// contacts that can go with it. Exhaustive and dearer than try_undo. `refusals`, if given, gets why other ways are
  /// not legal; of a thread that can be undone it gets nothing.
  [[nodiscard]] std::vector<Move> ways(const State& state, ContactId c, std::vector<Refusal>* refusals = nullptr);

  /// Every legal undo move of the state, each set of contacts and kind once, in order of contact. For exhaustive work.
  [[nodiscard]] std::vector<Move> all_moves(const State& state);

  [[nodiscard]] const model::Frame& frame() const;
  [[nodiscard]] const ContactList& list() const;
  [[nodiscard]] const BodyIndex& index() const;
  [[nodiscard]] Work work() const;
  /// For who remembers answers: counts so many questions as if they had been asked, so that what is remembered decides
  /// how long work takes and not where a budget ends it.
  void count_remembered(long long questions);

  struct Impl;

 private:
  /// As try_undo, without looking at what is struck out.
  [[nodiscard]] Attempt attempt(const State& state, ContactId c, std::size_t cap, const std::vector<char>* frozen);
  std::unique_ptr<Impl> impl_;
};

}  // namespace dryfit::planner
