#pragma once
/// A change of design: what has to come off a (half-)built frame, and the steps on to the new one.
#include <memory>
#include <string>
#include <vector>

#include "planner/base/foreman.hpp"
#include "planner/change/match.hpp"
#include "planner/moves/moves.hpp"
#include "planner/order/order.hpp"

namespace dryfit::planner {

/// A number known exactly or between bounds. `at_least == at_most` when proven.
struct Bounded {
  double at_least = 0.0;
  double at_most = 0.0;
  [[nodiscard]] bool proven() const { return at_least == at_most; }
};

struct ChangePlan {
  enum class Verdict { free, teardown, locked, undecided };
  Verdict verdict = Verdict::free;
  std::vector<Move> undo;         ///< in the old frame, first undone first
  std::vector<Step> then;         ///< in the new frame, in build order, contacts of the new list
  std::vector<ContactId> kept;    ///< old contacts that stay made, ascending
  std::vector<ContactId> remake;  ///< old contacts that come off though both designs have them, ascending
  Bounded price;                  ///< of the undo moves
  std::vector<ContactId> knot;    ///< locked: contacts of the new design that no order can make
  long long states = 0;           ///< searched
};

/// What the undo moves of a change are counted in: moves, or seconds of easy work (undo_cost.hpp).
enum class ChangePrice { moves, effort };

/// Prices one change from any built state, in moves or in effort with `people` hands at work. Keeps scratch memory and
/// references to all it is given.
class Changer {
 public:
  Changer(const model::Frame& old_frame, const ContactList& old_list, const model::Frame& new_frame,
          const ContactList& new_list, const Matching& matching, ChangePrice by = ChangePrice::moves, int people = 2);
  ~Changer();
  Changer(const Changer&) = delete;
  Changer& operator=(const Changer&) = delete;

  /// The cheapest undo moves from `built` (per old contact: made or not; a state that undo moves reach from the
  /// finished old frame) to a set of contacts that both designs have and that the new frame can be completed from,
  /// and the steps on. Exact, in moves by fewest.hpp, in effort by A* over undo sequences. When `budget` states were
  /// searched in vain, or the foreman, told of the work, ended it, the price is bounded ("at least, at most") and the
  /// plan is the best one known. When the new design is locked: verdict locked. Throws std::invalid_argument when
  /// `built` does not come apart as far as it has to: nobody can have built it.
  [[nodiscard]] ChangePlan plan(const std::vector<char>& built, long long budget = 20000, Foreman* foreman = nullptr);
  /// Verdict, moves and price of that alone, the moves in any legal order: for many states one after the other.
  [[nodiscard]] ChangePlan price(const std::vector<char>& built, long long budget = 20000, Foreman* foreman = nullptr);

 private:
  struct Inside;
  std::unique_ptr<Inside> inside_;
};

/// One point of the price curve.
struct PriceAt {
  int built = 0;  ///< first steps of the order that are done
  Bounded price;  ///< as the changer counts
  int moves = 0;  ///< undo moves of the best plan known
};
/// The price after 0, 1, ... all steps of an order of the old frame. The foreman is told of steps; when he ends the
/// work the prices that are left are bounds found without a search.
[[nodiscard]] std::vector<PriceAt> price_by_step(Changer& changer, const ContactList& old_list,
                                                 const std::vector<std::vector<ContactId>>& steps,
                                                 long long budget_each, Foreman* foreman = nullptr);

}  // namespace dryfit::planner
