#include "planner/early/precedence.hpp"

#include <algorithm>
#include <boost/graph/adjacency_list.hpp>
#include <boost/graph/transitive_reduction.hpp>
#include <map>
#include <utility>

#include "model/geometry/at.hpp"
#include "planner/moves/any_refusal.hpp"
#include "planner/peel/peeler.hpp"

namespace dryfit::planner {
namespace {

/// `candidates[first..last)` are frozen in the peeler, nothing else is. Fills `remaining` for each of them.
void solve(Peeler peeler, const std::vector<ContactId>& candidates, std::size_t first, std::size_t last,
           std::vector<std::vector<ContactId>>& remaining) {
  peeler.run();
  if (last - first == 1) {
    remaining[at(candidates[first])] = peeler.remaining();
    return;
  }
  const std::size_t middle = first + (last - first) / 2;
  {
    Peeler early = peeler;
    for (std::size_t i = first; i < middle; ++i) early.release(candidates[i]);
    solve(std::move(early), candidates, middle, last, remaining);
  }
  for (std::size_t i = middle; i < last; ++i) peeler.release(candidates[i]);
  solve(std::move(peeler), candidates, first, middle, remaining);
}

}  // namespace

bool Precedence::comes_first(ContactId earlier, ContactId later) const {
  const auto& list = before[at(later)];
  return std::binary_search(list.begin(), list.end(), earlier);
}

Precedence precedence_of(Undoer& undoer) {
  const AnyRefusal will_do;
  const ContactList& list = undoer.list();
  const std::size_t n = list.contacts.size();
  Precedence result;
  result.before.resize(n);
  result.class_of.assign(n, model::kNone);
  if (n == 0) return result;

  // In the order of one full peeling, so that neighbours in the halving have much in common.
  RefusalMemory memory(n);
  Peeler whole(undoer, State(list), std::vector<char>(n, 0), &memory);
  whole.run();
  std::vector<ContactId> candidates;
  for (const auto& move : whole.undone()) candidates.insert(candidates.end(), move.begin(), move.end());
  for (const ContactId c : whole.remaining()) candidates.push_back(c);
  solve(Peeler(undoer, State(list), std::vector<char>(n, 1), &memory), candidates, 0, n, result.before);

  // y in before[x] and x in before[y]: always one move.
  for (ContactId x = 0; x < static_cast<ContactId>(n); ++x) {
    int& own = result.class_of[at(x)];
    if (own != model::kNone) continue;
    own = static_cast<int>(result.classes.size());
    std::vector<ContactId> members{x};
    for (const ContactId y : result.before[at(x)]) {
      if (y <= x || !result.comes_first(x, y)) continue;
      result.class_of[at(y)] = own;
      members.push_back(y);
    }
    result.classes.push_back(std::move(members));
  }
  for (ContactId x = 0; x < static_cast<ContactId>(n); ++x) {
    std::erase_if(result.before[at(x)], [&](ContactId y) { return result.class_of[at(y)] == result.class_of[at(x)]; });
  }
  return result;
}

std::vector<MustPrecede> reduced(const Precedence& precedence) {
  using Graph = boost::adjacency_list<boost::vecS, boost::vecS, boost::directedS>;
  const std::size_t n = precedence.classes.size();
  Graph whole(n);
  for (std::size_t later = 0; later < n; ++later) {
    int last = model::kNone;
    std::vector<int> earlier;
    for (const ContactId y : precedence.before[at(precedence.classes[later].front())]) {
      earlier.push_back(precedence.class_of[at(y)]);
    }
    std::sort(earlier.begin(), earlier.end());
    for (const int e : earlier) {
      if (e != std::exchange(last, e)) add_edge(at(e), later, whole);
    }
  }
  Graph less;
  std::vector<std::size_t> to_less(n), ids(n);
  for (std::size_t i = 0; i < n; ++i) ids[i] = i;
  boost::transitive_reduction(whole, less,
                              boost::make_iterator_property_map(to_less.begin(), get(boost::vertex_index, whole)),
                              boost::make_iterator_property_map(ids.begin(), get(boost::vertex_index, whole)));
  std::vector<std::size_t> from_less(n);
  for (std::size_t i = 0; i < n; ++i) from_less[to_less[i]] = i;
  std::vector<MustPrecede> links;
  for (auto [edge, end] = edges(less); edge != end; ++edge) {
    links.push_back(
        {static_cast<int>(from_less[source(*edge, less)]), static_cast<int>(from_less[target(*edge, less)])});
  }
  std::sort(links.begin(), links.end());
  return links;
}

}  // namespace dryfit::planner
