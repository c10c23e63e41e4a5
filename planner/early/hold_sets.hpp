#pragma once
/// Holds as sets of what breaks them, for counting moves from below.
#include <map>
#include <set>
#include <vector>

#include "planner/base/disjoint_sets.hpp"
#include "planner/early/hitting_set.hpp"
#include "planner/early/hold.hpp"
#include "planner/early/shared_slides.hpp"

namespace dryfit::planner {

/// A hold is broken with *elements*, each of which takes a move of its own: a thread, nut or fastening is one; all
/// hole-like contacts and rests of one board, or of boards that may leave in one move, are one together.
class HoldSets {
 public:
  /// For ways that start in `from`. `free`, per contact: moves of these alone cost nothing; no hold has one of them.
  HoldSets(Undoer& undoer, const State& from, const std::vector<char>& free);

  /// Takes a hold in. False when the smallest sets are the same as without it: it was there already, or it counts only
  /// once a contact is gone that no element tells from others (it still counts in at_least(state)).
  bool add(const Hold& hold);
  [[nodiscard]] const std::vector<Hold>& all() const { return holds_; }

  /// From now on boards that may leave in one move are one element where a way with such a move can cost less than
  /// `below`: that move is one, and those before it must leave one fewer at least.
  void let_share(int below);

  /// The fewest elements that break all holds; after `nodes` of work the best that is known.
  [[nodiscard]] HittingSet smallest(long long nodes);
  /// No way on from the state to one without holds takes fewer moves that cost.
  [[nodiscard]] int at_least(const State& state, long long nodes);
  /// Work that at_least() has been so far: of every call the square of the sets that it looked at, unless they were few.
  [[nodiscard]] long long bound_work() const { return bound_work_; }
  /// The contact is part of one of the elements.
  [[nodiscard]] bool picked(ContactId c, const std::set<int>& elements);

 private:
  /// Its board, if it has one, has been brought in.
  [[nodiscard]] int element_of(ContactId c) const;
  void bring_in(int board);
  [[nodiscard]] bool may_share(int board, int other);
  [[nodiscard]] bool tells(ContactId once_gone) const;
  void work_out();
  /// Contacts that have to go and that one move takes only after others: a further move of their element, or one of
  /// those. `state`: only what holds there; null: where the ways start.
  void add_further_slides(const State* state, std::vector<std::vector<int>>& sets);
  /// The same for contacts of one element: sets, each with the number of its further move last.
  [[nodiscard]] const std::vector<std::vector<int>>& further_slides(int element, const std::vector<ContactId>& of);

  Undoer& undoer_;
  const std::vector<char>& free_;
  SharedSlides shared_;
  std::vector<Hold> holds_;
  std::set<Hold> known_;
  std::vector<std::vector<int>> elements_;                                   ///< of the holds, as far as worked out
  std::vector<int> boards_;                                                  ///< that some hold has a contact of
  std::vector<char> brought_in_;                                             ///< per board
  DisjointSets groups_;                                                      ///< of boards that count as one element
  std::map<std::vector<ContactId>, std::vector<std::vector<int>>> further_;  ///< as far as asked for
  long long bound_work_ = 0;
  int share_below_ = 0;  ///< 0: every board is an element of its own
};

}  // namespace dryfit::planner
