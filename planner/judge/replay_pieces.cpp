#include "planner/judge/replay_pieces.hpp"

#include <algorithm>
#include <utility>

#include "model/geometry/at.hpp"

namespace dryfit::planner::judge {

/// A vertex with more contacts than this is a hub: walking on from it is dear, so it waits.
constexpr std::size_t kHub = 16;

Pieces::Pieces(const Scene& scene, const Made& made, const Cut& cut, Marks& marks)
    : scene_(&scene), made_(&made), cut_(cut), marks_(&marks) {
  if (++marks.now_ == 0) {  // the stamps went round once: none of them may look fresh
    std::fill(marks.stamp_.begin(), marks.stamp_.end(), 0U);
    marks.now_ = 1;
  }
}

bool Pieces::holds(ContactId id) const {
  if ((*made_)[dryfit::at(id)] == 0 || id == cut_.contact) return false;
  const Contact& c = scene_->contact(id);
  if (cut_.vertex != model::kNone && (c.a == cut_.vertex || c.b == cut_.vertex)) return false;
  if (!hole_like(c)) return true;
  if (cut_.line != model::kNone && c.line == cut_.line) return false;
  if (cut_.slots_along.valid() && c.kind == ContactKind::notch && parallel(scene_->hole(c).open, cut_.slots_along)) {
    return false;
  }
  return !(cut_.along.valid() && parallel(c.axis, cut_.along));
}

int Pieces::other_end(ContactId id, int vertex) const {
  const Contact& c = scene_->contact(id);
  const int a = scene_->list().vertex(c.a), b = scene_->list().vertex(c.b);
  return a == vertex ? b : a;
}

int Pieces::find(int group) {
  while (at(group).joined_to != group) {
    at(group).joined_to = at(at(group).joined_to).joined_to;
    group = at(group).joined_to;
  }
  return group;
}

int Pieces::group_of(int vertex) {
  const auto v = dryfit::at(vertex);
  if (marks_->stamp_[v] != marks_->now_) {
    const int fresh = static_cast<int>(groups_.size());
    marks_->stamp_[v] = marks_->now_;
    marks_->group_[v] = fresh;
    groups_.push_back({fresh, {}, {}, {}});
    reach(groups_.back(), vertex);
    return fresh;
  }
  return find(marks_->group_[v]);
}

void Pieces::reach(Group& group, int vertex) {
  group.members.push_back(vertex);
  (scene_->at(vertex).size() > kHub ? group.hubs : group.frontier).push_back(vertex);
}

void Pieces::join(int a, int b) {
  if (at(a).members.size() < at(b).members.size()) std::swap(a, b);
  Group& big = at(a);
  Group& small = at(b);
  big.members.insert(big.members.end(), small.members.begin(), small.members.end());
  big.frontier.insert(big.frontier.end(), small.frontier.begin(), small.frontier.end());
  big.hubs.insert(big.hubs.end(), small.hubs.begin(), small.hubs.end());
  small = {a, {}, {}, {}};
}

void Pieces::explore_one(int group) {
  std::vector<int>& next_ones = at(group).frontier.empty() ? at(group).hubs : at(group).frontier;
  const int vertex = next_ones.back();
  next_ones.pop_back();
  for (const ContactId id : scene_->at(vertex)) {
    if (!holds(id)) continue;
    const int next = other_end(id, vertex);
    const auto n = dryfit::at(next);
    if (marks_->stamp_[n] != marks_->now_) {
      marks_->stamp_[n] = marks_->now_;
      marks_->group_[n] = group;
      reach(at(group), next);
      continue;
    }
    const int met = find(marks_->group_[n]);
    if (met == group) continue;
    join(group, met);
    group = find(group);
  }
}

bool Pieces::same(int u, int v) {
  int a = group_of(u), b = group_of(v);
  while (a != b) {
    if (at(a).explored() || at(b).explored()) return false;
    explore_one(a);
    a = find(a);
    b = find(b);
    if (a == b) break;
    if (at(b).explored()) return false;
    explore_one(b);
    a = find(a);
    b = find(b);
  }
  return true;
}

bool Pieces::known(int v) { return at(group_of(v)).explored(); }

std::vector<int> Pieces::members(int v) {
  int group = group_of(v);
  while (!at(group).explored()) {
    explore_one(group);
    group = find(group);
  }
  std::vector<int> all = at(group).members;
  std::sort(all.begin(), all.end());
  return all;
}

std::vector<ContactId> Pieces::way(int u, int v) const {
  std::vector<ContactId> reached_by(dryfit::at(scene_->vertices()), model::kNone);
  std::vector<char> reached(reached_by.size(), 0);
  std::vector<int> queue{u};
  reached[dryfit::at(u)] = 1;
  for (std::size_t head = 0; head < queue.size() && reached[dryfit::at(v)] == 0; ++head) {
    for (const ContactId id : scene_->at(queue[head])) {
      if (!holds(id)) continue;
      const int next = other_end(id, queue[head]);
      const auto n = dryfit::at(next);
      if (reached[n] != 0) continue;
      reached[n] = 1;
      reached_by[n] = id;
      queue.push_back(next);
    }
  }
  std::vector<ContactId> path;
  if (reached[dryfit::at(v)] == 0) return path;
  for (int at_vertex = v; at_vertex != u;) {
    const ContactId id = reached_by[dryfit::at(at_vertex)];
    path.push_back(id);
    at_vertex = other_end(id, at_vertex);
  }
  std::reverse(path.begin(), path.end());
  return path;
}

}  // namespace dryfit::planner::judge
