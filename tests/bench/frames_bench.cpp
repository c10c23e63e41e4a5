/// Reading, placing, checking, ordering, the must-come-first relation, best orders, prices and changes, on generated
/// frames of 10^2 to 10^5 parts, beside yaml-cpp on the same text and gringo and clasp on the same frame. Work is
/// counted beside time.
#include <benchmark/benchmark.h>
#include <sys/resource.h>
#include <unistd.h>
#include <yaml-cpp/yaml.h>

#include <cstdio>
#include <cstdlib>
#include <fstream>
#include <iostream>
#include <map>
#include <memory>

#include "model/editing/edit.hpp"
#include "model/placing/reader.hpp"
#include "planner/best/best_order.hpp"
#include "planner/change/change.hpp"
#include "planner/change/match.hpp"
#include "planner/cure/closure_cure.hpp"
#include "planner/early/precedence.hpp"
#include "planner/early/trap.hpp"
#include "planner/now/carry.hpp"
#include "planner/now/meanwhile.hpp"
#include "planner/now/stop_order.hpp"
#include "planner/now/stops.hpp"
#include "planner/order/order.hpp"
#include "planner/state/overlap.hpp"
#include "tests/bench/ratios.hpp"
#include "tests/support/frames/generated_frames.hpp"
#include "tests/support/logic/frame_facts.hpp"

