#include "planner/early/shared_slides.hpp"

#include <algorithm>
#include <boost/graph/adjacency_list.hpp>
#include <boost/graph/edmonds_karp_max_flow.hpp>
#include <utility>

#include "model/geometry/at.hpp"
#include "model/geometry/convex.hpp"
#include "planner/moves/parting.hpp"

namespace dryfit::planner {

using model::Direction;
using model::Vec3;

SharedSlides::SharedSlides(Undoer& undoer, std::vector<char> made, std::vector<char> free)
    : undoer_(&undoer), made_(std::move(made)), free_(std::move(free)), holes_of_(undoer.frame().boards.size()) {
  const ContactList& list = undoer.list();
  for (std::size_t c = 0; c < list.contacts.size(); ++c) {
    const Contact& contact = list.contacts[c];
    if (made_[c] == 0 || (contact.kind != ContactKind::hole && contact.kind != ContactKind::notch)) continue;
    const int board = undoer.frame().part(contact.a).board;
    holes_of_[dryfit::at(board)].push_back(static_cast<ContactId>(c));
  }
}

int SharedSlides::least_before(int board, int other) {
  if (board == other) return 0;
  const std::pair<int, int> key = std::minmax(board, other);
  const auto found = known_.find(key);
  if (found != known_.end()) return found->second;
  int least = kNever;
  for (const ContactId c : holes_of_[dryfit::at(key.first)]) {
    for (const ContactId d : holes_of_[dryfit::at(key.second)]) {
      const auto& contacts = undoer_->list().contacts;
      least = std::min(least, together(contacts[dryfit::at(c)], contacts[dryfit::at(d)]));
    }
  }
  known_.emplace(key, least);
  return least;
}

int SharedSlides::together(const Contact& first, const Contact& second) {
  int least = kNever;
  if (!parallel(first.axis, second.axis)) return least;
  for (const Direction way : {first.axis, -first.axis}) {
    for (const PartId from : {first.a, first.b}) {
      for (const PartId to : {second.a, second.b}) least = std::min(least, carried(from, to, first, second, way));
    }
  }
  return least;
}

double SharedSlides::travel(const Contact& hole, Direction way, bool board_moves) const {
  const Vec3 unit = way.unit();
  const model::Frame& frame = undoer_->frame();
  const model::Board& board = frame.board_of(hole.a);
  const model::Solid box = model::box(board.lo, board.hi);
  double ahead = 0.0, behind = 0.0;
  bool first = true;
  for (int i = undoer_->index().first(hole.b); i < undoer_->index().last(hole.b); ++i) {
    const model::Solid& pipe = undoer_->index().bodies()[dryfit::at(i)].solid;
    const double a = reach_along(pipe, unit), b = -reach_along(pipe, -unit);
    ahead = first ? a : std::max(ahead, a);
    behind = first ? b : std::min(behind, b);
    first = false;
  }
  return std::max(0.0, board_moves ? ahead + reach_along(box, -unit) : reach_along(box, unit) - behind);
}

bool SharedSlides::clear_of(PartId moved, PartId left, Vec3 sweep) const {
  const model::Frame& frame = undoer_->frame();
  const BodyIndex& index = undoer_->index();
  const auto board_of = [&](PartId p) { return frame.part(p).board; };
  const auto passes = [&](PartId board_part, int body) {
    const int line = index.line_of(body);
    if (line == model::kNone) return false;
    const model::Board& board = frame.board(board_of(board_part));
    const double across = 2.0 * index.bodies()[dryfit::at(body)].solid.radius;
    const auto& holes = index.holes_on(line);
    return std::any_of(holes.begin(), holes.end(), [&](const HoleOnLine& h) {
      return h.board == board_part && across <= board.holes[dryfit::at(h.hole)].diameter - model::kTouch;
    });
  };
  // A pipe may be drawn straight out of its fitting.
  if (drawn_apart(undoer_->list(), moved, left, sweep)) return true;
  // A board may be lifted off its carrier.
  if (leaves_carrier(frame, moved, left, sweep) || leaves_carrier(frame, left, moved, -sweep)) return true;
  const bool halves = frame.parts[dryfit::at(moved)].union_mate == left;
  for (int i = index.first(moved); i < index.last(moved); ++i) {
    for (int k = index.first(left); k < index.last(left); ++k) {
      if (board_of(moved) != model::kNone && passes(moved, k)) continue;
      if (board_of(left) != model::kNone && passes(left, i)) continue;
      const auto& bodies = index.bodies();
      if (model::hits(bodies[dryfit::at(i)].thing(), bodies[dryfit::at(k)].thing(), sweep,
                      halves ? 3.0 : model::kTouch)) {
        return false;
      }
    }
  }
  return true;
}

int SharedSlides::carried(int from, int to, const Contact& first, const Contact& second, Direction way) {
  const ContactList& list = undoer_->list();
  const PartId left_by_first = from == first.a ? first.b : first.a;
  const PartId left_by_second = to == second.a ? second.b : second.a;
  if (from == left_by_second || to == left_by_first) return kNever;
  const double by = std::max(travel(first, way, from == first.a), travel(second, way, to == second.a));
  const Vec3 sweep = way.unit() * by;
  const auto goes = [&](int v) {
    if (v == list.room()) return true;
    return v != left_by_first && v != left_by_second && clear_of(v, left_by_first, sweep) &&
           clear_of(v, left_by_second, sweep);
  };
  if (!goes(from) || !goes(to)) return kNever;
  // Everything that hangs together with the one end, up to what cannot go along.
  std::vector<char> blocked(list.at.size(), 0), seen(list.at.size(), 0);
  std::vector<int> open{from};
  bool hang_together = from == to;
  seen[dryfit::at(from)] = 1;
  for (std::size_t i = 0; i < open.size(); ++i) {
    const int at = open[i];
    hang_together = hang_together || at == to;
    for (const ContactId c : list.at[dryfit::at(at)]) {
      const Contact& contact = list.contact(c);
      if (made_[dryfit::at(c)] == 0) continue;
      if ((contact.kind == ContactKind::hole || contact.kind == ContactKind::notch) && parallel(contact.axis, way))
        continue;
      const int a = list.vertex(contact.a);
      const int next = a == at ? list.vertex(contact.b) : a;
      if (std::exchange(seen[dryfit::at(next)], 1) != 0) continue;
      if (goes(next)) {
        open.push_back(next);
      } else {
        blocked[dryfit::at(next)] = 1;
      }
    }
  }
  if (!hang_together) return kNever;
  return threads_between(from, to, blocked);
}

/// Ways from either end to the blocked parts that have no thread, nut or fastening in common: by Menger's theorem the
/// least that must be undone to part them. Each of them takes a move of its own.
int SharedSlides::threads_between(int from, int to, const std::vector<char>& blocked) const {
  using Traits = boost::adjacency_list_traits<boost::vecS, boost::vecS, boost::directedS>;
  using Graph = boost::adjacency_list<
      boost::vecS, boost::vecS, boost::directedS, boost::no_property,
      boost::property<boost::edge_capacity_t, int,
                      boost::property<boost::edge_residual_capacity_t, int,
                                      boost::property<boost::edge_reverse_t, Traits::edge_descriptor>>>>;
  const ContactList& list = undoer_->list();
  const auto n = list.at.size();
  Graph graph(n + 2);
  const auto join = [&](std::size_t a, std::size_t b, int there, int back) {
    const auto forth = add_edge(a, b, graph).first, reverse = add_edge(b, a, graph).first;
    put(boost::edge_capacity, graph, forth, there);
    put(boost::edge_capacity, graph, reverse, back);
    put(boost::edge_reverse, graph, forth, reverse);
    put(boost::edge_reverse, graph, reverse, forth);
  };
  const auto many = static_cast<int>(list.contacts.size()) + 1;
  const std::size_t source = n, sink = n + 1;
  join(source, dryfit::at(from), many, 0);
  if (to != from) join(source, dryfit::at(to), many, 0);
  for (std::size_t v = 0; v < n; ++v) {
    if (blocked[v] != 0) join(v, sink, many, 0);
  }
  for (std::size_t c = 0; c < list.contacts.size(); ++c) {
    const Contact& contact = list.contacts[c];
    if (made_[c] == 0 || free_[c] != 0 || !takes_own_move(contact.kind)) continue;
    join(dryfit::at(list.vertex(contact.a)), dryfit::at(list.vertex(contact.b)), 1, 1);
  }
  return boost::edmonds_karp_max_flow(graph, source, sink);
}

}  // namespace dryfit::planner
