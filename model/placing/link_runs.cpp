/// What runs hang on: joints between runs, flanges on surfaces and boards.
#include <fmt/format.h>

#include <algorithm>
#include <optional>

#include "model/frame/plain_text.hpp"
#include "model/geometry/at.hpp"
#include "model/placing/assembly.hpp"
#include "model/text/length_fault.hpp"
#include "model/text/messages.hpp"
#include "model/text/part_words.hpp"

namespace dryfit::model {
namespace {

struct EndOfPart {
  PartId part = kNone;
  int port = 0;
};

class Linker {
 public:
  explicit Linker(Assembler& in) : in_(in), frame_(in.out.frame) {}

  void run() {
    lay_out_joints();
    in_.out.links_of_run.assign(in_.draft.runs.size(), {kNone, kNone});
    for (std::size_t r = 0; r < in_.draft.runs.size(); ++r) {
      const DraftRun& draft = in_.draft.runs[r];
      if (draft.parts.empty()) continue;
      if (draft.from) link(r, *draft.from, true);
      if (draft.to) link(r, *draft.to, false);
    }
    check_depths();
  }

 private:
  /// Joints in file order: of each run `from`, then within, then `to`. Those of links are filled in later, so that a
  /// port that a run needs for itself is never given away to a link that comes before it in the file.
  void lay_out_joints() {
    std::vector<std::vector<Joint>> within(in_.draft.runs.size());
    for (Joint& joint : frame_.joints) within[at(in_.part(joint.male).run)].push_back(joint);
    frame_.joints.clear();
    slots_.assign(in_.draft.runs.size(), {kNone, kNone});
    for (std::size_t r = 0; r < within.size(); ++r) {
      const DraftRun& draft = in_.draft.runs[r];
      if (draft.from && links_to_part(*draft.from)) slots_[r][0] = add(Joint{});
      for (const Joint& joint : within[r]) mark(joint, add(joint));
      if (draft.to && links_to_part(*draft.to)) slots_[r][1] = add(Joint{});
    }
  }

  int add(const Joint& joint) {
    frame_.joints.push_back(joint);
    return static_cast<int>(frame_.joints.size()) - 1;
  }

  void mark(const Joint& joint, int index) {
    port(joint.male, joint.male_port).joint = index;
    port(joint.female, joint.female_port).joint = index;
  }

  Port& port(PartId part, int index) { return in_.part(part).ports[at(index)]; }

  [[nodiscard]] bool links_to_part(const DraftLink& link) const {
    const auto found = in_.names.find(link.target);
    return found != in_.names.end() && found->second.kind == Named::Kind::part;
  }

  void link(std::size_t r, const DraftLink& draft, bool from) {
    const Subject subject{"run", in_.draft.runs[r].id};
    const auto found = in_.names.find(draft.target);
    if (found == in_.names.end()) {
      if (!from) (void)in_.resolve(draft.target, draft.where, subject, "to");
      return;  // `from` was told when the run was walked
    }
    switch (found->second.kind) {
      case Named::Kind::part: link_part(r, draft, from, found->second); break;
      case Named::Kind::surface: link_surface(r, draft, from, found->second.index); break;
      case Named::Kind::board: link_board(r, draft, from, found->second.index); break;
    }
  }

  /// The first part's entry or the last part's exit; nothing when the walk did not get there.
  std::optional<EndOfPart> own_end(std::size_t r, bool from, bool for_joint) {
    const DraftRun& draft = in_.draft.runs[r];
    const DraftPart& part = from ? draft.parts.front() : draft.parts.back();
    PartId id = from ? in_.part_of[r].front() : in_.part_of[r].back();
    if (part.kind == PartKind::union_half && !from) ++id;
    if (!in_.walked[at(id)]) return std::nullopt;
    const int last = in_.part(id).ports.size() > 1 ? 1 : 0;
    if (from || !for_joint) return EndOfPart{id, from ? 0 : last};
    const bool entered = draft.parts.size() > 1 || (draft.from && links_to_part(*draft.from));
    const bool closed =
        entered && (part.kind == PartKind::cap || part.kind == PartKind::plug || part.kind == PartKind::flange ||
                    part.kind == PartKind::foot || part.kind == PartKind::caster);
    if (closed || part.entry_branch) {
      in_.faults.add(
          draft.to->where, {"run", draft.id},
          message("to: the run ends in the {} '{}', which has no end left for '{}'; a pipe or a fitting with a free "
                  "opening goes last",
                  kind_said(part.kind), part.id, shown(draft.to->text())));
      return std::nullopt;
    }
    return EndOfPart{id, last};
  }