namespace {

using namespace dryfit;

/// About that many parts of the shape.
std::string text_of(const std::string& shape, int parts) {
  if (shape == "rack")
    return parts < 58 ? tests::rack_text(1, parts / 8) : tests::rack_text(tests::units_for(parts), 8);
  if (shape == "tower") return tests::tower_text(parts / 2);
  if (shape == "ladder") return tests::ladder_text(parts / 8, true);
  if (shape == "mistaken") {
    int posts = 2;
    while (3 * posts * posts + 2 * posts < parts) ++posts;
    return tests::mistaken_text(posts, posts);
  }
  if (shape == "locked") return tests::ladder_text(parts / 7, false);
  int side = 2;
  while (9 * side * side - 8 * side < parts) ++side;
  return tests::grid_text(side, side);
}

struct Made {
  std::string text;
  model::Frame frame;
  planner::ContactList list;
};

/// Made once for all benchmarks on it.
const Made& made(const std::string& shape, int parts) {
  static std::map<std::pair<std::string, int>, Made> all;
  Made& one = all[{shape, parts}];
  if (one.text.empty()) {
    one.text = text_of(shape, parts);
    one.frame = model::read_frame(one.text, "bench.yaml");
    one.list = planner::contacts_of(one.frame);
  }
  return one;
}

double children_seconds() {
  rusage used{};
  getrusage(RUSAGE_CHILDREN, &used);
  const auto seconds = [](const timeval& t) {
    return static_cast<double>(t.tv_sec) + 1e-6 * static_cast<double>(t.tv_usec);
  };
  return seconds(used.ru_utime) + seconds(used.ru_stime);
}

void yaml_cpp(benchmark::State& state, const Made& m) {
  for (auto _ : state) benchmark::DoNotOptimize(YAML::Load(m.text));
}

void read(benchmark::State& state, const Made& m) {
  for (auto _ : state) benchmark::DoNotOptimize(model::read_frame(m.text, "bench.yaml"));
}

void check(benchmark::State& state, const Made& m) {
  for (auto _ : state) benchmark::DoNotOptimize(planner::overlaps_of(m.frame, m.list));
}

void order(benchmark::State& state, const Made& m) {
  planner::Order::Stats stats;
  for (auto _ : state) {
    const planner::ContactList list = planner::contacts_of(m.frame);
    stats = planner::find_order(m.frame, list).stats;
  }
  state.counters["tried"] = static_cast<double>(stats.moves_tried);
  state.counters["clearance"] = static_cast<double>(stats.clearance_tests);
  state.counters["visited"] = static_cast<double>(stats.parts_visited);
}

void relation(benchmark::State& state, const Made& m) {
  planner::Work work;
  for (auto _ : state) {
    planner::Undoer undoer(m.frame, m.list);
    benchmark::DoNotOptimize(planner::precedence_of(undoer));
    work = undoer.work();
  }
  state.counters["tried"] = static_cast<double>(work.attempts);
  state.counters["visited"] = static_cast<double>(work.visited);
}

/// Depth of one part in the middle of the file, with the budget that `early` gives it.
void price(benchmark::State& state, const Made& m) {
  const std::vector<planner::ContactId>& gone = m.list.at[m.frame.parts.size() / 2];
  long long tries = 0;
  for (auto _ : state) {
    planner::Undoer undoer(m.frame, m.list);
    tries = planner::fewest_moves(undoer, planner::State(m.list), gone, planner::EarlyBudget{}.price).tries;
  }
  state.counters["tried"] = static_cast<double>(tries);
}

/// The order with the least effort, with the budget that `order` gives it.
void best(benchmark::State& state, const Made& m) {
  planner::EffortReport report;
  for (auto _ : state) report = planner::find_best_order(m.frame, m.list).effort;
  state.counters["tried"] = static_cast<double>(report.moves_tried);
  state.counters["states"] = static_cast<double>(report.states);
  state.counters["proven"] = report.proven ? 1.0 : 0.0;
}

/// Of every part: last call, lock-outs, depth and price, as `early` has them.
void early(benchmark::State& state, const Made& m) {
  planner::StepContacts steps;
  for (const planner::Step& step : planner::find_order(m.frame, m.list).steps) steps.push_back(step.contacts);
  long long tried = 0, proven = 0, parts = 0;
  for (auto _ : state) {
    planner::Undoer undoer(m.frame, m.list);
    const planner::RefusalMemory known = planner::refusals_when_whole(undoer);
    planner::EarlyBudget budget;
    budget.known = &known;
    for (const planner::NamedPart& part : planner::named_parts(m.frame, m.list)) {
      proven += planner::early_facts(undoer, part, steps, budget).price.proven() ? 1 : 0;
      ++parts;
    }
    tried = undoer.work().attempts;
  }
  state.counters["tried"] = static_cast<double>(tried);
  state.counters["unproven"] = static_cast<double>(parts - proven);
}

/// The last pipe of the file longer by a hand's breadth, everything built.
void change(benchmark::State& state, const Made& m) {
  std::string pipe;
  for (const model::Part& part : m.frame.parts) {
    if (part.kind == model::PartKind::pipe) pipe = part.id;
  }
  const model::Frame next = model::read_frame(model::with_value(m.text, pipe + ".length", "12"), "next.yaml");
  const planner::ContactList next_list = planner::contacts_of(next);
  long long states = 0;
  for (auto _ : state) {
    const planner::Matching matching = planner::match_designs(m.frame, m.list, next, next_list);
    planner::Changer changer(m.frame, m.list, next, next_list, matching);
    states = changer.plan(std::vector<char>(m.list.contacts.size(), 1)).states;
  }
  state.counters["states"] = static_cast<double>(states);
}

/// The last board of the frame, or its last part.
std::vector<planner::ContactId> last_part(const Made& m) { return m.list.at[m.frame.parts.size() - 1]; }

/// All is made but the last part: what comes off again, and the rest.
void now_built(benchmark::State& state, const Made& m) {
  std::vector<char> built(m.list.contacts.size(), 1);
  for (const planner::ContactId c : last_part(m)) built[at(c)] = 0;
  for (auto _ : state) benchmark::DoNotOptimize(planner::way_on(m.frame, m.list, built));
}

/// As far as it goes without the last part.
void now_without(benchmark::State& state, const Made& m) {
  const std::vector<char> nothing(m.list.contacts.size(), 0);
  for (auto _ : state) benchmark::DoNotOptimize(planner::meanwhile(m.frame, m.list, nothing, last_part(m)));
}

/// Through a door of 30 in x 78 in, and out again by it.
void now_carry(benchmark::State& state, const Made& m) {
  const planner::Opening door = planner::Opening::door(762.0, 1981.2);
  for (auto _ : state) benchmark::DoNotOptimize(planner::carry(m.frame, m.list, door));
}
void now_down(benchmark::State& state, const Made& m) {
  const planner::Opening door = planner::Opening::door(762.0, 1981.2);
  const std::vector<char> whole(m.list.contacts.size(), 1);
  for (auto _ : state) benchmark::DoNotOptimize(planner::take_down(m.frame, m.list, whole, door));
}

/// All that `dryfit fit` does: verdict, turns, and what to buy instead.
void fit(benchmark::State& state, const Made& m) {
  long long nodes = 0;
  bool proven = false;
  for (auto _ : state) {
    const planner::MendedFit found = planner::fit_with_cures(m.frame, m.text);
    nodes = found.fit.nodes;
    proven = found.fit.proven;
  }
  state.counters["nodes"] = static_cast<double>(nodes);
  state.counters["proven"] = proven ? 1.0 : 0.0;
}

/// The best order, two places to stop at in it, and what forgetting each part costs: what an order with stops takes.
void now_stops(benchmark::State& state, const Made& m) {
  constexpr int kStops = 2;
  constexpr long long kPriceBudget = 40'000;
  for (auto _ : state) {
    const planner::BestOrder best = planner::find_best_order(m.frame, m.list, {});
    const planner::BestOrder found = planner::order_for_stops(m.frame, m.list, best, kStops, {}).best;
    planner::Undoer undoer(m.frame, m.list);
    std::vector<planner::Pose> poses(found.poses.of_move.rbegin(), found.poses.of_move.rend());
    benchmark::DoNotOptimize(planner::Stops(undoer, found.order.steps, poses, 1).best(kStops));
    planner::StepContacts made_by;
    for (const planner::Step& step : found.order.steps) made_by.push_back(step.contacts);
    const planner::RefusalMemory known = planner::refusals_when_whole(undoer);
    const auto knots = std::make_shared<planner::Knots>(m.list.contacts.size());
    for (const planner::NamedPart& part : planner::named_parts(m.frame, m.list)) {
      if (part.contacts.empty() || planner::last_call(undoer, part.contacts, made_by).step == 0) continue;
      benchmark::DoNotOptimize(planner::price_of(undoer, part, kPriceBudget, &known, knots));
    }
  }
}

/// Processor time of gringo and clasp on the rules of tests/rules; facts written beforehand.
void logic_program(benchmark::State& state, const Made& m) {
  std::string file = "/tmp/dryfit-bench-XXXXXX";
  const int descriptor = ::mkstemp(file.data());
  if (descriptor < 0) return state.SkipWithError("no scratch file");
  ::close(descriptor);
  std::ofstream(file) << test::frame_facts(m.frame, m.list) << "frozen(none).\n";
  const std::string rules = std::string(DRYFIT_SOURCE_DIR) + "/tests/rules/";
  const std::string line = "gringo -Wno-atom-undefined -c h=6 " + file + " " + rules + "legality.lp " + rules +
                           "kept.lp 2>/dev/null | clasp 1 2>/dev/null";
  const bool buildable = planner::find_order(m.frame, m.list).buildable;
  for (auto _ : state) {
    const double before = children_seconds();
    std::string answer;
    FILE* pipe = ::popen(line.c_str(), "r");
    for (int c = 0; pipe != nullptr && (c = std::fgetc(pipe)) != EOF;) answer += static_cast<char>(c);
    if (pipe != nullptr) ::pclose(pipe);
    state.SetIterationTime(children_seconds() - before);
    const bool settled =
        answer.find("SATISFIABLE") != std::string::npos && answer.find("unsettled") == std::string::npos;
    if (!settled || (answer.find("remains(") == std::string::npos) != buildable) {
      state.SkipWithError("gringo and clasp do not give the same answer");
      break;
    }
  }
  std::remove(file.c_str());
}

using Job = void (*)(benchmark::State&, const Made&);

void add(const char* what, Job job, const char* shape, const std::vector<int>& sizes) {
  for (const int parts : sizes) {
    const std::string name = std::string(what) + "/" + shape + "/" + std::to_string(parts);
    auto* bench = benchmark::RegisterBenchmark(
        name.c_str(), [job, shape, parts](benchmark::State& state) { job(state, made(shape, parts)); });
    bench->Unit(benchmark::kMillisecond);
    if (job == logic_program) bench->UseManualTime()->Iterations(1);
    if (job == best || job == early) bench->Iterations(1);
  }
}

/// Prints as usual and keeps the times for the table.
class Keeper : public benchmark::ConsoleReporter {
 public:
  void ReportRuns(const std::vector<Run>& runs) override {
    for (const Run& run : runs) {
      if (run.error_occurred || run.iterations == 0) continue;
      const bool manual = run.benchmark_name().find("manual_time") != std::string::npos;
      const double seconds =
          (manual ? run.real_accumulated_time : run.cpu_accumulated_time) / static_cast<double>(run.iterations);
      std::string name = run.run_name.function_name;
      times[name] = seconds;
    }
    ConsoleReporter::ReportRuns(runs);
  }
  bench::Times times;
};

}  // namespace

