#include "cli/shop/command_span.hpp"

#include <fmt/ostream.h>

#include <algorithm>
#include <memory>
#include <nlohmann/json.hpp>
#include <optional>
#include <ostream>

#include "cli/call/declare.hpp"
#include "cli/check/fit_report.hpp"
#include "cli/input/frame_file.hpp"
#include "cli/input/price_file.hpp"
#include "cli/io/exit_code.hpp"
#include "cli/io/text_file.hpp"
#include "cli/io/usage_error.hpp"
#include "cli/json/inch_fields.hpp"
#include "cli/json/json_answer.hpp"
#include "cli/sentences/safety_text.hpp"
#include "cli/words/lengths.hpp"
#include "cli/words/said.hpp"
#include "cli/words/say.hpp"
#include "cli/words/trade_words.hpp"
#include "cli/words/words.hpp"
#include "model/geometry/at.hpp"
#include "model/standards/standards.hpp"
#include "model/text/length.hpp"
#include "model/text/length_fault.hpp"
#include "model/text/nearest.hpp"
#include "planner/shop/span.hpp"
#include "planner/shop/span_measuring.hpp"

namespace dryfit::cli {
namespace {

struct SpanCall {
  std::string length;
  std::string size = "3/4";
  std::string between = "end,end";
  std::string measure = "centre";
  std::string standard = "npt";
  std::string make_up = "hand";
  std::string match;
  std::string frame;
  std::string prices;
  int pieces = 4;
  int most = 20;
  bool json = false;
};

planner::SpanQuery typed_query(const SpanCall& options, model::Units units) {
  planner::SpanQuery query;
  query.standard = options.standard == "iso7" ? model::Standard::iso7 : model::Standard::npt;
  query.make_up = options.make_up == "wrench" ? model::MakeUp::wrench : model::MakeUp::hand;
  const auto size = model::nominal_size(options.size);
  if (!size) {
    throw UsageError(say("--size: expected {}, got '{}'", listed_or(model::nominal_sizes()), options.size));
  }
  query.size = *size;
  model::Message why;
  const auto length = model::parse_length(options.length, units, why);
  if (!length) throw UsageError(said(why));
  if (*length <= 0.0) throw UsageError(say("the length must be above 0, got '{}'", options.length));
  query.length = *length;
  const std::size_t comma = options.between.find(',');
  if (comma == std::string::npos)
    throw UsageError(say("--between: expected two words such as tee,elbow, got '{}'", options.between));
  const std::string words[] = {options.between.substr(0, comma), options.between.substr(comma + 1)};
  const planner::Measure measure = options.measure == "face"  ? planner::Measure::face
                                   : options.measure == "end" ? planner::Measure::end
                                                              : planner::Measure::centre;
  for (std::size_t i = 0; i < 2; ++i) {
    const auto end = planner::span_end(query.standard, query.make_up, query.size, words[i], measure, &why);
    if (!end) {
      const auto near = model::nearest_word(words[i], planner::span_end_words());
      throw UsageError(near && *near != words[i] ? said(why) + say("; did you mean '{}'?", *near) : said(why));
    }
    query.ends[i] = *end;
  }
  return query;
}

/// A length that is typed with a unit is answered in it.
std::optional<model::Units> with_own_unit(const std::string& length) {
  if (length.ends_with("mm")) return model::Units::mm;
  if (length.ends_with("cm")) return model::Units::cm;
  return std::nullopt;
}

Json way_json(const planner::SpanWay& way) {
  Json pieces = Json::array();
  Json inches = Json::array();
  for (const double piece : way.pieces) {
    pieces.push_back(rounded(piece));
    inches.push_back(rounded(piece / model::kMmPerInch));
  }
  return {{"pieces_mm", std::move(pieces)},
          {"pieces_in", std::move(inches)},
          {"couplings", way.pieces.size() - 1},
          {"joints", way.joints},
          {"end_to_end_mm", rounded(way.end_to_end)},
          {"length_mm", rounded(way.length)},
          {"off_mm", rounded(way.off)},
          {"turns", rounded(way.turns)},
          {"left_mm", rounded(way.left)},
          {"cost", way.cost ? Json(*way.cost) : Json(nullptr)},
          {"rests_on_memory",
           way.from_memory ? Json({"end_to_end_mm", "length_mm", "off_mm", "turns", "left_mm"}) : Json::array()}};
}

std::string way_text(const planner::SpanWay& way, const Lengths& lengths) {
  std::string text;
  for (std::size_t i = 0; i < way.pieces.size(); ++i) {
    text = i == 0 ? lengths(way.pieces[i]) : say("{0} + coupling + {1}", text, lengths(way.pieces[i]));
  }
  if (way.turns != 0.0) {
    const std::string turns = turns_in_words(std::abs(way.turns));
    text = way.turns > 0.0
               ? say_n(way.joints, "{1}: {2} deeper at {0} joint", "{1}: {2} deeper, shared by {0} joints", text, turns)
               : say_n(way.joints, "{1}: {2} back at {0} joint", "{1}: {2} back, shared by {0} joints", text, turns);
  } else {
    text = say("{}: fits without adjusting", text);
  }
  if (std::abs(way.left) >= 0.05) {
    const std::string left = lengths.fine(std::abs(way.left));
    text = way.left > 0.0 ? say("{0}, then {1} too long", text, left) : say("{0}, then {1} too short", text, left);
  }
  if (way.cost) text += ", " + decimal(*way.cost, 2);
  return text;
}

/// What was asked for, from the words of the call or from a run of a frame, and the units to answer in.
struct SpanQuestion {
  planner::SpanQuery query;
  model::Units units;         // of bare numbers in a price file
  model::Units answer_units;  // a length typed in mm is answered in mm, and so is pipe that is sold by the metre
};

SpanQuestion question_of(const SpanCall& options, const Streams& streams) {
  if (options.match.empty() != options.frame.empty()) throw UsageError(say("--match RUN and --in FRAME go together"));
  if (options.match.empty() == options.length.empty()) {
    throw UsageError(say("a length is needed, or --match RUN with --in FRAME"));
  }
  const model::Units typed = lengths_asked() == "mm" ? model::Units::mm : model::Units::in;
  SpanQuestion out{{}, with_own_unit(options.length).value_or(typed), typed};
  if (options.match.empty()) {
    out.query = typed_query(options, typed);
  } else {
    const LoadedFrame loaded = load_frame(options.frame, streams);
    model::Message why;
    const auto found = planner::span_of(loaded.frame, options.match, &why);
    if (!found) throw UsageError(said(why));
    out.query = *found;
    out.units = loaded.frame.units;
  }
  out.query.max_pieces = options.pieces;
  const bool metric = options.length.ends_with("mm") || options.length.ends_with("cm") ||
                      (options.match.empty() && out.query.standard == model::Standard::iso7);
  out.answer_units = metric ? model::Units::mm : out.units;
  return out;
}

Json ways_json(const planner::SpanQuery& query, const std::vector<planner::SpanWay>& ways) {
  Json document = {{"dryfit", 1}, {"command", "span"}, {"verdict", ways.empty() ? "none" : "found"}};
  document["size"] = model::nominal_sizes()[at(query.size)];
  document["length_mm"] = rounded(query.length);
  document["between"] = {query.ends[0].kind, query.ends[1].kind};
  Json list = Json::array();
  for (const planner::SpanWay& way : ways) list.push_back(way_json(way));
  document["ways"] = std::move(list);
  return document;
}

void print_ways(const planner::SpanQuery& query, const std::vector<planner::SpanWay>& ways, int most,
                const Lengths& lengths, std::ostream& out) {
  const auto count = static_cast<long long>(ways.size());
  const bool unsure =
      std::any_of(ways.begin(), ways.end(), [](const planner::SpanWay& way) { return way.from_memory; });
  fmt::print(out, "{}\n",
             say("{0} of {1} in pipe between {2} and {3}: {4}", lengths(query.length),
                 model::nominal_sizes()[at(query.size)], kind_word(query.ends[0].kind), kind_word(query.ends[1].kind),
                 ways.empty() ? say("no stock lengths come close enough")
                              : say_n(count, "{0} way{1}", "{0} ways{1}", memory_mark(unsure))));
  const std::size_t shown = std::min(ways.size(), at(most));
  for (std::size_t i = 0; i < shown; ++i) fmt::print(out, "  {}\n", way_text(ways[i], lengths));
  if (shown < ways.size()) {
    fmt::print(out, "  {}\n", say("and {} more; --most shows them", ways.size() - shown));
  }
  const auto end = ways.begin() + static_cast<std::ptrdiff_t>(shown);
  if (std::any_of(ways.begin(), end, [](const planner::SpanWay& way) { return way.turns < 0.0; })) {
    fmt::print(out, "{}\n", wrapped(loose_text(), 0));
  }
  if (unsure) out << memory_footnote(planner::worth_measuring(query));
}

int tell_span(const SpanCall& options, const Streams& streams) {
  SpanQuestion question = question_of(options, streams);
  planner::PriceList prices;
  if (!options.prices.empty()) {
    prices = read_prices(read_text(options.prices, streams.in), options.prices, question.units);
    question.query.prices = &prices;
  }
  const auto ways = planner::span(question.query);
  if (options.json) {
    print(streams.out, with_inches(ways_json(question.query, ways), lengths_asked()));
  } else {
    print_ways(question.query, ways, options.most, Lengths(question.answer_units), streams.out);
  }
  return ways.empty() ? kNo : kYes;
}

}  // namespace

Job set_up_span(OptionList& list) {
  const auto options = std::make_shared<SpanCall>();
  list.value("LENGTH", options->length, "the length to make: 47-3/4, 1200 mm");
  list.value("--size", options->size, "nominal pipe size").show_default();
  list.value("--between", options->between, "what is at the two ends, such as elbow,tee; end for a bare pipe end")
      .show_default();
  list.value("--measure", options->measure, "what the length is measured between: centre, face or end")
      .one_of({"centre", "face", "end"})
      .show_default();
  list.value("--standard", options->standard, "npt or iso7").one_of({"npt", "iso7"}).show_default();
  list.value("--make-up", options->make_up, "hand or wrench").one_of({"hand", "wrench"}).show_default();
  list.value("--match", options->match, "instead of a length: as long as this run or pipe");
  list.value("--in", options->frame, "the frame file that --match looks in");
  list.value("--pieces", options->pieces, "at most so many pieces").range(1, 6).show_default();
  list.value("--most", options->most, "show at most so many ways").range(1, 100000).show_default();
  list.value("--prices", options->prices, "a CSV file size,item,length,price: cheapest of equals first");
  list.flag("--json", options->json, "one JSON document instead of text");
  add_units_option(list);
  return [options](const Streams& streams) { return tell_span(*options, streams); };
}

}  // namespace dryfit::cli
