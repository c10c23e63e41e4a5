#include "model/placing/place.hpp"

#include <algorithm>
#include <numeric>

#include "model/geometry/at.hpp"
#include "model/measure/sunken.hpp"
#include "model/placing/bodies.hpp"
#include "model/placing/place_boards.hpp"
#include "model/placing/place_runs.hpp"

namespace dryfit::model {
namespace {

void index_links(Placer& in) {
  const std::size_t runs = in.assembly.draft.runs.size();
  const std::size_t boards = in.frame.boards.size();
  in.offset.assign(runs, {});
  in.run_placed.assign(runs, false);
  in.board_placed.assign(boards, false);
  in.gave.assign(in.assembly.links.size(), {false, false, false});
  in.links_to_run.resize(runs);
  in.links_to_board.resize(boards);
  in.boards_of_run.resize(runs);
  in.boards_on_board.resize(boards);
  in.frame.placed_by.assign(in.frame.parts.size(), {});
  std::vector<std::vector<int>> runs_of_board(boards);
  for (std::size_t i = 0; i < in.assembly.links.size(); ++i) {
    const RunLink& link = in.assembly.links[i];
    const int index = static_cast<int>(i);
    if (link.kind == RunLink::Kind::joint && link.other_run != link.run) {
      in.links_to_run[at(link.other_run)].push_back(index);
    } else if (link.kind == RunLink::Kind::board) {
      in.links_to_board[at(link.board)].push_back(index);
      runs_of_board[at(link.board)].push_back(link.run);
    }
  }
  const auto by_rank = [&](int a, int b) {
    return in.rank[at(in.assembly.links[at(a)].run)] < in.rank[at(in.assembly.links[at(b)].run)];
  };
  for (std::vector<int>& links : in.links_to_run) std::stable_sort(links.begin(), links.end(), by_rank);
  for (std::vector<int>& links : in.links_to_board) std::stable_sort(links.begin(), links.end(), by_rank);
  for (std::size_t b = 0; b < boards; ++b) {
    const BoardNames& names = in.assembly.board_names[b];
    std::vector<int> on = runs_of_board[b];
    for (const PartId id : {names.reach_from, names.carriers.empty() ? kNone : names.carriers.front()}) {
      if (id == kNone) continue;
      const Part& first = in.part(id);
      if (first.kind == PartKind::board) {
        in.boards_on_board[at(first.board)].push_back(static_cast<int>(b));
      } else {
        on.push_back(first.run);
      }
    }
    for (const int run : on) {
      auto& list = in.boards_of_run[at(run)];
      if (list.empty() || list.back() != static_cast<int>(b)) list.push_back(static_cast<int>(b));
    }
  }
}

}  // namespace

void place(Assembly& assembly, std::vector<int> ranks, Faults& faults) {
  if (ranks.empty()) {
    ranks.resize(assembly.draft.runs.size());
    std::iota(ranks.begin(), ranks.end(), 0);
  }
  Placer in{assembly, faults, assembly.frame, std::move(ranks), {}, {}, {}, {}, {}, {}, {}, {}};
  index_links(in);
  place_all(in);
  if (faults.any()) return;
  close_runs(in);
  finish_boards(in);
  for (Part& part : in.frame.parts) {
    if (part.kind != PartKind::board) move_part(part, in.offset[at(part.run)]);
  }
  find_sunken(in.frame);
}

bool all_ways_agree(const Frame& frame) {
  constexpr double kSame = 1e-6;
  return std::all_of(frame.closures.begin(), frame.closures.end(),
                     [](const Closure& closure) { return norm(closure.gap) < kSame; });
}

}  // namespace dryfit::model
