#include "tests/support/naive/naive_handling.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <numbers>

#include "model/geometry/at.hpp"
#include "model/measure/mass_properties.hpp"
#include "tests/support/naive/naive_pieces.hpp"

namespace dryfit::test {
namespace {

using model::PartId;
using planner::Contact;
using planner::ContactId;
using planner::ContactList;
using planner::Move;
using planner::MoveKind;
using planner::Pose;

constexpr double kNot = std::numeric_limits<double>::infinity();

bool faces(const model::Frame& frame, model::Direction normal) {
  return std::any_of(frame.surfaces.begin(), frame.surfaces.end(),
                     [&](const model::Surface& s) { return s.normal == normal; });
}

/// Distance of two surfaces that face each other along the normal; infinite without them.
double clear(const model::Frame& frame, model::Direction normal) {
  double low = -kNot, high = kNot;
  for (const model::Surface& s : frame.surfaces) {
    if (s.normal == normal) low = s.at;
    if (s.normal == -normal) high = s.at;
  }
  return high - low;
}

/// Feet of a body: corners of its bounds, or twelve points round the foot of an upright pipe.
void add_feet(const model::Solid& solid, std::vector<std::pair<double, double>>& feet) {
  const bool round = solid.shape == model::Solid::Shape::cylinder && solid.along.z != 0;
  for (int i = 0; round && i < 12; ++i) {
    const double turn = std::numbers::pi * i / 6.0;
    feet.emplace_back(solid.a.x + solid.radius * std::cos(turn), solid.a.y + solid.radius * std::sin(turn));
  }
  const model::Bounds box = bounds_of(solid);
  for (int i = 0; !round && i < 4; ++i) {
    feet.emplace_back(i % 2 == 0 ? box.lo.x : box.hi.x, i < 2 ? box.lo.y : box.hi.y);
  }
}

/// How far a point is inside of what the points enclose: the least distance from a line through two of them that has
/// all others on the point's side; negative outside or where they enclose nothing.
double inside(double x, double y, const std::vector<std::pair<double, double>>& points) {
  double least = kNot;
  bool encloses = false;
  for (const auto& [ax, ay] : points) {
    for (const auto& [bx, by] : points) {
      const double length = std::hypot(bx - ax, by - ay);
      if (length < 1e-9) continue;
      const auto left_of = [&](double px, double py) {
        return ((bx - ax) * (py - ay) - (by - ay) * (px - ax)) / length;
      };
      double farthest = 0.0;
      const bool edge = std::all_of(points.begin(), points.end(), [&](const std::pair<double, double>& p) {
        const double left = left_of(p.first, p.second);
        farthest = std::max(farthest, left);
        return left >= -1e-9;
      });
      if (!edge) continue;
      encloses = encloses || farthest > 1e-9;
      least = std::min(least, left_of(x, y));
    }
  }
  return encloses ? least : -1.0;
}

/// What threads, nuts and screws hold together with the part, board and room left out.
std::set<int> carrier_of(const ContactList& list, const std::vector<char>& made, int part, int board) {
  return together(list, made, part, [&](const Contact& c) {
    const bool held = c.kind != planner::ContactKind::hole && c.kind != planner::ContactKind::notch &&
                      c.kind != planner::ContactKind::rest;
    return held && c.a != board && c.b != board && c.b != model::kRoom;
  });
}

bool is_fast_to_room(const ContactList& list, const std::vector<char>& made, const std::set<int>& parts) {
  for (std::size_t c = 0; c < made.size(); ++c) {
    if (made[c] != 0 && list.contacts[c].b == model::kRoom && parts.count(list.contacts[c].a) != 0) return true;
  }
  return false;
}

/// On its feet, as in the finished frame, with pipes that roll.
bool stands_by_itself(const model::Frame& frame, const std::set<int>& parts) {
  const double low = box_of(frame, parts).lo.z;
  double x = 0.0, y = 0.0, z = 0.0, total = 0.0;
  std::vector<std::pair<double, double>> feet;
  for (const int p : parts) {
    const model::MassProperties body = model::mass_properties(frame, static_cast<PartId>(p));
    x += body.mass * body.centre.x;
    y += body.mass * body.centre.y;
    z += body.mass * (body.centre.z - low);
    total += body.mass;
    for (const model::Solid& solid : frame.part(p).solids) {
      if (bounds_of(solid).lo.z - low > 5.0) continue;
      if (solid.shape == model::Solid::Shape::cylinder && solid.along.z == 0) {
        feet.emplace_back(solid.a.x, solid.a.y);
        feet.emplace_back(solid.b.x, solid.b.y);
      } else {
        add_feet(solid, feet);
      }
    }
  }
  return inside(x / total, y / total, feet) >= std::tan(rate("tip-angle") * std::numbers::pi / 180.0) * z / total;
}

/// Everything in it lies round one line.
bool is_rod(const model::Frame& frame, const std::set<int>& parts) {
  const model::Solid& first = frame.part(*parts.begin()).solids.front();
  for (const int p : parts) {
    for (const model::Solid& solid : frame.part(p).solids) {
      if (solid.shape != model::Solid::Shape::cylinder || first.shape != solid.shape) return false;
      for (const model::Vec3& end : {solid.a, solid.b}) {
        const model::Vec3 off = end - first.a, along = first.along.unit();
        if (norm(off - along * dot(off, along)) > 0.5) return false;
      }
    }
  }
  return true;
}

bool carried_firmly(const model::Frame& frame, const ContactList& list, const std::vector<char>& made, int board) {
  std::set<std::set<int>> pieces;
  for (std::size_t c = 0; c < made.size(); ++c) {
    const Contact& rest = list.contacts[c];
    if (made[c] == 0 || rest.kind != planner::ContactKind::rest || rest.a != board) continue;
    pieces.insert(carrier_of(list, made, rest.b, board));
  }
  double ground = kNot;
  for (const std::set<int>& piece : pieces) ground = std::min(ground, box_of(frame, piece).lo.z);
  for (const model::Surface& s : frame.surfaces) {
    if (s.normal == model::kUp) ground = s.at;
  }
  return std::all_of(pieces.begin(), pieces.end(), [&](const std::set<int>& piece) {
    if (is_fast_to_room(list, made, piece)) return true;
    if (!frame.surfaces.empty() && !faces(frame, model::kUp)) return false;  // in the air before a wall
    const bool stands = stands_by_itself(frame, piece);
    if (pieces.size() > 1) return stands && box_of(frame, piece).lo.z <= ground + 5.0;
    return stands || (!is_rod(frame, piece) && mass(frame, piece) > rate("in-one-hand"));
  });
}

}  // namespace

double naive_on_loose(const model::Frame& frame, const ContactList& list, const std::vector<char>& made,
                      const Move& move) {
  if (move.kind != MoveKind::take_away) return 0.0;
  const int board = contact(list, move.contacts.front()).a;
  const std::vector<char> whole(made.size(), 1);
  return carried_firmly(frame, list, whole, board) && !carried_firmly(frame, list, made, board) ? 1000.0 : 0.0;
}

bool naive_keeps_pose(const model::Frame& frame, const ContactList& list, const std::vector<char>& made,
                      const NaivePiece& piece, const std::function<bool(ContactId)>& comes_off) {
  for (const model::Board& board : frame.boards) {
    if (!board.laid() || piece.parts.count(board.part) == 0) continue;
    std::vector<ContactId> rests;
    std::set<int> carriers;
    for (std::size_t c = 0; c < made.size(); ++c) {
      const Contact& rest = list.contacts[c];
      if (made[c] == 0 || rest.kind != planner::ContactKind::rest || rest.a != board.part) continue;
      rests.push_back(static_cast<ContactId>(c));
      carriers.merge(carrier_of(list, made, rest.b, board.part));
    }
    if (rests.empty()) continue;
    bool fastened = false;
    bool under_one = false;  // with another board on top it cannot be lifted, but neither is it held
    for (std::size_t c = 0; c < made.size(); ++c) {
      const Contact& k = list.contacts[c];
      if (made[c] == 0 || (k.a != board.part && k.b != board.part)) continue;
      under_one |= k.kind == planner::ContactKind::rest && k.b == board.part;
      if (k.kind != planner::ContactKind::fastening) continue;
      fastened |= k.b == model::kRoom || carriers.count(k.a == board.part ? k.b : k.a) != 0;
    }
    if (fastened) continue;
    if (under_one || comes_off(rests.front())) return true;
  }
  return false;
}

NaivePiece naive_piece(const ContactList& list, const std::vector<char>& made, const Move& move) {
  NaivePiece piece;
  piece.parts = together(list, made, contact(list, move.contacts.front()).a,
                         [](const Contact& c) { return c.b != model::kRoom; });
  for (ContactId c = 0; c < static_cast<ContactId>(made.size()); ++c) {
    const Contact& k = contact(list, c);
    if (made[at(c)] == 0 || k.b != model::kRoom || piece.parts.count(k.a) == 0) continue;
    piece.fastened = true;
    if (c != move.contacts.front()) piece.held = true;
  }
  return piece;
}

double naive_trouble(const model::Frame& frame, const ContactList& list, const NaivePiece& piece, const Move& move,
                     const model::Vec3& on, Pose pose) {
  const bool upright = std::abs(on.z) > std::abs(on.x) && std::abs(on.z) > std::abs(on.y);
  const bool from_below = upright && (pose == Pose::over ? on.z < 0.0 : on.z > 0.0);
  const bool light = !piece.fastened && mass(frame, piece.parts) <= rate("in-one-hand");
  std::set<int> all;
  for (std::size_t p = 0; p < frame.parts.size(); ++p) all.insert(static_cast<int>(p));
  switch (move.kind) {
    case MoveKind::unscrew: {
      if (light || pose == Pose::laid || !from_below) return 0.0;
      const model::Bounds whole = box_of(frame, all);
      const model::Bounds moving = box_of(frame, std::set<int>(move.moving.begin(), move.moving.end()));
      const double above = pose == Pose::over ? whole.hi.z - moving.hi.z : moving.lo.z - whole.lo.z;
      return above < std::abs(on.z) ? rate("at-the-foot") : rate("from-below");
    }
    case MoveKind::slide:
    case MoveKind::sideways:
    case MoveKind::swing:
      if (light || !upright) return 0.0;
      if (pose == Pose::laid) return rate("board-level");
      return from_below ? rate("board-uphill") : 0.0;
    case MoveKind::take_away: return pose == Pose::standing ? 0.0 : kNot;
    case MoveKind::undo_nut: return 0.0;
    case MoveKind::unfasten: break;
  }
  const Contact& screws = contact(list, move.contacts.front());
  if (screws.b == model::kRoom) return pose != Pose::standing ? kNot : 0.0;
  const bool flange = frame.part(screws.a).kind == model::PartKind::flange;
  if (light || !flange || frame.board_of(screws.b).facing.z == 0) return 0.0;
  if (pose == Pose::laid) return rate("board-level");
  const bool hangs = box_of(frame, {screws.a}).hi.z < box_of(frame, {screws.b}).hi.z;  // under the board as finished
  return hangs == (pose == Pose::standing) ? rate("from-below") : 0.0;
}

bool naive_propped(const model::Frame& frame, const NaivePiece& piece, Pose pose) {
  if (piece.held || pose == Pose::laid) return false;
  if (!frame.surfaces.empty() && !faces(frame, model::kUp)) return true;  // in the air before a wall
  if (mass(frame, piece.parts) <= rate("in-one-hand") && !piece.fastened) return false;
  const model::Bounds box = box_of(frame, piece.parts);
  double x = 0.0, y = 0.0, z = 0.0, total = 0.0;
  std::vector<std::pair<double, double>> feet;
  for (const int p : piece.parts) {
    const model::MassProperties body = model::mass_properties(frame, static_cast<PartId>(p));
    x += body.mass * body.centre.x;
    y += body.mass * body.centre.y;
    z += body.mass * (pose == Pose::over ? box.hi.z - body.centre.z : body.centre.z - box.lo.z);
    total += body.mass;
    for (const model::Solid& solid : frame.part(p).solids) {
      const model::Bounds one = bounds_of(solid);
      const double above = pose == Pose::over ? box.hi.z - one.hi.z : one.lo.z - box.lo.z;
      if (above <= 5.0) add_feet(solid, feet);
    }
  }
  const double lean = std::tan(rate("tip-angle") * std::numbers::pi / 180.0) * z / total;
  return inside(x / total, y / total, feet) < lean;
}

double naive_turn(const model::Frame& frame, const NaivePiece& piece) {
  if (piece.fastened) return kNot;
  const model::Bounds box = box_of(frame, piece.parts);
  const double tall = clear(frame, model::kUp), high = box.hi.z - box.lo.z;
  const auto tilts = [&](int axis, double across) {
    // About an edge of the piece, or about one of what the finished frame stands on.
    std::set<int> all;
    for (std::size_t p = 0; p < frame.parts.size(); ++p) all.insert(static_cast<int>(p));
    const double floor = box_of(frame, all).lo.z;
    double low = kNot, far = -kNot;
    for (const int p : all) {
      const model::Bounds one = box_of(frame, {p});
      if (one.lo.z > floor + 5.0) continue;
      low = std::min(low, one.lo[axis]);
      far = std::max(far, one.hi[axis]);
    }
    double left = 0.0, right = 0.0;
    for (const int p : piece.parts) {
      const model::Bounds one = box_of(frame, {p});
      left = std::max(left, std::hypot(one.hi.z - box.lo.z, std::max(0.0, one.hi[axis] - low)));
      right = std::max(right, std::hypot(one.hi.z - box.lo.z, std::max(0.0, far - one.lo[axis])));
    }
    double least = std::hypot(high, box.hi[axis] - box.lo[axis]);
    if (faces(frame, model::kUp)) least = std::min({least, left, right});
    return least <= tall && high <= across;
  };
  if (!tilts(0, clear(frame, model::kRight)) && !tilts(1, clear(frame, model::kBack))) return kNot;
  if (mass(frame, piece.parts) <= rate("in-one-hand")) return 0.0;
  return rate("turn-work") + rate("turn-work-mass") * mass(frame, piece.parts);
}

}  // namespace dryfit::test
