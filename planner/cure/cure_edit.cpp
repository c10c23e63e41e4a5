#include "planner/cure/cure_edit.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <map>
#include <set>

#include "model/editing/mend.hpp"
#include "model/geometry/at.hpp"
#include "model/standards/standards.hpp"
#include "planner/cure/wider_hole.hpp"

namespace dryfit::planner {
namespace {

using model::Dimension;
using model::Direction;
using model::Frame;
using model::kNone;
using model::Part;
using model::Vec3;

/// Room for a wrench between two fittings on one piece, mm. Common practice, no source.
constexpr double kWrenchRoom = 25.0;
/// Air left between a fitting and what is made beside it, mm. Common practice, no source.
constexpr double kAir = 10.0;
/// A surface farther away than this is no neighbour, mm. Common practice, no source.
constexpr double kNear = 450.0;

const Part& part_of(const Frame& frame, PartId id) { return frame.part(id); }

std::optional<double> table(const Frame& frame, int size, Dimension which) {
  const auto found = model::dimension(frame.standard, size, which);
  return found ? std::optional<double>(found->value) : std::nullopt;
}

std::optional<double> engagement(const Frame& frame, int size) {
  return table(frame, size,
               frame.make_up == model::MakeUp::wrench ? Dimension::wrench_engagement : Dimension::hand_engagement);
}

/// The shortest piece that is sold with two threads and leaves room for a wrench.
std::optional<double> shortest_piece(const Frame& frame, int size) {
  const auto thread = engagement(frame, size);
  if (!thread) return std::nullopt;
  std::optional<double> best;
  for (const model::StockPipe& stock : model::stock_pipes(frame.standard)) {
    if (stock.size != size || stock.length < 2.0 * *thread + kWrenchRoom) continue;
    if (!best || stock.length < *best) best = stock.length;
  }
  return best;
}

/// An id that the frame does not have.
std::string new_id(const Frame& frame, std::string id) {
  const auto taken = [&] {
    return std::any_of(frame.parts.begin(), frame.parts.end(),
                       [&](const Part& p) { return p.id == id || p.label == id; }) ||
           std::any_of(frame.surfaces.begin(), frame.surfaces.end(),
                       [&](const model::Surface& s) { return s.id == id; }) ||
           std::any_of(frame.runs.begin(), frame.runs.end(), [&](const model::Run& r) { return r.id == id; });
  };
  while (taken()) id += 'x';
  return id;
}

/// A pipe as changes see it.
struct Pipe {
  PartId id = kNone;
  const Part* part = nullptr;
  Vec3 start;     ///< tip where walking begins
  Direction way;  ///< walking direction
  [[nodiscard]] const model::Port& port(bool end) const { return part->ports[end ? 1 : 0]; }
};

std::optional<Pipe> pipe_named(const Frame& frame, const std::string& label) {
  const PartId id = frame.find(label);
  if (id == kNone || part_of(frame, id).kind != model::PartKind::pipe) return std::nullopt;
  const Part& part = part_of(frame, id);
  return Pipe{id, &part, part.ports[0].at, part.ports[1].facing};
}

/// The fitting at that end, or kNone.
PartId fitting_at(const Frame& frame, const Pipe& pipe, bool end) {
  const int joint = pipe.port(end).joint;
  return joint == kNone ? kNone : frame.joint(joint).female;
}

void name_fittings(const Frame& frame, const Pipe& pipe, CureChange& change) {
  const auto label = [&](bool end) {
    const PartId fitting = fitting_at(frame, pipe, end);
    return fitting == kNone ? std::string() : part_of(frame, fitting).label;
  };
  change.fitting = label(change.at_end);
  change.other_fitting = label(!change.at_end);
  change.length = pipe.part->length;
  if (!change.contacts.empty()) return;
  for (const bool end : {false, true}) {
    const bool changes = change.kind == CureKind::unite || change.kind == CureKind::couple || end == change.at_end;
    if (changes && pipe.port(end).joint != kNone) change.contacts.push_back(joint_name(frame, pipe.port(end).joint));
  }
}

bool carries_a_board(const Frame& frame, PartId pipe) {
  return std::any_of(frame.boards.begin(), frame.boards.end(), [&](const model::Board& board) {
    return std::find(board.carriers.begin(), board.carriers.end(), pipe) != board.carriers.end();
  });
}

std::optional<Edited> parted(const Frame& frame, std::string_view text, CureChange change) {
  const auto pipe = pipe_named(frame, change.part);
  if (!pipe || carries_a_board(frame, pipe->id)) return std::nullopt;
  const int size = pipe->part->size;
  const bool unite = change.kind == CureKind::unite;
  const auto fitting = table(frame, size, unite ? Dimension::union_length : Dimension::coupling_length);
  const auto thread = engagement(frame, size);
  const auto least = shortest_piece(frame, size);
  if (!fitting || !thread || !least) return std::nullopt;
  const double gap = *fitting - 2.0 * *thread;
  const double both = pipe->part->length - gap;
  if (both < 2.0 * *least) return std::nullopt;
  change.first = change.middle ? both / 2.0 : change.at_end ? both - *least : *least;
  change.second = both - change.first;
  name_fittings(frame, *pipe, change);

  model::PipeParting parting;
  parting.pipe = pipe->part->id;
  parting.first = change.first;
  parting.second = change.second;
  parting.fitting = word_for(change.kind);
  parting.fitting_id = new_id(frame, change.part + (unite ? "-U" : "-C"));
  parting.second_id = new_id(frame, change.part + "-B");
  const double middle = change.first + gap / 2.0;
  for (const model::Board& board : frame.boards) {
    const Part& own = part_of(frame, board.part);
    const bool drilled = std::any_of(board.holes.begin(), board.holes.end(),
                                     [&](const model::Hole& hole) { return hole.pipe == pipe->id; });
    const bool strapped = std::any_of(frame.fastenings.begin(), frame.fastenings.end(), [&](const model::Fastening& f) {
      return f.kind == model::Fastening::Kind::strap && f.part == board.part && f.other == pipe->id;
    });
    if (!drilled && !strapped) continue;
    const double at = dot((board.lo + board.hi) * 0.5 - pipe->start, pipe->way.unit());
    if (at > middle) parting.boards_on_second.push_back(own.id);
  }
  return Edited{change, model::with_pipe_parted(text, parting)};
}

/// Where the pipe's end is let go: numbers that all such changes share.
model::EndLetGo let_go(const Frame& frame, const Pipe& pipe, const CureChange& change, double shorter) {
  model::EndLetGo edit;
  edit.pipe = pipe.part->id;
  edit.at_end = change.at_end;
  edit.length = pipe.part->length - shorter;
  edit.go = pipe.way.name();
  edit.run = new_id(frame, "from-" + change.part);
  if (!change.at_end) {
    edit.at = pipe.start + pipe.way.unit() * shorter;
    return edit;
  }
  // What follows begins at the port that the end was screwed into.
  const int joint = pipe.port(true).joint;
  if (joint != kNone) {
    const model::Joint& j = frame.joint(joint);
    edit.at = part_of(frame, j.female).ports[dryfit::at(j.female_port)].at;
  }
  return edit;
}

std::optional<Edited> shared(const Frame& frame, std::string_view text, CureChange change) {
  const auto pipe = pipe_named(frame, change.part);
  if (!pipe || pipe->port(true).joint == kNone || pipe->port(false).joint == kNone) return std::nullopt;
  if (carries_a_board(frame, pipe->id)) return std::nullopt;
  const bool held = std::any_of(frame.fastenings.begin(), frame.fastenings.end(), [&](const model::Fastening& f) {
    return f.part == pipe->id || f.other == pipe->id;  // a clip or strap: the pipe has to turn in it
  });
  const auto deepest = table(frame, pipe->part->size, Dimension::wrench_engagement);
  const auto hand = table(frame, pipe->part->size, Dimension::hand_engagement);
  if (held || !deepest || !hand) return std::nullopt;
  const model::Joint& here = frame.joint(pipe->port(change.at_end).joint);
  const model::Joint& there = frame.joint(pipe->port(!change.at_end).joint);
  name_fittings(frame, *pipe, change);
  // Screwed into the other fitting as deep as it goes, the pipe ends where this fitting begins; backed out by half.
  change.first = pipe->part->length - here.engaged - there.engaged + *deepest;
  change.turns = *deepest / here.pitch / 2.0;
  change.hand_turns = *hand / here.pitch;
  // The frame to be planned: the pipe drawn back into the other fitting, its end flush with this one's face.
  return Edited{change, model::with_end_let_go(text, let_go(frame, *pipe, change, here.engaged))};
}

std::optional<Edited> flanged(const Frame& frame, std::string_view text, CureChange change) {
  const auto pipe = pipe_named(frame, change.part);
  if (!pipe || change.surface == kNone || pipe->port(change.at_end).joint == kNone) return std::nullopt;
  const int size = pipe->part->size;
  const model::Joint& here = frame.joint(pipe->port(change.at_end).joint);
  if (part_of(frame, here.female).kind == model::PartKind::flange) return std::nullopt;  // that one would hang alone
  const model::Surface& surface = frame.surface(change.surface);
  const auto elbow = table(frame, size, Dimension::centre_to_end);
  const auto band = table(frame, size, Dimension::band);
  const auto height = table(frame, size, Dimension::flange_height);
  const auto thread = engagement(frame, size);
  const auto least = shortest_piece(frame, size);
  if (!elbow || !band || !height || !thread || !least) return std::nullopt;
  name_fittings(frame, *pipe, change);
  // From the fitting's face backwards: air, half an elbow's arm, its centre, its take-off, the pipe's new tip.
  const double shorter = here.engaged + kAir + *band / 2.0 + (*elbow - *thread);
  change.first = pipe->part->length - shorter;
  if (change.first < *least) return std::nullopt;
  const int axis = surface.normal.axis();
  const double away = std::abs(pipe->start[axis] - surface.at);
  change.second = away - (*elbow - *thread) - (*height - *thread);
  if (away > kNear || change.second < *least) return std::nullopt;

  model::EndLetGo edit = let_go(frame, *pipe, change, shorter);
  const std::string e = new_id(frame, change.part + "-E"), n = new_id(frame, change.part + "-N"),
                    f = new_id(frame, change.part + "-F");
  const std::string of_size = "size: " + model::nominal_sizes()[dryfit::at(size)];
  const std::string pipe_text = "{pipe: " + std::to_string(change.second) + " mm, " + of_size + "}";
  edit.surface = surface.id;
  if (change.at_end) {
    edit.more = {{e, "{elbow: " + change.side.name() + ", " + of_size + "}"},
                 {n, pipe_text},
                 {f, "{flange: , " + of_size + "}"}};
  } else {
    edit.more = {
        {f, "{flange: , " + of_size + "}"}, {n, pipe_text}, {e, "{elbow: " + pipe->way.name() + ", " + of_size + "}"}};
    const Vec3 spot = pipe->start + pipe->way.unit() * (shorter - (*elbow - *thread));
    int next = 0;
    for (int k = 0; k < 3; ++k) {
      if (k != axis) edit.on_surface[dryfit::at(next++)] = spot[k];
    }
  }
  return Edited{change, model::with_end_let_go(text, edit)};
}

std::optional<Edited> slotted(const Frame& frame, std::string_view text, CureChange change) {
  const PartId id = frame.find(change.part);
  if (id == kNone || part_of(frame, id).kind != model::PartKind::board) return std::nullopt;
  const model::Board& board = frame.board(part_of(frame, id).board);
  model::HolesOpened edit;
  edit.board = part_of(frame, id).id;
  PartId first_before = kNone, first_after = kNone;
  for (const model::Hole& hole : board.holes) {
    if (hole.notch) continue;
    const Part& pipe = part_of(frame, hole.pipe);
    if (first_before == kNone) first_before = hole.pipe;
    if (std::find(change.pipes.begin(), change.pipes.end(), pipe.label) != change.pipes.end()) {
      edit.slots.push_back({pipe.id, change.side.name()});
      if (change.contacts.size() < change.pipes.size()) change.contacts.push_back(change.part + "/" + pipe.id);
    } else if (first_after == kNone) {
      first_after = hole.pipe;
    }
  }
  if (edit.slots.size() != change.pipes.size()) return std::nullopt;
  const bool reached = board.given_by[dryfit::at(board.normal == 0 ? 1 : 0)] == first_before;
  if (first_after != first_before && reached) {
    if (first_after == kNone && board.carriers.empty()) return std::nullopt;
    const Part& from = part_of(frame, first_after != kNone ? first_after : board.carriers.front());
    // A union's half is not what its carrier's centre is counted from.
    if (from.union_mate != kNone) return std::nullopt;
    static constexpr std::array<const char*, 3> kLow{"left", "front", "down"};
    for (int k = 0; k < 3; ++k) {
      if (k == board.normal) continue;
      const double reach = from.centre[k] - board.lo[k];
      if (reach <= 0.0) return std::nullopt;
      edit.reach.emplace_back(kLow[dryfit::at(k)], reach);
    }
  }
  return Edited{change, model::with_holes_opened(text, edit)};
}

std::optional<Edited> widened(const Frame& frame, std::string_view text, CureChange change) {
  const PartId id = frame.find(change.part);
  if (id == kNone || part_of(frame, id).kind != model::PartKind::board) return std::nullopt;
  const model::Board& board = frame.board(part_of(frame, id).board);
  model::HolesWidened edit;
  edit.board = part_of(frame, id).id;
  edit.diameter = change.width;
  for (const model::Hole& hole : board.holes) {
    const Part& pipe = part_of(frame, hole.pipe);
    if (std::find(change.pipes.begin(), change.pipes.end(), pipe.label) == change.pipes.end()) {
      edit.others.emplace_back(pipe.id, hole.diameter);
      continue;
    }
    if (hole.diameter >= change.width || !still_lies(frame, board, hole.pipe, change.width)) return std::nullopt;
    edit.pipes.push_back(pipe.id);
    change.length = std::max(change.length, hole.diameter);
    if (change.contacts.size() < change.pipes.size()) change.contacts.push_back(change.part + "/" + pipe.id);
  }
  if (edit.pipes.empty() || edit.pipes.size() != change.pipes.size()) return std::nullopt;
  return Edited{change, model::with_holes_widened(text, edit)};
}

std::optional<Edited> driven(const Frame& frame, std::string_view text, CureChange change) {
  if (frame.driver <= model::kRightAngleDriver) return std::nullopt;
  change.first = model::kRightAngleDriver;
  return Edited{change, model::with_driver(text, change.first)};
}

/// The flanges among the contacts, as one change: who has the driver uses it on all of them.
void add_driver(const Frame& frame, const ContactList& list, const std::vector<ContactId>& contacts,
                std::vector<CureChange>& changes) {
  CureChange change;
  change.kind = CureKind::drive;
  for (const ContactId c : contacts) {
    const Contact& contact = list.contacts[static_cast<std::size_t>(c)];
    if (contact.kind != ContactKind::fastening || part_of(frame, contact.a).kind != model::PartKind::flange) continue;
    change.pipes.push_back(part_of(frame, contact.a).label);
    change.contacts.push_back(contact.id);
  }
  if (change.pipes.empty()) return;
  change.part = change.pipes.front();
  changes.push_back(std::move(change));
}

/// One more change of a part, to be filled in.
CureChange& add_change(const Frame& frame, CureKind kind, PartId part, std::vector<CureChange>& changes) {
  CureChange& change = changes.emplace_back();
  change.kind = kind;
  change.part = part_of(frame, part).label;
  return change;
}

/// A slot toward that edge is no deeper than half of the board, which hangs together by a strip beyond (common
/// practice, no source). A hole in the middle may be opened to any edge.
bool leaves_a_board(const model::Board& board, const model::Hole& hole, Direction side) {
  constexpr double kMiddle = 1.0;  // mm
  const int axis = side.axis();
  const double edge = side.unit()[axis] > 0 ? board.hi[axis] : board.lo[axis];
  return std::abs(edge - hole.centre[axis]) <= (board.hi[axis] - board.lo[axis]) / 2.0 + kMiddle;
}

/// Slots from the holes of a board to its edges: one hole, so that it swings about the one that is left, or all.
void add_slots(const Frame& frame, PartId b, std::vector<CureChange>& changes) {
  const model::Board& board = frame.board(part_of(frame, b).board);
  std::vector<const model::Hole*> holes;
  for (const model::Hole& hole : board.holes) {
    if (!hole.notch) holes.push_back(&hole);
  }
  if (holes.empty()) return;
  const auto slot = [&](const std::vector<const model::Hole*>& which, Direction side) {
    const auto fits = [&](const model::Hole* hole) { return leaves_a_board(board, *hole, side); };
    if (!std::all_of(which.begin(), which.end(), fits)) return;
    CureChange& change = add_change(frame, CureKind::slot, b, changes);
    for (const model::Hole* hole : which) change.pipes.push_back(part_of(frame, hole->pipe).label);
    change.side = side;
  };
  // A board on edge sits on its pipes by slots from below, and falls off by those from above.
  std::vector<Direction> sides;
  for (const Direction d : {model::kFront, model::kBack, model::kLeft, model::kRight, model::kDown, model::kUp}) {
    if (d.axis() != board.normal) sides.push_back(d);
  }
  for (const model::Hole* one : holes) {
    for (const Direction side : sides) slot({one}, side);
  }
  if (holes.size() < 2) return;
  for (const Direction side : sides) slot(holes, side);
}

/// Wider holes and slots of a board, the least first: one, or all that let something more pass.
void add_wider(const Frame& frame, PartId b, std::vector<CureChange>& changes) {
  std::map<double, std::vector<std::string>> by_bit;
  for (const model::Hole& hole : frame.board(part_of(frame, b).board).holes) {
    for (const double bit : wider_bits(frame, hole)) by_bit[bit].push_back(part_of(frame, hole.pipe).label);
  }
  const auto add = [&](double bit, std::vector<std::string> pipes) {
    CureChange& change = add_change(frame, CureKind::widen, b, changes);
    change.pipes = std::move(pipes);
    change.width = bit;
  };
  for (const auto& [bit, pipes] : by_bit) {
    for (const std::string& one : pipes) add(bit, {one});
    if (pipes.size() > 1) add(bit, pipes);
  }
}

/// Flanges in place of a pipe's end, on each surface that the pipe runs beside.
void add_flanges(const Frame& frame, PartId p, bool end, std::vector<CureChange>& changes) {
  for (int s = 0; s < static_cast<int>(frame.surfaces.size()); ++s) {
    const Direction normal = frame.surface(s).normal;
    if (part_of(frame, p).ports[1].facing.axis() < 0 || parallel(normal, part_of(frame, p).ports[1].facing)) continue;
    CureChange& change = add_change(frame, CureKind::flange, p, changes);
    change.at_end = end;
    change.surface = s;
    change.side = -normal;
  }
}

}  // namespace

const char* word_for(CureKind kind) {
  switch (kind) {
    case CureKind::unite: return "union";
    case CureKind::couple: return "coupling";
    case CureKind::slot: return "notch";
    case CureKind::widen: return "wider-hole";
    case CureKind::flange: return "flange";
    case CureKind::drive: return "right-angle-driver";
    case CureKind::share: return "shared-threads";
  }
  return "";
}

std::optional<Edited> edited(const Frame& frame, std::string_view text, const CureChange& asked) {
  switch (asked.kind) {
    case CureKind::unite:
    case CureKind::couple: return parted(frame, text, asked);
    case CureKind::slot: return slotted(frame, text, asked);
    case CureKind::widen: return widened(frame, text, asked);
    case CureKind::flange: return flanged(frame, text, asked);
    case CureKind::drive: return driven(frame, text, asked);
    case CureKind::share: return shared(frame, text, asked);
  }
  return std::nullopt;
}

std::vector<CureChange> changes_at(const Frame& frame, const ContactList& list,
                                   const std::vector<ContactId>& contacts) {
  std::set<PartId> pipes, boards;
  std::set<std::pair<PartId, bool>> ends;
  for (const ContactId c : contacts) {
    const Contact& contact = list.contact(c);
    for (const PartId p : {contact.a, contact.b}) {
      if (p == model::kRoom) continue;
      if (part_of(frame, p).board != kNone) boards.insert(p);
      if (part_of(frame, p).kind == model::PartKind::pipe) pipes.insert(p);
    }
    if (contact.kind != ContactKind::thread || part_of(frame, contact.a).kind != model::PartKind::pipe) continue;
    const model::Joint& joint = frame.joint(contact.joint);
    ends.insert({contact.a, joint.male_port == 1});
  }
  std::vector<CureChange> changes;
  add_driver(frame, list, contacts, changes);
  for (const PartId b : boards) add_slots(frame, b, changes);
  // First where a wrench has room: what goes through a board is held by its threads alone once it is cut short.
  std::vector<PartId> handy_first(pipes.begin(), pipes.end());
  const auto goes_through_a_board = [&](PartId p) {
    return std::any_of(list.at[dryfit::at(p)].begin(), list.at[dryfit::at(p)].end(),
                       [&](ContactId c) { return hole_like(list.contact(c).kind); });
  };
  std::stable_partition(handy_first.begin(), handy_first.end(), [&](PartId p) { return !goes_through_a_board(p); });
  for (const CureKind kind : {CureKind::couple, CureKind::unite}) {
    for (const PartId p : handy_first) {
      for (const int where : {0, 1, 2}) {
        CureChange& change = add_change(frame, kind, p, changes);
        change.at_end = where == 1;
        change.middle = where == 2;
      }
    }
  }
  for (const PartId b : boards) add_wider(frame, b, changes);
  for (const auto& [p, end] : ends) add_flanges(frame, p, end, changes);
  for (const auto& [p, end] : ends) add_change(frame, CureKind::share, p, changes).at_end = end;
  return changes;
}

}  // namespace dryfit::planner
