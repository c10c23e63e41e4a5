#include "cli/board_work_text.hpp"

#include <fmt/format.h>

#include <array>
#include <nlohmann/json.hpp>

#include "cli/words.hpp"

namespace dryfit::cli {
namespace {

/// All wording of this file.
namespace says {
constexpr const char* kLaid[] = {"", "turn it end for end", "turn it a quarter", "turn it over"};
constexpr const char* kLaidWord[] = {"as-before", "half-turn", "quarter-turn", "other-face-up"};
constexpr const char* kDrill = "drill for {}, {}, {} from the {} and {} from the {} edge";
constexpr const char* kSlot = "saw a slot for {}, {} wide, {} from the {} and {} from the {} edge";
constexpr const char* kOpenOut = "open the hole of {} out to {} for {}";
constexpr const char* kSawOpen = "saw the hole of {} open to the {} edge for {}";
constexpr const char* kRunsInto = " (it breaks into the old hole of {}: plug that first, or take a new board)";
constexpr const char* kServes = "the {} of {} serves";
constexpr const char* kServe = "the holes of {} serve";
constexpr const char* kShows = "the old {} of {} stays open and shows";
}  // namespace says

const model::Board& board_at(const model::Frame& frame, model::PartId part) {
  return frame.boards[static_cast<std::size_t>(frame.parts[static_cast<std::size_t>(part)].board)];
}

const std::string& pipe_at(const model::Frame& frame, const model::Board& board, int hole) {
  return frame.parts[static_cast<std::size_t>(board.holes[static_cast<std::size_t>(hole)].pipe)].label;
}

/// The two axes of the board's own plane.
std::array<int, 2> plane_of(const model::Board& board) {
  if (board.normal == 0) return {1, 2};
  return board.normal == 1 ? std::array<int, 2>{0, 2} : std::array<int, 2>{0, 1};
}

const char* low_edge(int axis) {
  static constexpr const char* kEdges[] = {"left", "front", "lower"};
  return kEdges[axis];
}

const char* hole_word(const model::Hole& hole) { return hole.notch ? "slot" : "hole"; }

}  // namespace

std::string board_work_text(const model::Frame& old_frame, const model::Frame& new_frame,
                            const planner::BoardWork& work, const Lengths& lengths) {
  const model::Board& before = board_at(old_frame, work.board);
  const model::Board& after = board_at(new_frame, work.as);
  const auto [u, v] = plane_of(after);
  std::vector<std::string> jobs, serve;
  if (work.laid != planner::Laid::as_before) jobs.emplace_back(says::kLaid[static_cast<std::size_t>(work.laid)]);
  for (const planner::NewHole& hole : work.holes) {
    const model::Hole& wanted = after.holes[static_cast<std::size_t>(hole.hole)];
    const std::string& pipe = pipe_at(new_frame, after, hole.hole);
    if (hole.ready) {
      serve.push_back(pipe_at(old_frame, before, hole.from));
      continue;
    }
    if (hole.from >= 0 && wanted.notch) {
      jobs.push_back(fmt::format(says::kSawOpen, pipe_at(old_frame, before, hole.from), side(wanted.open), pipe));
      continue;
    }
    if (hole.from >= 0) {
      jobs.push_back(
          fmt::format(says::kOpenOut, pipe_at(old_frame, before, hole.from), lengths.fine(wanted.diameter), pipe));
      continue;
    }
    std::string job = fmt::format(fmt::runtime(wanted.notch ? says::kSlot : says::kDrill), pipe,
                                  lengths(wanted.diameter), lengths(wanted.centre[u] - after.lo[u]), low_edge(u),
                                  lengths(wanted.centre[v] - after.lo[v]), low_edge(v));
    if (hole.runs_into >= 0) job += fmt::format(says::kRunsInto, pipe_at(old_frame, before, hole.runs_into));
    jobs.push_back(std::move(job));
  }
  if (serve.size() == 1) jobs.push_back(fmt::format(says::kServes, "hole", serve.front()));
  if (serve.size() > 1) jobs.push_back(fmt::format(says::kServe, listed(serve)));
  for (const int hole : work.left_open) {
    jobs.push_back(fmt::format(says::kShows, hole_word(before.holes[static_cast<std::size_t>(hole)]),
                               pipe_at(old_frame, before, hole)));
  }
  return fmt::format("{}: {}.", old_frame.parts[static_cast<std::size_t>(work.board)].label, fmt::join(jobs, "; "));
}

Json board_work_json(const model::Frame& old_frame, const model::Frame& new_frame, const planner::BoardWork& work) {
  const model::Board& before = board_at(old_frame, work.board);
  const model::Board& after = board_at(new_frame, work.as);
  Json drill = Json::array(), serve = Json::array(), left = Json::array();
  for (const planner::NewHole& hole : work.holes) {
    const model::Hole& wanted = after.holes[static_cast<std::size_t>(hole.hole)];
    const std::string& pipe = pipe_at(new_frame, after, hole.hole);
    if (hole.ready) {
      serve.push_back({{"pipe", pipe}, {"was", pipe_at(old_frame, before, hole.from)}});
      continue;
    }
    Json entry = {{"pipe", pipe}, {"slot", wanted.notch}, {"diameter_mm", rounded(wanted.diameter)}};
    for (const int axis : plane_of(after)) {
      entry[fmt::format("from_{}_mm", low_edge(axis))] = rounded(wanted.centre[axis] - after.lo[axis]);
    }
    entry["opens_out"] = hole.from >= 0 ? Json(pipe_at(old_frame, before, hole.from)) : Json(nullptr);
    entry["runs_into"] = hole.runs_into >= 0 ? Json(pipe_at(old_frame, before, hole.runs_into)) : Json(nullptr);
    drill.push_back(std::move(entry));
  }
  for (const int hole : work.left_open) left.push_back(pipe_at(old_frame, before, hole));
  return {{"board", old_frame.parts[static_cast<std::size_t>(work.board)].id},
          {"as", new_frame.parts[static_cast<std::size_t>(work.as)].id},
          {"laid", says::kLaidWord[static_cast<std::size_t>(work.laid)]},
          {"drill", std::move(drill)},
          {"serve", std::move(serve)},
          {"left_open", std::move(left)}};
}

}  // namespace dryfit::cli
