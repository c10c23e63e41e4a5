#include "planner/subassembly.hpp"

#include <algorithm>
#include <numeric>
#include <utility>

namespace dryfit::planner {
namespace {

/// Which parts hang together after the steps so far. The room joins nothing here: two frames screwed to one floor are
/// two pieces of work.
class Pieces {
 public:
  explicit Pieces(std::size_t parts) : parent_(parts), members_(parts), begun_(parts, 0) {
    std::iota(parent_.begin(), parent_.end(), 0);
    for (std::size_t p = 0; p < parts; ++p) members_[p].push_back(static_cast<PartId>(p));
  }
  int find(PartId p) {
    while (parent_[at(p)] != p) p = parent_[at(p)] = parent_[at(parent_[at(p)])];
    return p;
  }
  [[nodiscard]] const std::vector<PartId>& members(PartId root) const { return members_[at(root)]; }
  /// Number of the first step in the piece, 0: none yet.
  [[nodiscard]] int begun(PartId root) const { return begun_[at(root)]; }
  void begin(PartId root, int step) {
    if (begun_[at(root)] == 0) begun_[at(root)] = step;
  }
  void join(PartId a, PartId b) {
    a = find(a);
    b = find(b);
    if (a == b) return;
    if (members_[at(a)].size() < members_[at(b)].size()) std::swap(a, b);
    members_[at(a)].insert(members_[at(a)].end(), members_[at(b)].begin(), members_[at(b)].end());
    members_[at(b)].clear();
    parent_[at(b)] = a;
    if (begun_[at(a)] == 0 || (begun_[at(b)] != 0 && begun_[at(b)] < begun_[at(a)])) begun_[at(a)] = begun_[at(b)];
  }

 private:
  static std::size_t at(PartId p) { return static_cast<std::size_t>(p); }
  std::vector<PartId> parent_;
  std::vector<std::vector<PartId>> members_;
  std::vector<int> begun_;
};

}  // namespace

std::string piece_name(int number) {
  std::string name;
  for (int n = number; n >= 0; n = n / 26 - 1) name.insert(name.begin(), static_cast<char>('A' + n % 26));
  return name;
}

Grouping subassemblies_of(const model::Frame& frame, const ContactList& list, const std::vector<Step>& steps) {
  Grouping result;
  result.of_step.assign(steps.size(), -1);
  Pieces pieces(frame.parts.size());
  for (std::size_t i = 0; i < steps.size(); ++i) {
    const Step& step = steps[i];
    std::vector<std::pair<PartId, PartId>> links;
    for (const ContactId k : step.contacts) {
      const Contact& c = list.contacts[static_cast<std::size_t>(k)];
      if (c.a != model::kRoom && c.b != model::kRoom) links.emplace_back(c.a, c.b);
    }
    for (const auto& [a, b] : links) {
      PartId one = pieces.find(a), other = pieces.find(b);
      if (one == other) continue;
      // `one` is what is brought: the side that moves; screws move nothing, so there the lighter side is brought.
      double mass[2] = {0.0, 0.0};
      for (const PartId p : pieces.members(one)) mass[0] += frame.parts[static_cast<std::size_t>(p)].mass;
      for (const PartId p : pieces.members(other)) mass[1] += frame.parts[static_cast<std::size_t>(p)].mass;
      const bool b_moves = step.action == Action::fasten ? mass[1] < mass[0]
                                                         : std::binary_search(step.moving.begin(), step.moving.end(), b);
      if (b_moves) std::swap(one, other);
      if (pieces.members(one).size() > 1 && pieces.members(other).size() > 1) {
        Subassembly piece;
        piece.name = piece_name(static_cast<int>(result.pieces.size()));
        piece.parts = pieces.members(one);
        std::sort(piece.parts.begin(), piece.parts.end());
        piece.first_step = pieces.begun(one);
        piece.joined_in = step.number;
        result.pieces.push_back(std::move(piece));
      }
      pieces.join(one, other);
    }
    for (const auto& [a, b] : links) pieces.begin(pieces.find(a), step.number);
  }
  // Innermost: the piece joined first among those that hold all parts of the step and are joined after it.
  for (std::size_t i = 0; i < steps.size(); ++i) {
    const Contact& c = list.contacts[static_cast<std::size_t>(steps[i].contacts.front())];
    const PartId part = c.a;
    for (std::size_t k = 0; k < result.pieces.size() && result.of_step[i] < 0; ++k) {
      const Subassembly& piece = result.pieces[k];
      if (piece.joined_in > steps[i].number && piece.first_step <= steps[i].number &&
          std::binary_search(piece.parts.begin(), piece.parts.end(), part)) {
        result.of_step[i] = static_cast<int>(k);
      }
    }
  }
  return result;
}

}  // namespace dryfit::planner
