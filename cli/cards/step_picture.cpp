/// What a step's picture shows: the work that hangs together after it, what is new in it, and the way it moves.
#include <algorithm>
#include <numeric>

#include "cli/cards/deck.hpp"

namespace dryfit::cli {
namespace {

using model::PartId;
using planner::Contact;
using planner::ContactId;
using planner::ContactList;
using planner::Step;

/// Which parts hang together after some steps, the room's vertex included.
class Joined {
 public:
  explicit Joined(const ContactList& list) : list_(list), parent_(list.at.size()) {
    std::iota(parent_.begin(), parent_.end(), 0);
  }
  void make(ContactId id) {
    const Contact& contact = list_.contacts[static_cast<std::size_t>(id)];
    parent_[static_cast<std::size_t>(find(list_.vertex(contact.a)))] = find(list_.vertex(contact.b));
  }
  int find(int vertex) {
    while (parent_[static_cast<std::size_t>(vertex)] != vertex) {
      int& up = parent_[static_cast<std::size_t>(vertex)];
      up = parent_[static_cast<std::size_t>(up)];
      vertex = up;
    }
    return vertex;
  }

 private:
  const ContactList& list_;
  std::vector<int> parent_;
};

bool holds(const std::vector<PartId>& parts, PartId part) {
  return std::find(parts.begin(), parts.end(), part) != parts.end();
}

void add_once(std::vector<PartId>& parts, PartId part) {
  if (part >= 0 && !holds(parts, part)) parts.push_back(part);
}

std::optional<Arrow> arrow_of(const LoadedFrame& loaded, const Step& step) {
  const auto part = [&](PartId id) -> const model::Part& { return loaded.frame.parts[static_cast<std::size_t>(id)]; };
  if (step.action == planner::Action::screw) {
    for (const ContactId id : step.contacts) {
      const Contact& c = loaded.contacts.contacts[static_cast<std::size_t>(id)];
      if (c.kind != planner::ContactKind::thread) continue;
      const bool male_turns = holds(step.moving, c.a);
      const model::Vec3 way = (male_turns ? -c.axis : c.axis).unit();
      const model::Vec3 centre = part(male_turns ? c.a : c.b).centre;
      return Arrow{Arrow::Kind::turn, c.on_axis + dot(centre - c.on_axis, way) * way, way};
    }
  }
  const bool moves_straight = step.action == planner::Action::slide || step.action == planner::Action::pass ||
                              step.action == planner::Action::lay;
  if (moves_straight && !step.moving.empty()) {
    PartId what = step.moving.front();
    for (const PartId id : step.moving) {
      if (part(id).kind == model::PartKind::board) what = id;
    }
    model::Vec3 way = step.travel;
    if (norm(way) < 1e-6) way = {0.0, 0.0, -100.0};  // what is laid comes from above
    return Arrow{Arrow::Kind::slide, part(what).centre, way};
  }
  return std::nullopt;
}

}  // namespace

PictureOptions picture_of_step(const LoadedFrame& loaded, const std::vector<Step>& steps, int number) {
  const ContactList& list = loaded.contacts;
  Joined joined(list);
  for (int i = 0; i < number; ++i) {
    for (const ContactId id : steps[static_cast<std::size_t>(i)].contacts) joined.make(id);
  }
  const Step& step = steps[static_cast<std::size_t>(number) - 1];
  PictureOptions picture;
  std::vector<PartId> ends;
  for (const ContactId id : step.contacts) {
    const Contact& c = list.contacts[static_cast<std::size_t>(id)];
    add_once(ends, c.a);
    add_once(ends, c.b);
  }
  // A fastening or a union moves nothing that is new: what is handled is at its ends.
  const bool handled = step.action == planner::Action::fasten || step.action == planner::Action::join;
  if (handled) {
    for (const ContactId id : step.contacts) {
      const Contact& c = list.contacts[static_cast<std::size_t>(id)];
      add_once(picture.emphasised, c.a);
      if (c.kind == planner::ContactKind::nut) add_once(picture.emphasised, c.b);
    }
  } else {
    picture.emphasised = step.moving;
  }
  const int cluster = joined.find(list.vertex(ends.empty() ? step.moving.front() : ends.front()));
  for (std::size_t id = 0; id < loaded.frame.parts.size(); ++id) {
    const PartId part = static_cast<PartId>(id);
    if (joined.find(part) == cluster || holds(step.moving, part) || holds(step.holding, part)) {
      picture.shown.push_back(part);
    }
  }
  // Few parts: all are named. Many: what the step is about.
  constexpr std::size_t kFew = 6;
  picture.labelled = ends;
  if (picture.emphasised.size() <= kFew) {
    for (const PartId part : picture.emphasised) add_once(picture.labelled, part);
  }
  if (picture.shown.size() <= kFew) picture.labelled = picture.shown;
  picture.arrow = arrow_of(loaded, step);
  return picture;
}

}  // namespace dryfit::cli
