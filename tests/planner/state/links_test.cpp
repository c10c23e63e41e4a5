/// Rings that hold each other, on frames whose truth a fitter knows.
#include "planner/state/links.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <map>
#include <numbers>
#include <random>
#include <set>

#include "planner/state/overlap.hpp"
#include "tests/support/frames/given_steps.hpp"
#include "tests/support/frames/linked_frames.hpp"
#include "tests/support/naive/naive_links.hpp"
#include "tests/support/oracle/oracle_apart.hpp"

namespace dryfit::planner {
namespace {

using model::Vec3;

/// The Gauss integral over two closed curves, summed over small pieces: 4 pi times the linking number, as long as the
/// curves keep away from each other. Another way than crossings, and slow.
double gauss(const Loop& one, const Loop& other) {
  constexpr int kPieces = 100;
  double sum = 0.0;
  const auto each = [](const Loop& loop, const auto& visit) {
    for (std::size_t i = 0; i < loop.corners.size(); ++i) {
      const Vec3 from = loop.corners[i], step = (loop.corners[(i + 1) % loop.corners.size()] - from) * (1.0 / kPieces);
      for (int k = 0; k < kPieces; ++k) visit(from + step * (k + 0.5), step);
    }
  };
  each(one, [&](Vec3 p, Vec3 dp) {
    each(other, [&](Vec3 q, Vec3 dq) {
      const Vec3 off = p - q;
      const double r = norm(off);
      sum += dot(off, cross(dp, dq)) / (r * r * r);
    });
  });
  return sum / (4.0 * std::numbers::pi);
}

Loop loop_of(std::vector<Vec3> corners) {
  Loop loop;
  loop.of.assign(corners.size(), 0);
  loop.corners = std::move(corners);
  return loop;
}

TEST_CASE("crossings count how often two closed curves go round each other, as the Gauss integral does") {
  std::mt19937 rng(11);
  int linked = 0, apart = 0;
  for (int trial = 0; trial < 60; ++trial) {
    // Two squares of whole inches, askew to each other and never nearer than a tenth of one.
    const auto any = [&](int most) { return static_cast<double>(rng() % static_cast<unsigned>(most)); };
    const double w = 3.0 + any(4), h = 3.0 + any(4);
    const Loop one = loop_of({{0, 0, 0}, {w, 0, 0}, {w, h, 0}, {0, h, 0}});
    const double x = any(9) - 1.4, y = any(9) - 1.4, z = any(5) - 3.3;
    const Loop other = loop_of({{x, y, z}, {x, y, z + 4.0}, {x + 2.1, y + 0.1, z + 4.0}, {x + 2.1, y + 0.1, z}});
    const int crossings = linking_number(one, other);
    CAPTURE(trial);
    CHECK(crossings == static_cast<int>(std::lround(gauss(one, other))));
    CHECK(std::abs(linking_number(other, one)) == std::abs(crossings));
    (crossings != 0 ? linked : apart) += 1;
  }
  CHECK(linked >= 5);
  CHECK(apart >= 5);
}

TEST_CASE("what goes through what is found on frames whose truth a fitter knows") {
  for (const test::LinkedFrame& known : test::linked_frames()) {
    const test::Workpiece w = test::workpiece(known.text);
    const Links links(w.frame, w.list);
    CAPTURE(known.name);
    CHECK(links.threadings().empty() != known.linked);
    for (const Threading& threading : links.threadings()) {
      const State whole(w.list);
      CHECK(threading.through != model::kNone);
      CHECK(links.is_loose(threading, whole) == known.loose_in_the_end);
      // A ring is open as soon as one of its contacts is not made.
      for (const ContactId c : threading.ring) {
        State open(w.list);
        open.undo({c});
        CHECK_FALSE(links.is_loose(threading, open));
      }
    }
  }
}

TEST_CASE("what is linked is found from either side, and nothing else with it") {
  const test::Workpiece w = test::workpiece(test::linked_frames().front().text);
  const Links links(w.frame, w.list);
  const State whole(w.list);
  const int pole = w.frame.find("P"), hoop = w.frame.find("A3");
  REQUIRE(links.linked_with(whole, pole).size() == 1);
  CHECK(whole.cluster(links.linked_with(whole, pole).front()) == whole.cluster(hoop));
  REQUIRE(links.linked_with(whole, hoop).size() == 1);
  CHECK(whole.cluster(links.linked_with(whole, hoop).front()) == whole.cluster(pole));
  State open(w.list);
  open.undo({w.list.find("U")});
  CHECK(links.linked_with(open, pole).empty());
}

/// Pairs of clusters of the finished frame: how many are said to be linked, and how many of the others come apart.
struct Pairs {
  int linked = 0, free = 0, stuck = 0;
};

void move_apart(const test::Workpiece& w, Pairs& pairs) {
  const Links links(w.frame, w.list);
  const State whole(w.list);
  std::map<int, std::set<model::PartId>> clusters;
  for (model::PartId p = 0; p < static_cast<model::PartId>(w.frame.parts.size()); ++p)
    clusters[whole.cluster(p)].insert(p);
  for (const auto& [a, one] : clusters) {
    for (const auto& [b, other] : clusters) {
      if (a == b || whole.holds_room(*one.begin())) continue;
      const std::vector<int> with = links.linked_with(whole, *one.begin());
      const bool linked = std::any_of(with.begin(), with.end(), [&, to = b](int v) { return whole.cluster(v) == to; });
      const bool apart = test::carried_apart(w.frame, one, other, whole.holds_room(*other.begin()));
      CHECK_FALSE((linked && apart));
      (linked ? pairs.linked : apart ? pairs.free : pairs.stuck) += 1;
    }
  }
}

TEST_CASE("what rings hold is not carried away from what they hold, and nearly all else is") {
  int stuck = 0;
  for (const test::LinkedFrame& known : test::linked_frames()) {
    CAPTURE(known.name);
    Pairs pairs;
    move_apart(test::workpiece(known.text), pairs);
    CHECK((pairs.linked > 0) == known.loose_in_the_end);
    stuck += pairs.stuck;
  }
  CHECK(stuck <= 1);  // round the bend at a rail's end nothing goes straight
  std::mt19937 rng(23);
  Pairs pairs;
  int frames = 0;
  for (int trial = 0; trial < 200; ++trial) {
    const std::string text = test::random_linked_text(rng);
    const test::Workpiece w = test::workpiece(text);
    if (!overlaps_of(w.frame, w.list).empty()) continue;
    CAPTURE(text);
    ++frames;
    move_apart(w, pairs);
  }
  MESSAGE(frames << " frames; pairs linked " << pairs.linked << ", apart " << pairs.free << ", undecided "
                 << pairs.stuck);
  CHECK(pairs.linked >= 20);  // else the generator makes too few
  CHECK(pairs.free >= 20);
  CHECK(pairs.stuck <= pairs.free / 10);
}

/// Of every state on random ways down from the finished frame: is the part held, by the search's loops and by walking
/// every way round?
TEST_CASE("what a ring holds while the frame is half built is found by walking every way round too") {
  std::mt19937 rng(31);
  int states = 0, held = 0;
  const auto compare = [&](const std::string& text) {
    const test::Workpiece w = test::workpiece(text);
    if (!overlaps_of(w.frame, w.list).empty()) return;
    CAPTURE(text);
    const Links links(w.frame, w.list);
    const test::NaiveLinks naive(w.frame, w.list);
    for (int trial = 0; trial < 12; ++trial) {
      State state(w.list);
      std::vector<char> made(w.list.contacts.size(), 1);
      for (int off = 0; off < trial / 2; ++off) {
        const auto c = static_cast<ContactId>(rng() % made.size());
        if (made[at(c)] == 0) continue;
        made[at(c)] = 0;
        state.undo({c});
      }
      for (model::PartId p = 0; p < static_cast<model::PartId>(w.frame.parts.size()); ++p) {
        std::set<int> ours, theirs;
        for (const int v : links.linked_with(state, p)) ours.insert(state.cluster(v));
        for (const int v : naive.held_with(made, {p})) theirs.insert(state.cluster(v));
        theirs.erase(state.cluster(p));
        CHECK(ours == theirs);
        held += ours.empty() ? 0 : 1;
        ++states;
      }
    }
  };
  for (const test::LinkedFrame& known : test::linked_frames()) compare(known.text);
  for (int trial = 0; trial < 60; ++trial) compare(test::random_linked_text(rng));
  CHECK(states >= 5000);
  CHECK(held >= 500);
}

}  // namespace
}  // namespace dryfit::planner
