/// The best order against every order, and against a solver that knows nothing of this program.
#include <doctest/doctest.h>

#include <array>
#include <cmath>
#include <cstdio>
#include <filesystem>
#include <fstream>
#include <map>
#include <random>

#include "model/placing/reader.hpp"
#include "planner/best/best_order.hpp"
#include "planner/judge/replay.hpp"
#include "planner/state/overlap.hpp"
#include "tests/support/every/order_graph.hpp"
#include "tests/support/frames/given_steps.hpp"
#include "tests/support/frames/heavy_frames.hpp"
#include "tests/support/frames/linked_frames.hpp"
#include "tests/support/frames/random_frames.hpp"

namespace dryfit::planner {
namespace {

struct Tally {
  int buildable = 0;
  int dear = 0;     ///< frames whose best order costs more than the base
  int handled = 0;  ///< frames whose best order needs turning, propping or an awkward pose
};

/// `least` is what the cheapest order costs beyond the base, with what weighs against it; infinite when there is none.
void compare(const test::RandomFrame& random, const ContactList& list, int people, double least, Tally& tally) {
  BestOptions options;
  options.people = people;
  const BestOrder best = find_best_order(random.frame, list, options);
  CAPTURE(random.text);
  CHECK(best.order.buildable == std::isfinite(least));
  if (!best.order.buildable) return;
  ++tally.buildable;
  if (least > 1e-9) ++tally.dear;
  if (best.effort.handling > 1e-9) ++tally.handled;
  CHECK(best.effort.proven);
  CHECK(std::abs(best.effort.value + best.effort.unwanted - best.effort.base - least) < 1e-6);
  CHECK(best.effort.lower_bound + best.effort.unwanted - best.effort.base <= least + 1e-6);
  const ReplayResult judged = replay(random.frame, list, test::given_steps(best.order.steps));
  CHECK_MESSAGE(judged.legal, judged.why);
  // With hardly any budget the answer may be dearer, but the bound must still hold.
  for (const long long budget : {0LL, 60LL, 300LL}) {
    options.budget = budget;
    const BestOrder hasty = find_best_order(random.frame, list, options);
    if (!hasty.effort.heavy_counts) continue;  // by other rates
    CHECK(hasty.effort.lower_bound + hasty.effort.unwanted - hasty.effort.base <= least + 1e-6);
    CHECK(hasty.effort.value + hasty.effort.unwanted - hasty.effort.base >= least - 1e-6);
  }
}

TEST_CASE("the best order costs what the cheapest of all orders costs, on 300 random frames" *
          doctest::test_suite("slow")) {
  Tally tally;
  for (std::uint32_t seed = 1; seed <= 100; ++seed) {
    // Whole frames in all poses of all pieces: no piece is looked at by itself.
    CAPTURE(seed);
    const test::RandomFrame random = test::random_frame(seed, {3, 9});
    const ContactList list = contacts_of(random.frame);
    const test::StateGraph graph = test::state_graph(random.frame, list, 2);
    const double least = graph.bare < 0 ? test::kNoOrder : test::least_cost(graph);
    const double by_pieces = test::least_cost_by_pieces(random.frame, list, 2);
    CHECK((by_pieces == least || std::abs(by_pieces - least) < 1e-6));
    compare(random, list, 2, least, tally);
  }
  for (std::uint32_t seed = 101; seed <= 300; ++seed) {
    CAPTURE(seed);
    const int people = seed % 4 == 0 ? 1 : 2;
    const test::RandomFrame random = test::random_frame(seed, {9, 13});
    const ContactList list = contacts_of(random.frame);
    compare(random, list, people, test::least_cost_by_pieces(random.frame, list, people), tally);
  }
  CHECK(tally.buildable >= 150);
  CHECK(tally.dear >= 30);     // else the search was never needed
  CHECK(tally.handled >= 30);  // nor the poses
}

TEST_CASE("the best order costs what the cheapest of all costs where rings hold each other") {
  Tally tally;
  const auto hold = [&](const std::string& text) {
    test::RandomFrame linked;
    linked.text = text;
    linked.frame = model::read_frame(text, "linked.yaml");
    const ContactList list = contacts_of(linked.frame);
    if (!overlaps_of(linked.frame, list).empty()) return;
    compare(linked, list, 2, test::least_cost_by_pieces(linked.frame, list, 2), tally);
  };
  for (const test::LinkedFrame& known : test::linked_frames()) {
    CAPTURE(known.name);
    hold(known.text);
  }
  std::mt19937 rng(41);
  for (int trial = 0; trial < 40; ++trial) hold(test::random_linked_text(rng));
  CHECK(tally.buildable >= 30);
}

TEST_CASE("the best order costs what the cheapest of all costs where boards are heavy") {
  Tally tally;
  for (const std::string& text : test::heavy_frames()) {
    for (const int people : {1, 2}) {
      test::RandomFrame heavy;
      heavy.text = text;
      heavy.frame = model::read_frame(text, "heavy.yaml");
      const ContactList list = contacts_of(heavy.frame);
      REQUIRE(overlaps_of(heavy.frame, list).empty());
      compare(heavy, list, people, test::least_cost_by_pieces(heavy.frame, list, people), tally);
    }
  }
  CHECK(tally.dear == tally.buildable);
}

/// Standard output of a command.
std::string output_of(const std::string& command) {
  std::string text;
  FILE* pipe = popen(command.c_str(), "r");  // NOLINT(cert-env33-c): fixed commands of this test
  if (pipe == nullptr) return text;
  std::array<char, 4096> buffer{};
  while (const std::size_t n = std::fread(buffer.data(), 1, buffer.size(), pipe)) text.append(buffer.data(), n);
  pclose(pipe);
  return text;
}

TEST_CASE("gringo and clasp find the same least effort in the graph of all states" * doctest::test_suite("slow")) {
  REQUIRE_MESSAGE(!output_of("gringo --version 2>/dev/null").empty(),
                  "this test needs Debian's packages gringo and clasp");
  REQUIRE_MESSAGE(!output_of("clasp --version 2>/dev/null").empty(),
                  "this test needs Debian's packages gringo and clasp");
  const auto file =
      std::filesystem::temp_directory_path() / ("dryfit-orders-" + std::to_string(std::random_device{}()) + ".lp");
  int compared = 0, dear = 0;
  for (std::uint32_t seed = 4001; compared < 8 || dear < 8; ++seed) {
    REQUIRE(seed < 5000);
    const test::RandomFrame random = test::random_frame(seed, {7, 12});
    const ContactList list = contacts_of(random.frame);
    const test::StateGraph graph = test::state_graph(random.frame, list, 2, 3'000);
    if (!graph.whole || graph.bare < 0) continue;
    // A few whose best order costs the base alone, the rest where orders differ.
    if (compared - dear >= 4 && test::least_cost(graph) <= 0.0) continue;
    std::ofstream(file) << test::answer_set_program(graph);
    const std::string answer = output_of("gringo " + file.string() + " | clasp --quiet=1 2>/dev/null");
    CAPTURE(seed);
    CAPTURE(answer);
    REQUIRE(answer.find("OPTIMUM FOUND") != std::string::npos);
    const auto at = answer.rfind("Optimization : ");
    REQUIRE(at != std::string::npos);
    const double least = std::stod(answer.substr(at + 15)) / 1000.0;
    const BestOrder best = find_best_order(random.frame, list);
    // Costs were rounded to thousandths, once per move.
    CHECK(std::abs(best.effort.value + best.effort.unwanted - best.effort.base - least) <
          0.001 * static_cast<double>(list.contacts.size()));
    if (least > 0.0) ++dear;
    ++compared;
  }
  std::filesystem::remove(file);
}

TEST_CASE("the effort never rises when a wider hole makes more moves legal") {
  int compared = 0;
  for (std::uint32_t seed = 900; seed < 1000; ++seed) {
    test::RandomFrame random = test::random_frame(seed, {6, 14});
    if (random.spec.boards.empty()) continue;
    const ContactList list = contacts_of(random.frame);
    const BestOrder tight = find_best_order(random.frame, list);
    if (!tight.order.buildable) continue;
    for (model::Board& board : random.frame.boards) {
      for (model::Hole& hole : board.holes) {
        if (!hole.notch) hole.diameter += 25.0;  // passes what sits on the pipe
      }
    }
    const BestOrder wide = find_best_order(random.frame, list);
    CAPTURE(seed);
    REQUIRE(wide.order.buildable);
    CHECK(wide.effort.value <= tight.effort.value + 1e-6);
    ++compared;
  }
  CHECK(compared >= 10);
}

TEST_CASE("new names and another order of the file change neither the effort nor the order of the steps") {
  std::mt19937 rng(7);
  for (std::uint32_t seed = 500; seed < 540; ++seed) {
    const test::RandomFrame random = test::random_frame(seed, {6, 14});
    std::map<std::string, std::string> names;
    const test::FrameSpec other = test::renamed(random.spec, rng, names);
    const model::Frame frame = model::read_frame(test::yaml_of(other), "renamed.yaml");
    const ContactList list = contacts_of(random.frame), renamed = contacts_of(frame);
    const BestOrder one = find_best_order(random.frame, list), two = find_best_order(frame, renamed);
    CAPTURE(seed);
    REQUIRE(one.order.buildable == two.order.buildable);
    CHECK(one.effort.value == doctest::Approx(two.effort.value));
    REQUIRE(one.order.steps.size() == two.order.steps.size());
    for (std::size_t i = 0; i < one.order.steps.size(); ++i) {
      // The same contacts by number: renaming leaves their order in the file.
      CHECK(one.order.steps[i].contacts == two.order.steps[i].contacts);
    }
    // Runs and boards in another order: the effort is that of the frame, not of the file.
    const model::Frame mixed = model::read_frame(test::yaml_of(test::shuffled(random.spec, rng)), "shuffled.yaml");
    const ContactList mixed_list = contacts_of(mixed);
    CHECK(find_best_order(mixed, mixed_list).effort.value == doctest::Approx(one.effort.value));
  }
}

}  // namespace
}  // namespace dryfit::planner