  /// Which way the run's last end points, where that is known.
  [[nodiscard]] std::optional<Direction> end_points(std::size_t r) {
    const DraftPart& last = in_.draft.runs[r].parts.back();
    const PartId id = in_.part_of[r].back();
    if (last.broken || !in_.walked[at(id)] || in_.part(id).ports.size() < 2) return std::nullopt;
    return in_.part(id).ports[1].facing;
  }

  /// The end of a part that a link names. `facing`: which way the end points that is to go in there, where it is known.
  std::optional<EndOfPart> named_end(const DraftLink& link, const Named& named, const Subject& subject,
                                     std::string_view key, const std::optional<Direction>& facing) {
    const DraftPart& draft = in_.draft_part(named);
    const bool halves = draft.kind == PartKind::union_half;
    const auto refuse = [&](const Message& expected, const std::vector<std::string>& words) {
      in_.faults.add(link.where, subject,
                     link.suffix.empty()
                         ? message("{}: {} '{}' has no end named, expected {}{}", key, kind_said(draft.kind),
                                   link.target, expected, did_you_mean(link.suffix, words))
                         : message("{}: {} '{}' has no '{}', expected {}{}", key, kind_said(draft.kind), link.target,
                                   "." + shown(link.suffix), expected, did_you_mean(link.suffix, words)));
      return std::nullopt;
    };
    if (draft.broken) {
      // How its end is written can be wrong all the same; `from` was told when the run was walked.
      const bool fitting = draft.way_known && draft.kind != PartKind::pipe;
      if (key == "from" || !fitting || direction_named(link.suffix)) return std::nullopt;
      std::vector<std::string> ways;
      for (const Direction d : all_directions()) ways.push_back(d.name());
      return refuse(message("'{}.' and the way its opening points", link.target), ways);
    }
    if (draft.kind == PartKind::pipe) {
      if (link.suffix == "start" || link.suffix == "end") {
        if (!in_.walked[at(named.part)]) return std::nullopt;
        return EndOfPart{named.part, link.suffix == "start" ? 0 : 1};
      }
      if (key == "from") return std::nullopt;  // told when the run was walked
      return refuse(message("'{0}.start' or '{0}.end'", link.target), {"start", "end"});
    }
    if (!in_.walked[at(named.part)]) return std::nullopt;
    std::vector<std::string> words;
    for (int half = 0; half < (halves ? 2 : 1); ++half) {
      const Part& part = in_.part(named.part + half);
      for (std::size_t i = 0; i < part.ports.size(); ++i) {
        const std::string word = part.ports[i].facing.name();
        if (word == link.suffix) return EndOfPart{named.part + half, static_cast<int>(i)};
        words.push_back(word);
      }
    }
    if (key == "from" && !direction_named(link.suffix)) return std::nullopt;  // told when the run was walked
    std::vector<std::string> full;
    for (const std::string& word : words) full.push_back("'" + link.target + "." + word + "'");
    Message expected = one_of(full);
    if (facing) {
      const std::string meets = (-*facing).name();
      if (std::find(words.begin(), words.end(), meets) != words.end()) {
        expected += message("; the run comes in going {}, so it meets '{}.{}'", facing->name(), link.target, meets);
        words.clear();  // that says it better than a near word
      }
    }
    return refuse(expected, words);
  }

