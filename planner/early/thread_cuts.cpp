#include "planner/early/thread_cuts.hpp"

#include <algorithm>
#include <boost/graph/adjacency_list.hpp>
#include <boost/graph/edmonds_karp_max_flow.hpp>
#include <utility>

#include "model/geometry/at.hpp"

namespace dryfit::planner {

ThreadCuts::ThreadCuts(const ContactList& list, std::vector<char> made, std::vector<char> free)
    : list_(list), counts_(std::move(made)) {
  for (std::size_t c = 0; c < counts_.size(); ++c) {
    if (free[c] != 0 || !takes_own_move(list.contacts[c].kind)) counts_[c] = 0;
  }
}

int ThreadCuts::least(const std::vector<int>& from, const std::vector<char>& marked) const {
  using Traits = boost::adjacency_list_traits<boost::vecS, boost::vecS, boost::directedS>;
  using Graph = boost::adjacency_list<
      boost::vecS, boost::vecS, boost::directedS, boost::no_property,
      boost::property<boost::edge_capacity_t, int,
                      boost::property<boost::edge_residual_capacity_t, int,
                                      boost::property<boost::edge_reverse_t, Traits::edge_descriptor>>>>;
  const auto n = list_.at.size();
  Graph graph(n + 2);
  const auto join = [&](std::size_t a, std::size_t b, int there, int back) {
    const auto forth = add_edge(a, b, graph).first, reverse = add_edge(b, a, graph).first;
    put(boost::edge_capacity, graph, forth, there);
    put(boost::edge_capacity, graph, reverse, back);
    put(boost::edge_reverse, graph, forth, reverse);
    put(boost::edge_reverse, graph, reverse, forth);
  };
  const auto many = static_cast<int>(list_.contacts.size()) + 1;
  const std::size_t source = n, sink = n + 1;
  for (const int v : from) join(source, at(v), many, 0);
  for (std::size_t v = 0; v < n; ++v) {
    if (marked[v] != 0) join(v, sink, many, 0);
  }
  for (std::size_t c = 0; c < list_.contacts.size(); ++c) {
    const Contact& contact = list_.contacts[c];
    if (counts_[c] == 0) continue;
    join(at(list_.vertex(contact.a)), at(list_.vertex(contact.b)), 1, 1);
  }
  return boost::edmonds_karp_max_flow(graph, source, sink);
}

std::vector<std::vector<ContactId>> ThreadCuts::ways(const std::vector<int>& from, const std::vector<char>& marked,
                                                     std::size_t most) const {
  std::vector<std::vector<ContactId>> found;
  std::vector<char> counts = counts_;
  while (found.size() < most) {
    std::vector<ContactId> way = shortest(from, marked, counts);
    if (way.empty()) break;
    for (const ContactId c : way) counts[at(c)] = 0;
    found.push_back(std::move(way));
  }
  return found;
}

std::vector<ContactId> ThreadCuts::shortest(const std::vector<int>& from, const std::vector<char>& marked,
                                            const std::vector<char>& counts) const {
  std::vector<int> open;
  std::vector<ContactId> by(list_.at.size(), model::kNone);
  std::vector<char> seen(list_.at.size(), 0);
  for (const int v : from) {
    if (std::exchange(seen[at(v)], 1) == 0) open.push_back(v);
  }
  for (std::size_t i = 0; i < open.size(); ++i) {
    for (const ContactId c : list_.at[at(open[i])]) {
      const Contact& contact = list_.contact(c);
      const int a = list_.vertex(contact.a), next = a == open[i] ? list_.vertex(contact.b) : a;
      if (counts[at(c)] == 0 || std::exchange(seen[at(next)], 1) != 0) continue;
      by[at(next)] = c;
      open.push_back(next);
      if (marked[at(next)] == 0) continue;
      std::vector<ContactId> way;
      for (int v = next; by[at(v)] != model::kNone;) {
        way.push_back(by[at(v)]);
        const Contact& last = list_.contact(way.back());
        v = list_.vertex(last.a) == v ? list_.vertex(last.b) : list_.vertex(last.a);
      }
      std::sort(way.begin(), way.end());
      return way;
    }
  }
  return {};
}

}  // namespace dryfit::planner
