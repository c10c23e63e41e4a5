#pragma once
/// Rings that hold what goes through them, found by walking every way round and looking where it is pierced: slowly,
/// and without the planner's code. Rings lie in one plane here, as hand-made ones do.
#include <set>
#include <vector>

#include "planner/moves/moves.hpp"

namespace dryfit::test {

/// A part that goes through a ring of the finished frame.
struct NaiveThreading {
  std::set<planner::ContactId> ring;
  int of_ring = 0;                    ///< a part of the ring
  int through = 0;                    ///< the part
  std::set<planner::ContactId> ends;  ///< its two contacts in a ring of its own, which may run through the room
};

class NaiveLinks {
 public:
  /// Every simple way round is walked: for frames of some twenty contacts.
  NaiveLinks(const model::Frame& frame, const planner::ContactList& list);

  [[nodiscard]] const std::vector<NaiveThreading>& threadings() const { return threadings_; }
  /// The ring is closed, the part made up at both ends, and nothing made joins the two.
  [[nodiscard]] bool holds(const NaiveThreading& threading, const std::vector<char>& made) const;
  /// The vertices and all that hangs together with what rings hold it with, the room among them where that does.
  [[nodiscard]] std::set<int> held_with(const std::vector<char>& made, const std::set<int>& vertices) const;
  /// What weighs against a move, seconds: moving a ring on what is in it, or making up an end in a closed ring, or
  /// closing a ring round what a joint or the room will hold in its place later.
  [[nodiscard]] double against(const std::vector<char>& made, const planner::Move& move) const;

 private:
  const planner::ContactList& list_;
  std::vector<NaiveThreading> threadings_;
  bool held_in_the_end_ = false;  ///< a ring holds something in the finished frame that nothing joins it with
};

}  // namespace dryfit::test
