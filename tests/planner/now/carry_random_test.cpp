/// Through doors of random size: random small frames, against every state that can be reached, with boxes measured on
/// points of their bodies.
#include <doctest/doctest.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>
#include <map>
#include <numbers>
#include <random>

#include "model/geometry/at.hpp"
#include "planner/judge/replay.hpp"
#include "planner/now/carry.hpp"
#include "planner/order/steps.hpp"
#include "tests/support/every/early_checks.hpp"
#include "tests/support/every/every_state.hpp"
#include "tests/support/frames/random_frames.hpp"

using namespace dryfit;
using planner::ContactId;
using tests::Example;
using tests::Made;

namespace {

using Parts = std::vector<char>;  // per part: it belongs

/// Whether boxes round the points of some bodies pass, turned about each axis by every three degrees.
class PointBoxes {
 public:
  PointBoxes(const model::Frame& frame, std::array<double, 3> sides) : sides_(sides) {
    std::sort(sides_.begin(), sides_.end());
    for (const model::Part& part : frame.parts) points_.push_back(points_of(part));
  }
  bool pass(const Parts& parts) {
    const auto [known, fresh] = known_.emplace(parts, false);
    if (fresh) known->second = measured(parts);
    return known->second;
  }

 private:
  static std::vector<model::Vec3> points_of(const model::Part& part) {
    std::vector<model::Vec3> points;
    for (const model::Solid& solid : part.solids) {
      if (solid.shape == model::Solid::Shape::box) {
        for (int bits = 0; bits < 8; ++bits) {
          points.push_back({(bits & 1) != 0 ? solid.b.x : solid.a.x, (bits & 2) != 0 ? solid.b.y : solid.a.y,
                            (bits & 4) != 0 ? solid.b.z : solid.a.z});
        }
        continue;
      }
      const model::Vec3 d = solid.along.unit();
      const model::Vec3 any = std::abs(d.x) < 0.9 ? model::Vec3{1, 0, 0} : model::Vec3{0, 1, 0};
      model::Vec3 u = cross(d, any);
      u = u * (1.0 / norm(u));
      const model::Vec3 v = cross(d, u);
      for (int i = 0; i < 720; ++i) {
        const double angle = i * std::numbers::pi / 360.0;
        const model::Vec3 out = solid.radius * (std::cos(angle) * u + std::sin(angle) * v);
        points.push_back(solid.a + out);
        points.push_back(solid.b + out);
      }
    }
    return points;
  }

  [[nodiscard]] bool measured(const Parts& parts) const {
    for (int axis = 0; axis < 3; ++axis) {
      for (int degrees = 0; degrees < 90; degrees += 3) {
        if (passes_turned(parts, axis, degrees * std::numbers::pi / 180.0)) return true;
      }
    }
    return false;
  }
  [[nodiscard]] bool passes_turned(const Parts& parts, int axis, double angle) const {
    constexpr double kFar = 1e9;
    std::array<double, 3> low{kFar, kFar, kFar}, high{-kFar, -kFar, -kFar};
    for (std::size_t p = 0; p < parts.size(); ++p) {
      if (parts[p] == 0) continue;
      for (const model::Vec3& point : points_[p]) {
        const double a = point[(axis + 1) % 3], b = point[(axis + 2) % 3];
        const std::array<double, 3> turned{point[axis], a * std::cos(angle) + b * std::sin(angle),
                                           b * std::cos(angle) - a * std::sin(angle)};
        for (std::size_t i = 0; i < 3; ++i) {
          low[i] = std::min(low[i], turned[i]);
          high[i] = std::max(high[i], turned[i]);
        }
      }
    }
    std::array<double, 3> edges{high[0] - low[0], high[1] - low[1], high[2] - low[2]};
    std::sort(edges.begin(), edges.end());
    return edges[0] <= sides_[0] && edges[1] <= sides_[1] && edges[2] <= sides_[2];
  }

