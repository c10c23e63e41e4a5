#include "cli/check/measured_spacings.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <optional>

#include "cli/io/usage_error.hpp"
#include "cli/words/lengths.hpp"
#include "cli/words/said.hpp"
#include "cli/words/say.hpp"
#include "cli/words/words.hpp"
#include "model/text/length.hpp"
#include "model/text/length_fault.hpp"

namespace dryfit::cli {
namespace {

std::optional<model::PartId> pipe_named(const model::Frame& frame, const std::string& name) {
  for (std::size_t id = 0; id < frame.parts.size(); ++id) {
    const model::Part& part = frame.parts[id];
    if (part.kind == model::PartKind::pipe && (part.label == name || part.id == name))
      return static_cast<model::PartId>(id);
  }
  return std::nullopt;
}

/// Names may hold a '-' themselves: the first place is taken where both sides are pipes.
planner::Measured measured_of(const model::Frame& frame, const std::string& typed) {
  const std::size_t equals = typed.find('=');
  if (equals == std::string::npos)
    throw UsageError(say("--measured {}: expected two pipes and a length, such as P3-P8=31-7/8 in", typed));
  const std::string names = typed.substr(0, equals);
  model::Message why;
  const auto length = model::parse_length(typed.substr(equals + 1), frame.units, why);
  if (!length) throw UsageError(fmt::format("--measured {}: {}", typed, said(why)));
  for (std::size_t dash = names.find('-'); dash != std::string::npos; dash = names.find('-', dash + 1)) {
    const auto first = pipe_named(frame, names.substr(0, dash));
    const auto second = pipe_named(frame, names.substr(dash + 1));
    if (first && second && *first != *second) return {*first, *second, *length};
  }
  throw UsageError(say("--measured {}: there are no two pipes '{}' in {}", typed, names, frame.name));
}

std::string fault_text(const model::Frame& frame, const planner::MeasuredFault& fault) {
  const std::string posts =
      fmt::format("{}-{}", name_of(frame, fault.measured.first), name_of(frame, fault.measured.second));
  const std::string spacing = length_text(fault.measured.spacing, frame.units);
  const std::string other = length_text(fault.other, frame.units);
  switch (fault.kind) {
    case planner::MeasuredFault::Kind::no_board:
      return say("--measured {}: no board is drilled for both of these pipes", posts);
    case planner::MeasuredFault::Kind::far_off:
      return say(
          "--measured {0}: {1} is far from the {2} that are drawn: measure again, centre to centre, or "
          "change the frame",
          posts, spacing, other);
    case planner::MeasuredFault::Kind::apart: break;
  }
  return say(
      "--measured {0}: {1} does not go together with the other spacings, which leave {2}: measure all "
      "sides and diagonals again",
      posts, spacing, other);
}

}  // namespace

void take_measured(const model::Frame& frame, const std::vector<std::string>& typed,
                   std::vector<planner::DrillSheet>& sheets) {
  std::vector<planner::Measured> measured;
  for (const std::string& one : typed) measured.push_back(measured_of(frame, one));
  if (const auto fault = planner::lay_out_measured(sheets, measured)) throw UsageError(fault_text(frame, *fault));
}

}  // namespace dryfit::cli
