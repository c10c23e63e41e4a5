/// Every run walked part by part in its own coordinates.
#include <fmt/format.h>

#include <cmath>

#include "model/frame/plain_text.hpp"
#include "model/geometry/at.hpp"
#include "model/placing/assembly.hpp"
#include "model/placing/bodies.hpp"
#include "model/text/messages.hpp"
#include "model/text/part_words.hpp"

namespace dryfit::model {
namespace {

enum class End { none, male, female };

/// What a link is written to end in.
bool pipe_end(const DraftLink& link) { return link.suffix == "start" || link.suffix == "end"; }

/// The sex of the end by which a part is entered; bushings take either.
End entry_of(const DraftPart& part) {
  switch (part.kind) {
    case PartKind::pipe:
    case PartKind::plug: return End::male;
    case PartKind::street_elbow: return part.reverse ? End::male : End::female;
    case PartKind::bushing: return End::none;
    default: return End::female;
  }
}

/// Nothing can go on behind it.
bool ends_walk(const DraftPart& part) {
  return part.kind == PartKind::cap || part.kind == PartKind::plug || part.kind == PartKind::flange ||
         part.kind == PartKind::foot || part.kind == PartKind::caster ||
         (part.kind == PartKind::tee && part.entry_branch);
}

/// The directions that fit, those along an axis alone where there are any.
template <class Fits>
std::vector<std::string> ways_that(Direction in, const Fits& fits) {
  std::vector<std::string> words;
  for (const bool along_axis_only : {true, false}) {
    for (const Direction d : all_directions()) {
      const bool wanted = along_axis_only ? d.along_axis() : true;
      if (wanted && fits(d) && d != in) words.push_back(d.name());
    }
    if (!words.empty()) break;
  }
  return words;
}

/// Walks one run from a known direction.
class Walker {
 public:
  Walker(Assembler& in, std::size_t run, Direction go, End before)
      : in_(in), draft_(in.draft.runs[run]), ids_(in.part_of[run]), go_(go), before_(before) {}

  void run() {
    for (std::size_t i = 0; i < draft_.parts.size(); ++i) {
      if (draft_.parts[i].broken ? !step_over(i) : !step(i)) return;
    }
  }

 private:
  /// Past a part of which a mistake was told, as long as the way is known: what stands behind it may hold more.
  bool step_over(std::size_t i) {
    const DraftPart& draft = draft_.parts[i];
    const bool fits = draft.kind == PartKind::elbow45        ? at_45(go_, draft.turn)
                      : draft.kind == PartKind::street_elbow ? square(go_, draft.turn) || at_45(go_, draft.turn)
                                                             : !turns(draft) || square(go_, draft.turn);
    if (!draft.way_known || ends_walk(draft) || !fits) return false;
    if (turns(draft)) go_ = draft.turn;
    last_ = kNone;
    return true;
  }

  static bool turns(const DraftPart& draft) {
    return draft.kind == PartKind::elbow || draft.kind == PartKind::elbow45 || draft.kind == PartKind::street_elbow ||
           draft.kind == PartKind::side_elbow;
  }

  bool step(std::size_t i) {
    const DraftPart& draft = draft_.parts[i];
    const Subject subject{"part", draft.id};
    if (i > 0 && closed_by_ != nullptr) {
      in_.faults.add(draft.where, subject,
                     message("nothing can follow the {} '{}': it is the last of its run",
                             closed_by_->kind == PartKind::tee ? message("tee entered at its branch")
                                                               : kind_said(closed_by_->kind),
                             closed_by_->id));
      return false;
    }
    Walk walk;
    walk.in = go_;
    walk.entered = i > 0 || before_ != End::none || (draft_.parts.size() == 1 && closes_at_end(draft));
    walk.enters_male = enters_male(i);
    if (!turns_well(draft, walk, subject)) return false;
    const PartId id = ids_[i];
    if (!shape(draft, walk, id, subject)) return false;
    Vec3 start{};
    // What does not join is told, and the walk goes on behind it.
    if (i > 0 && last_ != kNone && in_.may_join(last_, last_port_, id, 0, draft.where, subject)) {
      const Port& a = in_.part(last_).ports[at(last_port_)];
      const Port& b = in_.part(id).ports[0];
      const auto engaged = in_.engaged(a.male ? a : b, draft.where, subject);
      if (!engaged) return false;
      start = a.at - go_.unit() * *engaged;
      in_.out.frame.joints.push_back(in_.make_joint(last_, last_port_, id, 0, *engaged, draft.where));
    }
    put(id, draft.kind, start);
    leave(draft, walk, id);
    return true;
  }

