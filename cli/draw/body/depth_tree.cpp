#include "cli/draw/body/depth_tree.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>
#include <optional>
#include <utility>

#include "model/geometry/at.hpp"

namespace dryfit::cli {
namespace {

constexpr double kHalf = std::numbers::sqrt2 / 2.0;
constexpr std::array<Vec3, 9> kDirections{{{1, 0, 0},
                                           {0, 1, 0},
                                           {0, 0, 1},
                                           {kHalf, kHalf, 0},
                                           {kHalf, -kHalf, 0},
                                           {kHalf, 0, kHalf},
                                           {kHalf, 0, -kHalf},
                                           {0, kHalf, kHalf},
                                           {0, kHalf, -kHalf}}};

struct Choice {
  Plane plane;
  double cost = 1e300;
};

/// Cutting a board cuts its holes too and costs more lines on paper than cutting a pipe.
double price_of_cutting(const Piece& piece) { return piece.hollows.empty() ? 4.0 : 16.0; }

/// The cheapest plane square to one of the nine directions with a whole piece on either side.
std::optional<Choice> choose_between(const std::vector<Piece>& pieces) {
  Choice best;
  const std::size_t n = pieces.size();
  for (const Vec3 direction : kDirections) {
    std::vector<std::pair<double, double>> starts;  // (lo, price)
    std::vector<std::pair<double, double>> ends;    // (hi, price)
    std::vector<double> levels;
    double all = 0.0;
    for (const Piece& piece : pieces) {
      const Block::Range range = piece.block.range_along(direction);
      const double price = price_of_cutting(piece);
      starts.emplace_back(range.lo, price);
      ends.emplace_back(range.hi, price);
      levels.push_back(range.lo);
      levels.push_back(range.hi);
      all += price;
    }
    std::sort(starts.begin(), starts.end());
    std::sort(ends.begin(), ends.end());
    std::sort(levels.begin(), levels.end());
    std::size_t ended = 0;
    std::size_t begun = 0;
    double ended_price = 0.0;
    double begun_price = 0.0;
    for (const double level : levels) {
      while (ended < n && ends[ended].first < level + kSliver) ended_price += ends[ended++].second;
      while (begun < n && starts[begun].first <= level - kSliver) begun_price += starts[begun++].second;
      const std::size_t front = n - begun;
      if (ended == 0 || front == 0) continue;
      const double cutting = all - ended_price - (all - begun_price);
      const double uneven = std::abs(static_cast<double>(front) - static_cast<double>(ended));
      const double cost = cutting + 0.5 * uneven;
      if (cost < best.cost - 1e-9) best = {{direction, level}, cost};
    }
  }
  return best.cost < 1e300 ? std::optional(best) : std::nullopt;
}

/// The cheapest face of a piece that has some of another piece in front of it.
std::optional<Choice> choose_face(const std::vector<Piece>& pieces) {
  constexpr std::size_t kMost = 48;  // pieces whose faces are tried: enough among pieces that crowd one spot
  Choice best;
  for (std::size_t i = 0; i < std::min(kMost, pieces.size()); ++i) {
    for (const Face& face : pieces[i].block.faces) {
      const Plane plane{face.normal, dot(face.normal, pieces[i].block.points[dryfit::at(face.loop[0])])};
      double cutting = 0.0;
      double front = 0.0;
      double back = 0.0;
      for (std::size_t j = 0; j < pieces.size(); ++j) {
        const Block::Range range = pieces[j].block.range_along(face.normal);
        const bool some_front = range.hi > plane.offset + kSliver;
        const bool some_back = range.lo < plane.offset - kSliver;
        if (some_front && some_back && j != i) cutting += price_of_cutting(pieces[j]);
        if (some_front && !some_back) front += 1.0;
        if (!some_front) back += 1.0;
      }
      if (cutting == 0.0 && front == 0.0) continue;
      // A plane that sets a whole piece apart settles more than one that only trims.
      const double cost = cutting + 0.5 * std::abs(front - back) + (front > 0.0 ? 0.0 : 8.0);
      if (cost < best.cost - 1e-9) best = {plane, cost};
    }
  }
  return best.cost < 1e300 ? std::optional(best) : std::nullopt;
}

bool lies_inside(const Piece& inner, const Piece& outer) {
  return std::all_of(outer.block.faces.begin(), outer.block.faces.end(), [&](const Face& face) {
    const double offset = dot(face.normal, outer.block.points[dryfit::at(face.loop[0])]);
    return inner.block.range_along(face.normal).hi <= offset + kSliver;
  });
}

/// Drops pieces that lie inside another one; of two that fill the same place the later goes.
void drop_swallowed(std::vector<Piece>& pieces) {
  std::vector<bool> gone(pieces.size(), false);
  for (std::size_t i = 0; i < pieces.size(); ++i) {
    for (std::size_t j = 0; j < pieces.size() && !gone[i]; ++j) {
      if (i == j || gone[j]) continue;
      if (lies_inside(pieces[i], pieces[j]) && !(i < j && lies_inside(pieces[j], pieces[i]))) gone[i] = true;
    }
  }
  std::size_t kept = 0;
  for (std::size_t i = 0; i < pieces.size(); ++i) {
    if (gone[i]) continue;
    if (kept != i) pieces[kept] = std::move(pieces[i]);
    ++kept;
  }
  pieces.erase(pieces.begin() + static_cast<std::ptrdiff_t>(kept), pieces.end());
}

}  // namespace

DepthTree::DepthTree(std::vector<Piece> pieces) { root_ = build(std::move(pieces)); }

int DepthTree::add_leaf(Piece piece) {
  pieces_.push_back(std::move(piece));
  nodes_.push_back({{}, -1, -1, static_cast<int>(pieces_.size()) - 1});
  return static_cast<int>(nodes_.size()) - 1;
}

int DepthTree::build(std::vector<Piece> pieces) {
  if (pieces.empty()) return -1;
  if (pieces.size() == 1) return add_leaf(std::move(pieces.front()));
  std::optional<Choice> choice = choose_between(pieces);
  if (!choice) {
    drop_swallowed(pieces);
    if (pieces.size() == 1) return add_leaf(std::move(pieces.front()));
    choice = choose_face(pieces);
  }
  if (!choice) {
    // All of them lie inside each face of each: they fill one and the same place. The first stands for all.
    return add_leaf(std::move(pieces.front()));
  }
  std::vector<Piece> front;
  std::vector<Piece> back;
  for (Piece& piece : pieces) {
    PieceHalves halves = cut(piece, choice->plane, FaceKind::seam, next_id_);
    if (!halves.front.block.empty()) front.push_back(std::move(halves.front));
    if (!halves.back.block.empty()) back.push_back(std::move(halves.back));
  }
  ++next_id_;
  pieces.clear();
  const int node = static_cast<int>(nodes_.size());
  nodes_.push_back({choice->plane, -1, -1, -1});
  const int in_front = build(std::move(front));
  const int behind = build(std::move(back));
  nodes_[dryfit::at(node)].front = in_front;
  nodes_[dryfit::at(node)].back = behind;
  return node;
}

void DepthTree::back_to_front(Vec3 toward, const std::function<void(const Piece&)>& paint) const {
  // An explicit stack: a tree of a long row of pieces may be deep.
  std::vector<int> open{root_};
  while (!open.empty()) {
    const int at = open.back();
    open.pop_back();
    if (at < 0) continue;
    const Node& node = nodes_[dryfit::at(at)];
    if (node.piece >= 0) {
      paint(pieces_[dryfit::at(node.piece)]);
      continue;
    }
    const bool viewer_in_front = dot(node.plane.normal, toward) > 0.0;
    open.push_back(viewer_in_front ? node.front : node.back);
    open.push_back(viewer_in_front ? node.back : node.front);
  }
}

}  // namespace dryfit::cli
