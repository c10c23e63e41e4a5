#include "planner/order/subassembly.hpp"

#include <algorithm>
#include <utility>

#include "model/geometry/at.hpp"
#include "planner/base/disjoint_sets.hpp"

namespace dryfit::planner {
namespace {

/// Which parts hang together after the steps so far. The room joins nothing here: two frames screwed to one floor are
/// two pieces of work.
class Pieces {
 public:
  explicit Pieces(std::size_t parts) : sets_(parts), members_(parts), begun_(parts, 0) {
    for (std::size_t p = 0; p < parts; ++p) members_[p].push_back(static_cast<PartId>(p));
  }
  /// The part that stands for the piece.
  [[nodiscard]] PartId find(PartId p) const { return sets_.find(p); }
  [[nodiscard]] const std::vector<PartId>& members(PartId piece) const { return members_[at(piece)]; }
  /// Number of the first step in the piece, 0: none yet.
  [[nodiscard]] int begun(PartId piece) const { return begun_[at(piece)]; }
  void begin(PartId piece, int step) {
    if (begun_[at(piece)] == 0) begun_[at(piece)] = step;
  }
  void join(PartId a, PartId b) {
    const auto joined = sets_.join(a, b);
    if (!joined) return;
    const std::size_t kept = at(joined->kept), gone = at(joined->gone);
    members_[kept].insert(members_[kept].end(), members_[gone].begin(), members_[gone].end());
    members_[gone].clear();
    if (begun_[kept] == 0 || (begun_[gone] != 0 && begun_[gone] < begun_[kept])) begun_[kept] = begun_[gone];
  }

 private:
  DisjointSets sets_;
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
      const Contact& c = list.contact(k);
      if (c.a != model::kRoom && c.b != model::kRoom) links.emplace_back(c.a, c.b);
    }
    // The pieces that meet, the brought ones first. Screws and nuts move nothing: there the lightest is brought.
    std::vector<PartId> meeting;
    for (const auto& [a, b] : links) {
      for (const PartId p : {a, b}) {
        const PartId root = pieces.find(p);
        if (std::find(meeting.begin(), meeting.end(), root) == meeting.end()) meeting.push_back(root);
      }
    }
    const auto mass = [&](PartId root) {
      double sum = 0.0;
      for (const PartId p : pieces.members(root)) sum += frame.part(p).mass;
      return sum;
    };
    const auto moves = [&](PartId root) {
      if (step.action == Action::fasten) return false;
      return std::any_of(step.moving.begin(), step.moving.end(), [&](PartId p) { return pieces.find(p) == root; });
    };
    std::vector<PartId> made_up;
    for (const PartId root : meeting) {
      if (pieces.members(root).size() > 1) made_up.push_back(root);
    }
    if (made_up.size() > 1) {
      // All but one are named: the one that stays is held and the heaviest of those.
      const auto stays = std::max_element(made_up.begin(), made_up.end(), [&](PartId a, PartId b) {
        if (moves(a) != moves(b)) return moves(a);
        return mass(a) < mass(b) - 1e-9;
      });
      made_up.erase(stays);
      for (const PartId root : made_up) {
        Subassembly piece;
        piece.name = piece_name(static_cast<int>(result.pieces.size()));
        piece.parts = pieces.members(root);
        std::sort(piece.parts.begin(), piece.parts.end());
        piece.first_step = pieces.begun(root);
        piece.joined_in = step.number;
        result.pieces.push_back(std::move(piece));
      }
    }
    for (const auto& [a, b] : links) pieces.join(a, b);
    for (const auto& [a, b] : links) pieces.begin(pieces.find(a), step.number);
  }
  // Innermost: the piece joined first among those that hold all parts of the step and are joined after it.
  for (std::size_t i = 0; i < steps.size(); ++i) {
    const Contact& c = list.contact(steps[i].contacts.front());
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