  /// A flange, foot or caster that stands alone between nothing and a surface or board faces that.
  [[nodiscard]] bool closes_at_end(const DraftPart& draft) const {
    const bool stands = draft.kind == PartKind::foot || draft.kind == PartKind::caster;
    return (draft.kind == PartKind::flange || stands) && draft_.to && !draft_.from;
  }

  [[nodiscard]] bool enters_male(std::size_t i) const {
    const DraftPart& draft = draft_.parts[i];
    const End own = entry_of(draft);
    if (own != End::none) return own == End::male;
    if (i > 0) return last_ != kNone && !in_.part(last_).ports[at(last_port_)].male;
    if (before_ != End::none) return before_ == End::female;
    // A bushing that begins a run: what follows tells which end is free.
    if (i + 1 < draft_.parts.size()) return entry_of(draft_.parts[i + 1]) != End::female;
    return !draft_.to || pipe_end(*draft_.to);
  }

  bool turns_well(const DraftPart& draft, const Walk& walk, const Subject& subject) {
    const auto wrong = [&](const Message& rest, Direction got, const auto& fits) {
      in_.faults.add(draft.where, subject,
                     message("the {} is entered going {}, so {} {}, got '{}'", kind_said(draft.kind), walk.in.name(),
                             rest, one_of(ways_that(walk.in, fits)), got.name()));
      return false;
    };
    const auto is_square = [&](Direction d) { return square(d, walk.in); };
    const auto is_at_45 = [&](Direction d) { return at_45(walk.in, d); };
    const auto is_either = [&](Direction d) { return is_square(d) || is_at_45(d); };
    switch (draft.kind) {
      case PartKind::elbow:
      case PartKind::side_elbow:
        if (!is_square(draft.turn)) return wrong(message("it must leave"), draft.turn, is_square);
        break;
      case PartKind::elbow45:
        if (!is_at_45(draft.turn)) return wrong(message("it must leave"), draft.turn, is_at_45);
        break;
      case PartKind::street_elbow:
        if (!is_either(draft.turn)) return wrong(message("it must leave"), draft.turn, is_either);
        break;
      case PartKind::tee:
      case PartKind::side_tee:
        if (!is_square(draft.turn)) {
          return wrong(draft.entry_branch ? message("its straight run must point") : message("its branch must point"),
                       draft.turn, is_square);
        }
        break;
      case PartKind::cross: {
        const int along = draft.plane_normal == 0 ? walk.in.x : draft.plane_normal == 1 ? walk.in.y : walk.in.z;
        if (along != 0) {
          static constexpr std::array<std::string_view, 3> kPlanes{"yz", "xz", "xy"};
          in_.faults.add(draft.where, subject,
                         message("plane: the cross is entered going {}, along {}, which '{}' leaves out",
                                 walk.in.name(), "xyz"[at(draft.plane_normal)], kPlanes[at(draft.plane_normal)]));
          return false;
        }
        break;
      }
      case PartKind::bushing:
        if (draft.other_size >= draft.size) {
          const auto& sizes = nominal_sizes();
          in_.faults.add(draft.where, subject,
                         message("inner size: expected less than its outer size {}, got '{}'", sizes[at(draft.size)],
                                 sizes[at(draft.other_size)]));
          return false;
        }
        break;
      default: break;
    }
    if (draft.kind == PartKind::side_elbow || draft.kind == PartKind::side_tee) {
      const auto is_free = [&](Direction d) { return is_square(d) && square(d, draft.turn); };
      if (!is_free(draft.side)) return wrong(message("its side outlet must point"), draft.side, is_free);
    }
    return true;
  }

  bool shape(const DraftPart& draft, const Walk& walk, PartId id, const Subject& subject) {
    auto missing = shape_part(draft, in_.draft.standard, in_.draft.units, walk, false, in_.part(id));
    if (!missing && draft.kind == PartKind::union_half) {
      missing = shape_part(draft, in_.draft.standard, in_.draft.units, walk, true, in_.part(id + 1));
    }
    if (missing) in_.faults.add(draft.where, subject, *missing);
    return !missing;
  }

