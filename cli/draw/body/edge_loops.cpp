#include "cli/draw/body/edge_loops.hpp"

namespace dryfit::cli {

void add_or_cancel(DirectedEdges& edges, int from, int to) {
  if (edges.erase({to, from}) == 0) edges.insert({from, to});
}

std::vector<std::vector<int>> loops_of(DirectedEdges edges) {
  std::vector<std::vector<int>> out;
  while (!edges.empty()) {
    std::vector<int> loop;
    auto edge = edges.begin();
    while (edge != edges.end()) {
      loop.push_back(edge->first);
      const int to = edge->second;
      edges.erase(edge);
      edge = edges.lower_bound({to, -1});
      if (edge != edges.end() && edge->first != to) edge = edges.end();
    }
    out.push_back(std::move(loop));
  }
  return out;
}

}  // namespace dryfit::cli
