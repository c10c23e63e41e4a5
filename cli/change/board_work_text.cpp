#include "cli/change/board_work_text.hpp"

#include <fmt/format.h>

#include <array>
#include <nlohmann/json.hpp>

#include "cli/words/say.hpp"
#include "cli/words/words.hpp"
#include "model/geometry/at.hpp"

namespace dryfit::cli {
namespace {

constexpr const char* kLaidWord[] = {"as-before", "half-turn", "quarter-turn", "other-face-up"};

std::string laid_text(planner::Laid laid) {
  switch (laid) {
    case planner::Laid::as_before: return "";
    case planner::Laid::half_turn: return say("turn it end for end");
    case planner::Laid::quarter_turn: return say("turn it a quarter");
    case planner::Laid::other_face_up: break;
  }
  return say("turn it over");
}

const model::Board& board_at(const model::Frame& frame, model::PartId part) { return frame.board_of(part); }

const std::string& pipe_at(const model::Frame& frame, const model::Board& board, int hole) {
  return frame.part(board.holes[at(hole)].pipe).label;
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

}  // namespace

std::string board_work_text(const model::Frame& old_frame, const model::Frame& new_frame,
                            const planner::BoardWork& work, const Lengths& lengths) {
  const model::Board& before = board_at(old_frame, work.board);
  const model::Board& after = board_at(new_frame, work.as);
  const auto [u, v] = plane_of(after);
  std::vector<std::string> jobs, serve;
  if (work.laid != planner::Laid::as_before) jobs.push_back(laid_text(work.laid));
  for (const planner::NewHole& hole : work.holes) {
    const model::Hole& wanted = after.holes[at(hole.hole)];
    const std::string& pipe = pipe_at(new_frame, after, hole.hole);
    if (hole.ready) {
      serve.push_back(pipe_at(old_frame, before, hole.from));
      continue;
    }
    if (hole.from >= 0 && wanted.notch) {
      jobs.push_back(say("saw the hole of {0} open to the {1} for {2}", pipe_at(old_frame, before, hole.from),
                         edge(wanted.open), pipe));
      continue;
    }
    if (hole.from >= 0) {
      jobs.push_back(say("open the hole of {0} out to {1} for {2}", pipe_at(old_frame, before, hole.from),
                         lengths.fine(wanted.diameter), pipe));
      continue;
    }
    const std::string width = lengths(wanted.diameter), x = lengths(wanted.centre[u] - after.lo[u]),
                      y = lengths(wanted.centre[v] - after.lo[v]);
    const std::string left = side(side_named(low_edge(u))), low = side(side_named(low_edge(v)));
    std::string job = wanted.notch ? say("saw a slot for {0}, {1} wide, {2} from the {3} and {4} from the {5} edge",
                                         pipe, width, x, left, y, low)
                                   : say("drill for {0}, {1}, {2} from the {3} and {4} from the {5} edge", pipe, width,
                                         x, left, y, low);
    if (hole.runs_into >= 0) {
      job = say("{0} (it breaks into the old hole of {1}: plug that first, or take a new board)", job,
                pipe_at(old_frame, before, hole.runs_into));
    }
    jobs.push_back(std::move(job));
  }
  if (serve.size() == 1) jobs.push_back(say("the hole of {} will do", serve.front()));
  if (serve.size() > 1) jobs.push_back(say("the holes of {} will do", listed(serve)));
  for (const int hole : work.left_open) {
    const std::string& pipe = pipe_at(old_frame, before, hole);
    jobs.push_back(before.holes[at(hole)].notch ? say("the old slot of {} will show", pipe)
                                                : say("the old hole of {} will show", pipe));
  }
  return fmt::format("{}: {}.", old_frame.part(work.board).label, fmt::join(jobs, "; "));
}

Json board_work_json(const model::Frame& old_frame, const model::Frame& new_frame, const planner::BoardWork& work) {
  const model::Board& before = board_at(old_frame, work.board);
  const model::Board& after = board_at(new_frame, work.as);
  Json drill = Json::array(), serve = Json::array(), left = Json::array();
  for (const planner::NewHole& hole : work.holes) {
    const model::Hole& wanted = after.holes[at(hole.hole)];
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
  return {{"board", old_frame.part(work.board).id},
          {"as", new_frame.part(work.as).id},
          {"laid", kLaidWord[at(work.laid)]},
          {"drill", std::move(drill)},
          {"serve", std::move(serve)},
          {"left_open", std::move(left)}};
}

}  // namespace dryfit::cli
