#pragma once
/// What is made at a moment of the build, and what hangs together through it.
#include <array>
#include <functional>
#include <vector>

#include "model/geometry/at.hpp"
#include "planner/state/contacts.hpp"

namespace dryfit::planner {

/// Which made contacts count while pieces are looked for: all but one, and all but the holes and notches on one line
/// or along one direction.
struct Without {
  ContactId contact = model::kNone;     ///< this one is left out
  int holes_on_line = model::kNone;     ///< holes and notches on this line are left out
  model::Direction holes_along;         ///< holes and notches parallel to this are left out
  PartId rests_of = model::kNone;       ///< rests of this board on its carriers are left out
  PartId everything_of = model::kNone;  ///< every contact of this part is left out
};

/// The set of made contacts, with the clusters that they connect. Cost of undo: the smaller side of each split.
class State {
 public:
  /// All contacts made.
  explicit State(const ContactList& list);
  /// Those made for which `made` is not zero.
  State(const ContactList& list, const std::vector<char>& made);

  [[nodiscard]] bool made(ContactId c) const { return made_[at(c)] != 0; }
  [[nodiscard]] const std::vector<char>& all() const { return made_; }
  [[nodiscard]] int count() const { return count_; }
  /// Equal numbers: the same cluster. Vertices as in ContactList.
  [[nodiscard]] int cluster(int vertex) const { return cluster_[at(vertex)]; }
  [[nodiscard]] bool holds_room(int vertex) const { return cluster(vertex) == cluster(list_->room()); }
  [[nodiscard]] const ContactList& list() const { return *list_; }

  /// Takes made contacts away and splits clusters.
  void undo(const std::vector<ContactId>& contacts);

  /// True when contact c is made and counts under `without`.
  [[nodiscard]] bool counts(ContactId c, const Without& without) const;

 private:
  const ContactList* list_;
  std::vector<char> made_;
  std::vector<int> cluster_;
  int clusters_ = 0;
  int count_ = 0;
};

/// Breadth-first search over made contacts, with reusable marks. Not for use by two threads at once.
class Explorer {
 public:
  explicit Explorer(const ContactList& list);

  /// Everything connected with `start`, in order of discovery. Stops with an empty result once more than `cap` found.
  [[nodiscard]] std::vector<int> piece(const State& state, int start, const Without& without, std::size_t cap);

  struct Split {
    bool joined = false;           ///< the two are one piece
    std::vector<ContactId> path;   ///< joined: contacts of one way between them
    std::vector<int> small;        ///< not joined: all vertices of the side that was found whole first
    bool small_has_first = false;  ///< `small` contains the first vertex, else the second
    bool capped = false;           ///< neither side was found whole within the cap
  };
  /// Grows both sides in step until one is whole or they meet. O(smaller side).
  [[nodiscard]] Split split(const State& state, int first, int second, const Without& without, std::size_t cap);

  /// Shows `visit` what is connected with `start`, in order of discovery, until it says that this is enough. True when
  /// it did. O(what was visited).
  bool walk(const State& state, int start, const Without& without, const std::function<bool(int)>& visit) {
    return path(state, start, without, visit, nullptr);
  }

  /// A way from `start` to any vertex for which `goal` holds; false when there is none.
  bool path(const State& state, int start, const Without& without, const std::function<bool(int)>& goal,
            std::vector<ContactId>* contacts);

  long long visited = 0;  ///< work counter

 private:
  /// The contact counts under `without`; `parts_left_out`: that leaves out contacts of some part.
  [[nodiscard]] static bool counts(const State& state, const ContactList::Link& link, const Without& without,
                                   bool parts_left_out) {
    if (!state.made(link.contact) || link.contact == without.contact) return false;
    return (!link.hole_like && !parts_left_out) || state.counts(link.contact, without);
  }

  /// The contacts by which `from` was come to, appended, the last first.
  void walk_back(int from, std::vector<ContactId>& contacts) const;

  struct Seen {
    long long mark = 0;           ///< stamp of the walk that came by last; of a split's second side one more
    ContactId by = model::kNone;  ///< the contact by which it came, and the vertex before
    int from = model::kNone;
  };
  const ContactList* list_;
  std::vector<Seen> seen_;                ///< per vertex
  std::array<std::vector<int>, 2> open_;  ///< room for all vertices: this is asked more often than anything else
  long long stamp_ = 0;
};

}  // namespace dryfit::planner
