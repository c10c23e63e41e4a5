#include "tests/support/naive_effort.hpp"

#include <algorithm>
#include <cmath>
#include <functional>
#include <limits>
#include <map>
#include <set>

#include "model/mass_properties.hpp"
#include "model/tables.hpp"

namespace dryfit::test {
namespace {

using model::PartId;
using planner::Contact;
using planner::ContactId;
using planner::ContactKind;
using planner::ContactList;
using planner::Move;
using planner::MoveKind;

double rate(const std::string& name) {
  static const model::Table kTable = model::Table::built_in("effort.csv");
  for (std::size_t row = 0; row < kTable.rows(); ++row) {
    if (kTable.at(row, "rate") == name) return kTable.number(row, "value");
  }
  return std::numeric_limits<double>::quiet_NaN();
}

const Contact& contact(const ContactList& list, ContactId c) { return list.contacts[static_cast<std::size_t>(c)]; }

bool hole_like(const Contact& c) { return c.kind == ContactKind::hole || c.kind == ContactKind::notch; }

/// All vertices that hang together with `start` through the made contacts that `counts` admits; the room is a vertex.
std::set<int> together(const ContactList& list, const std::vector<char>& made, int start,
                       const std::function<bool(const Contact&)>& counts) {
  std::set<int> found{start};
  for (bool grows = true; grows;) {
    grows = false;
    for (std::size_t c = 0; c < made.size(); ++c) {
      if (made[c] == 0 || !counts(list.contacts[c])) continue;
      const int a = list.vertex(list.contacts[c].a), b = list.vertex(list.contacts[c].b);
      if (found.count(a) != found.count(b)) {
        found.insert(a);
        found.insert(b);
        grows = true;
      }
    }
  }
  return found;
}

std::set<int> without_room(const ContactList& list, std::set<int> vertices) {
  vertices.erase(list.room());
  return vertices;
}

double mass(const model::Frame& frame, const std::set<int>& parts) {
  double sum = 0.0;
  for (const int p : parts) sum += frame.parts[static_cast<std::size_t>(p)].mass;
  return sum;
}

model::Bounds box_of(const model::Frame& frame, const std::set<int>& parts) {
  const double far = std::numeric_limits<double>::infinity();
  model::Bounds box{{far, far, far}, {-far, -far, -far}};
  for (const int p : parts) {
    for (const model::Solid& solid : frame.parts[static_cast<std::size_t>(p)].solids) {
      const model::Bounds one = bounds_of(solid);
      for (int i = 0; i < 3; ++i) {
        box.lo[i] = std::min(box.lo[i], one.lo[i]);
        box.hi[i] = std::max(box.hi[i], one.hi[i]);
      }
    }
  }
  return box;
}

/// A second lift of what is made up already; a bare part is lifted once.
double carry(const model::Frame& frame, const std::set<int>& parts, int people) {
  if (parts.size() == 1) return 0.0;
  const model::Bounds box = box_of(frame, parts);
  std::vector<double> sides{box.hi.x - box.lo.x, box.hi.y - box.lo.y, box.hi.z - box.lo.z};
  std::sort(sides.begin(), sides.end());
  const double hands = rate("hands-in-front") + sides[1] / 2.0;
  const double limit = 23.0 * std::min(1.0, 250.0 / hands);
  const double weight = mass(frame, parts);
  const double factor = weight <= limit ? 1.0 : people > 1 ? rate("second-person") : rate("alone-over-limit");
  return rate("carry-piece") * weight * factor;
}

}  // namespace

double naive_extra(const model::Frame& frame, const ContactList& list, const std::vector<char>& made, const Move& move,
                   int people) {
  const Contact& first = contact(list, move.contacts.front());
  const auto all = [](const Contact&) { return true; };
  // What makes one piece of work: threads, nuts, flanges screwed to boards.
  const auto firmly = [&](const Contact& c) {
    if (c.kind == ContactKind::fastening) {
      return frame.fastenings[static_cast<std::size_t>(c.fastening)].kind == model::Fastening::Kind::flange_to_board;
    }
    return c.kind == ContactKind::thread || c.kind == ContactKind::nut;
  };
  const std::set<int> cluster = together(list, made, list.vertex(first.a), all);
  const bool room = cluster.count(list.room()) != 0;
  const std::set<int> moving(move.moving.begin(), move.moving.end());
  std::vector<char> rest = made;
  for (const ContactId c : move.contacts) rest[static_cast<std::size_t>(c)] = 0;

  if (move.kind == MoveKind::unfasten && !firmly(first)) return 0.0;
  if (move.kind != MoveKind::unscrew && move.kind != MoveKind::undo_nut && move.kind != MoveKind::unfasten) {
    if (move.kind != MoveKind::slide) return carry(frame, moving, people);
    // The one that slides leaves everything else; what hangs on either side goes along with it.
    const auto side_of = [&](int part) { return without_room(list, together(list, rest, part, all)); };
    std::set<int> slider = side_of(move.moving.front());
    const auto whole = [&](const std::vector<PartId>& parts) {
      return std::all_of(parts.begin(), parts.end(), [&](PartId p) { return side_of(p) == side_of(parts.front()); });
    };
    if (!whole(move.moving)) slider = side_of(move.holding.front());
    std::set<int> others;
    for (const int p : without_room(list, cluster)) {
      if (slider.count(p) == 0) others.insert(p);
    }
    const auto fixed = [&](const std::set<int>& parts) {
      return std::any_of(parts.begin(), parts.end(),
                         [&](int p) { return together(list, rest, p, all).count(list.room()) != 0; });
    };
    if (fixed(slider)) return carry(frame, others, people);
    if (fixed(others)) return carry(frame, slider, people);
    return std::min(carry(frame, slider, people), carry(frame, others, people));
  }

  double sum = room ? rate("held-by-room") : 0.0;
  const std::set<int> one = together(list, rest, first.a, firmly), two = together(list, rest, first.b, firmly);
  if (one.count(first.b) == 0 && one.size() > 1 && two.size() > 1) sum += rate("start-piece");
  if (move.kind != MoveKind::unscrew) {
    if (one.count(first.b) != 0 || one.size() == 1 || two.size() == 1) return sum;
    // The lesser burden is brought, but nothing that is screwed to the room.
    const bool one_fixed = together(list, rest, first.a, all).count(list.room()) != 0;
    const bool two_fixed = together(list, rest, first.b, all).count(list.room()) != 0;
    const double bring_one = carry(frame, one, people), bring_two = carry(frame, two, people);
    if (one_fixed == two_fixed) return sum + std::min(bring_one, bring_two);
    return sum + (one_fixed ? bring_two : bring_one);
  }
  // Turning.
  const model::Axis axis{first.on_axis, first.axis};
  if (first.axis.x != 0 || first.axis.y != 0) {
    const int near = moving.count(first.a) != 0 ? first.a : first.b;
    const model::Part& turned = frame.parts[static_cast<std::size_t>(near)];
    bool to_level = false, stands_off = false;
    for (const model::Port& port : turned.ports) to_level |= !model::parallel(port.facing, first.axis);
    for (const int p : without_room(list, cluster)) {
      if (moving.count(p) != 0) continue;
      const model::Bounds box = box_of(frame, {p});
      stands_off |= box.hi.z - axis.point.z > rate("in-the-air") || axis.point.z - box.lo.z > rate("in-the-air");
    }
    if (to_level && stands_off) sum += rate("fitting-in-the-air");
  }
  sum += rate("strap-before-turn") * static_cast<double>(move.strapped_first.size());
  for (std::size_t c = 0; c < made.size(); ++c) {
    const Contact& k = list.contacts[c];
    if (made[c] == 0 || !hole_like(k) || k.line != first.line) continue;
    sum += rate("turn-in-hole") * static_cast<double>(moving.count(k.a) + moving.count(k.b));
  }
  if (moving.size() > 1) {
    double inertia = 0.0;
    for (const int p : moving) inertia += inertia_about(model::mass_properties(frame, p), axis);
    double swing = move.turns * (rate("swing-inertia") * inertia +
                                 rate("swing-radius") * std::max(0.0, move.swing_radius - rate("hand-reach")) / 1000.0);
    if (move.swing_radius > rate("arm-length") && people == 1) swing *= rate("second-person");
    sum += swing + carry(frame, moving, people);
  }
  return sum;
}

StateGraph state_graph(const model::Frame& frame, const ContactList& list, int people) {
  planner::Undoer undoer(frame, list);
  StateGraph graph;
  std::map<std::vector<char>, int> number;
  std::vector<std::vector<char>> open;
  const auto number_of = [&](const std::vector<char>& made) {
    const auto [at, is_new] = number.emplace(made, graph.states);
    if (is_new) {
      ++graph.states;
      open.push_back(made);
    }
    return at->second;
  };
  number_of(std::vector<char>(list.contacts.size(), 1));
  for (std::size_t i = 0; i < open.size(); ++i) {
    const std::vector<char> made = open[i];
    if (std::count(made.begin(), made.end(), 0) == static_cast<std::ptrdiff_t>(made.size())) {
      graph.bare = static_cast<int>(i);
    }
    const planner::State state(list, made);
    for (ContactId c = 0; c < static_cast<ContactId>(made.size()); ++c) {
      for (const Move& move : undoer.ways(state, c)) {
        std::vector<char> rest = made;
        for (const ContactId gone : move.contacts) rest[static_cast<std::size_t>(gone)] = 0;
        graph.passages.push_back({static_cast<int>(i), number_of(rest), naive_extra(frame, list, made, move, people)});
      }
    }
  }
  return graph;
}

double least_extra(const StateGraph& graph) {
  // Every passage undoes something, and states are numbered as they are met: relax until nothing changes.
  std::vector<double> least(static_cast<std::size_t>(graph.states), std::numeric_limits<double>::infinity());
  least[static_cast<std::size_t>(graph.bare)] = 0.0;
  for (bool changes = true; changes;) {
    changes = false;
    for (auto p = graph.passages.rbegin(); p != graph.passages.rend(); ++p) {
      const double over = p->extra + least[static_cast<std::size_t>(p->to)];
      double& here = least[static_cast<std::size_t>(p->from)];
      if (over < here - 1e-12) {
        here = over;
        changes = true;
      }
    }
  }
  return least.front();
}

std::string answer_set_program(const StateGraph& graph) {
  std::string text = "at(0).\ngoal(" + std::to_string(graph.bare) + ").\n";
  std::map<std::pair<int, int>, long long> cheapest;
  for (const Passage& p : graph.passages) {
    const long long cost = std::llround(p.extra * 1000.0);
    const auto [at, is_new] = cheapest.emplace(std::pair{p.from, p.to}, cost);
    if (!is_new) at->second = std::min(at->second, cost);
  }
  for (const auto& [ends, cost] : cheapest) {
    text +=
        "undo(" + std::to_string(ends.first) + "," + std::to_string(ends.second) + "," + std::to_string(cost) + ").\n";
  }
  return text +
         "{take(S,T) : undo(S,T,_)} = 1 :- at(S), not goal(S).\n"
         "at(T) :- take(S,T).\n"
         ":- goal(S), not at(S).\n"
         "#minimize {C,S,T : take(S,T), undo(S,T,C)}.\n"
         "#show take/2.\n";
}

}  // namespace dryfit::test
