#include "cli/draw/body/piece.hpp"

#include <algorithm>
#include <utility>

namespace dryfit::cli {
namespace {

Vec3 where_crossed(Vec3 a, Vec3 b, double side_a, double side_b) { return a + (side_a / (side_a - side_b)) * (b - a); }

/// The part of a spot (convex) in front of the plane.
std::vector<Vec3> clipped(const std::vector<Vec3>& outline, const Plane& plane) {
  std::vector<Vec3> out;
  for (std::size_t i = 0; i < outline.size(); ++i) {
    const Vec3 a = outline[i];
    const Vec3 b = outline[(i + 1) % outline.size()];
    const double sa = plane.side(a);
    const double sb = plane.side(b);
    if (sa >= 0.0) out.push_back(a);
    if ((sa > 0.0 && sb < 0.0) || (sa < 0.0 && sb > 0.0)) out.push_back(where_crossed(a, b, sa, sb));
  }
  return out;
}

/// The stretches of a line in front of the plane, as lines.
void clip_line(const Mark& mark, const Plane& plane, std::vector<Mark>& out) {
  Mark run = mark;
  const auto start_over = [&] {
    if (run.points.size() >= 2) out.push_back(run);
    run.points.clear();
    run.normals.clear();
  };
  run.points.clear();
  run.normals.clear();
  for (std::size_t i = 0; i + 1 < mark.points.size(); ++i) {
    const Vec3 a = mark.points[i];
    const Vec3 b = mark.points[i + 1];
    const double sa = plane.side(a);
    const double sb = plane.side(b);
    if (sa < 0.0 && sb < 0.0) {
      start_over();
      continue;
    }
    const Vec3 from = sa >= 0.0 ? a : where_crossed(a, b, sa, sb);
    const Vec3 to = sb >= 0.0 ? b : where_crossed(a, b, sa, sb);
    if (sa < 0.0) start_over();
    if (run.points.empty()) run.points.push_back(from);
    run.points.push_back(to);
    run.normals.push_back(mark.normals[i]);
    if (sb < 0.0) start_over();
  }
  start_over();
}

std::vector<Mark> clipped(const std::vector<Mark>& marks, const Plane& plane) {
  std::vector<Mark> out;
  for (const Mark& mark : marks) {
    if (mark.kind == Mark::Kind::spot) {
      Mark rest = mark;
      rest.points = clipped(mark.points, plane);
      if (rest.points.size() >= 3) out.push_back(std::move(rest));
    } else {
      clip_line(mark, plane, out);
    }
  }
  return out;
}

}  // namespace

PieceHalves cut(const Piece& piece, const Plane& plane, FaceKind kind, int id) {
  PieceHalves out;
  Halves halves = cut(piece.block, plane, kind, id);
  if (halves.back.empty()) {
    out.front = piece;
    return out;
  }
  if (halves.front.empty()) {
    out.back = piece;
    return out;
  }
  out.front.part = out.back.part = piece.part;
  out.front.seen_from = out.back.seen_from = piece.seen_from;
  out.front.block = std::move(halves.front);
  out.back.block = std::move(halves.back);
  out.front.marks = clipped(piece.marks, plane);
  out.back.marks = clipped(piece.marks, {-plane.normal, -plane.offset});
  for (const Hollow& hollow : piece.hollows) {
    Halves parts = cut(hollow.block, plane, kind, id);
    Hollow front{std::move(parts.front), {}};
    Hollow back{std::move(parts.back), {}};
    for (const Piece& inside : hollow.contents) {
      PieceHalves cut_inside = cut(inside, plane, FaceKind::seam, -1);
      if (!cut_inside.front.block.empty()) front.contents.push_back(std::move(cut_inside.front));
      if (!cut_inside.back.block.empty()) back.contents.push_back(std::move(cut_inside.back));
    }
    if (!front.block.empty()) out.front.hollows.push_back(std::move(front));
    if (!back.block.empty()) out.back.hollows.push_back(std::move(back));
  }
  return out;
}

}  // namespace dryfit::cli
