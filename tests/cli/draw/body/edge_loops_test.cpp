#include "cli/draw/body/edge_loops.hpp"

#include <doctest/doctest.h>

namespace {

using dryfit::cli::add_or_cancel;
using dryfit::cli::DirectedEdges;
using dryfit::cli::loops_of;
using Loops = std::vector<std::vector<int>>;

void add_face(DirectedEdges& edges, const std::vector<int>& loop) {
  for (std::size_t k = 0; k < loop.size(); ++k) add_or_cancel(edges, loop[k], loop[(k + 1) % loop.size()]);
}

}  // namespace

TEST_CASE("faces that share edges have one outline") {
  DirectedEdges edges;
  add_face(edges, {0, 1, 2});
  CHECK(loops_of(edges) == Loops{{0, 1, 2}});
  add_face(edges, {0, 2, 3});
  CHECK(loops_of(edges) == Loops{{0, 1, 2, 3}});
}

TEST_CASE("faces round a gap have two outlines, and faces all round a body none") {
  // Four quadrilaterals round a square hole 4 5 6 7 within a square 0 1 2 3.
  DirectedEdges ring;
  for (int k = 0; k < 4; ++k) add_face(ring, {k, (k + 1) % 4, 4 + (k + 1) % 4, 4 + k});
  CHECK(loops_of(ring) == Loops{{0, 1, 2, 3}, {4, 7, 6, 5}});
  DirectedEdges body;
  for (const std::vector<int>& face : Loops{{0, 2, 1}, {0, 1, 3}, {1, 2, 3}, {2, 0, 3}}) add_face(body, face);
  CHECK(body.empty());
  CHECK(loops_of(body).empty());
}

TEST_CASE("where two outlines touch in a point every edge is walked once") {
  DirectedEdges edges;
  add_face(edges, {0, 1, 2});
  add_face(edges, {2, 3, 4});
  DirectedEdges walked;
  for (const auto& loop : loops_of(edges)) {
    for (std::size_t k = 0; k < loop.size(); ++k) CHECK(walked.insert({loop[k], loop[(k + 1) % loop.size()]}).second);
  }
  CHECK(walked == edges);
}
