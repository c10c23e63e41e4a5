#include <doctest/doctest.h>

#include <cmath>
#include <map>
#include <numbers>
#include <random>

#include "cli/draw/body/block.hpp"
#include "model/geometry/at.hpp"

namespace {

using namespace dryfit;
using cli::Block;
using cli::FaceKind;
using model::Vec3;

/// By the divergence theorem: a third of (face height over the origin) x (face area), summed.
double volume(const Block& block) {
  double six = 0.0;
  for (const cli::Face& face : block.faces) {
    const Vec3 a = block.points[at(face.loop[0])];
    for (std::size_t k = 1; k + 1 < face.loop.size(); ++k) {
      const Vec3 b = block.points[at(face.loop[k])];
      const Vec3 c = block.points[at(face.loop[k + 1])];
      six += dot(a, cross(b, c));
    }
  }
  return six / 6.0;
}

/// Every edge belongs to two faces that run along it in opposite ways.
bool is_closed(const Block& block) {
  std::map<std::pair<int, int>, int> edges;
  for (const cli::Face& face : block.faces) {
    for (std::size_t k = 0; k < face.loop.size(); ++k) ++edges[{face.loop[k], face.loop[(k + 1) % face.loop.size()]}];
  }
  for (const auto& [edge, count] : edges) {
    const auto back = edges.find({edge.second, edge.first});
    if (count != 1 || back == edges.end()) return false;
  }
  return true;
}

}  // namespace

TEST_CASE("a box and a round block hold the volume of the bodies they stand for") {
  // 3 x 4 x 5; the round one is hypot(80, 60) = 100 long.
  CHECK(volume(cli::box_block({1, 2, 3}, {4, 6, 8})) == doctest::Approx(60.0));
  const Block round = cli::round_block({10, 0, 0}, {10, 80, 60}, 5.0, 24, FaceKind::flat, FaceKind::flat);
  // n/2 * R^2 sin(2 pi/n) of the prism's base lies within 1 % of the circle.
  CHECK(volume(round) == doctest::Approx(std::numbers::pi * 25.0 * 100.0).epsilon(0.01));
  CHECK(is_closed(round));
}

TEST_CASE("cutting a block loses nothing and leaves two closed blocks") {
  std::mt19937 random(7);
  const auto pick = [&random] { return static_cast<double>(random() % 2001) / 1000.0 - 1.0; };
  int cuts = 0;
  for (int k = 0; k < 300; ++k) {
    CAPTURE(k);
    Block block = cli::round_block({-40, 0, 0}, {40, 0, 0}, 20.0, 16, FaceKind::flat, FaceKind::flat);
    for (int n = 0; n < 4; ++n) {
      Vec3 normal{pick(), pick(), pick()};
      if (k % 3 == 0) normal = n % 2 == 0 ? Vec3{1, 0, 0} : Vec3{0, 1, 1};  // through corners and along facets
      if (norm(normal) < 0.1) continue;
      normal = normal * (1.0 / norm(normal));
      const cli::Halves halves = cli::cut(block, {normal, 12.0 * pick()}, FaceKind::seam);
      const double front = halves.front.empty() ? 0.0 : volume(halves.front);
      const double back = halves.back.empty() ? 0.0 : volume(halves.back);
      REQUIRE(front + back == doctest::Approx(volume(block)).epsilon(1e-9));
      if (!halves.front.empty()) REQUIRE(is_closed(halves.front));
      if (!halves.back.empty()) REQUIRE(is_closed(halves.back));
      if (!halves.front.empty() && !halves.back.empty()) ++cuts;
      block = front > back ? halves.front : halves.back;
    }
  }
  CHECK(cuts > 500);  // of 1,200 planes; a floor set by hand
}

TEST_CASE("a plane that only touches a block leaves it whole") {
  const Block box = cli::box_block({0, 0, 0}, {10, 10, 10});
  const cli::Halves above = cli::cut(box, {{0, 0, 1}, 10.0}, FaceKind::seam);
  CHECK(above.front.empty());
  CHECK(above.back.faces.size() == 6);
  const cli::Halves below = cli::cut(box, {{0, 0, 1}, 0.0}, FaceKind::seam);
  CHECK(below.back.empty());
  CHECK(below.front.faces.size() == 6);
}
