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
        case Kind::flange_to_board: return 7;
      }
      return 7;
    }
    case MoveKind::undo_nut: return 8;
    case MoveKind::take_away: return 4;
    case MoveKind::sideways:
    case MoveKind::swing: return 5;
    case MoveKind::slide: {
      const bool boards = std::all_of(move.moving.begin(), move.moving.end(),
                                      [&](PartId p) { return frame.part(p).kind == model::PartKind::board; });
      if (boards) return 5;
      return move.moving == just_moved ? 3 : 9;
    }
    case MoveKind::unscrew: break;
  }
  // A pipe that would be left hanging in a board waits: a board goes over pipes more easily than a pipe through it.
  for (const PartId p : move.moving) {
    for (const ContactId k : list.at[dryfit::at(p)]) {
      const ContactKind kind = list.contact(k).kind;
      if (state.made(k) && (kind == ContactKind::hole || kind == ContactKind::notch)) return 9;
    }
  }
  return 8;
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
