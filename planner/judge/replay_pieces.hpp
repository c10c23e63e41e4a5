#pragma once
/// The pieces that a set of made contacts holds together, explored only as far as a question needs.
#include <vector>

#include "model/geometry/at.hpp"
#include "planner/judge/replay_scene.hpp"

namespace dryfit::planner::judge {

/// Which made contacts are left out of the graph.
struct Cut {
  ContactId contact = model::kNone;  ///< this one
  int line = model::kNone;           ///< holes and notches on this line
  model::Direction along{};          ///< when valid: holes and notches parallel to it
  model::Direction slots_along{};    ///< when valid: notches open along it, either way
  int vertex = model::kNone;         ///< everything that touches this vertex
};

/// Scratch memory for Pieces, reused from question to question so that none of them costs O(parts).
class Marks {
 public:
  explicit Marks(int vertices) : stamp_(dryfit::at(vertices), 0), group_(stamp_.size(), 0) {}

 private:
  friend class Pieces;
  std::vector<unsigned> stamp_;
  std::vector<int> group_;
  unsigned now_ = 0;
};

/// The graph of made contacts less a cut. Two pieces are explored by turns, so telling that two vertices hang apart
/// costs about the smaller of their pieces. Only one Pieces may use a Marks at a time.
class Pieces {
 public:
  Pieces(const Scene& scene, const Made& made, const Cut& cut, Marks& marks);

  /// True when u and v hang together.
  [[nodiscard]] bool same(int u, int v);
  /// True when all of v's piece is known already.
  [[nodiscard]] bool known(int v);
  /// All vertices of v's piece, ascending. O(piece).
  [[nodiscard]] std::vector<int> members(int v);
  /// True when the contact is in the graph.
  [[nodiscard]] bool holds(ContactId id) const;
  /// A shortest way from u to v as contacts; empty when there is none. O(parts).
  [[nodiscard]] std::vector<ContactId> way(int u, int v) const;

 private:
  struct Group {
    int joined_to = 0;  ///< another group, or itself
    std::vector<int> members;
    std::vector<int> frontier;  ///< members whose contacts are not looked at yet
    std::vector<int> hubs;      ///< likewise, but with many contacts (the room, a bench top): looked at last
    [[nodiscard]] bool explored() const { return frontier.empty() && hubs.empty(); }
  };
  int find(int group);
  int group_of(int vertex);  ///< starts a group when the vertex has none
  void reach(Group& group, int vertex);
  void explore_one(int group);
  void join(int a, int b);
  [[nodiscard]] Group& at(int group) { return groups_[dryfit::at(group)]; }
  [[nodiscard]] int other_end(ContactId id, int vertex) const;

  const Scene* scene_;
  const Made* made_;
  Cut cut_;
  Marks* marks_;
  std::vector<Group> groups_;
};

}  // namespace dryfit::planner::judge