  void link_part(std::size_t r, const DraftLink& draft, bool from, const Named& named) {
    const Subject subject{"run", in_.draft.runs[r].id};
    const std::string_view key = from ? "from" : "to";
    const auto there = named_end(draft, named, subject, key, from ? std::nullopt : end_points(r));
    const auto here = own_end(r, from, true);
    if (!there || !here) return;
    if (!in_.may_join(here->part, here->port, there->part, there->port, draft.where, subject)) return;
    for (const EndOfPart& end : {*there, *here}) {
      const int taken = port(end.part, end.port).joint;
      if (taken == kNone) continue;
      const Joint& joint = frame_.joint(taken);
      const Part& other = in_.part(joint.male == end.part && joint.male_port == end.port ? joint.female : joint.male);
      in_.faults.add(draft.where, subject,
                     in_.part(end.part).kind == PartKind::pipe
                         ? message("{}: '{}' is on {} already; only one can be", key, other.label,
                                   end_name(in_.part(end.part), end.port))
                         : message("{}: '{}' is in {} already; only one can be", key, other.label,
                                   end_name(in_.part(end.part), end.port)));
      return;
    }
    const Port& a = port(here->part, here->port);
    const Port& b = port(there->part, there->port);
    const auto engaged = in_.engaged(a.male ? a : b, draft.where, subject);
    if (!engaged) return;
    const int index = slots_[r][from ? 0 : 1];
    const Joint joint = in_.make_joint(here->part, here->port, there->part, there->port, *engaged, draft.where);
    frame_.joint(index) = joint;
    mark(joint, index);
    RunLink link;
    link.kind = RunLink::Kind::joint;
    link.joint = index;
    link.other_run = in_.part(there->part).run;
    add_link(r, from, here->part, draft.where, link);
  }

  void add_link(std::size_t r, bool from, PartId part, SourcePos where, RunLink link) {
    link.run = static_cast<int>(r);
    link.from = from;
    link.part = part;
    link.where = where;
    in_.out.links_of_run[r][from ? 0 : 1] = static_cast<int>(in_.out.links.size());
    in_.out.links.push_back(link);
  }

  /// The free end of the run's first or last part, in the run's coordinates: of a pipe its tip, of a flange its
  /// mounting face, of a foot, caster or cap its underside.
  [[nodiscard]] Vec3 free_end(PartId id, bool from) {
    if (from) return Vec3{};
    const Part& part = in_.part(id);
    return part.kind == PartKind::pipe ? part.ports.back().at : part.centre;
  }

  /// What may stand on a floor at the end of its run, held down by nothing.
  static bool stands(PartKind kind) {
    return kind == PartKind::foot || kind == PartKind::caster || kind == PartKind::cap || kind == PartKind::pipe;
  }

  /// A surface or board wants a flange that faces it. What else begins a run may stand on any surface, what ends one on
  /// a `floor`.
  bool lies_on(std::size_t r, const DraftLink& draft, bool from, const EndOfPart& end, Direction face, bool surface) {
    const DraftRun& run = in_.draft.runs[r];
    const Part& part = in_.part(end.part);
    const Subject subject{"run", run.id};
    const bool flange = part.kind == PartKind::flange;
    const bool floor = surface && face == kUp;
    if (!flange && surface && from) return true;
    if (!flange && !(floor && stands(part.kind))) {
      in_.faults.add(draft.where, subject,
                     message("{}: at '{}' {} is needed, got the {} '{}'", from ? "from" : "to", shown(draft.text()),
                             floor ? message("a flange (screwed down), or a foot, caster, cap or pipe (standing)")
                                   : message("a flange"),
                             kind_said(part.kind), part.label));
      return false;
    }
    const Direction opening = part.kind == PartKind::pipe ? -part.ports.back().facing : part.ports.front().facing;
    if (opening == face) return true;
    in_.faults.add(draft.where, subject,
                   message("{}: the run goes {} in the {} '{}', but only {} does it lie on '{}'", from ? "from" : "to",
                           (-opening).name(), kind_said(part.kind), part.label, (-face).name(), shown(draft.text())));
    return false;
  }

  void link_surface(std::size_t r, const DraftLink& draft, bool from, int surface) {
    const Subject subject{"run", in_.draft.runs[r].id};
    const Surface& plane = frame_.surface(surface);
    if (!draft.suffix.empty()) {
      if (!from) {
        in_.faults.add(draft.where, subject,
                       message("to: '{0}' is a surface: write '{0}' without '.{1}'", plane.id, shown(draft.suffix)));
      }
      return;
    }
    const auto end = own_end(r, from, false);
    if (!end || !lies_on(r, draft, from, *end, plane.normal, true)) return;
    RunLink link;
    link.kind = RunLink::Kind::surface;
    link.surface = surface;
    link.local = free_end(end->part, from);
    add_link(r, from, end->part, draft.where, link);
    if (in_.part(end->part).kind == PartKind::flange) {
      frame_.fastenings.push_back({Fastening::Kind::flange_to_surface, end->part, kRoom, surface, 1, draft.where});
    }
  }

