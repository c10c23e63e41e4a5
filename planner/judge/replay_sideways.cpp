/// Out of open slots: a board is pushed off the pipes in them, or a run out of boards that stay.
#include <algorithm>
#include <unordered_set>
#include <utility>

#include "model/geometry/at.hpp"
#include "planner/judge/replay_slide.hpp"

namespace dryfit::planner::judge {

using model::Direction;

/// All that goes along when the vertex is moved that way: what it is joined to, except through slots that let go so. A
/// slot that is open the other way pushes its pipe, or its board, along. Ascending; ends early with the room or `stop`.
std::vector<int> Judge::pushed_along(const Made& made, int seed, int stop, Direction way) const {
  std::vector<int> pushed{seed};
  std::unordered_set<int> known{seed};
  for (std::size_t i = 0; i < pushed.size() && !known.contains(stop) && !known.contains(scene_.list().room()); ++i) {
    const int vertex = pushed[i];
    for (const ContactId id : scene_.at(vertex)) {
      const Contact& c = scene_.contact(id);
      if (made[dryfit::at(id)] == 0) continue;
      const int a = scene_.list().vertex(c.a), b = scene_.list().vertex(c.b);
      if (c.kind == ContactKind::notch && scene_.hole(c).open == (vertex == a ? -way : way)) continue;
      const int next = vertex == a ? b : a;
      if (known.insert(next).second) pushed.push_back(next);
    }
  }
  std::sort(pushed.begin(), pushed.end());
  return pushed;
}

/// Why the board cannot be moved out of its slots by itself, in the words of what is seen first.
Message Judge::held_in_slot(const Made& made, PartId board) const {
  if (Message held = burden(made, board); !held.empty()) return held;
  Direction open{};
  for (const ContactId id : scene_.at(board)) {
    const Contact& c = scene_.contact(id);
    if (made[dryfit::at(id)] == 0 || !hole_like(c)) continue;
    const model::Hole& hole = scene_.hole(c);
    if (!hole.notch) return message("its hole round {} is closed", called(scene_, c.b));
    if (open.valid() && open != hole.open) return message("its notches are open to different sides");
    open = hole.open;
  }
  return message("both are held together");
}

Verdict Judge::sideways(const Made& made, ContactId notch, const Named& named) {
  const Contact& c = scene_.contact(notch);
  const Direction open = scene_.hole(c).open;
  const int room = scene_.list().room();
  const auto board_cannot = [&] { return message("{} cannot come on sideways", called(scene_, c.a)); };
  Message why;
  for (const bool board_goes : {true, false}) {
    const Direction way = board_goes ? -open : open;
    Slide slide{.pieces = Pieces(scene_, made, {.slots_along = open}, marks_),
                .cluster = Cluster(scene_, made, c.a, cluster_marks_),
                .out_of_slots = true};
    const int seed = board_goes ? c.a : c.b, left = board_goes ? c.b : c.a;
    slide.take(pushed_along(made, seed, left, way), scene_, made, [](ContactId) { return true; });
    if (slide.in_k(left) || slide.in_k(room)) {
      if (board_goes) why = with_reason(board_cannot(), held_in_slot(made, c.a));
      continue;
    }
    if (const Message other = not_the_step(scene_, slide.left_out, named); !other.empty()) {
      if (board_goes) why = with_reason(board_cannot(), other);
      continue;
    }
    slide.named_board = board_goes ? c.a : model::kNone;
    const Obstacle blocked = sliding_blocked(slide, way);
    if (!blocked) return {slide.left_out, {}};
    if (!why.empty()) why += Message::as_it_is("; ");
    why += board_goes
               ? message("{} cannot come on sideways {}: {}", called(scene_, c.a), coming_from(way), *blocked)
               : message("{} cannot be pushed into its notch {}: {}", called(scene_, c.b), coming_from(way), *blocked);
  }
  return refused(std::move(why));
}

}  // namespace dryfit::planner::judge
