#include "cli/change/change_sweep.hpp"

#include <fmt/ostream.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <map>
#include <nlohmann/json.hpp>
#include <ostream>

#include "cli/change/change_report.hpp"
#include "cli/check/as_built.hpp"
#include "cli/check/finding.hpp"
#include "cli/check/headline.hpp"
#include "cli/io/exit_code.hpp"
#include "cli/io/usage_error.hpp"
#include "cli/io/working.hpp"
#include "cli/json/inch_fields.hpp"
#include "cli/json/json_answer.hpp"
#include "cli/words/lengths.hpp"
#include "cli/words/said.hpp"
#include "cli/words/say.hpp"
#include "cli/words/search_end.hpp"
#include "cli/words/trade_words.hpp"
#include "cli/words/words.hpp"
#include "model/editing/edit.hpp"
#include "model/geometry/at.hpp"
#include "model/text/length.hpp"
#include "model/text/length_fault.hpp"
#include "planner/base/stock.hpp"

namespace dryfit::cli {
namespace {

/// Lengths closer than this are one, mm.
constexpr double kSameLength = 0.05;
constexpr double kInch = 25.4;

/// One length tried in the range.
struct Tried {
  double length = 0.0;
  std::string stock;  ///< what the counter calls it; empty when it has to be cut
  std::string verdict;
  std::size_t moves = 0;
  planner::Bounded price;
  std::string found;  ///< of the design: "buildable", "open", "locked" or "overlapping"
  bool fits = false;
  planner::FitState fit = planner::FitState::exact;
  std::vector<std::array<std::string, 2>> overlaps;  ///< parts, or a part and a surface, by label
  bool present = false;                              ///< the length that it has now
  [[nodiscard]] bool placed() const { return verdict != "unusable"; }
};

/// The pipes that get one length, and the two ends of the range, mm.
struct Range {
  std::vector<std::string> targets;   ///< "P9.length"
  model::PartId pipe = model::kNone;  ///< the first of them
  double from = 0.0;
  double to = 0.0;
};

Range range_of(const std::string& setting, const model::Frame& frame) {
  const auto [target, value] = setting_of(setting);
  const auto dots = value.find("..");
  Range range;
  const std::string names = target.substr(0, target.find('.'));
  for (std::size_t from = 0, end = 0; end != std::string::npos; from = end + 1) {
    end = names.find('+', from);
    const std::string name = names.substr(from, end - from);
    const model::PartId pipe = frame.find(name);
    if (range.targets.empty()) range.pipe = pipe;
    range.targets.push_back(name + ".length");
    if (pipe != model::kNone && frame.part(pipe).kind == model::PartKind::pipe) continue;
    throw UsageError(say("--set {}: '{}' is not a pipe's length", setting, target));
  }
  if (dots == std::string::npos) throw UsageError(say("--set {}: expected PIPE.length=FROM..TO", setting));
  if (target.find('.') != std::string::npos && !target.ends_with(".length")) {
    throw UsageError(say("--set {}: '{}' is not a pipe's length", setting, target));
  }
  const std::array<std::string, 2> phrases{value.substr(0, dots), value.substr(dots + 2)};
  std::array<double, 2> ends{};
  for (std::size_t i = 0; i < 2; ++i) {
    model::Message why;
    const auto length = model::parse_length(phrases[i], frame.units, why);
    if (!length) throw UsageError(fmt::format("--set {}: {}", setting, said(why)));
    ends[i] = *length;
  }
  if (ends[0] > ends[1]) throw UsageError(say("--set {}: write the shorter length first", setting));
  range.from = ends[0];
  range.to = ends[1];
  return range;
}

/// A whole number of inches or of 10 mm, so that at most 48 steps cover the range.
double step_of(const Range& range, model::Units units) {
  static constexpr double kInches[] = {1, 2, 3, 6, 12, 24, 60, 120};
  static constexpr double kMetric[] = {10, 20, 50, 100, 200, 500, 1000, 2000};
  const bool inches = units == model::Units::in;
  double step = 0.0;
  for (std::size_t i = 0; i < 8; ++i) {
    step = inches ? kInches[i] * kInch : kMetric[i];
    if ((range.to - range.from) / step <= 48.0) break;
  }
  return std::max(step, (range.to - range.from) / 48.0);
}

/// The frame with the pipes of that length; nothing when it cannot be placed: a board would no longer lie on its pipes.
std::optional<LoadedFrame> with_length(const std::string& text, const Range& range, double length,
                                       const std::string& name) {
  try {
    std::string changed = text;
    for (const std::string& target : range.targets) {
      changed = model::with_value(changed, target, fmt::format("{} mm", length));
    }
    return loaded_from(changed, name);
  } catch (const model::InputError&) {
    return std::nullopt;
  }
}

/// Lengths at which a closure of the frame that depends on the pipe comes to nought: its gap is linear in the length.
void add_closing(const model::Frame& frame, const model::Frame& longer, const Range& range, double by,
                 std::vector<double>& lengths) {
  if (frame.closures.size() != longer.closures.size()) return;
  const double now = frame.part(range.pipe).length;
  const double grain = frame.units == model::Units::in ? kInch / 16.0 : 1.0;
  for (std::size_t i = 0; i < frame.closures.size(); ++i) {
    for (int axis = 0; axis < 3; ++axis) {
      if (!frame.closures[i].binds[at(axis)]) continue;
      const double slope = (longer.closures[i].gap[axis] - frame.closures[i].gap[axis]) / by;
      if (std::abs(slope) < 0.5) continue;
      const double exact = now - frame.closures[i].gap[axis] / slope;
      lengths.push_back(std::round(exact / grain) * grain);
    }
  }
}

std::vector<double> lengths_to_try(const std::string& text, const LoadedFrame& design, const Range& range) {
  const model::Part& pipe = design.frame.part(range.pipe);
  std::vector<double> lengths = planner::stock_lengths(design.frame.standard, pipe.size);
  const double step = step_of(range, design.frame.units);
  const auto first = static_cast<long long>(std::ceil(range.from / step - 1e-6));
  for (long long i = first; static_cast<double>(i) * step <= range.to + kSameLength; ++i) {
    lengths.push_back(static_cast<double>(i) * step);
  }
  lengths.push_back(range.from);
  lengths.push_back(range.to);
  if (const auto longer = with_length(text, range, pipe.length + kInch, design.frame.file)) {
    add_closing(design.frame, longer->frame, range, kInch, lengths);
  }
  std::sort(lengths.begin(), lengths.end());
  std::vector<double> tried;
  for (const double length : lengths) {
    if (length < range.from - kSameLength || length > range.to + kSameLength || length <= 0.0) continue;
    if (tried.empty() || length - tried.back() > kSameLength) tried.push_back(length);
  }
  return tried;
}

/// `old_stands`: the design as hands build it.
Tried try_length(const std::string& text, const LoadedFrame& design, const LoadedFrame& old_stands, const Range& range,
                 double length, const ChangeRequest& request, const std::vector<char>& made) {
  Tried t;
  t.length = length;
  t.stock = planner::stock_item(design.frame.standard, design.frame.part(range.pipe).size, length);
  const auto next = with_length(text, range, length, design.frame.file);
  if (!next) {
    t.verdict = "unusable";
    return t;
  }
  const Finding found = find_out(next->frame, next->contacts);
  t.found = word_for(verdict_of(found));
  t.fits = fits(found);
  t.fit = found.fit.state;
  for (const planner::Overlap& overlap : found.overlaps) {
    const model::Frame& frame = next->frame;
    const std::string& other = overlap.surface != model::kNone
                                   ? frame.surfaces[static_cast<std::size_t>(overlap.surface)].id
                                   : frame.parts[static_cast<std::size_t>(overlap.b)].label;
    t.overlaps.push_back({frame.parts[static_cast<std::size_t>(overlap.a)].label, other});
  }
  const planner::Matching matching = planner::match_designs(design.frame, design.contacts, next->frame, next->contacts);
  const LoadedFrame stands = as_built(*next, found);
  planner::Changer changer(old_stands.frame, old_stands.contacts, stands.frame, stands.contacts, matching,
                           request.by_effort ? planner::ChangePrice::effort : planner::ChangePrice::moves,
                           request.people);
  const planner::ChangePlan plan = changer.price(made, search_budget(request));
  t.verdict = verdict_word(plan);
  t.present = std::abs(length - design.frame.part(range.pipe).length) < kSameLength;
  t.moves = plan.undo.size();
  t.price = plan.price;
  return t;
}

Json tried_json(const Tried& t, bool by_effort) {
  Json entry = {{"length_mm", rounded(t.length)},
                {"stock", t.stock.empty() ? Json(nullptr) : Json(t.stock)},
                {"present", t.present},
                {"verdict", t.verdict}};
  if (!t.placed()) return entry;
  entry["closes"] = planner::word_for(t.fit);
  entry["found"] = t.found;
  entry["fits"] = t.fits;
  if (!t.overlaps.empty()) {
    Json overlaps = Json::array();
    for (const auto& between : t.overlaps) overlaps.push_back({{"between", between}});
    entry["overlaps"] = std::move(overlaps);
  }
  if (t.verdict == "locked") return entry;
  entry["undo_moves"] = t.moves;
  if (by_effort) entry["effort"] = rounded(t.price.at_most);
  entry["proven"] = t.price.proven();
  return entry;
}

/// Whether the design fits, and the first thing that keeps it from it.
std::string fit_cell(const Tried& t) {
  if (!t.placed()) return "-";
  if (!t.overlaps.empty()) {
    const std::string where = say("{0} and {1} are in one place", t.overlaps[0][0], t.overlaps[0][1]);
    const auto more = static_cast<long long>(t.overlaps.size()) - 1;
    return more == 0 ? where : say("{0}, and {1} more", where, more);
  }
  switch (t.fit) {
    case planner::FitState::exact: return say("exact");
    case planner::FitState::by_turning: return say("by turning");
    case planner::FitState::by_wrenching: return say("with the wrench");
    case planner::FitState::open: break;
  }
  return say("doesn't line up");
}

std::string price_cell(const Tried& t, bool by_effort) {
  if (!t.placed()) return say("fits nowhere");
  if (t.verdict == "locked") return say("locked");
  if (!t.fits) return "-";
  if (t.present) return say("as it is");
  if (t.verdict == "free") return say("free");
  const std::string price = price_text(t.price.at_most, by_effort);
  return t.price.proven() ? price : say("at most {}", price);
}

/// The whole range, as far as it was looked at.
struct Sweep {
  Range range;
  std::vector<double> wanted;
  std::vector<Tried> tried;
  [[nodiscard]] bool whole() const { return tried.size() == wanted.size(); }
  [[nodiscard]] int code() const {
    const auto any = [&](const char* verdict) {
      return std::any_of(tried.begin(), tried.end(),
                         [&](const Tried& t) { return t.verdict == verdict && t.fits && !t.present; });
    };
    return any("free") ? kYes : !whole() || any("undecided") ? kUndecided : kNo;
  }
  [[nodiscard]] Ended ended() const {
    if (!whole()) return Ended::interrupted;
    const bool proven = std::all_of(tried.begin(), tried.end(), [](const Tried& t) { return t.price.proven(); });
    return proven ? Ended::proof : Ended::budget;
  }
};

Json sweep_json(const Sweep& sweep, const model::Frame& frame, bool by_effort) {
  const int code = sweep.code();
  Json document = envelope("change", frame, code == kYes ? "free" : code == kUndecided ? "undecided" : "teardown");
  Json rows = Json::array();
  for (const Tried& t : sweep.tried) rows.push_back(tried_json(t, by_effort));
  document["sweep"] = std::move(rows);
  document["ended_by"] = word_for(sweep.ended());
  return document;
}

void print_sweep(const Sweep& sweep, const model::Frame& frame, const Built& built, const ChangeRequest& request,
                 std::ostream& out) {
  const Lengths lengths(frame.units);
  std::vector<std::string> pipes;
  for (const std::string& target : sweep.range.targets) pipes.push_back(target.substr(0, target.find('.')));
  fmt::print(out, "{}\n\n",
             say("{0}: {1} from {2} to {3}, changed when {4}.", frame.name, listed(pipes), lengths(sweep.range.from),
                 lengths(sweep.range.to),
                 request.built.empty() ? say("all is built")
                 : built.steps >= 0    ? say_n(built.steps, "{} step is done", "{} steps are done")
                                       : say("the steps of the file are done")));
  fmt::print(out, "  {:>12}  {:18}  {:16}  {}\n", say("Length"), say("In stock"), say("To undo"), say("Lines up"));
  for (const Tried& t : sweep.tried) {
    fmt::print(out, "  {:>12}  {:18}  {:16}  {}\n", lengths(t.length),
               t.stock.empty() ? say("to be cut") : counter_word(t.stock), price_cell(t, request.by_effort),
               fit_cell(t));
  }
  if (!sweep.whole()) {
    fmt::print(out, "\n{}\n",
               say("Interrupted: lengths from {} on were not looked at.", lengths(sweep.wanted[sweep.tried.size()])));
  } else if (const std::string end = end_sentence(sweep.ended(), request.budget, marked("states")); !end.empty()) {
    fmt::print(out, "\n{}\n", end);
  }
}

int tell_never_stood(const LoadedFrame& design, const Finding& found, bool json, const Streams& streams) {
  if (json) {
    Json document = envelope("change", design.frame, "impossible");
    add_never_stood(document, design, found);
    print(streams.out, document);
  } else {
    print_never_stood(design, found, streams.out);
  }
  return kNo;
}

}  // namespace

int sweep_length(const ChangeRequest& request, bool json, const Streams& streams) {
  if (request.frames.size() != 1) throw UsageError(say("a range of lengths goes with one frame"));
  if (!request.map.empty()) throw UsageError(say("a range of lengths needs no --map: all parts keep their names"));
  const LoadedFrame design = load_frame(request.frames[0], streams);
  Sweep sweep;
  sweep.range = range_of(request.set[0], design.frame);
  const Built built = built_state(design, request.built, request.order, false, streams);
  if (never_stood(built)) return tell_never_stood(design, *built.never_stood, json, streams);
  const LoadedFrame old_stands = as_built(design);
  sweep.wanted = lengths_to_try(design.text, design, sweep.range);
  {
    const LongWork work(streams.working, marked("trying lengths"), marked("lengths"));
    for (const double length : sweep.wanted) {
      const auto done = static_cast<long long>(sweep.tried.size());
      if (!planner::may_go_on(streams.working, done, static_cast<long long>(sweep.wanted.size()))) break;
      sweep.tried.push_back(try_length(design.text, design, old_stands, sweep.range, length, request, built.made));
    }
  }
  if (json) {
    print(streams.out, with_inches(sweep_json(sweep, design.frame, request.by_effort), lengths_asked()));
  } else {
    print_sweep(sweep, design.frame, built, request, streams.out);
  }
  return sweep.code();
}

}  // namespace dryfit::cli
