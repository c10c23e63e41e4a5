#include "cli/order/place_text.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>

#include "cli/words/lengths.hpp"
#include "cli/words/say.hpp"
#include "cli/words/trade_words.hpp"
#include "cli/words/words.hpp"
#include "model/geometry/at.hpp"

namespace dryfit::cli {
namespace {

constexpr double kInLine = 0.5;  // mm: what a tape does not tell apart

/// What a step fastens, where that is wanted; nullptr where it is not.
template <class Wanted>
const model::Fastening* fastening_of(const model::Frame& frame, const planner::ContactList& list,
                                     const planner::Step& step, const Wanted& wanted) {
  if (step.action != planner::Action::fasten) return nullptr;
  for (const planner::ContactId id : step.contacts) {
    const planner::Contact& contact = list.contact(id);
    if (contact.fastening == model::kNone) continue;
    const model::Fastening& made = frame.fastening(contact.fastening);
    if (wanted(made)) return &made;
  }
  return nullptr;
}

const model::Fastening* flange_fastening(const model::Frame& frame, const planner::ContactList& list,
                                         const planner::Step& step) {
  return fastening_of(frame, list, step, [](const model::Fastening& made) {
    return made.kind == model::Fastening::Kind::flange_to_surface ||
           made.kind == model::Fastening::Kind::flange_to_board;
  });
}

bool on_the_same(const model::Fastening& a, const model::Fastening& b) {
  return a.kind == b.kind && a.other == b.other && a.surface == b.surface;
}

/// The two axes along a face that looks along `normal`, the level one first.
std::array<int, 2> along_face(int normal) {
  if (normal == 0) return {1, 2};
  return normal == 1 ? std::array{0, 2} : std::array{0, 1};
}

/// The direction of a difference along an axis.
model::Direction way_of(int axis, double by) {
  constexpr std::array kUpward{model::kRight, model::kBack, model::kUp};
  return by > 0.0 ? kUpward[at(axis)] : -kUpward[at(axis)];
}

/// "24 in to the right of FL".
std::string away(const std::string& length, model::Direction way, const std::string& from) {
  if (way == model::kRight) return say("{0} to the right of {1}", length, from);
  if (way == model::kLeft) return say("{0} to the left of {1}", length, from);
  if (way == model::kBack) return say("{0} behind {1}", length, from);
  if (way == model::kFront) return say("{0} in front of {1}", length, from);
  return way == model::kUp ? say("{0} above {1}", length, from) : say("{0} below {1}", length, from);
}

std::string beside(const model::Frame& frame, const model::Fastening& now, const model::Fastening& first, int normal) {
  const Lengths lengths(frame.units);
  const model::Vec3 off = frame.part(now.part).centre - frame.part(first.part).centre;
  std::vector<std::string> parts;
  for (const int axis : along_face(normal)) {
    if (std::abs(off[axis]) <= kInLine) continue;
    parts.push_back(away(lengths(std::abs(off[axis])), way_of(axis, off[axis]), name_of(frame, first.part)));
  }
  if (parts.empty()) return "";
  const std::string name = name_of(frame, now.part), where = listed(parts);
  if (parts.size() > 1) return say("Centre of {0}: {1}.", name, where);
  if (normal == 2) return say("Centre of {0}: {1}, in line with it.", name, where);
  return std::abs(off[2]) <= kInLine ? say("Centre of {0}: {1}, at the same height.", name, where)
                                     : say("Centre of {0}: {1}, plumb.", name, where);
}

std::string on_surface(const model::Frame& frame, const model::Fastening& now) {
  const Lengths lengths(frame.units);
  const int normal = frame.surface(now.surface).normal.axis();
  std::vector<std::string> parts;
  for (const model::Surface& surface : frame.surfaces) {
    const int axis = surface.normal.axis();
    const double off = std::abs(frame.part(now.part).centre[axis] - surface.at);
    if (axis != normal && off > kInLine) parts.push_back(fmt::format("{} {}", lengths(off), from_surface(surface.id)));
  }
  return parts.empty() ? "" : say("Centre of {0}: {1}.", name_of(frame, now.part), listed(parts));
}

std::string on_board(const model::Frame& frame, const model::Fastening& now) {
  const Lengths lengths(frame.units);
  const model::Board& board = frame.board_of(now.other);
  std::vector<std::string> parts;
  for (const int axis : along_face(board.normal)) {
    const double off = frame.part(now.part).centre[axis] - board.lo[axis];
    parts.push_back(fmt::format("{} {}", lengths(off), from_edge(way_of(axis, -1.0))));
  }
  return say("Centre of {0}: {1}.", name_of(frame, now.part), listed(parts));
}

/// Of a board to a wall.
const model::Fastening* board_fastening(const model::Frame& frame, const planner::ContactList& list,
                                        const planner::Step& step) {
  return fastening_of(frame, list, step, [&](const model::Fastening& made) {
    return made.kind == model::Fastening::Kind::board_to_surface && frame.surface(made.surface).normal.axis() != 2;
  });
}

/// Where a board goes on its wall that nothing else holds in its place: its top from the floor, its left end from the
/// wall beside it or from a flange that is there already.
std::string board_on_wall(const model::Frame& frame, const planner::ContactList& list,
                          const std::vector<planner::Step>& steps, std::size_t step, const model::Fastening& now) {
  const model::Board& board = frame.board_of(now.part);
  const Lengths lengths(frame.units);
  const int level = along_face(frame.surface(now.surface).normal.axis()).front();
  std::vector<std::string> parts;
  if (!board.stands_on_carriers && board.holes.empty()) {
    for (const model::Surface& surface : frame.surfaces) {
      if (surface.normal != model::kUp) continue;
      parts.push_back(say("top {0} {1}", lengths(board.hi.z - surface.at), from_surface(surface.id)));
    }
  }
  if (board.given_by[at(level)] == model::kNone) {
    const std::string end = edge(way_of(level, -1.0));
    const auto beside = std::find_if(frame.surfaces.begin(), frame.surfaces.end(), [&](const model::Surface& surface) {
      return surface.normal == way_of(level, 1.0);
    });
    if (beside != frame.surfaces.end()) {
      parts.push_back(fmt::format("{} {} {}", end, lengths(board.lo[level] - beside->at), from_surface(beside->id)));
    }
    for (std::size_t i = 0; i < step && beside == frame.surfaces.end(); ++i) {
      const model::Fastening* before = flange_fastening(frame, list, steps[i]);
      if (before == nullptr || before->surface != now.surface) continue;
      const double off = board.lo[level] - frame.part(before->part).centre[level];
      parts.push_back(fmt::format(
          "{} {}", end,
          away(lengths(std::abs(off)), way_of(level, off), say("the centre of {}", name_of(frame, before->part)))));
      break;
    }
  }
  return parts.empty() ? "" : say("Place of {0}: {1}.", name_of(frame, now.part), listed(parts));
}

}  // namespace

std::string place_text(const model::Frame& frame, const planner::ContactList& list,
                       const std::vector<planner::Step>& steps, std::size_t step) {
  const model::Fastening* now = flange_fastening(frame, list, steps[step]);
  if (now == nullptr) {
    const model::Fastening* board = board_fastening(frame, list, steps[step]);
    return board == nullptr ? "" : board_on_wall(frame, list, steps, step, *board);
  }
  // The edges of a board are there for each flange: no distance is measured from one that may be out.
  if (now->other != model::kRoom) return on_board(frame, *now);
  for (std::size_t i = 0; i < step; ++i) {
    const model::Fastening* before = flange_fastening(frame, list, steps[i]);
    if (before == nullptr || !on_the_same(*before, *now)) continue;
    return beside(frame, *now, *before, frame.surface(now->surface).normal.axis());
  }
  return on_surface(frame, *now);
}

}  // namespace dryfit::cli
