#include "planner/state/contacts.hpp"

#include "model/geometry/at.hpp"
#include "planner/state/axis_lines.hpp"

namespace dryfit::planner {
namespace {

void add(ContactList& list, Contact contact) {
  const auto id = static_cast<ContactId>(list.contacts.size());
  list.at[at(list.vertex(contact.a))].push_back(id);
  list.at[at(list.vertex(contact.b))].push_back(id);
  list.by_id.emplace(contact.id, id);
  list.contacts.push_back(std::move(contact));
}

}  // namespace

const char* word_for(ContactKind kind) {
  switch (kind) {
    case ContactKind::thread: return "thread";
    case ContactKind::hole: return "hole";
    case ContactKind::notch: return "notch";
    case ContactKind::rest: return "rest";
    case ContactKind::fastening: return "fastening";
    case ContactKind::nut: return "nut";
  }
  return "";
}

ContactId ContactList::find(std::string_view id) const {
  const auto found = by_id.find(std::string(id));
  if (found != by_id.end()) return found->second;
  // A union's port may be written with the half's own name.
  for (const std::string_view half : {"~a.", "~b."}) {
    const auto at_half = id.find(half);
    if (at_half == std::string_view::npos) continue;
    std::string plain(id);
    plain.erase(at_half, 2);
    const auto again = by_id.find(plain);
    if (again != by_id.end()) return again->second;
  }
  return model::kNone;
}

ContactList contacts_of(const model::Frame& frame) {
  ContactList list;
  list.at.resize(frame.parts.size() + 1);
  AxisLines lines;
  const auto find_line = [&](Contact& c) {
    c.line = lines.find(c.on_axis, c.axis);
    if (c.line != model::kNone) return;
    c.line = list.lines++;
    lines.add(c.on_axis, c.axis, c.line);
  };
  for (std::size_t i = 0; i < frame.joints.size(); ++i) {
    const model::Joint& joint = frame.joints[i];
    const model::Port& port =
        frame.part(joint.female).ports[at(joint.female_port)];
    Contact c;
    c.kind = ContactKind::thread;
    c.joint = static_cast<int>(i);
    c.id = joint_name(frame, c.joint);
    c.a = joint.male;
    c.b = joint.female;
    c.on_axis = port.at;
    c.axis = port.facing;
    find_line(c);
    add(list, std::move(c));
  }
  for (std::size_t i = 0; i < frame.parts.size(); ++i) {
    const model::Part& part = frame.parts[i];
    if (part.union_mate <= static_cast<PartId>(i)) continue;
    Contact c;
    c.kind = ContactKind::nut;
    c.id = part.label;
    c.a = static_cast<PartId>(i);
    c.b = part.union_mate;
    add(list, std::move(c));
  }
  for (const model::Board& board : frame.boards) {
    const std::string& name = frame.part(board.part).id;
    for (std::size_t h = 0; h < board.holes.size(); ++h) {
      const model::Hole& hole = board.holes[h];
      Contact c;
      c.kind = hole.notch ? ContactKind::notch : ContactKind::hole;
      c.id = name + "/" + frame.part(hole.pipe).id;
      c.a = board.part;
      c.b = hole.pipe;
      c.hole = static_cast<int>(h);
      c.on_axis = hole.centre;
      c.axis = board.facing;
      find_line(c);
      add(list, std::move(c));
    }
  }
  for (const model::Board& board : frame.boards) {
    if (!board.laid()) continue;
    const std::string& name = frame.part(board.part).id;
    for (const PartId carrier : board.carriers) {
      Contact c;
      c.kind = ContactKind::rest;
      c.id = name + "/" + frame.part(carrier).id;
      c.a = board.part;
      c.b = carrier;
      add(list, std::move(c));
    }
  }
  for (std::size_t i = 0; i < frame.fastenings.size(); ++i) {
    Contact c;
    c.kind = ContactKind::fastening;
    c.fastening = static_cast<int>(i);
    c.id = fastening_name(frame, c.fastening);
    c.a = frame.fastenings[i].part;
    c.b = frame.fastenings[i].other;
    add(list, std::move(c));
  }
  return list;
}

}  // namespace dryfit::planner