  std::array<double, 3> sides_;
  std::vector<std::vector<model::Vec3>> points_;
  std::map<Parts, bool> known_;
};

/// What hangs together, by walking from part to part.
std::vector<Parts> pieces_by_walking(const Example& e, const Made& made) {
  const std::size_t parts = e.frame.parts.size();
  std::vector<Parts> pieces;
  Parts seen(parts, 0);
  for (std::size_t first = 0; first < parts; ++first) {
    if (seen[first] != 0) continue;
    Parts piece(parts, 0);
    std::vector<std::size_t> open{first};
    piece[first] = seen[first] = 1;
    while (!open.empty()) {
      const std::size_t p = open.back();
      open.pop_back();
      for (std::size_t c = 0; c < made.size(); ++c) {
        const planner::Contact& contact = e.list.contacts[c];
        if (made[c] == 0 || contact.a < 0 || contact.b < 0) continue;
        const auto a = at(contact.a), b = at(contact.b);
        if (a != p && b != p) continue;
        const std::size_t other = a == p ? b : a;
        if (piece[other] != 0) continue;
        piece[other] = seen[other] = 1;
        open.push_back(other);
      }
    }
    pieces.push_back(piece);
  }
  return pieces;
}

bool may_be_carried(const Example& e, PointBoxes& boxes, const Made& made) {
  for (std::size_t c = 0; c < made.size(); ++c) {
    const planner::Contact& contact = e.list.contacts[c];
    if (made[c] != 0 && (contact.a == model::kRoom || contact.b == model::kRoom)) return false;
  }
  const auto pieces = pieces_by_walking(e, made);
  return std::all_of(pieces.begin(), pieces.end(), [&](const Parts& piece) { return boxes.pass(piece); });
}

/// Fewest moves from `built` to what may be carried; -1: never.
int fewest_moves_down(const Example& e, PointBoxes& boxes, const tests::EveryState& down) {
  int least = -1;
  for (const auto& [made, reached] : down.states()) {
    if (least >= 0 && reached.distance >= least) continue;
    if (may_be_carried(e, boxes, made)) least = reached.distance;
  }
  return least;
}

std::array<double, 3> random_opening(const Example& e, std::mt19937& rng) {
  model::Bounds box = planner::bounds_of_part(e.frame.parts.front());
  for (const model::Part& part : e.frame.parts) {
    const model::Bounds one = planner::bounds_of_part(part);
    for (int i = 0; i < 3; ++i) {
      box.lo[i] = std::min(box.lo[i], one.lo[i]);
      box.hi[i] = std::max(box.hi[i], one.hi[i]);
    }
  }
  std::array<double, 3> sides{};
  for (int i = 0; i < 3; ++i) sides[at(i)] = box.hi[i] - box.lo[i];
  std::sort(sides.begin(), sides.end());
  std::uniform_real_distribution<double> share(0.35, 1.05);
  sides[0] = std::max(sides[0] * share(rng), 60.0 + 40.0 * share(rng));
  sides[1] = std::max(sides[1] * share(rng), 200.0 * share(rng));
  sides[2] = rng() % 2 == 0 ? std::numeric_limits<double>::infinity() : sides[2] * share(rng);
  return sides;
}

/// The judge goes through all of it; `made` is left as after the last move.
void check_steps(const Example& e, Made& made, const std::vector<planner::Step>& steps, int& number) {
  planner::MoveJudge judge(e.frame, e.list);
  std::string why;
  for (const planner::Step& step : steps) {
    CHECK(step.number == ++number);
    for (const ContactId c : step.contacts) {
      CHECK(made[at(c)] == 0);
      made[at(c)] = 1;
    }
    CHECK_MESSAGE(judge.can_undo(made, {step.action, step.contacts, step.moving}, &why), why);
  }
}

struct Tally {
  int frames = 0, split = 0, refused = 0, proven = 0, came_off = 0, on_proven = 0;
};

void check_pieces(const std::vector<planner::CarriedPiece>& pieces, const std::vector<Parts>& walked) {
  REQUIRE(pieces.size() == walked.size());
  for (std::size_t i = 0; i < pieces.size(); ++i) {
    Parts told(walked[i].size(), 0);
    for (const model::PartId p : pieces[i].piece.parts) told[at(p)] = 1;
    CHECK(told == walked[i]);
    CHECK(pieces[i].box.passes());
  }
}

void check_carry(Example& e, const tests::EveryState& all, const std::array<double, 3>& sides, Tally& tally) {
  PointBoxes boxes(e.frame, sides);
  const planner::Carry plan = planner::carry(e.frame, e.list, {sides});
  const int least = fewest_moves_down(e, boxes, all);
  REQUIRE(plan.too_large.empty() == (least >= 0));
  if (least < 0) {
    ++tally.refused;
    for (const planner::CarriedPiece& large : plan.too_large) CHECK(large.box.lacks > 0.0);
    return;
  }
  CHECK(plan.spot_moves.at_least <= least);
  CHECK(plan.spot_moves.at_most >= least);
  Made made(e.list.contacts.size(), 0);
  int number = 0;
  check_steps(e, made, plan.before, number);
  CHECK(may_be_carried(e, boxes, made));
  check_pieces(plan.pieces, pieces_by_walking(e, made));
  check_steps(e, made, plan.on_spot, number);
  CHECK(std::all_of(made.begin(), made.end(), [](char c) { return c == 1; }));
  tally.split += plan.pieces.size() > 1 && !plan.before.empty() ? 1 : 0;
  tally.proven += plan.spot_moves.proven() ? 1 : 0;
}

/// Fewest moves for the spot, of all orders that first undo as few moves as can be; `off`: how many those are.
int fewest_from(const Example& e, const tests::EveryState& all, PointBoxes& boxes, const tests::EveryState& down,
                int& off) {
  off = -1;
  std::vector<Made> left;
  for (const auto& [made, reached] : down.states()) {
    if ((off >= 0 && reached.distance > off) || !all.states().contains(made) || !may_be_carried(e, boxes, made))
      continue;
    if (reached.distance != off) left.clear();
    off = reached.distance;
    left.push_back(made);
  }
  int least = -1;
  for (const auto& [made, reached] : all.states()) {
    if (least >= 0 && reached.distance >= least) continue;
    // What is left is reached from every state that has all of it, for undoing only splits pieces.
    const bool keeps =
        std::any_of(left.begin(), left.end(), [&](const Made& one) { return tests::contains(made, one); });
    if (keeps && may_be_carried(e, boxes, made)) least = reached.distance;
  }
  return least;
}

/// From what stands: what comes off, what is made before the door, what on the spot.
void check_carry_on(Example& e, const tests::EveryState& all, Made made, const std::array<double, 3>& sides,
                    Tally& tally) {
  PointBoxes boxes(e.frame, sides);
  const planner::Carry plan = planner::carry(e.frame, e.list, made, planner::Opening{sides});
  const tests::EveryState down(e.rules, made);
  int off = 0;
  const int least = fewest_from(e, all, boxes, down, off);
  REQUIRE(plan.too_large.empty() == (least >= 0));
  if (least < 0) return;
  CHECK(plan.undo_moves.at_least <= off);
  CHECK(plan.undo_moves.at_most >= off);
  CHECK(static_cast<double>(plan.undo.size()) == plan.undo_moves.at_most);
  CHECK(plan.spot_moves.at_least <= least);
  if (plan.undo_moves.proven()) CHECK(plan.spot_moves.at_most >= least);
  planner::MoveJudge judge(e.frame, e.list);
  std::string why;
  for (const planner::Move& move : plan.undo) {
    CHECK_MESSAGE(judge.can_undo(made, {planner::action_of(e.frame, move), move.contacts, {}}, &why), why);
    for (const ContactId c : move.contacts) made[at(c)] = 0;
  }
  for (std::size_t c = 0; c < made.size(); ++c) {
    CHECK((made[c] != 0) == std::binary_search(plan.kept.begin(), plan.kept.end(), static_cast<ContactId>(c)));
  }
  int number = 0;
  check_steps(e, made, plan.before, number);
  CHECK(may_be_carried(e, boxes, made));
  check_pieces(plan.pieces, pieces_by_walking(e, made));
  check_steps(e, made, plan.on_spot, number);
  CHECK(std::all_of(made.begin(), made.end(), [](char c) { return c == 1; }));
  tally.came_off += plan.undo.empty() ? 0 : 1;
  tally.on_proven += plan.undo_moves.proven() && plan.spot_moves.proven() ? 1 : 0;
}

/// Any set of contacts that comes apart can have been built; whether the frame can be completed from it is another
/// matter.
Made any_state(Example& e, std::mt19937& rng) {
  for (;;) {
    Made made(e.list.contacts.size(), 0);
    const auto of_eight = 3 + rng() % 5;
    for (char& contact : made) contact = static_cast<char>(rng() % 8 < of_eight ? 1 : 0);
    if (!planner::cannot_stand(e.undoer, made)) return made;
  }
}

void check_down(Example& e, Made built, const std::array<double, 3>& sides) {
  PointBoxes boxes(e.frame, sides);
  const planner::TakeDown plan = planner::take_down(e.frame, e.list, built, planner::Opening{sides});
  const tests::EveryState down(e.rules, built);
  const int least = fewest_moves_down(e, boxes, down);
  REQUIRE(plan.too_large.empty() == (least >= 0));
  if (least < 0) return;
  CHECK(plan.undo_moves.at_least <= least);
  CHECK(plan.undo_moves.at_most >= least);
  CHECK(static_cast<double>(plan.undo.size()) == plan.undo_moves.at_most);
  planner::MoveJudge judge(e.frame, e.list);
  std::string why;
  for (const planner::Move& move : plan.undo) {
    CHECK_MESSAGE(judge.can_undo(built, {planner::action_of(e.frame, move), move.contacts, {}}, &why), why);
    for (const ContactId c : move.contacts) built[at(c)] = 0;
  }
  CHECK(may_be_carried(e, boxes, built));
  check_pieces(plan.pieces, pieces_by_walking(e, built));
}

/// Nothing at all is made in the end.
void check_apart(Example& e, Made built) {
  const planner::TakeDown plan = planner::take_down(e.frame, e.list, built, std::nullopt);
  planner::MoveJudge judge(e.frame, e.list);
  for (const planner::Move& move : plan.undo) {
    CHECK(judge.can_undo(built, {planner::action_of(e.frame, move), move.contacts, {}}));
    for (const ContactId c : move.contacts) built[at(c)] = 0;
  }
  CHECK(std::none_of(built.begin(), built.end(), [](char c) { return c == 1; }));
  CHECK(plan.undo_moves.at_least <= static_cast<double>(plan.undo.size()));
}

Tally check_doors(std::uint32_t first, int wanted) {
  Tally tally;
  for (std::uint32_t seed = first; tally.frames < wanted && seed < first + 20u * static_cast<unsigned>(wanted);
       ++seed) {
    const test::RandomFrame random = test::random_frame(seed, {3, 11});
    Example e(random.text);
    const tests::EveryState all(e.rules);
    if (!all.buildable()) continue;
    CAPTURE(seed);
    CAPTURE(random.text);
    ++tally.frames;
    std::mt19937 rng(seed);
    const auto sides = random_opening(e, rng);
    CAPTURE(sides[0]);
    CAPTURE(sides[1]);
    CAPTURE(sides[2]);
    check_carry(e, all, sides, tally);
    // Down from some state on the way.
    auto state = all.states().begin();
    std::advance(state, static_cast<std::ptrdiff_t>(rng() % all.states().size()));
    check_down(e, state->first, sides);
    check_apart(e, state->first);
    check_carry_on(e, all, any_state(e, rng), sides, tally);
  }
  CHECK(tally.frames == wanted);
  return tally;
}

}  // namespace

TEST_CASE("through random doors 60 random frames leave as few moves for the spot as trying every state finds") {
  const Tally tally = check_doors(1, 60);
  // Floors set by hand: frames that go through in pieces must stay common, and so must proofs.
  CHECK(tally.split >= 15);
  CHECK(tally.refused <= 30);
  CHECK(tally.proven + tally.refused >= 55);
  CHECK(tally.came_off >= 15);
  CHECK(tally.on_proven + tally.refused >= 50);
}

TEST_SUITE("slow") {
  TEST_CASE("through random doors 240 more random frames leave as few moves for the spot as trying every state finds") {
    const Tally tally = check_doors(200000, 240);
    CHECK(tally.split >= 60);
    CHECK(tally.refused <= 120);
    CHECK(tally.proven + tally.refused >= 225);
    CHECK(tally.came_off >= 60);
  }
}
