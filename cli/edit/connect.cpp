#include "cli/edit/connect.hpp"

#include <fmt/format.h>

#include <cmath>
#include <stdexcept>

#include "cli/io/usage_error.hpp"
#include "cli/words/say.hpp"
#include "model/editing/grow.hpp"
#include "model/text/length.hpp"
#include "planner/base/stock.hpp"

namespace dryfit::cli {
namespace {

constexpr double kReached = 4.0;  ///< mm along the pipe that about two turns make up for
constexpr double kInLine = 0.5;   ///< mm beside it

/// What a copy is made of, while it is put together.
struct CopyWork {
  const std::string& text;
  const model::Frame& frame;
  std::string run;
  std::map<std::string, std::string> names;
  model::Turning turning;
};

std::string run_meant(const model::Frame& frame, const std::string& named) {
  for (const model::Run& run : frame.runs) {
    if (run.id == named) return run.id;
  }
  for (const model::Part& part : frame.parts) {
    if (part.label == named && part.run != model::kNone) return frame.runs[at(part.run)].id;
  }
  throw UsageError(say("there is no run or part '{}' to copy", named));
}

/// The two coordinates of a spot on a surface, in x y z order.
std::pair<double, double> spot_of(const model::Frame& frame, const std::string& given) {
  const std::size_t comma = given.find(',');
  const auto first = model::parse_length(given.substr(0, comma), frame.units);
  const auto second = comma == std::string::npos
                          ? std::nullopt
                          : model::parse_length(given.substr(given.find_first_not_of(' ', comma + 1)), frame.units);
  if (!first || !second) throw UsageError(say("'{}': expected two coordinates on the surface, as 24,0", given));
  return {*first, *second};
}

/// Mirrored on a surface: along the axis on which the copy goes farther from its original.
int mirror_axis(const model::Frame& frame, const CopyWork& work, const std::string& surface, const std::string& spot) {
  int normal = 2;
  for (const model::Surface& one : frame.surfaces) {
    if (one.id == surface) normal = one.normal.axis();
  }
  const int first = normal == 0 ? 1 : 0;
  const int second = normal == 2 ? 1 : 2;
  const auto [u, v] = spot_of(frame, spot);
  for (const model::Run& run : frame.runs) {
    if (run.id != work.run) continue;
    const model::Vec3 stands = frame.part(run.parts.front()).centre;
    return std::abs(u - stands[first]) >= std::abs(v - stands[second]) ? first : second;
  }
  return first;
}

EditMade copied_onto_surface(CopyWork& work, const std::string& place, bool mirror) {
  const std::size_t sign = place.find('@');
  const std::string surface = place.substr(0, sign);
  if (sign == std::string::npos) throw UsageError(say("say where on '{0}', as {0}@24,0", surface));
  if (mirror) work.turning = model::mirrored_along(mirror_axis(work.frame, work, surface, place.substr(sign + 1)));
  model::NewRun copy = model::run_copied(work.text, work.run, work.names, work.turning);
  copy.id = run_named(&work.frame, work.run);
  copy.from = surface;
  copy.at = as_spot(place.substr(sign + 1));
  return {model::with_run(work.text, copy), {}, {}};
}

/// The port in the run that the end's own chain began at, or the only one that could take the end.
struct Taking {
  PartEnd port;
  model::Turning turning;
};
std::optional<Taking> port_to_take(const CopyWork& work, PartEnd end, const std::string& asked, bool mirror) {
  const model::Port& open = port_of(work.frame, end);
  const model::Turning mirrored = model::mirrored_along(open.facing.axis());
  std::string began;
  const int run = work.frame.part(end.part).run;
  if (run != model::kNone) began = model::said_of_run(work.text, work.frame.runs[at(run)].id, "from");
  std::optional<Taking> best;
  int best_rank = 0;
  for (std::size_t i = 0; i < work.frame.parts.size(); ++i) {
    const model::Part& part = work.frame.parts[i];
    const bool in_run = part.run != model::kNone && work.frame.runs[at(part.run)].id == work.run;
    if (!in_run || (!asked.empty() && part.label != asked)) continue;
    for (std::size_t port = 2; port < part.ports.size(); ++port) {  // the first two are the run's own
      const PartEnd one{static_cast<model::PartId>(i), port};
      const model::Port& there = part.ports[port];
      if (there.male == open.male || there.size != open.size || !parallel(there.facing, open.facing)) continue;
      const bool turn = there.facing == open.facing;
      if (mirror && !turn) continue;
      const int rank = end_name(work.frame, one) == began ? 3 : turn ? 1 : 2;
      if (rank > best_rank) best = Taking{one, turn ? mirrored : model::Turning{}};
      best_rank = std::max(best_rank, rank);
    }
  }
  return best;
}

EditMade copied_onto_end(CopyWork& work, PartEnd end, const std::string& asked, bool mirror) {
  const int run = run_going_on(work.frame, end);
  const std::string name = end_name(work.frame, end);
  if (run == model::kNone) {
    throw UsageError(say("'{}' is no end of a run that could be made up in a copy of '{}'", name, work.run));
  }
  const auto taking = port_to_take(work, end, asked, mirror);
  if (!taking) throw UsageError(say("no port of run '{}' could take {}", work.run, name));
  work.turning = taking->turning;
  model::NewRun copy = model::run_copied(work.text, work.run, work.names, work.turning);
  copy.id = run_named(&work.frame, work.run);
  copy.from = model::said_of_run(work.text, work.run, "from");
  const model::Port& port = port_of(work.frame, taking->port);
  const std::string target =
      work.names.at(work.frame.part(taking->port.part).label) + "." + turned(work.turning, port.facing).name();
  const std::string longer = model::with_run(work.text, copy);
  return {model::with_run_ended(longer, work.frame.runs[at(run)].id, target), {}, {}};
}

EditMade copied_from_end(CopyWork& work, PartEnd end, PartEnd began, bool mirror, const std::string& name) {
  const model::Direction was = port_of(work.frame, began).facing;
  const model::Direction now = port_of(work.frame, end).facing;
  work.turning = model::turned_from(was, now);
  if (mirror && was == now) work.turning = model::mirrored_along(now.axis() == 0 ? 1 : 0);
  model::NewRun copy = model::run_copied(work.text, work.run, work.names, work.turning);
  copy.id = run_named(&work.frame, work.run);
  copy.from = end_name(work.frame, end);
  EditMade made{model::with_run(work.text, copy), {}, {}};
  if (model::said_of_run(work.text, work.run, "to").find('.') == std::string::npos) return made;
  const auto loaded = read_if_sound(made.text, name);
  if (!loaded) return made;
  const model::Frame& frame = loaded->frame;
  for (const PartEnd open : open_ends(frame)) {
    const int run = run_going_on(frame, open);
    if (run == model::kNone || frame.runs[at(run)].id != copy.id) continue;
    if (const auto reached = reached_by(frame, open)) {
      made.text = model::with_run_ended(made.text, copy.id, end_name(frame, *reached));
    }
    break;
  }
  return made;
}

}  // namespace

std::optional<PartEnd> reached_by(const model::Frame& frame, PartEnd end) {
  const model::Port& port = port_of(frame, end);
  std::optional<PartEnd> best;
  double least = kReached;
  for (const PartEnd other : open_ends(frame)) {
    const model::Port& there = port_of(frame, other);
    if (other.part == end.part || !could_meet(port, there)) continue;
    const model::PartId male = port.male ? end.part : other.part;
    const auto thread = planner::thread_of(frame.standard, frame.make_up, frame.part(male).size);
    if (!thread) continue;
    // The tip stands in the port by the thread that is engaged.
    const model::Vec3 way = port.facing.unit();
    const model::Vec3 apart = there.at - port.at;
    const double along = dot(apart, way) + thread->engaged;
    const model::Vec3 beside = apart - way * dot(apart, way);
    if (norm(beside) > kInLine || std::abs(along) >= least) continue;
    least = std::abs(along);
    best = other;
  }
  return best;
}

std::string joined_to(const std::string& text, const std::string& name, const std::string& end,
                      const std::string& target) {
  const LoadedFrame loaded = loaded_from(text, name);
  const PartEnd from = open_end_named(loaded.frame, end);
  int run = run_going_on(loaded.frame, from);
  std::string to = target;
  if (target.find('.') != std::string::npos) {
    const PartEnd there = open_end_named(loaded.frame, target);
    if (run == model::kNone) {
      run = run_going_on(loaded.frame, there);
      to = end;
    }
  }
  if (run == model::kNone) {
    throw UsageError(say("--join {}={}: neither is the end of a run", end, target));
  }
  return model::with_run_ended(text, loaded.frame.runs[at(run)].id, to);
}

RunCopy copy_of_run(const model::Frame& frame, const std::string& text, const std::string& name, const std::string& run,
                    const std::string& place, bool mirror) {
  CopyWork work{text, frame, run_meant(frame, run), {}, {}};
  std::set<std::string> taken = names_taken(frame);
  std::vector<std::string> added;
  for (const model::NewPart& part : model::parts_of_run(text, work.run)) {
    added.push_back(work.names[part.id] = name_like(taken, part.id));
  }
  const std::string from = model::said_of_run(text, work.run, "from");
  RunCopy copy;
  if (place.find('.') == std::string::npos) {
    copy.made = copied_onto_surface(work, place, mirror);
  } else {
    const std::size_t sign = place.find('@');
    const PartEnd end = open_end_named(frame, place.substr(0, sign));
    const auto began = end_named(frame, from);
    const bool alike = began && port_of(frame, *began).male == port_of(frame, end).male && sign == std::string::npos;
    copy.made = alike ? copied_from_end(work, end, *began, mirror, name)
                      : copied_onto_end(work, end, sign == std::string::npos ? "" : place.substr(sign + 1), mirror);
  }
  copy.made.added = std::move(added);
  copy.run = work.run;
  copy.names = std::move(work.names);
  copy.turning = std::move(work.turning);
  return copy;
}

EditMade run_copied_to(const std::string& text, const std::string& name, const std::string& run,
                       const std::string& place, bool mirror) {
  return copy_of_run(loaded_from(text, name).frame, text, name, run, place, mirror).made;
}

}  // namespace dryfit::cli
