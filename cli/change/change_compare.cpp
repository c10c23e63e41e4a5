#include "cli/change/change_compare.hpp"

#include <fmt/ostream.h>

#include <algorithm>
#include <memory>
#include <nlohmann/json.hpp>
#include <optional>
#include <ostream>

#include "cli/change/change_report.hpp"
#include "cli/early/early_report.hpp"
#include "cli/input/frame_file.hpp"
#include "cli/io/exit_code.hpp"
#include "cli/io/usage_error.hpp"
#include "cli/json/json_answer.hpp"
#include "cli/order/planned_order.hpp"
#include "cli/sentences/step_text.hpp"
#include "cli/words/say.hpp"
#include "cli/words/words.hpp"
#include "planner/early/trap.hpp"

namespace dryfit::cli {
namespace {

/// On frames of more contacts than this no trap is looked for: that tries every part at every step.
constexpr std::size_t kMostTrapped = 600;

struct WorstTrap {
  std::string part;  ///< empty: there is no trap
  int price = 0;
  int price_at_least = 0;
};

struct Row {
  std::string file;
  LoadedFrame design;
  PlannedOrder planned;
  int code = kYes;
  std::optional<WorstTrap> trap;  ///< nothing: not looked for
  int hands = 1;
  double mass = 0.0;
  std::size_t pieces = 0;  ///< to buy: a union is one piece
  int open_closures = 0;
  [[nodiscard]] bool buildable() const { return planned.finding.verdict == Verdict::buildable; }
};

WorstTrap worst_trap(const LoadedFrame& design, const std::vector<planner::Step>& steps) {
  planner::StepContacts made_by;
  for (const planner::Step& step : steps) made_by.push_back(step.contacts);
  planner::Undoer undoer(design.frame, design.contacts);
  planner::EarlyBudget budget;
  const planner::RefusalMemory known = planner::refusals_when_whole(undoer);
  budget.known = &known;
  budget.knots = std::make_shared<planner::Knots>(design.contacts.contacts.size());
  budget.lockouts = 0;
  budget.most_lockouts = 0;
  std::vector<planner::EarlyPart> traps;
  for (const planner::NamedPart& part : planner::named_parts(design.frame, design.contacts)) {
    if (!planner::last_call(undoer, part.contacts, made_by).unnoticed()) continue;  // as `early` ranks them
    traps.push_back(planner::early_facts(undoer, part, made_by, budget));
  }
  const std::vector<std::size_t> worst = planner::traps_worst_first(traps);
  if (worst.empty()) return {};
  const planner::EarlyPart& first = traps[worst.front()];
  return {first.part.label, first.price.at_most(), first.price.at_least()};
}

Row row_of(const std::string& file, int people, const Streams& streams) {
  Row row;
  row.file = file;
  row.design = load_frame(file, streams);
  const model::Frame& frame = row.design.frame;
  OrderOptions options;
  options.people = people;
  options.working = streams.working;
  row.planned = planned_order(row.design, options);
  row.code = row.planned.finding.code;
  const std::vector<planner::Step>& steps = row.planned.finding.order.steps;
  if (row.buildable() && row.design.contacts.contacts.size() <= kMostTrapped) row.trap = worst_trap(row.design, steps);
  for (const StepWords& words : words_for(frame, row.design.contacts, steps)) {
    row.hands = std::max(row.hands, words.hands);
  }
  for (std::size_t p = 0; p < frame.parts.size(); ++p) {
    const model::Part& part = frame.parts[p];
    row.mass += part.mass;
    if (part.union_mate == model::kNone || part.union_mate > static_cast<model::PartId>(p)) ++row.pieces;
  }
  for (const planner::ClosureFit& closure : row.planned.finding.fit.closures) {
    if (closure.state == planner::FitState::open) ++row.open_closures;
  }
  if (row.open_closures > 0) row.code = worse(row.code, kNo);
  return row;
}

Json row_json(const Row& r) {
  Json row = {{"file", r.file}, {"frame", r.design.frame.name}, {"verdict", word_for(r.planned.finding.verdict)}};
  row["steps"] = r.buildable() ? Json(r.planned.finding.order.steps.size()) : Json(nullptr);
  row["worst_trap"] = nullptr;
  row["worst_trap_price_moves"] = nullptr;
  row["worst_trap_price_moves_at_least"] = nullptr;
  if (r.trap) {
    row["worst_trap"] = r.trap->part.empty() ? Json(nullptr) : Json(r.trap->part);
    row["worst_trap_price_moves"] = r.trap->price;
    row["worst_trap_price_moves_at_least"] = r.trap->price_at_least;
  }
  row["hands"] = r.buildable() ? Json(r.hands) : Json(nullptr);
  row["mass_kg"] = rounded(r.mass);
  row["pieces"] = r.pieces;
  row["effort"] = nullptr;
  if (r.buildable() && r.planned.plan.priced) {
    const planner::EffortReport& effort = r.planned.plan.best.effort;
    row["effort"] = {{"value", rounded(effort.value)},
                     {"lower_bound", rounded(effort.lower_bound)},
                     {"proven", effort.proven},
                     {"states", effort.states}};
  }
  row["open_closures"] = r.open_closures;
  return row;
}

/// One line of the table: a name and a cell per design.
struct Line {
  std::string name;
  std::vector<std::string> cells;
};

std::vector<Line> lines_of(const std::vector<Row>& rows) {
  std::vector<Line> lines = {{say("Can be built"), {}}, {say("Places that don't line up"), {}},
                             {say("Steps"), {}},        {say("Effort score"), {}},
                             {say("Worst trap"), {}},   {say("People"), {}},
                             {say("Weight"), {}},       {say("Pieces to buy"), {}}};
  for (const Row& r : rows) {
    const bool can = r.buildable();
    std::size_t i = 0;
    const auto cell = [&](std::string text) { lines[i++].cells.push_back(std::move(text)); };
    cell(can ? say("yes") : r.planned.finding.verdict == Verdict::locked ? say("no, locked") : say("no, overlaps"));
    cell(std::to_string(r.open_closures));
    cell(can ? std::to_string(r.planned.finding.order.steps.size()) : "-");
    const planner::EffortReport& effort = r.planned.plan.best.effort;
    const std::string work = price_text(effort.value, true);
    cell(!can || !r.planned.plan.priced ? "-" : effort.proven ? work : say("at most {}", work));
    if (!r.trap) {
      cell("-");
    } else if (r.trap->part.empty()) {
      cell(say_in("of traps", "none"));
    } else {
      cell(say_n(r.trap->price, "{1}: {2} joint to undo", "{1}: {2} joints to undo", r.trap->part,
                 bounded_text(r.trap->price_at_least, r.trap->price)));
    }
    cell(can ? std::to_string(r.hands) : "-");
    cell(weight(r.mass, r.design.frame.units));
    cell(std::to_string(r.pieces));
  }
  return lines;
}

}  // namespace

int compare_designs(const std::vector<std::string>& files, int people, bool json, const Streams& streams) {
  if (std::count(files.begin(), files.end(), "-") > 1) throw UsageError(say("standard input can be read only once"));
  std::vector<Row> rows;
  int code = kYes;
  for (const std::string& file : files) {
    rows.push_back(row_of(file, people, streams));
    code = worse(code, rows.back().code);
  }
  if (json) {
    Json document = {{"dryfit", 1}, {"command", "change"}, {"verdict", code == kYes ? "buildable" : "mixed"}};
    Json designs = Json::array();
    for (const Row& r : rows) designs.push_back(row_json(r));
    document["designs"] = std::move(designs);
    print(streams.out, document);
    return code;
  }
  // One column a design, so that each fact compares along its own line.
  std::vector<Line> lines = lines_of(rows);
  Line names{"", {}};
  for (const Row& r : rows) names.cells.push_back(r.design.frame.name);
  lines.insert(lines.begin(), std::move(names));
  std::vector<std::size_t> wide(rows.size(), 0);
  std::size_t names_wide = 0;
  for (const Line& line : lines) {
    names_wide = std::max(names_wide, letters(line.name));
    for (std::size_t i = 0; i < rows.size(); ++i) wide[i] = std::max(wide[i], letters(line.cells[i]));
  }
  for (const Line& line : lines) {
    std::string text = fmt::format("{:{}}", line.name, names_wide);
    for (std::size_t i = 0; i < rows.size(); ++i) text += fmt::format("  {:{}}", line.cells[i], wide[i]);
    text.erase(text.find_last_not_of(' ') + 1);
    fmt::print(streams.out, "{}\n", text);
  }
  return code;
}

}  // namespace dryfit::cli