int main(int argc, char** argv) {
  const std::vector<int> decades{100, 1000, 10000, 100000};
  add("yaml_cpp", yaml_cpp, "rack", decades);
  for (const char* shape : {"rack", "tower", "ladder", "grid"}) {
    add("read", read, shape, decades);
    add("check", check, shape, decades);
    add("order", order, shape, decades);
  }
  add("order", order, "rack", {30, 2000});
  add("order", order, "ladder", {30});
  add("order", order, "locked", {30, 1000, 10000});
  add("relation", relation, "rack", {100, 500, 2000});
  add("relation", relation, "grid", {100, 500, 2000});
  add("price", price, "rack", {100});
  add("change", change, "rack", {100});
  for (const char* shape : {"rack", "ladder", "grid"}) {
    add("now_built", now_built, shape, {60, 300});
    add("now_without", now_without, shape, {60, 300});
    add("now_carry", now_carry, shape, {60, 300});
    add("now_down", now_down, shape, {60, 300});
    add("now_stops", now_stops, shape, {60, 300});
  }
  add("fit", fit, "mistaken", {60, 300});
  for (const bench::Looked& looked : bench::looked_at()) {
    add("best", best, looked.shape, {looked.parts});
    add("early", early, looked.shape, {looked.parts});
  }
  add("logic_program", logic_program, "rack", {30});
  add("logic_program", logic_program, "ladder", {30});
  add("logic_program", logic_program, "locked", {30});
  benchmark::Initialize(&argc, argv);
  if (benchmark::ReportUnrecognizedArguments(argc, argv)) return 2;
  Keeper keeper;
  benchmark::RunSpecifiedBenchmarks(&keeper);
  bench::print_ratios(keeper.times, std::cout);
  return 0;
}
