#include "planner/moves/sliding_piece.hpp"

#include <algorithm>
#include <limits>

#include "model/geometry/at.hpp"
#include "model/geometry/convex.hpp"

namespace dryfit::planner {

using model::kNone;
using model::Vec3;

void put_first(std::vector<ContactId>& contacts, ContactId asked) {
  std::iter_swap(contacts.begin(), std::find(contacts.begin(), contacts.end(), asked));
  std::sort(contacts.begin() + 1, contacts.end());
}

bool SlidingPiece::is_r_end(int v) const {
  return impl.is_end(v, ends_stamp) || (cluster_has_room && !k_has_room && v == impl.list.room());
}

bool SlidingPiece::in_r(int v) {
  if (impl.marked(v) || !in_cluster(v)) return false;
  const auto found = in_r_known.find(v);
  if (found != in_r_known.end()) return found->second;
  if (both_ways != nullptr) {
    if (const auto before = both_ways->to_r.find(v); before != both_ways->to_r.end()) {
      impl.explorer.visited += before->second.visited;
      return in_r_known.emplace(v, before->second.yes).first->second;
    }
  }
  const long long visited = impl.explorer.visited;
  const bool yes = way_to_r(v, nullptr);
  if (both_ways != nullptr) both_ways->to_r.emplace(v, WalkedToR{yes, impl.explorer.visited - visited});
  in_r_known.emplace(v, yes);
  return yes;
}

bool SlidingPiece::in_g(ContactId c) const {
  const Contact& contact = impl.contact(c);
  return state.made(c) && !(contact.kind == ContactKind::notch && parallel(impl.slot(contact).open, d));
}

bool SlidingPiece::way_to_r(int v, std::vector<ContactId>* held) {
  if (kind == MoveKind::slide) {
    return impl.explorer.path(
        state, v, Without{.holes_along = d}, [this](int at) { return is_r_end(at); }, held);
  }
  std::unordered_map<int, ContactId> by{{v, kNone}};
  std::vector<int> found{v};
  for (std::size_t i = 0; i < found.size(); ++i) {
    ++impl.explorer.visited;
    if (is_r_end(found[i])) {
      for (int at = found[i]; held != nullptr && by.at(at) != kNone;) {
        held->push_back(by.at(at));
        at = impl.other_vertex(by.at(at), at);
      }
      return true;
    }
    for (const ContactId c : impl.contacts_at(found[i])) {
      if (!in_g(c)) continue;
      const int next = impl.other_vertex(c, found[i]);
      if (by.emplace(next, c).second) found.push_back(next);
    }
  }
  return false;
}

void SlidingPiece::hold_in_k(int v, std::vector<ContactId>& held) {
  if (kind == MoveKind::slide) {
    impl.way(state, v, k.front(), Without{.holes_along = d}, held);
    return;
  }
  for (auto by = reached_by.find(v); by != reached_by.end(); by = reached_by.find(v)) {
    held.push_back(by->second);
    v = impl.other_vertex(by->second, v);
  }
}

void SlidingPiece::hold(int v, std::vector<ContactId>& held) {
  if (impl.marked(v)) {
    hold_in_k(v, held);
    return;
  }
  if (!way_to_r(v, &held)) hold_beyond(v, held);
  hold_cluster(held);
}

void SlidingPiece::hold_cluster(std::vector<ContactId>& held) {
  if (cluster_has_room) impl.way(state, k.front(), impl.list.room(), {}, held);
}

Refusal SlidingPiece::refuse(Refusal::Why why, PartId moving, PartId blocking) {
  Refusal r;
  r.kind = kind;
  r.why = why;
  r.moving = moving;
  r.blocking = blocking;
  // What goes along sets how far K has to go: it stays so while the ends of all that hang on the one asked for.
  r.held_by = left_out;
  r.held_by.insert(r.held_by.end(), run_on.begin(), run_on.end());
  if (both_ways == nullptr) {
    hold_ties(r.held_by);
    return r;
  }
  if (both_ways->ties) {
    impl.explorer.visited += both_ways->ties->visited;
  } else {
    const long long visited = impl.explorer.visited;
    WalkedTies& ties = both_ways->ties.emplace();
    hold_ties(ties.contacts);
    impl.once_each(ties.contacts);
    ties.visited = impl.explorer.visited - visited;
  }
  const std::vector<ContactId>& ties = both_ways->ties->contacts;
  r.held_by.insert(r.held_by.end(), ties.begin(), ties.end());
  return r;
}

void SlidingPiece::hold_ties(std::vector<ContactId>& held) {
  for (const ContactId c : left_out) {
    const int a = impl.list.vertex(impl.contact(c).a), b = impl.list.vertex(impl.contact(c).b);
    hold_in_k(impl.marked(a) ? a : b, held);
    hold_link(impl.marked(a) ? b : a, held);
  }
}

void SlidingPiece::hold_link(int end, std::vector<ContactId>& held) {
  for (auto by = linked_by.find(end); by != linked_by.end() && by->second != kNone; by = linked_by.find(end)) {
    held.push_back(by->second);
    end = impl.other_vertex(by->second, end);
  }
}

void SlidingPiece::keep_linked(ContactId asked) {
  const Contact& contact = impl.contact(asked);
  const int a = impl.list.vertex(contact.a), b = impl.list.vertex(contact.b);
  std::vector<int> found{impl.marked(a) ? b : a};
  linked_by.emplace(found.front(), kNone);
  for (std::size_t i = 0; i < found.size(); ++i) {
    ++impl.explorer.visited;
    for (const ContactId c : impl.contacts_at(found[i])) {
      const int next = impl.other_vertex(c, found[i]);
      if (state.made(c) && !impl.marked(next) && linked_by.emplace(next, c).second) found.push_back(next);
    }
  }
  std::erase_if(left_out, [&](ContactId c) {
    const int end = impl.list.vertex(impl.contact(c).a);
    return !linked_by.contains(impl.marked(end) ? impl.list.vertex(impl.contact(c).b) : end);
  });
  others_hang_on_k = std::erase_if(r_ends, [&](int end) { return !linked_by.contains(end); }) > 0;
}

std::optional<Refusal> SlidingPiece::gather(ContactId asked, const std::vector<char>* frozen,
                                            const std::function<bool(const Contact&, int)>& lets_go) {
  for (const int v : k) {
    if (v == impl.list.room()) continue;
    for (const ContactId h : impl.contacts_at(v)) {
      if (!state.made(h) || !lets_go(impl.contact(h), v)) continue;
      const int other = impl.other_vertex(h, v);
      if (impl.marked(other)) continue;
      left_out.push_back(h);
      r_ends.push_back(other);
    }
  }
  std::sort(left_out.begin(), left_out.end());
  if (!std::binary_search(left_out.begin(), left_out.end(), asked)) {
    // Board and pipe are one piece by other contacts too: neither can leave the other.
    Refusal r;
    r.kind = kind;
    r.why = Refusal::Why::ring;
    const Contact& contact = impl.contact(asked);
    impl.way(state, impl.list.vertex(contact.a), impl.list.vertex(contact.b), Without{.holes_along = d}, r.held_by);
    return r;
  }
  if (k_has_room) keep_linked(asked);
  ends_stamp = impl.mark_ends(r_ends);
  const auto kept = std::find_if(left_out.begin(), left_out.end(),
                                 [&](ContactId h) { return frozen != nullptr && (*frozen)[dryfit::at(h)] != 0; });
  if (kept == left_out.end()) return std::nullopt;
  // It would go along as long as it hangs on K, and on what moves.
  Refusal r = Undoer::Impl::keeps(*kept);
  const int a = impl.list.vertex(impl.contact(*kept).a), b = impl.list.vertex(impl.contact(*kept).b);
  hold_in_k(impl.marked(a) ? a : b, r.held_by);
  hold_link(impl.marked(a) ? b : a, r.held_by);
  return r;
}

double SlidingPiece::reach_of(PartId part, Vec3 unit) const {
  double reach = -std::numeric_limits<double>::infinity();
  for (int i = impl.index.first(part); i < impl.index.last(part); ++i) {
    reach = std::max(reach, reach_along(impl.index.bodies()[dryfit::at(i)].solid, unit));
  }
  return reach;
}

double SlidingPiece::end_of_run(const Contact& hole, Vec3 unit) {
  double end = reach_of(hole.b, unit);
  if (kind != MoveKind::slide) return end;
  const double across = impl.board(hole.a).holes[dryfit::at(hole.hole)].diameter;
  const auto passes = [&](PartId part) {
    for (const int i : impl.index.on_line(hole.line)) {
      const Body& body = impl.index.bodies()[dryfit::at(i)];
      if (body.part == part && !impl.list.goes_through(2.0 * body.solid.radius, across)) return false;
    }
    return true;
  };
  for (PartId last = hole.b, next = last; next != kNone; last = next) {
    next = kNone;
    for (const ContactId c : impl.contacts_at(last)) {
      const Contact& joint = impl.contact(c);
      const bool in_line =
          joint.kind == ContactKind::nut || (joint.kind == ContactKind::thread && joint.line == hole.line);
      if (!in_line || !state.made(c)) continue;
      const PartId other = joint.a == last ? joint.b : joint.a;
      // What is too wide stops the board before it gets there.
      if (reach_of(other, unit) <= end || !passes(other)) continue;
      end = reach_of(other, unit);
      run_on.push_back(c);
      next = other;
    }
  }
  return end;
}

void SlidingPiece::find_travel() {
  const Vec3 unit = d.unit();
  const int n = d.axis();
  for (const ContactId h : left_out) {
    const Contact& hole = impl.contact(h);
    const model::Board& b = impl.board(hole.a);
    const double lo = unit[n] > 0 ? b.lo[n] : -b.hi[n], hi = unit[n] > 0 ? b.hi[n] : -b.lo[n];
    const bool board_goes = impl.marked(impl.list.vertex(hole.a));
    travel = std::max(travel, board_goes ? end_of_run(hole, unit) - lo : hi + end_of_run(hole, -unit));
  }
}

std::optional<Refusal> SlidingPiece::too_wide() {
  for (const ContactId c : left_out) {
    const Contact& contact = impl.contact(c);
    const double hole = impl.board(contact.a).holes[dryfit::at(contact.hole)].diameter;
    const bool board_in_k = impl.marked(impl.list.vertex(contact.a));
    // Seen along the way in which the board leaves the pipe.
    const WideOnLine::Ahead& ahead = impl.wide_on_line.of(c, board_in_k ? d : -d);
    for (const WideOnLine::Wide& wide : ahead.bodies) {
      if (wide.tail >= ahead.front + travel - impl.list.touch) continue;
      const Body& body = impl.index.bodies()[dryfit::at(wide.body)];
      if (board_in_k ? !in_r(body.part) && !in_the_way_beyond(body.part, false) : !impl.marked(body.part)) continue;
      Refusal r = refuse(Refusal::Why::too_wide, contact.a, body.part);
      r.wanted = 2.0 * body.solid.radius;
      r.given = hole;
      if (r.wanted <= hole + model::kTouch) r.wanted = widest_on_line(body.part, contact.line);
      hold(body.part, r.held_by);
      hold(contact.a, r.held_by);
      return r;
    }
  }
  return std::nullopt;
}

double SlidingPiece::widest_on_line(PartId part, int line) const {
  double widest = 0.0;
  for (const int i : impl.index.on_line(line)) {
    const Body& body = impl.index.bodies()[dryfit::at(i)];
    if (body.part == part) widest = std::max(widest, 2.0 * body.solid.radius);
  }
  return widest;
}

std::optional<Refusal> SlidingPiece::tight_in_slot() {
  for (const ContactId c : left_out) {
    const Contact& contact = impl.contact(c);
    const double across = widest_on_line(contact.b, contact.line), slot = impl.slot(contact).diameter;
    if (impl.list.goes_through(across, slot)) continue;
    Refusal r = refuse(Refusal::Why::too_wide, contact.a, contact.b);
    r.wanted = across;
    r.given = slot;
    hold(contact.a, r.held_by);
    hold(contact.b, r.held_by);
    return r;
  }
  return std::nullopt;
}

/// Along a hole all that lies on its line is judged by too_wide; in a slot what fits through it is no hit.
bool SlidingPiece::exempt(PartId board_part, int body) const {
  if (!impl.is_board(board_part)) return false;
  const int line = impl.index.line_of(body);
  if (line == kNone) return false;
  return std::any_of(left_out.begin(), left_out.end(), [&](ContactId c) {
    const Contact& contact = impl.contact(c);
    if (contact.a != board_part || contact.line != line) return false;
    const double width = 2.0 * impl.index.bodies()[dryfit::at(body)].solid.radius;
    return kind == MoveKind::slide ||
           impl.list.goes_through(width, impl.board(board_part).holes[dryfit::at(contact.hole)].diameter);
  });
}

std::optional<Refusal> SlidingPiece::first_hit() {
  auto hit = first_hit_of(k, d, [this](int v) { return in_r(v) || in_the_way_beyond(v, false); });
  if (hit || kind != MoveKind::slide) return hit;
  if (others_hang_on_k) hit = first_hit_of(all_of_r(), -d, [this](int v) { return in_the_way_beyond(v, true); });
  return hit ? hit : meets_end_to_end();
}

std::optional<Refusal> SlidingPiece::first_hit_of(const std::vector<int>& vertices, model::Direction way,
                                                  const std::function<bool(int)>& against) {
  for (const int v : vertices) {
    if (v == impl.list.room()) continue;
    for (int i = impl.index.first(v); i < impl.index.last(v); ++i) {
      for (SweptHits::Near& near : impl.swept_hits.near(i, way, travel)) {
        const PartId other = impl.index.bodies()[dryfit::at(near.body)].part;
        if (other == v || !in_cluster(other) || exempt(v, near.body) || exempt(other, i)) continue;
        ++impl.work.clearance_tests;
        if (!impl.swept_hits.hit(i, way, travel, near) || !against(other)) continue;
        Refusal r = refuse(Refusal::Why::hits_part, v, other);
        hold(v, r.held_by);
        hold(other, r.held_by);
        return r;
      }
    }
  }
  return std::nullopt;
}

std::optional<Refusal> SlidingPiece::first_surface(const std::vector<int>& vertices, Vec3 sweep) {
  const auto found = impl.first_in_surface(
      vertices, [&](const model::Solid& solid, Vec3 in) { return Undoer::Impl::swept_reach(solid, sweep, in); });
  if (!found) return std::nullopt;
  Refusal r = refuse(Refusal::Why::hits_surface, found->first, kNone);
  r.surface = found->second;
  hold(found->first, r.held_by);
  hold_cluster(r.held_by);
  return r;
}

}  // namespace dryfit::planner
