#pragma once
/// Brute force by the plain text of the rules: every sequence of undo moves is tried, and each move is judged by
/// stepping the parts through it (see sampled_motion.hpp). Shares no code with the planner and does not scale; it
/// only has to be right on small frames.
///
/// Reading of the rules that the text leaves to sense:
/// - a solid lies on a line when it is a cylinder along it whose axis is within 0.3 mm of it;
/// - the hole contact of a pipe that was left out by a move is judged against its board alone: the pipe itself may
///   still strike anything else;
/// - a pipe that was unscrewed and only floats in a board may be drawn straight out of its port;
/// - for the float rule notches count as holes;
/// - straps, clips and boards are screwed on where the builder likes; only a flange's screws have their places.
#include <memory>
#include <set>
#include <string>
#include <vector>

#include "model/frame/frame.hpp"
#include "tests/support/oracle/oracle_move.hpp"

namespace dryfit::test {

struct OracleResult {
  bool buildable = false;
  std::set<std::string> knot;  ///< contacts that no sequence undoes; empty when buildable
  bool one_knot = true;        ///< false: two sequences got stuck in different places (the rules would be broken)
  bool exhaustive = true;      ///< false: too many states, a few dozen random sequences were played instead
  bool borderline = false;     ///< some judgment would change if a gap were about 1 mm other than it is
  long long states = 0;
  long long moves = 0;
};

/// Judges one frame. Keeps every geometric answer, since parts never leave the finished frame's place.
class Oracle {
 public:
  /// Throws std::length_error when the frame has more than kMostContacts contacts.
  explicit Oracle(const model::Frame& frame);
  ~Oracle();
  Oracle(const Oracle&) = delete;
  Oracle& operator=(const Oracle&) = delete;

  /// Ids of the contacts, in the order of the state's bits.
  [[nodiscard]] const std::vector<std::string>& ids() const;
  [[nodiscard]] State all() const;
  [[nodiscard]] State state_of(const std::set<std::string>& made) const;
  [[nodiscard]] std::set<std::string> names(const State& state) const;

  /// Every legal undo move at a state, each set of contacts once; moves that undo the same contacts are one.
  [[nodiscard]] std::vector<UndoMove> legal_undo_moves(const State& made);

  /// All sequences, states remembered. Above `most_states` states: random sequences.
  [[nodiscard]] OracleResult solve(long long most_states = 12000);

  /// True once any judgment so far was within about 1 mm of going the other way.
  [[nodiscard]] bool borderline() const;
  /// What the first borderline judgment was, for people.
  [[nodiscard]] const std::string& borderline_why() const;

 private:
  struct Impl;
  std::unique_ptr<Impl> impl_;
};

[[nodiscard]] OracleResult solve(const model::Frame& frame);

/// Pairs of parts without a contact between them that overlap by more than `depth` mm, and parts that stand in a
/// surface: a finished frame must have none.
[[nodiscard]] std::vector<std::string> overlaps(const model::Frame& frame, double depth = 1.0);

}  // namespace dryfit::test
