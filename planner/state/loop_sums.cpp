#include "planner/state/loop_sums.hpp"

#include <algorithm>
#include <iterator>
#include <set>

namespace dryfit::planner {
namespace {

/// The contacts in their order round, or nothing when they are no single way, or pass a vertex twice.
std::optional<WayRound> in_turn(const ContactList& list, std::set<ContactId> left) {
  if (left.size() < 2) return std::nullopt;
  WayRound way;
  const Contact& first = list.contact(*left.begin());
  const int start = list.vertex(first.a);
  int vertex = list.vertex(first.b);
  way.contacts.push_back(*left.begin());
  left.erase(left.begin());
  while (true) {
    if (std::find(way.vertices.begin(), way.vertices.end(), vertex) != way.vertices.end()) return std::nullopt;
    way.vertices.push_back(vertex);
    if (vertex == start) break;
    const auto next = std::find_if(left.begin(), left.end(), [&](ContactId c) {
      return list.vertex(list.contact(c).a) == vertex || list.vertex(list.contact(c).b) == vertex;
    });
    if (next == left.end()) return std::nullopt;
    const Contact& on = list.contact(*next);
    vertex = list.vertex(on.a) == vertex ? list.vertex(on.b) : list.vertex(on.a);
    way.contacts.push_back(*next);
    left.erase(next);
  }
  return left.empty() ? std::optional(way) : std::nullopt;
}

}  // namespace

std::vector<WayRound> sums_of(const ContactList& list, const std::vector<std::vector<ContactId>>& loops) {
  std::vector<WayRound> sums;
  if (loops.size() > kMostSummed) return sums;
  for (unsigned chosen = 1; chosen < 1U << loops.size(); ++chosen) {
    if ((chosen & (chosen - 1)) == 0) continue;  // one alone is no sum
    std::set<ContactId> sum;
    for (std::size_t i = 0; i < loops.size(); ++i) {
      if ((chosen >> i & 1U) == 0) continue;
      for (const ContactId c : loops[i]) {
        if (!sum.insert(c).second) sum.erase(c);
      }
    }
    if (auto way = in_turn(list, std::move(sum))) sums.push_back(std::move(*way));
  }
  return sums;
}

}  // namespace dryfit::planner
