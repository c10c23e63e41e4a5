#include "planner/now/too_large.hpp"

#include <algorithm>

#include "model/geometry/at.hpp"
#include "planner/now/loose_pieces.hpp"

namespace dryfit::planner {

using model::kNone;

std::vector<PartId> TooLarge::parts() const {
  std::vector<PartId> large;
  for (PartId p = 0; p < list_.room(); ++p) {
    if (!door_.passes({p})) large.push_back(p);
  }
  return large;
}

bool TooLarge::passes(const Tree& tree, std::size_t count) const {
  std::vector<PartId> parts;
  for (std::size_t i = 0; i < count; ++i) parts.push_back(tree[i].part);
  return door_.passes(parts);
}

/// Breadth first from a part along made contacts, until what was reached does not pass.
TooLarge::Tree TooLarge::grown(const State& state, PartId from, const std::vector<char>& within) const {
  std::vector<char> seen(at(list_.room()), 0);
  Tree tree{{from, -1, kNone}};
  seen[at(from)] = 1;
  for (std::size_t i = 0; i < tree.size(); ++i) {
    for (const ContactId c : list_.at[at(tree[i].part)]) {
      const Contact& contact = list_.contact(c);
      const PartId other = contact.a == tree[i].part ? contact.b : contact.a;
      if (!state.made(c) || other == model::kRoom || within[at(other)] == 0 || seen[at(other)] != 0) continue;
      seen[at(other)] = 1;
      tree.push_back({other, static_cast<int>(i), c});
    }
  }
  // The shortest beginning that does not pass; what passes still passes with less.
  std::size_t pass = 1, fail = tree.size();
  if (passes(tree, fail)) return {};
  while (pass < fail) {
    const std::size_t middle = (pass + fail) / 2;
    if (passes(tree, middle)) {
      pass = middle + 1;
    } else {
      fail = middle;
    }
  }
  tree.resize(fail);
  return tree;
}

void TooLarge::cut_leaves(Tree& tree) const {
  for (std::size_t i = tree.size(); i-- > 0 && tree.size() > 1;) {
    const auto is_from = [&](const Reached& other) { return other.from == static_cast<int>(i); };
    const auto children = std::count_if(tree.begin(), tree.end(), is_from);
    // The first part is a leaf too where only one other was reached from it.
    if (children > 1 || (children == 1 && tree[i].from >= 0)) continue;
    Tree less = tree;
    if (children == 1) {
      const auto child = std::find_if(less.begin(), less.end(), is_from);
      child->from = -1;
      child->by = kNone;
    }
    less.erase(less.begin() + static_cast<std::ptrdiff_t>(i));
    for (Reached& other : less) other.from -= other.from > static_cast<int>(i) ? 1 : 0;
    if (!passes(less, less.size())) tree = std::move(less);
  }
}

std::optional<Hold> TooLarge::unmet(const State& state) const {
  for (const std::vector<PartId>& piece : pieces_in(list_, links_, state)) {
    if (door_.passes(piece)) continue;
    std::vector<char> within(at(list_.room()), 0);
    for (const PartId p : piece) within[at(p)] = 1;
    Tree tree = grown(state, piece.front(), within);
    Hold hold;
    if (tree.empty()) {
      // Rings that hold each other: all that joins their parts keeps them as they are.
      for (std::size_t c = 0; c < list_.contacts.size(); ++c) {
        const Contact& contact = list_.contacts[c];
        if (state.made(static_cast<ContactId>(c)) && contact.a != model::kRoom && within[at(contact.a)] != 0) {
          hold.of.push_back(static_cast<ContactId>(c));
        }
      }
      return hold;
    }
    // From what was reached last, which it cannot do without, the tree gets smaller once more.
    for (int again = 0; again < 2; ++again) {
      std::fill(within.begin(), within.end(), 0);
      for (const Reached& reached : tree) within[at(reached.part)] = 1;
      tree = grown(state, tree.back().part, within);
    }
    cut_leaves(tree);
    for (const Reached& reached : tree) {
      if (reached.by != kNone) hold.of.push_back(reached.by);
    }
    std::sort(hold.of.begin(), hold.of.end());
    return hold;
  }
  return std::nullopt;
}

}  // namespace dryfit::planner