  void put(PartId id, PartKind kind, Vec3 start) {
    Part& part = in_.part(id);
    move_part(part, start);
    in_.walked[at(id)] = true;
    if (kind != PartKind::union_half) return;
    move_part(in_.part(id + 1), start + go_.unit() * part.length);
    in_.walked[at(id) + 1] = true;
  }

  void leave(const DraftPart& draft, const Walk& walk, PartId id) {
    last_ = draft.kind == PartKind::union_half ? id + 1 : id;
    last_port_ = draft.kind == PartKind::union_half || in_.part(id).ports.size() == 1 ? 0 : 1;
    if (ends_walk(draft) && walk.entered) closed_by_ = &draft;
    if (draft.kind == PartKind::tee && draft.entry_branch) closed_by_ = &draft;
    if (turns(draft)) go_ = draft.turn;
  }

  Assembler& in_;
  const DraftRun& draft_;
  const std::vector<PartId>& ids_;
  Direction go_;
  End before_;
  PartId last_ = kNone;
  int last_port_ = 0;
  const DraftPart* closed_by_ = nullptr;
};

/// Where a run sets out, before its parts are walked.
struct Start {
  Direction go;
  End before = End::none;
};

/// Finds the walking direction of every run; a run that begins at a pipe's end needs that pipe's run walked first.
class Starts {
 public:
  explicit Starts(Assembler& in) : in_(in), state_(in.draft.runs.size(), State::fresh) {}

  void walk_all() {
    for (std::size_t r = 0; r < state_.size(); ++r) walk(r);
  }

 private:
  enum class State { fresh, waiting, done };

  /// Not recursive: a file may hold a chain of 100,000 runs, each at the end of the next one's pipe.
  void walk(std::size_t first) {
    std::vector<std::size_t> chain{first};
    while (!chain.empty()) {
      const std::size_t run = chain.back();
      if (state_[run] == State::done) {
        chain.pop_back();
        continue;
      }
      const std::optional<std::size_t> needs = run_needed(run);
      if (needs && state_[*needs] == State::fresh && *needs != run) {
        state_[run] = State::waiting;
        chain.push_back(*needs);
        continue;
      }
      if (needs && (*needs == run || state_[*needs] == State::waiting)) {
        const DraftRun& draft = in_.draft.runs[run];
        in_.faults.add(draft.from->where, {"run", draft.id},
                       message("from: where '{}' points follows from this run itself; start one of the two elsewhere",
                               draft.from->text()));
      } else if (const auto start = start_of(run)) {
        Walker(in_, run, start->go, start->before).run();
      }
      state_[run] = State::done;
      chain.pop_back();
    }
  }

  [[nodiscard]] std::optional<std::size_t> run_needed(std::size_t run) const {
    const DraftRun& draft = in_.draft.runs[run];
    if (draft.broken || !draft.from || !pipe_end(*draft.from)) return std::nullopt;
    const auto found = in_.names.find(draft.from->target);
    if (found == in_.names.end() || found->second.kind != Named::Kind::part) return std::nullopt;
    return at(found->second.run);
  }

  std::optional<Start> start_of(std::size_t run) {
    const DraftRun& draft = in_.draft.runs[run];
    const Subject subject{"run", draft.id};
    if (draft.broken) return std::nullopt;
    if (!draft.from) {
      if (draft.go) return Start{*draft.go, End::none};
      in_.faults.add(draft.where, subject,
                     message("'go' is missing: which way does the run go? or 'from': what does it start at?"));
      return std::nullopt;
    }
    const DraftLink& from = *draft.from;
    const Named* named = in_.resolve(from.target, from.where, subject, "from");
    if (named == nullptr) return std::nullopt;
    switch (named->kind) {
      case Named::Kind::surface: return from_surface(draft, *named);
      case Named::Kind::board: return from_direction(draft, End::none, true);
      case Named::Kind::part: break;
    }
    if (!draft.at.empty()) {
      in_.faults.add(draft.at_where, subject, message("at: '{}' places the run already; leave 'at' out", from.text()));
      return std::nullopt;
    }
    const DraftPart& target = in_.draft_part(*named);
    if (target.broken) {
      // How its end is written can be wrong all the same.
      if (target.way_known && target.kind != PartKind::pipe) (void)from_direction(draft, End::none, false);
      return std::nullopt;
    }
    if (target.kind == PartKind::pipe) return from_pipe(draft, *named);
    // A street elbow's or bushing's male end is taken as a pipe end.
    return from_direction(draft, End::female, false);
  }

