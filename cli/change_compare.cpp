#include "cli/change_compare.hpp"

#include <fmt/ostream.h>

#include <algorithm>
#include <cmath>
#include <nlohmann/json.hpp>
#include <ostream>

#include "cli/exit_code.hpp"
#include "cli/finding.hpp"
#include "cli/frame_file.hpp"
#include "cli/step_text.hpp"
#include "cli/text_file.hpp"
#include "cli/usage_error.hpp"
#include "cli/words.hpp"
#include "model/edit.hpp"
#include "model/length.hpp"
#include "model/reader.hpp"
#include "model/standards.hpp"
#include "planner/change.hpp"

namespace dryfit::cli {
namespace {

struct Row {
  std::string file;
  std::string name;
  std::string verdict;
  int code = kYes;
  std::size_t steps = 0;
  int hands = 1;
  double mass = 0.0;
  std::size_t pieces = 0;  ///< to buy: a union is one piece
  int open_closures = 0;
};

Row row_of(const std::string& file, const Streams& streams) {
  const LoadedFrame loaded = load_frame(file, streams);
  const Finding finding = find_out(loaded.frame, loaded.contacts);
  Row row{file, loaded.frame.name, finding.verdict, finding.code, finding.order.steps.size(), 1, 0.0, 0, 0};
  for (const StepWords& words : words_for(loaded.frame, loaded.contacts, finding.order.steps)) {
    row.hands = std::max(row.hands, words.hands);
  }
  for (std::size_t p = 0; p < loaded.frame.parts.size(); ++p) {
    const model::Part& part = loaded.frame.parts[p];
    row.mass += part.mass;
    if (part.union_mate == model::kNone || part.union_mate > static_cast<model::PartId>(p)) ++row.pieces;
  }
  for (const planner::ClosureFit& closure : finding.fit.closures) {
    if (closure.state == planner::FitState::open) ++row.open_closures;
  }
  if (row.open_closures > 0) row.code = worse(row.code, kNo);
  return row;
}

/// One stock length tried in the range.
struct Tried {
  double length = 0.0;
  std::string verdict;
  double undo_moves = 0.0;
  bool proven = true;
  planner::FitState fit = planner::FitState::exact;
};

}  // namespace

int compare_designs(const std::vector<std::string>& files, bool json, const Streams& streams) {
  std::vector<Row> rows;
  int code = kYes;
  for (const std::string& file : files) {
    rows.push_back(row_of(file, streams));
    code = worse(code, rows.back().code);
  }
  if (json) {
    Json document = {{"dryfit", 1}, {"command", "change"}, {"verdict", code == kYes ? "buildable" : "mixed"}};
    Json designs = Json::array();
    for (const Row& r : rows) {
      designs.push_back({{"file", r.file},
                         {"frame", r.name},
                         {"verdict", r.verdict},
                         {"steps", r.steps},
                         {"hands", r.hands},
                         {"mass_kg", rounded(r.mass)},
                         {"pieces", r.pieces},
                         {"open_closures", r.open_closures}});
    }
    document["designs"] = std::move(designs);
    print(streams.out, document);
    return code;
  }
  std::size_t wide = 6;
  for (const Row& r : rows) wide = std::max(wide, r.name.size());
  fmt::print(streams.out, "{:{}}  {:11}  {:>5}  {:>6}  {:>8}  {:>6}  {:>13}\n", "Design", wide, "Verdict", "Steps",
             "People", "Mass kg", "Pieces", "Open closures");
  for (const Row& r : rows) {
    fmt::print(streams.out, "{:{}}  {:11}  {:>5}  {:>6}  {:>8.1f}  {:>6}  {:>13}\n", r.name, wide, r.verdict, r.steps,
               r.hands, r.mass, r.pieces, r.open_closures);
  }
  return code;
}

int sweep_length(const std::vector<std::string>& files, const std::string& setting, bool json, const Streams& streams) {
  if (files.size() != 1) throw UsageError("a range of lengths goes with one frame");
  const auto equals = setting.find('=');
  const auto dots = setting.find("..");
  if (equals == std::string::npos || dots < equals) {
    throw UsageError(fmt::format("--set {}: expected PIPE.length=FROM..TO", setting));
  }
  const std::string target = setting.substr(0, equals);
  const std::string text = read_text(files[0], streams.in);
  LoadedFrame old_design;
  old_design.frame = model::read_frame(text, shown_name(files[0]));
  old_design.contacts = planner::contacts_of(old_design.frame);
  const model::Frame& frame = old_design.frame;
  const model::PartId pipe = frame.find(target.substr(0, target.find('.')));
  if (!target.ends_with(".length") || pipe == model::kNone ||
      frame.parts[static_cast<std::size_t>(pipe)].kind != model::PartKind::pipe) {
    throw UsageError(fmt::format("--set {}: '{}' is no pipe's length", setting, target));
  }
  std::array<double, 2> ends{};
  const std::array<std::string, 2> phrases{setting.substr(equals + 1, dots - equals - 1), setting.substr(dots + 2)};
  for (std::size_t i = 0; i < 2; ++i) {
    std::string why;
    const auto length = model::parse_length(phrases[i], frame.units, &why);
    if (!length) throw UsageError(fmt::format("--set {}: {}", setting, why));
    ends[i] = *length;
  }
  std::vector<Tried> tried;
  for (const model::StockPipe& stock : model::stock_pipes()) {
    if (stock.size != frame.parts[static_cast<std::size_t>(pipe)].size) continue;
    if (stock.length < ends[0] - 0.01 || stock.length > ends[1] + 0.01) continue;
    Tried t;
    t.length = stock.length;
    LoadedFrame next;
    try {
      next.frame =
          model::read_frame(model::with_value(text, target, fmt::format("{} mm", stock.length)), shown_name(files[0]));
    } catch (const model::InputError&) {
      t.verdict = "unusable";  // a board would no longer lie on its pipes, say
      tried.push_back(t);
      continue;
    }
    next.contacts = planner::contacts_of(next.frame);
    t.fit = planner::find_fit(next.frame).state;
    const planner::Matching matching = planner::match_designs(frame, old_design.contacts, next.frame, next.contacts);
    planner::Changer changer(frame, old_design.contacts, next.frame, next.contacts, matching);
    const planner::ChangePlan plan = changer.plan(std::vector<char>(old_design.contacts.contacts.size(), 1));
    t.undo_moves = plan.price.at_most;
    t.proven = plan.price.proven();
    t.verdict = plan.verdict == planner::ChangePlan::Verdict::locked ? "locked"
                : plan.undo.empty()                                  ? "free"
                                                                     : "teardown";
    tried.push_back(t);
  }
  const bool any = std::any_of(tried.begin(), tried.end(),
                               [](const Tried& t) { return t.verdict == "free" && t.fit != planner::FitState::open; });
  if (json) {
    Json document = envelope("change", frame, any ? "free" : "teardown");
    Json sweep = Json::array();
    for (const Tried& t : tried) {
      Json entry = {{"length_mm", rounded(t.length)}, {"verdict", t.verdict}};
      if (t.verdict != "unusable") {
        entry["undo_moves"] = t.undo_moves;
        entry["proven"] = t.proven;
        entry["closes"] = planner::word_for(t.fit);
      }
      sweep.push_back(std::move(entry));
    }
    document["sweep"] = std::move(sweep);
    print(streams.out, document);
    return any ? kYes : kNo;
  }
  fmt::print(streams.out, "{}: stock lengths for {} from {} to {}, changed when all is built.\n", frame.name,
             target.substr(0, target.find('.')), model::in_units(ends[0], frame.units),
             model::in_units(ends[1], frame.units));
  if (tried.empty()) fmt::print(streams.out, "  No stock length of this size lies in the range.\n");
  for (const Tried& t : tried) {
    if (t.verdict == "unusable") {
      fmt::print(streams.out, "  {:>12}  cannot be placed\n", model::in_units(t.length, frame.units));
    } else {
      fmt::print(streams.out, "  {:>12}  {:9} {}{}; closes: {}\n", model::in_units(t.length, frame.units), t.verdict,
                 counted(static_cast<long long>(t.undo_moves), "move"), t.proven ? "" : " at most",
                 planner::word_for(t.fit));
    }
  }
  return any ? kYes : kNo;
}

}  // namespace dryfit::cli
