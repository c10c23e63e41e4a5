#pragma once
/// Peeling by what is free: takes off whatever comes off at no extra and without trouble in the pose that the work is
/// in, what a fitter does last first, until only moves are left that have to be weighed against each other.
#include <memory>
#include <set>
#include <string>
#include <unordered_map>
#include <utility>
#include <vector>

#include "planner/effort/handling.hpp"
#include "planner/effort/undo_choice.hpp"
#include "planner/moves/refusal_memory.hpp"

namespace dryfit::planner {

using SharedPriced = std::shared_ptr<const PricedMove>;  ///< never changed

class FreeMoves {
 public:
  class Memory;  ///< what was found out in states met before, of one search

  FreeMoves(Undoer& undoer, const Effort& effort, const Handling& handling, RefusalMemory& refused, Memory& memory,
            Pose pose)
      : undoer_(undoer), effort_(effort), handling_(handling), refused_(refused), memory_(memory), pose_(pose) {}

  /// Undoes every move that is free, one after the other, until the work falls into two pieces of two parts or more or
  /// nothing free is left, and returns them, first undone first. `state` is left with the rest: pieces are for the
  /// caller to take apart one after the other, so that each of them is made up in one go. A refused contact is asked
  /// again when something that its refusals rest on has gone. About O(contacts * (free moves at a time + cost of one
  /// attempt)). Where several are free, one is preferred after which the work stands.
  [[nodiscard]] std::vector<SharedPriced> peel(State& state, Place last);

 private:
  enum class Ease { dear, awkward, free };
  class Round;  ///< one peeling

  [[nodiscard]] bool is_strap(const Contact& c) const;
  [[nodiscard]] bool hangs_by(const State& state, PartId part, ContactId c) const;
  [[nodiscard]] bool board_goes_with_straps(const State& state, PartId board) const;
  [[nodiscard]] bool board_goes(const State& state, ContactId rest) const;
  /// No trouble in the pose, no prop that is needed whatever is done.
  [[nodiscard]] bool is_easy(const State& state, const Move& move) const;
  /// The rest of the work hangs together without the move's contacts, the room left out.
  [[nodiscard]] bool leaves_one_piece(const State& state, const Move& move) const;
  /// Free when the move takes off one bare part, a strap or a fixing to the room, at no extra that can be avoided;
  /// awkward when only the pose speaks against it.
  [[nodiscard]] Ease ease_of(const State& state, PricedMove& priced) const;
  [[nodiscard]] bool may_be_free(const State& state, ContactId c) const;
  /// Whether it goes or not: a thread's bare parts come off at an extra alone.
  [[nodiscard]] bool costs_extra(const State& state, ContactId c) const;
  /// All that holds the part but the contact is holes: any, or with `line` those on it alone.
  [[nodiscard]] bool is_bare(const State& state, PartId part, ContactId c, int line = model::kNone) const;
  /// What came of asking for one contact.
  struct Asked {
    Ease ease = Ease::dear;
    PricedMove priced;  ///< the way, when it is free
    bool legal = true;
    std::shared_ptr<const std::vector<ContactId>> watch;  ///< when not legal: it stays so while all of these are made
    long long questions = 0;                              ///< that the undoer was asked for it
  };
  using SharedAsked = std::shared_ptr<const Asked>;  ///< never changed
  [[nodiscard]] Asked ask(const State& state, ContactId c);
  [[nodiscard]] ContactId choose(const State& state, const std::vector<SharedAsked>& ready,
                                 const std::set<ContactId>& open, const Place& last,
                                 const std::vector<PartId>& just_moved) const;
  /// The contacts that went have left more than one piece of two parts or more.
  [[nodiscard]] bool fell_apart(const State& state, const std::vector<ContactId>& gone) const;
  [[nodiscard]] bool stands_without(const State& state, const Move& move) const;

  Undoer& undoer_;
  const Effort& effort_;
  const Handling& handling_;
  RefusalMemory& refused_;
  Memory& memory_;
  Pose pose_;
};

/// Ways to take work apart meet: most states that one comes by have been come by before. What is answered from here
/// counts as asked, so that a search ends at the same place whatever is remembered.
class FreeMoves::Memory {
 public:
  /// More answers than this are too much to keep for what they save; then all are forgotten.
  static constexpr std::size_t kMost = 60'000;

 private:
  friend class FreeMoves;
  friend class Round;
  using OfState = std::vector<std::pair<ContactId, SharedAsked>>;  ///< what was asked, by contact
  [[nodiscard]] OfState& of(const State& state, Pose pose);

  std::unordered_map<std::string, OfState> known_;  ///< by made contacts and pose
  std::size_t answers_ = 0;                         ///< at most
};

}  // namespace dryfit::planner
