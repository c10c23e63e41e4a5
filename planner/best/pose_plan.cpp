#include "planner/best/pose_plan.hpp"

#include <algorithm>
#include <array>
#include <map>
#include <utility>

#include "model/geometry/at.hpp"

namespace dryfit::planner {
namespace {

constexpr double kEqualPoses = 1e-9;

/// A move among those that the pieces of work go through.
struct Node {
  PieceInHand piece;                ///< as it is when the move has been made
  std::vector<std::size_t> before;  ///< the last moves on the pieces that meet in it
  double turn = 0.0;
  double on_loose = 0.0;               ///< what weighs against the move then, in any pose
  std::array<bool, kPoses> propped{};  ///< in that pose
  std::array<double, kPoses> made{};   ///< everything up to the move, the move in that pose
};

class Tree {
 public:
  Tree(const Handling& handling, State state, const std::vector<const Move*>& moves, std::optional<Pose> end)
      : handling_(handling), moves_(moves), end_(end), nodes_(moves.size()) {
    link(std::move(state));
    for (std::size_t i = nodes_.size(); i-- > 0;) weigh(i);
  }

  PosePlan plan() {
    PosePlan plan;
    plan.of_move.assign(nodes_.size(), Pose::laid);
    plan.propped.assign(nodes_.size(), 0);
    plan.awkward.assign(nodes_.size(), 0.0);
    for (const std::size_t root : roots_) {
      plan.of_move[root] = end_ ? best_before(root, *end_) : best_of_any(root);
    }
    // A parent has been settled before its children, which have greater numbers.
    for (std::size_t i = 0; i < nodes_.size(); ++i) {
      const Pose pose = plan.of_move[i];
      for (const std::size_t k : nodes_[i].before) plan.of_move[k] = best_before(k, pose);
    }
    for (std::size_t i = nodes_.size(); i-- > 0;) finish(plan, i);
    return plan;
  }

 private:
  /// Which move comes before which on a piece.
  void link(State state) {
    const ContactList& list = state.list();
    std::map<int, int> open;  // per cluster: the move that left it
    for (std::size_t i = 0; i < moves_.size(); ++i) {
      const Move& move = *moves_[i];
      Node& node = nodes_[i];
      node.piece = handling_.piece_of(state, move);
      const bool stays = handling_.keeps_its_pose(state, node.piece);
      node.turn = stays ? kNever : handling_.turn(node.piece);
      node.on_loose = handling_.on_what_is_loose(state, move) + handling_.against_links(state, move);
      const int cluster = state.cluster(node.piece.parts.front());
      const auto from = open.find(cluster);
      parent_.push_back(from == open.end() ? -1 : from->second);
      if (from == open.end()) {
        roots_.push_back(i);
      } else {
        nodes_[at(from->second)].before.push_back(i);
        open.erase(from);
      }
      std::vector<int> vertices(node.piece.parts.begin(), node.piece.parts.end());
      if (node.piece.fastened) {  // all that is screwed to the room is one cluster
        for (int v = 0; v <= list.room(); ++v) {
          if (state.holds_room(v)) vertices.push_back(v);
        }
      }
      state.undo(move.contacts);
      for (const int v : vertices) open[state.cluster(v)] = static_cast<int>(i);
    }
  }

  void weigh(std::size_t i) {
    Node& node = nodes_[i];
    for (std::size_t q = 0; q < kPoses; ++q) {
      const Pose pose = kAllPoses[q];
      node.propped[q] = handling_.propped(node.piece, pose);
      node.made[q] = node.piece.fastened && pose != Pose::standing
                         ? kNever
                         : handling_.trouble(node.piece, *moves_[i], pose) +
                               handling_.unwanted(node.piece, *moves_[i], pose) + node.on_loose +
                               handling_.without_headroom(node.piece, *moves_[i], pose) +
                               (node.propped[q] ? handling_.prop() : 0.0);
      for (const std::size_t k : node.before) node.made[q] += cost_before(k, best_before(k, pose), pose);
    }
  }

  [[nodiscard]] double node_cost(std::size_t i, Pose pose) const { return nodes_[i].made[at(pose)]; }
  /// The move in one pose and then the piece in another.
  [[nodiscard]] double cost_before(std::size_t i, Pose pose, Pose then) const {
    return node_cost(i, pose) + (pose == then ? 0.0 : nodes_[i].turn);
  }
  /// In which pose the move is made when the piece is to be in `then` afterwards. Work with open unions is not turned
  /// where their nuts can as well be tightened first.
  [[nodiscard]] Pose best_before(std::size_t i, Pose then) const {
    Pose best = then;
    const bool nut = moves_[i]->kind == MoveKind::undo_nut;
    for (const Pose pose : kAllPoses) {
      const double now = cost_before(i, pose, then), known = cost_before(i, best, then);
      const bool as_good = nut && best == then && now < kNever && now < known + kEqualPoses;
      if (now < known - kEqualPoses || as_good) best = pose;
    }
    return best;
  }
  /// In which pose the last move is made where any will do: on the bench, if nothing speaks for another.
  [[nodiscard]] Pose best_of_any(std::size_t i) const {
    Pose best = nodes_[i].piece.fastened ? Pose::standing : Pose::laid;
    for (const Pose pose : kAllPoses) {
      if (node_cost(i, pose) < node_cost(i, best) - kEqualPoses) best = pose;
    }
    return best;
  }

  /// What the pose of move i costs, and the turn after it.
  void finish(PosePlan& plan, std::size_t i) const {
    const Node& node = nodes_[i];
    const Pose pose = plan.of_move[i];
    plan.propped[i] = static_cast<char>(node.propped[at(pose)]);
    plan.awkward[i] = handling_.trouble(node.piece, *moves_[i], pose);
    plan.handling += plan.awkward[i] + (plan.propped[i] != 0 ? handling_.prop() : 0.0);
    plan.unwanted += handling_.unwanted(node.piece, *moves_[i], pose) + node.on_loose +
                     handling_.without_headroom(node.piece, *moves_[i], pose);
    PoseChange change;
    change.after = i;
    change.before = parent_[i];
    change.from = change.to = pose;
    if (change.before < 0) {
      if (end_) change.to = *end_;
    } else {
      change.to = plan.of_move[at(change.before)];
    }
    if (change.from == change.to) return;
    plan.handling += node.turn;
    change.piece = node.piece;
    plan.changes.push_back(std::move(change));
  }

  const Handling& handling_;
  const std::vector<const Move*>& moves_;
  std::optional<Pose> end_;
  std::vector<Node> nodes_;
  std::vector<int> parent_;
  std::vector<std::size_t> roots_;
};

}  // namespace

PosePlan plan_poses(const Handling& handling, State state, const std::vector<const Move*>& undo_moves,
                    std::optional<Pose> end) {
  return Tree(handling, std::move(state), undo_moves, end).plan();
}

PosePlan plan_poses(const Handling& handling, const ContactList& list, const std::vector<Move>& undo_moves) {
  std::vector<const Move*> moves;
  moves.reserve(undo_moves.size());
  for (const Move& move : undo_moves) moves.push_back(&move);
  return plan_poses(handling, State(list), moves,
                    handling.ends_standing() ? std::optional(Pose::standing) : std::nullopt);
}

}  // namespace dryfit::planner
