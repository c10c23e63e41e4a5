#pragma once
/// The undo moves of a state, by the plain text of the rules. Pieces are found by walking the graph afresh for every
/// question: nothing is kept from state to state but the geometry.
#include <set>
#include <string>
#include <vector>

#include "tests/support/oracle/oracle_judge.hpp"
#include "tests/support/oracle/oracle_move.hpp"

namespace dryfit::test {

class Rules {
 public:
  explicit Rules(const Frame& frame);

  [[nodiscard]] const std::vector<std::string>& ids() const { return ids_; }
  [[nodiscard]] State all() const;
  [[nodiscard]] std::set<std::string> names(const State& state) const;
  [[nodiscard]] std::vector<UndoMove> legal_undo_moves(const State& made);
  /// The first judgment that was in doubt; empty when none was.
  [[nodiscard]] const std::string& doubt() const { return doubt_; }

 private:
  enum class Kind { thread, hole, notch, rest, fastening, nut };
  /// One contact: an edge of the graph. Vertices are parts, then the room.
  struct Link {
    Kind kind = Kind::thread;
    std::size_t a = 0,
                b = 0;  ///< thread: male, female; hole, notch, rest: board, pipe or carrier; fastening: what, to what
    const Hole* hole = nullptr;
    const model::Joint* joint = nullptr;
    const model::Fastening* fastening = nullptr;
  };
  /// Piece number of every vertex.
  using Pieces = std::vector<int>;
  using Moves = std::vector<UndoMove>;

  void add(Kind kind, std::size_t a, std::size_t b, std::string id);
  [[nodiscard]] std::size_t vertex(PartId part) const;
  [[nodiscard]] std::size_t room() const { return frame_.parts.size(); }
  [[nodiscard]] Pieces pieces(const State& made) const;
  [[nodiscard]] std::vector<PartId> parts_in(const Pieces& pieces, const std::set<int>& which) const;
  [[nodiscard]] State holes_along(Direction d) const;
  [[nodiscard]] State holes_on(const TurnAxis& axis) const;
  [[nodiscard]] State links_of(const State& made, std::size_t vertex) const;
  [[nodiscard]] bool is_hole(std::size_t link) const;

  void nuts_and_fastenings(const State& made, Moves& moves);
  void unscrews(const State& made, Moves& moves);
  void slides(const State& made, Moves& moves);
  /// Farthest point along d of a hole's pipe and of what goes on from it: fittings and pipes made up in line, as far as
  /// the hole lets them by.
  [[nodiscard]] double end_of_line(const State& made, std::size_t hole_link, Direction d) const;
  /// Pieces besides k and those of r, in k's cluster, with a board on the pipe that the board of one of `gone` leaves.
  [[nodiscard]] std::set<int> hanging(const State& made, const Pieces& g, int k, const std::set<int>& r, Direction d,
                                      const State& gone) const;
  /// The first link with a hole along d on the same line.
  [[nodiscard]] int line_of(std::size_t hole_link, Direction d) const;
  [[nodiscard]] std::size_t first_of(const State& state) const;
  /// Pieces `one` and `other` of g hang together without k.
  [[nodiscard]] bool hang_together(const State& made, const Pieces& g, int k, int one, int other) const;
  /// The piece k of g going along d out of the links `gone`.
  void slide_out_of(const State& made, const Pieces& g, int k, Direction d, const State& gone, Moves& moves);
  void board_moves(const State& made, Moves& moves);
  void sideways(const State& made, Moves& moves);
  /// The pipe of one of these slots has too little play in it to come out.
  [[nodiscard]] bool tight_slot(const State& slots) const;
  /// What goes along when the vertex is moved along d: a slot lets go only where the pipe comes out of its open side.
  [[nodiscard]] std::set<std::size_t> pushed(const State& made, std::size_t vertex, Direction d) const;
  [[nodiscard]] bool slips(std::size_t link, std::size_t vertex, Direction d) const;
  void turned_aside(const State& made, std::size_t board, Moves& moves);
  void swings(const State& made, std::size_t board, Moves& moves);
  void take_away(const State& made, std::size_t board, Moves& moves);

  struct Screws;
  [[nodiscard]] Verdict driver_blocked(const State& made, std::size_t link);
  [[nodiscard]] Verdict pushed_aside(const Screws& screws, std::size_t part);
  /// The same for a board that goes so far along the screws.
  [[nodiscard]] Verdict pushed_by(const Screws& screws, std::size_t part, double length);
  [[nodiscard]] bool only_in_holes(const Screws& screws, std::size_t part) const;
  [[nodiscard]] bool legal_unscrew(const State& made, std::size_t link, bool pipe_side, UndoMove& move);
  [[nodiscard]] Verdict taken_round(const Pieces& g, std::size_t seat, const std::vector<PartId>& turning,
                                    const std::vector<PartId>& standing, const TurnAxis& axis, Vec3 shift);
  [[nodiscard]] Verdict floats(const State& made, std::size_t link, bool pipe_side, const std::vector<PartId>& turning,
                               const TurnAxis& axis, Direction v);
  [[nodiscard]] double shortest_way(const Pieces& load, std::size_t board, std::size_t link, Direction d,
                                    const std::set<int>& ends, const std::set<int>& others, bool surfaces);
  [[nodiscard]] double loose_way(const Pieces& load, std::size_t link, const TurnAxis& axis, Direction v,
                                 const std::set<int>& loose, int first, const std::set<int>& last);
  /// Pieces that the links left out join to a part, with the room's where the cluster holds it.
  [[nodiscard]] std::set<int> about(const State& made, const Pieces& g, std::size_t vertex) const;
  /// Does the vertex hang together with the room in the state that is being looked at?
  [[nodiscard]] bool with_room(std::size_t vertex) const;
  /// True when clear; a judgment in doubt is kept for doubt().
  bool settled(Verdict verdict, const std::string& what);

  const Frame& frame_;
  Judge judge_;
  std::vector<Link> links_;
  std::vector<std::string> ids_;
  std::vector<std::vector<std::size_t>> at_;
  Pieces cluster_;  ///< clusters of the state that is being looked at
  std::map<std::tuple<std::size_t, int, std::size_t>, Verdict> over_;  ///< by flange's link, position and part
  std::vector<signed char> turns_;  ///< verdict by joint, side, part and other part; -1 not asked yet
  std::string doubt_;
};

}  // namespace dryfit::test
