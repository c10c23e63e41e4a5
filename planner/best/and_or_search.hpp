#pragma once
/// The search behind find_best_order; see best_order.hpp for what it rests on.
#include <array>
#include <functional>
#include <limits>
#include <memory>
#include <optional>
#include <string>
#include <unordered_map>
#include <vector>

#include "planner/best/best_answer.hpp"
#include "planner/best/free_moves.hpp"
#include "planner/best/symmetry.hpp"
#include "planner/effort/effort_bound.hpp"
#include "planner/effort/undo_choice.hpp"
#include "planner/moves/refusal_memory.hpp"

namespace dryfit::planner {

/// One undo move of an answer.
struct Done {
  SharedPriced priced;
  StepChoice choice;
};

/// A piece of work, or several, taken apart; costs beyond the base.
struct TakenApart {
  double lower = 0.0;                                      ///< no way costs less
  double upper = std::numeric_limits<double>::infinity();  ///< what `moves` cost; infinite: no way was looked for
  std::vector<std::shared_ptr<const Done>> moves;          ///< first undone first; shared between pieces
};

/// Branch and bound over pieces of work (AND) and their next moves or poses (OR): the AND/OR graph of assembly plans
/// (Homem de Mello and Sanderson, IEEE Transactions on Robotics and Automation 6, 1990). Every answer is asked for
/// below a limit: what is known to cost as much is not looked at any further. Holds references.
class AndOrSearch {
 public:
  AndOrSearch(Undoer& undoer, const Effort& effort, const Handling& handling, const BestOptions& options);

  /// The whole frame, which must come apart, with the props left out that depend on the shape of the work.
  TakenApart without_props();
  /// The whole frame with all props, if that costs less than `limit`.
  TakenApart with_props(double limit);

  /// True once the foreman has ended the search.
  bool stopped();

  long long states = 0;
  long long cache_hits = 0;

 private:
  /// Which props count: those that are needed whatever is done, or all, the ones too that depend on the shape of the
  /// work.
  enum class Props { needed_always, all };
  /// How a piece of work is met.
  struct Met {
    Pose pose = Pose::standing;
    bool any_pose = false;        ///< whatever is best; `pose` says nothing
    bool may_change_pose = true;  ///< false: it has just been turned
    Props props = Props::needed_always;
  };
  /// What came of asking for a contact in a state.
  struct Asked {
    ContactId contact = model::kNone;
    std::vector<SharedPriced> ways;  ///< whatever the pose
    SharedRefusals refusals;         ///< when there is no way
    long long questions = 0;         ///< that the undoer was asked for it
  };
  /// Another pose, or an undo move.
  struct Option {
    bool new_pose = false;
    Pose to = Pose::standing;
    SharedPriced way;                                                        ///< null for a pose
    enum class Bounded : char { no, cheaply, fully } bounded = Bounded::no;  ///< `lower` is, by what is left
    double total = 0.0;  ///< of the move or the change of pose alone
    [[nodiscard]] const Move& move() const { return way->move; }
    double lower = 0.0;  ///< with everything after it
  };
  /// While options are sorted.
  struct Ranked {
    Option option;
    double rate = 0.0;  ///< total per part that moves: what is tried first should take much off for its cost
    UndoKey key;
  };
  /// A piece in a pose without moves that are free.
  struct Node {
    bool known = false;    ///< the options are
    bool bounded = false;  ///< by its threads too
    TakenApart best;
    int chosen = -1;                 ///< option that `best` begins with, -1: it was found otherwise
    std::optional<double> way_cost;  ///< with all props, of `way`, the last that was found without them
    std::vector<std::shared_ptr<const Done>> way;
    std::vector<Option> options;
  };
  /// What is left after all free moves.
  struct Peeled {
    bool dead = false;        ///< there is no way on
    bool fell_apart = false;  ///< its pieces may have free moves left: each is taken apart in one go
    std::vector<std::shared_ptr<const Done>> moves;
    double cost = 0.0;  ///< of these, whenever they are made
    std::vector<std::vector<char>> clusters;
    Met met;
    Place last;
  };
  /// A cluster to take apart.
  struct Task {
    std::vector<char> made;
    Met met;
  };

  bool spent();
  [[nodiscard]] static std::string key_of_state(const std::vector<char>& made, const Met& met);
  /// What is known of the image of a piece under a symmetry of the frame holds for the piece.
  void learn_from_images(Node& node, const std::unordered_map<std::string, Node>& nodes, const std::vector<char>& made,
                         const Met& met) const;
  [[nodiscard]] std::vector<std::vector<char>> clusters_of(const State& state) const;
  [[nodiscard]] std::vector<Task> whole_frame(Props props) const;
  [[nodiscard]] std::vector<Task> left_by(const State& state, const PricedMove& priced, const Met& met) const;
  [[nodiscard]] bool is_fastened(const std::vector<char>& made) const;
  [[nodiscard]] std::optional<PieceInHand> loose_whole(const State& state) const;
  [[nodiscard]] double in_pose(const State& state, const Move& move, const Met& met,
                               const std::optional<PieceInHand>& whole) const;
  const std::vector<SharedPriced>& ways_of(const State& state, ContactId c, std::vector<Asked>& asked);
  std::vector<Option> options_of(const State& state, const Met& met, const Place& last);
  void add_poses(const State& state, const Met& met);
  TakenApart as_it_comes(const std::vector<char>& made);

  TakenApart sum_of(const std::vector<const std::vector<char>*>& pieces, double limit,
                    const std::function<TakenApart(std::size_t, double)>& ask);
  TakenApart all(const std::vector<Task>& tasks, const Place& last, double limit);
  TakenApart one(const Task& task, const Place& last, double limit);
  TakenApart apart(const Task& task, const Place& last, double limit);
  TakenApart stuck(const std::vector<char>& made, const Met& met, const Place& last, double limit);
  TakenApart counted(const Task& task, const Place& last, double limit);
  void bound(Option& option, const std::vector<char>& made, bool threads);
  void weigh(Node& node, const std::vector<char>& made, const Met& met, const Place& last, double limit);
  static void tell_choice(Node& node);
  [[nodiscard]] double true_cost(const Task& task, const TakenApart& way) const;

  Undoer& undoer_;
  const model::Frame& frame_;
  const ContactList& list_;
  const Effort& effort_;
  const Handling& handling_;
  const BestOptions& options_;
  std::vector<ContactMap> symmetries_;
  RefusalMemory refused_;
  FreeMoves::Memory free_;
  /// By made contacts, each by contact: a piece is met in several poses. What is remembered counts as asked.
  std::unordered_map<std::string, std::vector<Asked>> asked_;
  std::size_t answers_ = 0;                        ///< in asked_, at most
  std::vector<Ranked> ranked_;                     ///< kept from call to call
  std::vector<std::array<long long, 3>> corners_;  ///< per contact: least corner of its part, tenths of mm
  EffortBound bound_;
  bool stopped_ = false;
  std::unordered_map<std::string, Peeled> peeled_;  ///< by made contacts and pose, as met
  std::unordered_map<std::string, Node> nodes_;     ///< the same of one cluster without free moves
  std::unordered_map<std::string, Node> counted_;   ///< of one cluster, all props counted
};

}  // namespace dryfit::planner
