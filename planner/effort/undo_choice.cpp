#include "planner/effort/undo_choice.hpp"

#include <algorithm>
#include <cmath>

#include "model/geometry/at.hpp"

namespace dryfit::planner {
namespace {

using model::Vec3;

constexpr double kBand = 150.0;  // mm: joints within it count as one height
constexpr double kStep = 100.0;  // mm: the same for walking

Vec3 joint_at(const ContactList& list, const Effort& effort, const Move& move) {
  const Contact& c = list.contact(move.contacts.front());
  if (c.kind == ContactKind::thread) return c.on_axis;
  const model::Bounds& box = effort.bounds(c.a);
  return (box.lo + box.hi) * 0.5;
}

/// A board of the move stays in another of its pipes: it is better taken off all of them at once.
bool still_held(const model::Frame& frame, const ContactList& list, const State& state, const Move& move) {
  return std::any_of(move.moving.begin(), move.moving.end(), [&](PartId p) {
    if (frame.part(p).board == model::kNone) return false;
    const auto& all = list.at[dryfit::at(p)];
    return std::any_of(all.begin(), all.end(), [&](ContactId k) {
      const Contact& c = list.contact(k);
      const bool on_pipe = c.a == p && hole_like(c.kind);
      return on_pipe && state.made(k) &&
             std::find(move.contacts.begin(), move.contacts.end(), k) == move.contacts.end();
    });
  });
}

/// The thread's fitting carries a board that is on its pipe.
bool carries_board(const model::Frame& frame, const ContactList& list, const State& state, const Contact& thread) {
  const auto& all = list.at[dryfit::at(thread.a)];
  return std::any_of(all.begin(), all.end(), [&](ContactId k) {
    const Contact& c = list.contact(k);
    if (!state.made(k) || c.a == thread.a || !hole_like(c.kind)) return false;
    const auto& carriers = frame.board_of(c.a).carriers;
    return std::find(carriers.begin(), carriers.end(), thread.b) != carriers.end();
  });
}

/// The other end of the thread's pipe is bare, or closed by what nothing else holds.
bool ends_beyond(const ContactList& list, const State& state, const Contact& thread) {
  for (const ContactId k : list.at[dryfit::at(thread.a)]) {
    const Contact& c = list.contact(k);
    if (!state.made(k) || c.kind != ContactKind::thread || c.b == thread.b) continue;
    const auto& beyond = list.at[dryfit::at(c.b)];
    if (std::count_if(beyond.begin(), beyond.end(), [&](ContactId other) { return state.made(other); }) > 1)
      return false;
  }
  return true;
}

/// The screws hold a leg that nothing else joins to a board that nothing else is joined to: a plain chain of parts. It
/// is taken apart on the board, as all other legs are, and the flange comes off bare.
bool on_a_lone_leg(const ContactList& list, const State& state, ContactId screws) {
  const Contact& made = list.contact(screws);
  const auto others = [&](PartId part) {
    std::vector<ContactId> found;
    for (const ContactId k : list.at[dryfit::at(part)]) {
      if (k != screws && state.made(k)) found.push_back(k);
    }
    return found;
  };
  if (!others(made.b).empty()) return false;
  PartId here = made.a;
  std::vector<ContactId> next = others(here);
  for (ContactId before = screws; next.size() == 1;) {
    before = next.front();
    const Contact& c = list.contact(before);
    if (c.kind != ContactKind::thread) return false;
    here = c.a == here ? c.b : c.a;
    next = others(here);
    std::erase(next, before);
  }
  return next.empty();
}

int rank_of(const model::Frame& frame, const ContactList& list, const State& state, const Move& move,
            const std::vector<PartId>& just_moved) {
  const Contact& first = list.contact(move.contacts.front());
  switch (move.kind) {
    case MoveKind::unfasten: {
      using Kind = model::Fastening::Kind;
      switch (frame.fastening(first.fastening).kind) {
        case Kind::strap: return 0;
        case Kind::board_to_surface: return 1;
        case Kind::clip: return 2;
        case Kind::flange_to_surface: return 6;
        case Kind::flange_to_board: return on_a_lone_leg(list, state, move.contacts.front()) ? 9 : 7;
      }
      return 7;
    }
    case MoveKind::undo_nut: return 8;
    case MoveKind::take_away: return 4;
    case MoveKind::sideways:
    case MoveKind::swing: return still_held(frame, list, state, move) ? 9 : 5;
    case MoveKind::slide: {
      const bool boards = std::all_of(move.moving.begin(), move.moving.end(),
                                      [&](PartId p) { return frame.part(p).kind == model::PartKind::board; });
      if (boards) return still_held(frame, list, state, move) ? 9 : 5;
      return move.moving == just_moved ? 3 : 9;
    }
    case MoveKind::unscrew: break;
  }
  // A pipe that would be left hanging in a board waits: a board goes over pipes more easily than a pipe through it.
  for (const PartId p : move.moving) {
    for (const ContactId k : list.at[dryfit::at(p)]) {
      const ContactKind kind = list.contact(k).kind;
      if (state.made(k) && hole_like(kind)) return 9;
    }
  }
  // So does what carries a board that can leave over the pipe's other end: put on first, it holds the board up.
  return carries_board(frame, list, state, first) && ends_beyond(list, state, first) ? 9 : 8;
}

}  // namespace

Place place_of(const ContactList& list, const Effort& effort, const Move& move) {
  return {joint_at(list, effort, move), true};
}

UndoKey key_of(const model::Frame& frame, const ContactList& list, const Effort& effort, const State& state,
               const Move& move, const Place& last, const std::vector<PartId>& just_moved) {
  UndoKey key;
  key.rank = rank_of(frame, list, state, move, just_moved);
  const Vec3 at = joint_at(list, effort, move);
  double top = at.z;
  for (const PartId p : move.moving) top = std::max(top, effort.bounds(p).hi.z);
  key.band = -static_cast<long long>(std::floor(top / kBand));
  if (last.known) {
    key.walk = static_cast<long long>(std::floor(std::hypot(at.x - last.at.x, at.y - last.at.y) / kStep));
  }
  const auto rounded = [](double v) { return std::llround(v * 10.0); };
  // Backwards: the far right corner first, so that the order itself begins at the front left.
  key.where = {-rounded(at.z), -rounded(at.x), -rounded(at.y)};
  key.kind = static_cast<int>(move.kind);
  return key;
}

}  // namespace dryfit::planner
