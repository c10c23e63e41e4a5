#include "model/placing/assembly.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "model/frame/plain_text.hpp"
#include "model/geometry/at.hpp"
#include "model/standards/standards.hpp"
#include "model/text/messages.hpp"

namespace dryfit::model {
namespace {

void enter_names(Assembler& in) {
  for (std::size_t i = 0; i < in.draft.surfaces.size(); ++i) {
    in.names.emplace(in.draft.surfaces[i].id, Named{Named::Kind::surface, kNone, static_cast<int>(i), kNone});
  }
  PartId next = 0;
  Frame& frame = in.out.frame;
  for (std::size_t r = 0; r < in.draft.runs.size(); ++r) {
    const DraftRun& run = in.draft.runs[r];
    frame.runs.push_back({run.id, {}, run.where});
    auto& ids = in.part_of.emplace_back();
    for (std::size_t i = 0; i < run.parts.size(); ++i) {
      const DraftPart& draft = run.parts[i];
      ids.push_back(next);
      in.names.emplace(draft.id, Named{Named::Kind::part, static_cast<int>(r), static_cast<int>(i), next});
      const bool two = draft.kind == PartKind::union_half;
      for (int half = 0; half < (two ? 2 : 1); ++half) {
        Part& part = frame.parts.emplace_back();
        part.id = !two ? draft.id : draft.id + (half == 0 ? "~a" : "~b");
        part.label = draft.id;
        part.kind = draft.kind;
        part.where = draft.where;
        part.run = static_cast<int>(r);
        if (two) part.union_mate = half == 0 ? next + 1 : next - 1;
        frame.runs.back().parts.push_back(next);
        ++next;
      }
    }
  }
  in.walked.assign(at(next), false);
  for (std::size_t i = 0; i < in.draft.boards.size(); ++i) {
    const DraftBoard& draft = in.draft.boards[i];
    in.names.emplace(draft.id, Named{Named::Kind::board, kNone, static_cast<int>(i), next});
    Part& part = frame.parts.emplace_back();
    part.id = part.label = draft.id;
    part.kind = PartKind::board;
    part.where = draft.where;
    part.board = static_cast<int>(i);
    ++next;
  }
}

}  // namespace

std::string end_name(const Part& part, int port) {
  if (part.kind == PartKind::pipe) return part.label + (port == 0 ? ".start" : ".end");
  return part.label + "." + part.ports[at(port)].facing.name();
}

const Named* Assembler::resolve(const std::string& id, SourcePos where, const Subject& subject, std::string_view key) {
  const auto found = names.find(id);
  if (found != names.end()) return &found->second;
  Message hint;
  // A suggestion looks at every name; a file of nothing but wrong names must not take forever.
  constexpr long long kMostCompared = 5'000'000;
  if (words_compared < kMostCompared) {
    words_compared += static_cast<long long>(names.size());
    std::vector<std::string> near;
    const std::size_t slack = 1 + (id.size() + 2) / 3;
    for (const auto& entry : names) {
      const std::size_t n = entry.first.size();
      if (n <= id.size() + slack && id.size() <= n + slack) near.push_back(entry.first);
    }
    std::sort(near.begin(), near.end());  // the map's order must not choose among equals
    hint = did_you_mean(id, near);
  }
  faults.add(where, subject,
             Message::as_it_is(key.empty() ? "" : std::string(key) + ": ") +
                 message("nothing is called '{}'; expected the name of a part, board or surface{}", shown(id), hint));
  return nullptr;
}

std::optional<double> Assembler::engaged(const Port& male, SourcePos where, const Subject& subject) {
  const auto which = draft.make_up == MakeUp::hand ? Dimension::hand_engagement : Dimension::wrench_engagement;
  if (male.turns_given > 0.0) {
    const auto pitch = dimension(draft.standard, male.size, Dimension::pitch);
    if (pitch) return male.turns_given * pitch->value;
  } else if (const auto table = dimension(draft.standard, male.size, which)) {
    return table->value;
  }
  faults.add(where, subject,
             message("no table says how deep a thread of size {} goes in; take another size, or give 'turns'",
                     nominal_sizes()[at(male.size)]));
  return std::nullopt;
}

namespace {

/// The outlet of a tee that has no other opposite.
bool is_branch(const Part& part, int port) {
  return part.kind == PartKind::tee && std::none_of(part.ports.begin(), part.ports.end(), [&](const Port& other) {
           return other.facing == -part.ports[at(port)].facing;
         });
}

}  // namespace

bool Assembler::may_join(PartId a, int port_a, PartId b, int port_b, SourcePos where, const Subject& subject) {
  const Part& pa = part(a);
  const Part& pb = part(b);
  const Port& ea = pa.ports[at(port_a)];
  const Port& eb = pb.ports[at(port_b)];
  if (ea.male == eb.male) {
    faults.add(where, subject,
               ea.male ? message("{} to {} joins two pipe ends: a fitting is missing between them",
                                 end_name(pa, port_a), end_name(pb, port_b))
                       : message("{} to {} joins two fittings: a pipe or nipple is missing between them",
                                 end_name(pa, port_a), end_name(pb, port_b)));
    return false;
  }
  if (ea.size != eb.size) {
    const auto& sizes = nominal_sizes();
    // A tee can be had with another size at its branch: that is one part less than a bushing.
    const bool of_a = is_branch(pa, port_a), of_b = is_branch(pb, port_b);
    if (of_a || of_b) {
      faults.add(where, subject,
                 message("{} to {} joins size {} to size {}: give {} 'branch-size: {}', or put a bushing in between",
                         end_name(pa, port_a), end_name(pb, port_b), sizes[at(ea.size)], sizes[at(eb.size)],
                         (of_a ? pa : pb).label, sizes[at((of_a ? eb : ea).size)]));
      return false;
    }
    faults.add(where, subject,
               message("{} to {} joins size {} to size {}: a bushing or a reducing fitting is missing",
                       end_name(pa, port_a), end_name(pb, port_b), sizes[at(ea.size)], sizes[at(eb.size)]));
    return false;
  }
  const bool a_plain = !ea.threaded;
  if (a_plain || !eb.threaded) {
    faults.add(
        where, subject,
        message("{} is plain: only a threaded end goes into {}", a_plain ? end_name(pa, port_a) : end_name(pb, port_b),
                a_plain ? end_name(pb, port_b) : end_name(pa, port_a)));
    return false;
  }
  if (ea.facing != -eb.facing) {
    faults.add(where, subject,
               message("{} to {} does not line up: one faces {}, the other {}; they must face each other",
                       end_name(pa, port_a), end_name(pb, port_b), ea.facing.name(), eb.facing.name()));
    return false;
  }
  return true;
}

Joint Assembler::make_joint(PartId a, int port_a, PartId b, int port_b, double engaged_mm, SourcePos where) {
  const bool a_male = part(a).ports[at(port_a)].male;
  Joint joint;
  joint.male = a_male ? a : b;
  joint.male_port = a_male ? port_a : port_b;
  joint.female = a_male ? b : a;
  joint.female_port = a_male ? port_b : port_a;
  joint.engaged = engaged_mm;
  joint.where = where;
  const int size = part(joint.male).ports[at(joint.male_port)].size;
  const auto value = [&](Dimension which) {
    const auto datum = dimension(draft.standard, size, which);
    return datum ? datum->value : 0.0;
  };
  joint.pitch = value(Dimension::pitch);
  joint.hand = value(Dimension::hand_engagement);
  joint.wrench = value(Dimension::wrench_engagement);
  return joint;
}

Assembly assemble(const Draft& draft, const std::string& file, Faults& faults) {
  Assembler in{draft, faults, {draft, {}, {}, {}, {}}, {}, {}, {}, 0};
  Frame& frame = in.out.frame;
  frame.name = draft.name;
  frame.file = file;
  frame.units = draft.units;
  frame.standard = draft.standard;
  frame.make_up = draft.make_up;
  frame.driver = draft.driver;
  frame.surfaces = draft.surfaces;
  enter_names(in);
  walk_runs(in);
  link_runs(in);
  link_boards(in);
  for (std::size_t i = 0; i < frame.parts.size(); ++i) frame.index.emplace(frame.parts[i].id, static_cast<PartId>(i));
  return std::move(in.out);
}

}  // namespace dryfit::model
