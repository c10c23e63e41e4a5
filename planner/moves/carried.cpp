#include "planner/moves/carried.hpp"
#include "model/geometry/at.hpp"

#include <algorithm>
#include <set>

namespace dryfit::planner {

using model::Direction;
using model::kNone;
using model::Vec3;

Carried::Carried(Undoer::Impl& impl, const State& state, ContactId thread, int turning, int staying, Direction way)
    : impl_(impl),
      state_(state),
      thread_(impl.contact(thread)),
      turning_(turning),
      staying_(staying),
      way_(way),
      without_{thread, kNone, thread_.axis, kNone, kNone},
      with_room_(state.holds_room(turning)) {}

int Carried::keep(const std::vector<int>& members) {
  const auto has = [&](int v) { return std::find(members.begin(), members.end(), v) != members.end(); };
  int load = static_cast<int>(members_.size());
  if (has(turning_)) {
    load = kTurning;
    turning_known_ = true;
  } else if (has(staying_) || has(impl_.list.room())) {
    load = kStaying;
    staying_known_ = staying_known_ || has(staying_);
  } else {
    members_.push_back(members);
  }
  for (const int v : members) load_[v] = load;
  return load;
}

int Carried::load_of(int vertex) {
  if (const auto found = load_.find(vertex); found != load_.end()) return found->second;
  // Each end is grown in step with the vertex' own load, so that the smaller of the two is all that is walked.
  const auto beside = [&](int end, bool& known) -> std::optional<int> {
    if (known) return std::nullopt;
    Explorer::Split split = impl_.explorer.split(state_, vertex, end, without_, Undoer::kNoCap);
    if (split.joined) {
      const int load = end == turning_ ? kTurning : kStaying;
      load_[vertex] = load;
      return load;
    }
    const int load = keep(split.small);
    if (split.small_has_first) return load;
    known = true;
    return std::nullopt;
  };
  if (const auto load = beside(turning_, turning_known_)) return *load;
  if (const auto load = beside(staying_, staying_known_)) return *load;
  bool room_known = !with_room_;
  if (const auto load = beside(impl_.list.room(), room_known)) return *load;
  return keep(impl_.explorer.piece(state_, vertex, without_, Undoer::kNoCap));
}

void Carried::step_to_surface(int member, Direction d, double limit, std::map<int, Step>& nearest) const {
  for (std::size_t s = 0; s < impl_.frame.surfaces.size(); ++s) {
    const model::Surface& surface = impl_.frame.surfaces[s];
    const Vec3 in = -surface.normal.unit();
    const double share = dot(d.unit(), in);
    if (share < (on_axis_ ? 1.0 - 1e-9 : 1e-9)) continue;
    for (int i = impl_.index.first(member); i < impl_.index.last(member); ++i) {
      const model::Solid& solid = impl_.index.bodies()[dryfit::at(i)].solid;
      const double free = std::max(0.0, -Undoer::Impl::depth_in(surface, reach_along(solid, in))) / share;
      const auto known = nearest.find(kStaying);
      if (free >= limit || (known != nearest.end() && known->second.gap <= free)) continue;
      nearest[kStaying] = {free, member, kNone, static_cast<int>(s)};
    }
  }
}

void Carried::steps_from(const std::vector<int>& members, int load, Direction d, double limit,
                         std::map<int, Step>& nearest) {
  const auto in_joint = [&](PartId a, PartId b) { return a == thread_.a && b == thread_.b; };
  for (const int member : members) {
    if (member == impl_.list.room()) continue;
    for (int i = impl_.index.first(member); i < impl_.index.last(member); ++i) {
      for (const GapsAlong::Gap& gap : impl_.gaps.of(i, d, limit)) {
        const PartId other = impl_.index.bodies()[dryfit::at(gap.body)].part;
        if (state_.cluster(other) != state_.cluster(turning_)) continue;
        if (in_joint(member, other) || in_joint(other, member)) continue;
        if (on_axis_ && !impl_.index.is_on_line(i, thread_.line) && !impl_.index.is_on_line(gap.body, thread_.line)) {
          continue;
        }
        const int next = load_of(other);
        if (on_axis_ && next != kTurning && next != kStaying && !loose_.contains(next)) continue;
        const auto known = nearest.find(next);
        if (next == load || (known != nearest.end() && known->second.gap <= gap.free)) continue;
        nearest[next] = {gap.free, member, other, kNone};
      }
    }
    if (with_room_) step_to_surface(member, d, limit, nearest);
  }
}

/// Dijkstra over loads. What turns and what stays are ends: a way leads through neither.
Carried::Way Carried::shortest(PartId board, int load, Direction d, int goal, double limit) {
  Way none{limit, {}};
  if (load == goal) return {0.0, {}};
  std::map<int, std::pair<double, Step>> reached;  // per load: how far, and the step that led there
  std::map<int, int> before;
  std::set<int> done;
  reached[load] = {0.0, {}};
  for (;;) {
    int next = kNone;
    for (const auto& [at, way] : reached) {
      if (!done.contains(at) && (next == kNone || way.first < reached[next].first)) next = at;
    }
    if (next == kNone) return none;
    if (next == goal) break;
    done.insert(next);
    const bool end = next == kTurning || next == kStaying;
    if (end && next != load) continue;
    std::map<int, Step> nearest;
    // Of a load that is an end only the board itself is asked: the rest of it is judged by the turn.
    const std::vector<int> members = end ? std::vector<int>{board} : members_[dryfit::at(next)];
    steps_from(members, next, d, limit - reached[next].first, nearest);
    for (const auto& [to, step] : nearest) {
      const double length = reached[next].first + step.gap;
      if (length >= limit || (reached.contains(to) && reached[to].first <= length)) continue;
      reached[to] = {length, step};
      before[to] = next;
    }
  }
  Way way{reached[goal].first, {}};
  for (int at = goal; at != load; at = before[at]) way.steps.push_back(reached[at].second);
  std::reverse(way.steps.begin(), way.steps.end());
  return way;
}

void Carried::hold_in_load(PartId from, PartId to, std::vector<ContactId>& held) {
  impl_.way(state_, from, to, without_, held);
  impl_.way(state_, from, turning_, {}, held);
}

void Carried::hold(const Way& way, PartId start, int load, int goal, std::vector<ContactId>& held) {
  PartId at = start;
  int in = load;
  for (const Step& step : way.steps) {
    hold_in_load(at, step.from, held);
    if (step.to == kNone) {  // a surface
      impl_.way(state_, step.from, impl_.list.room(), {}, held);
      return;
    }
    at = step.to;
    in = load_of(at);
    if (on_axis_ && loose_.contains(in)) hold_in_load(at, loose_.at(in), held);
  }
  if (in != goal) return;
  if (goal == kTurning) {
    hold_in_load(at, turning_, held);
    return;
  }
  const bool with_end = impl_.explorer.split(state_, at, staying_, without_, Undoer::kNoCap).joined;
  hold_in_load(at, with_end ? staying_ : impl_.list.room(), held);
}

std::optional<Carried::Stopped> Carried::stopped_at(PartId start, double engaged) {
  const double limit = engaged + impl_.list.touch;
  const int load = load_of(start);
  const Way behind = shortest(start, load, -way_, kTurning, limit);
  if (behind.length + impl_.list.touch >= engaged) return std::nullopt;
  const Way ahead = shortest(start, load, way_, kStaying, limit - behind.length);
  if (behind.length + ahead.length + impl_.list.touch >= engaged) return std::nullopt;
  Stopped stopped{start, start, kNone, kNone, behind.length + ahead.length, {}};
  if (!ahead.steps.empty()) {
    stopped.moving = ahead.steps.back().from;
    stopped.stop = ahead.steps.back().to;
    stopped.surface = ahead.steps.back().surface;
  }
  if (stopped.stop == kNone && !behind.steps.empty()) stopped.stop = behind.steps.back().to;
  hold(behind, start, load, kTurning, stopped.held_by);
  hold(ahead, start, load, kStaying, stopped.held_by);
  hold_in_load(start, start, stopped.held_by);
  return stopped;
}

std::optional<Carried::Stopped> Carried::first_stopped(double engaged,
                                                       const std::function<bool(const HoleOnLine&)>& asked) {
  on_axis_ = false;
  for (const HoleOnLine& h : impl_.index.holes_on(thread_.line)) {
    if (state_.cluster(h.board) != state_.cluster(turning_) || !asked(h)) continue;
    if (auto stopped = stopped_at(h.board, engaged)) return stopped;
  }
  return std::nullopt;
}

std::optional<Carried::Stopped> Carried::first_loose_stopped(double engaged) {
  on_axis_ = true;
  loose_.clear();
  for (const HoleOnLine& h : impl_.index.holes_on(thread_.line)) {
    const PartId pipe = impl_.contact(h.contact).b;
    if (state_.cluster(pipe) != state_.cluster(turning_)) continue;
    const int load = load_of(pipe);
    if (load != kTurning && load != kStaying) loose_.emplace(load, pipe);
  }
  for (const auto& [load, pipe] : loose_) {
    if (auto stopped = stopped_at(pipe, engaged)) return stopped;
  }
  return std::nullopt;
}

}  // namespace dryfit::planner