  std::optional<Start> from_surface(const DraftRun& draft, const Named& named) {
    const Subject subject{"run", draft.id};
    const Surface& surface = in_.draft.surfaces[at(named.index)];
    if (!draft.from->suffix.empty()) {
      in_.faults.add(
          draft.from->where, subject,
          message("from: '{0}' is a surface: write '{0}' without '.{1}'", surface.id, shown(draft.from->suffix)));
      return std::nullopt;
    }
    const Direction go = draft.go.value_or(surface.normal);
    const bool flange = draft.parts.front().kind == PartKind::flange;
    if (!draft.parts.front().broken && (flange ? go != surface.normal : dot(go, surface.normal) <= 0)) {
      in_.faults.add(draft.go_where, subject,
                     message("go: '{}' faces {}, so {}, got '{}'", surface.id, surface.normal.name(),
                             flange ? message("a flange on it goes that way") : message("the run must go away from it"),
                             go.name()));
      return std::nullopt;
    }
    return Start{go, End::none};
  }

  std::optional<Start> from_direction(const DraftRun& draft, End before, bool board) {
    const Subject subject{"run", draft.id};
    const DraftLink& from = *draft.from;
    const auto facing = direction_named(from.suffix);
    if (!facing || (board && !facing->along_axis())) {
      std::vector<std::string> words;
      for (const Direction d : all_directions()) {
        if (!board || d.along_axis()) words.push_back(d.name());
      }
      in_.faults.add(from.where, subject,
                     message("from: '{}' is {}: write '{}.' and the direction it goes, got '{}'{}", from.target,
                             board ? message("a board") : message("a fitting"), from.target, shown(from.text()),
                             did_you_mean(from.suffix, words)));
      return std::nullopt;
    }
    if (!go_agrees(draft, *facing)) return std::nullopt;
    if (before == End::female) before = sex_at(draft, *facing);
    return Start{*facing, before};
  }

  /// A street elbow or bushing has a male end, which a fitting can follow.
  End sex_at(const DraftRun& draft, Direction facing) const {
    const Named& named = in_.names.find(draft.from->target)->second;
    const DraftPart& target = in_.draft_part(named);
    if (target.kind == PartKind::street_elbow) {
      // Its exit faces the new walking direction; its entry faces back.
      const bool at_exit = facing == target.turn;
      return at_exit != target.reverse ? End::male : End::female;
    }
    if (target.kind == PartKind::plug) return End::male;
    // A bushing's ends: the first part of this run tells; the joint is checked afterwards.
    if (target.kind == PartKind::bushing && !draft.parts.front().broken) {
      return entry_of(draft.parts.front()) == End::female ? End::male : End::female;
    }
    return End::female;
  }

  std::optional<Start> from_pipe(const DraftRun& draft, const Named& named) {
    const DraftLink& from = *draft.from;
    const Subject subject{"run", draft.id};
    if (!pipe_end(from)) {
      in_.faults.add(from.where, subject,
                     message("from: '{}' is a pipe, expected '{}.start' or '{}.end', got '{}'", from.target,
                             from.target, from.target, shown(from.text())));
      return std::nullopt;
    }
    if (!in_.walked[at(named.part)]) return std::nullopt;
    const Direction facing = in_.part(named.part).ports[from.suffix == "start" ? 0 : 1].facing;
    if (!go_agrees(draft, facing)) return std::nullopt;
    return Start{facing, End::male};
  }

  bool go_agrees(const DraftRun& draft, Direction facing) {
    if (!draft.go || *draft.go == facing) return true;
    in_.faults.add(draft.go_where, {"run", draft.id},
                   message("go: '{0}' points {1}: leave 'go' out, got '{2}'", shown(draft.from->text()), facing.name(),
                           draft.go->name()));
    return false;
  }

  Assembler& in_;
  std::vector<State> state_;
};

}  // namespace

void walk_runs(Assembler& in) { Starts(in).walk_all(); }

}  // namespace dryfit::model
