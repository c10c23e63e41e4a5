#include "planner/judge/replay_judge.hpp"

#include <algorithm>
#include <utility>

namespace dryfit::planner::judge {

using model::Direction;

Verdict refused(std::string why) { return {{}, std::move(why)}; }

Judge::Judge(const model::Frame& frame, const ContactList& list)
    : scene_(frame, list),
      marks_(scene_.vertices()),
      cluster_marks_(scene_.vertices()),
      load_marks_(scene_.vertices()) {}

Cluster::Cluster(const Scene& scene, const Made& made, int vertex, Marks& marks)
    : scene_(&scene), made_(&made), vertex_(vertex), marks_(&marks) {}

bool Cluster::holds(int part) {
  if (!pieces_) pieces_.emplace(*scene_, *made_, Cut{}, *marks_);
  return pieces_->same(vertex_, part);
}

bool Cluster::holds_room() {
  if (!answer_) answer_ = holds(scene_->list().room());
  return *answer_;
}

std::vector<std::string> not_allowed(const Scene& scene, const std::vector<ContactId>& undone,
                                     const std::vector<ContactId>& allowed) {
  std::vector<std::string> ids;
  for (const ContactId id : undone) {
    if (!std::binary_search(allowed.begin(), allowed.end(), id)) ids.push_back(scene.contact(id).id);
  }
  return ids;
}

bool draws_out(const Scene& scene, PartId p, PartId q, Direction way) {
  for (const ContactId id : scene.at(p)) {
    const Contact& c = scene.contact(id);
    if (c.kind != ContactKind::thread) continue;
    if (c.a == p && c.b == q) return way == c.axis;
    if (c.a == q && c.b == p) return way == -c.axis;
  }
  return false;
}

bool lifts_off(const Scene& scene, PartId p, PartId q, Direction way) {
  const auto carries = [&](PartId carrier, PartId part, Direction up) {
    const model::Board* board = scene.board(part);
    return board != nullptr && up == board->facing &&
           std::find(board->carriers.begin(), board->carriers.end(), carrier) != board->carriers.end();
  };
  return carries(q, p, way) || carries(p, q, -way);
}

double touch_of(const Scene& scene, PartId p, PartId q) {
  return scene.part(p).union_mate == q ? kUnionTouch : model::kTouch;
}

}  // namespace dryfit::planner::judge