  void link_board(std::size_t r, const DraftLink& draft, bool from, int board) {
    const DraftRun& run = in_.draft.runs[r];
    const Subject subject{"run", run.id};
    const auto face = direction_named(draft.suffix);
    if (!face || !face->along_axis()) {
      if (!from) {
        std::vector<std::string> words;
        for (const Direction d : all_directions()) {
          if (d.along_axis()) words.push_back(d.name());
        }
        const PartId last = in_.part_of[r].back();
        const bool flange = run.parts.back().kind == PartKind::flange && in_.walked[at(last)];
        const Message meant =
            flange ? message("; did you mean '{}.{}'?", draft.target, in_.part(last).ports.front().facing.name())
                   : did_you_mean(draft.suffix, words);
        in_.faults.add(draft.where, subject,
                       message("to: '{}' is a board: write '{}.' and the face's direction, got '{}'{}", draft.target,
                               draft.target, shown(draft.text()), meant));
      }
      return;
    }
    const auto end = own_end(r, from, false);
    if (!end || !lies_on(r, draft, from, *end, *face, false)) return;
    RunLink link;
    link.kind = RunLink::Kind::board;
    link.board = board;
    link.face = *face;
    link.local = free_end(end->part, from);
    const DraftBoard& on = in_.draft.boards[at(board)];
    if (from && run.at.size() == 2) {
      link.at = {run.at[0], run.at[1]};
      const int normal = face->axis();
      const int first = normal == 0 ? 1 : 0;
      const int second = normal == 2 ? 1 : 2;
      if (!on.broken &&
          (run.at[0] < 0.0 || run.at[1] < 0.0 || run.at[0] > on.size[first] || run.at[1] > on.size[second])) {
        in_.faults.add(run.at_where, subject,
                       message("at: lies off the board '{}', whose face is {} x {}", on.id,
                               length_said(on.size[first], frame_.units), length_said(on.size[second], frame_.units)));
      }
    }
    add_link(r, from, end->part, draft.where, link);
    const PartId board_part = in_.names.find(draft.target)->second.part;
    frame_.fastenings.push_back({Fastening::Kind::flange_to_board, end->part, board_part, kNone, 1, draft.where});
  }

  /// No end may be screwed in deeper than its port is, and no pipe be shorter than its threads.
  void check_depths() {
    for (std::size_t i = 0; i < frame_.parts.size(); ++i) {
      const Part& part = frame_.parts[i];
      double sum = 0.0;
      int joined = 0;
      for (const Port& port : part.ports) {
        if (port.joint == kNone) continue;
        const Joint& joint = frame_.joint(port.joint);
        sum += joint.engaged;
        ++joined;
        if (port.male || part.kind == PartKind::coupling || part.kind == PartKind::bushing) continue;
        const double depth = part.kind == PartKind::union_half ? part.length : norm(port.at - part.centre);
        if (joint.engaged > depth + kSlack) {
          in_.faults.add(
              joint.where, {"part", part.label},
              message("'{}' is screwed in by {}, but {} is only {} deep", in_.part(joint.male).label,
                      length_said(joint.engaged, frame_.units, true),
                      end_name(part, static_cast<int>(&port - part.ports.data())), length_said(depth, frame_.units)));
        }
      }
      const bool in_line = part.kind == PartKind::pipe || part.kind == PartKind::coupling;
      if (in_line && joined > 0 && sum > part.length + kSlack) {
        in_.faults.add(part.where, {"part", part.label},
                       part.kind == PartKind::pipe
                           ? message("is {} long; the threads screwed into fittings need at least {}",
                                     length_said(part.length, frame_.units), length_said(sum, frame_.units, true))
                           : message("is {} long; the threads screwed into it need at least {}",
                                     length_said(part.length, frame_.units), length_said(sum, frame_.units, true)));
      }
    }
  }

  static constexpr double kSlack = 1e-6;

  Assembler& in_;
  Frame& frame_;
  std::vector<std::array<int, 2>> slots_;
};

}  // namespace

void link_runs(Assembler& in) { Linker(in).run(); }

}  // namespace dryfit::model
