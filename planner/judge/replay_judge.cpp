#include "planner/judge/replay_judge.hpp"

#include <algorithm>
#include <utility>

namespace dryfit::planner::judge {

using model::Direction;

Verdict refused(Message why) { return {{}, std::move(why)}; }

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

std::vector<Message> not_allowed(const Scene& scene, const std::vector<ContactId>& undone, const Named& named) {
  std::vector<Message> ids;
  for (const ContactId id : undone) {
    if (std::binary_search(named.contacts.begin(), named.contacts.end(), id)) continue;
    ids.push_back(Message::as_it_is(scene.contact(id).id));
  }
  return ids;
}

Message not_the_step(const Scene& scene, const std::vector<ContactId>& undone, const Named& named) {
  if (const std::vector<Message> extra = not_allowed(scene, undone, named); !extra.empty()) {
    return message("the same move makes {}, which the step does not name", listed(extra));
  }
  if (!named.all || undone.size() == named.contacts.size()) return {};
  std::vector<Message> ids;
  for (const ContactId id : named.contacts) ids.push_back(Message::as_it_is(scene.contact(id).id));
  return message("{} are not made by one move", listed(ids));
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

bool carries(const Scene& scene, PartId carrier, PartId board) {
  const model::Board* wood = scene.board(board);
  if (wood == nullptr) return false;
  const auto in = [&](const std::vector<PartId>& parts) {
    return std::find(parts.begin(), parts.end(), carrier) != parts.end();
  };
  return in(wood->carriers) || in(wood->sunken);
}

bool lies_on(const Scene& scene, PartId p, PartId q, Direction way) {
  return (carries(scene, q, p) && way != -scene.board(p)->facing) ||
         (carries(scene, p, q) && way != scene.board(q)->facing);
}

double touch_of(const Scene& scene, PartId p, PartId q) {
  return scene.part(p).union_mate == q ? kUnionTouch : scene.list().touch;
}

}  // namespace dryfit::planner::judge
