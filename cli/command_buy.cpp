#include "cli/command_buy.hpp"

#include <fmt/ostream.h>

#include <CLI/App.hpp>
#include <memory>
#include <nlohmann/json.hpp>
#include <ostream>

#include "cli/exit_code.hpp"
#include "cli/frame_file.hpp"
#include "cli/json_answer.hpp"
#include "cli/lengths.hpp"
#include "cli/price_file.hpp"
#include "cli/text_file.hpp"
#include "cli/usage_error.hpp"
#include "cli/words.hpp"
#include "model/length.hpp"
#include "planner/buy.hpp"

namespace dryfit::cli {
namespace {

struct Options {
  std::string frame;
  std::string prices;
  std::string units;
  bool json = false;
  bool csv = false;
  bool spares = false;
};

Json optional_number(const std::optional<double>& value) { return value ? Json(rounded(*value)) : Json(nullptr); }

void print_json(const model::Frame& frame, const planner::Shopping& shopping, std::ostream& out) {
  Json document = envelope("buy", frame, "list");
  Json lines = Json::array();
  for (const planner::BuyLine& line : shopping.lines) {
    lines.push_back({{"group", planner::word_for(line.group)},
                     {"count", line.count},
                     {"spares", line.spares},
                     {"size", line.size},
                     {"item", line.item},
                     {"length_mm", rounded(line.length)},
                     {"length_in", rounded(line.length / model::kMmPerInch)},
                     {"note", line.note},
                     {"mass_kg", rounded(line.mass)},
                     {"price", optional_number(line.price)},
                     {"labels", line.labels},
                     {"from_memory", line.from_memory}});
  }
  document["lines"] = std::move(lines);
  document["mass_kg"] = rounded(shopping.mass);
  document["price"] = optional_number(shopping.price);
  document["heavy"] = shopping.heavy;
  document["lifting_limit_kg"] = rounded(shopping.lifting_limit);
  document["lifting_source"] = shopping.lifting_source;
  print(out, document);
}

/// RFC 4180: quoted where a comma, a quote or a line end is inside.
std::string csv_field(const std::string& text) {
  if (text.find_first_of(",\"\n\r") == std::string::npos) return text;
  std::string quoted = "\"";
  for (const char c : text) {
    if (c == '"') quoted += '"';
    quoted += c;
  }
  return quoted + '"';
}

void print_csv(const planner::Shopping& shopping, std::ostream& out) {
  out << "group,count,spares,size,item,length_mm,length_in,note,mass_kg,price,labels\n";
  for (const planner::BuyLine& line : shopping.lines) {
    const std::string length = line.length > 0.0 ? fmt::format("{:.1f}", line.length) : "";
    const std::string inches = line.length > 0.0 ? csv_field(model::inches(line.length)) : "";
    fmt::print(out, "{},{},{},{},{},{},{},{},{:.3f},{},{}\n", planner::word_for(line.group), line.count, line.spares,
               csv_field(line.size), csv_field(line.item), length, inches, csv_field(line.note), line.mass,
               line.price ? fmt::format("{:.2f}", *line.price) : "",
               csv_field(fmt::format("{}", fmt::join(line.labels, " "))));
  }
}

void print_text(const model::Frame& frame, const planner::Shopping& shopping, const Lengths& lengths,
                std::ostream& out) {
  fmt::print(out, "{}: what to buy, {} in all", frame.name, weight(shopping.mass, frame.units));
  if (shopping.price) fmt::print(out, ", {:.2f}", *shopping.price);
  out << "\n";
  bool unsure = false;
  const char* group = "";
  for (const planner::BuyLine& line : shopping.lines) {
    if (std::string_view(group) != planner::word_for(line.group)) {
      group = planner::word_for(line.group);
      fmt::print(out, "\n{}\n", group);
    }
    std::string what = line.size.empty() ? line.item : line.size + " " + line.item;
    if (line.length > 0.0) what += ", " + lengths(line.length);
    if (!line.note.empty()) what += ", " + line.note;
    if (line.spares > 0) what += fmt::format(" (and {} spare)", line.spares);
    if (line.price) what += fmt::format(" at {:.2f}", *line.price);
    if (!line.labels.empty()) what += ": " + listed_briefly(line.labels, 12);
    if (line.from_memory) what += " *";
    unsure = unsure || line.from_memory;
    fmt::print(out, "  {:>3}  {}\n", line.count, wrapped(what, 7));
  }
  if (!shopping.heavy.empty()) {
    fmt::print(out, "\nTwo people lift {}: over {}, one person's limit ({}).\n", listed(shopping.heavy),
               weight(shopping.lifting_limit, frame.units), shopping.lifting_source);
  }
  if (unsure) {
    out << "\n* rests on a table row that no published source confirms: measure your fittings and give what you find\n"
           "  as `measured`.\n";
  }
}

int tell_shopping(const Options& options, const Streams& streams) {
  if (options.json && options.csv) throw UsageError("--json and --csv exclude each other");
  if (options.frame == "-" && options.prices == "-") {
    throw UsageError("only one of the frame and the prices can come from standard input");
  }
  const LoadedFrame loaded = load_frame(options.frame, streams);
  planner::PriceList prices;
  planner::BuyOptions buy;
  buy.spares = options.spares;
  if (!options.prices.empty()) {
    prices = read_prices(read_text(options.prices, streams.in), options.prices, loaded.frame.units);
    buy.prices = &prices;
  }
  const planner::Shopping shopping = planner::shopping_of(loaded.frame, planner::find_fit(loaded.frame), buy);
  if (options.json) {
    print_json(loaded.frame, shopping, streams.out);
  } else if (options.csv) {
    print_csv(shopping, streams.out);
  } else {
    print_text(loaded.frame, shopping, Lengths(options.units, loaded.frame.units), streams.out);
  }
  return kYes;
}

}  // namespace

Job set_up_buy(CLI::App& app) {
  const auto options = std::make_shared<Options>();
  app.add_option("FRAME", options->frame, "the frame file; - for standard input")->required();
  app.add_flag("--json", options->json, "one JSON document instead of text");
  app.add_flag("--csv", options->csv, "a table for a spreadsheet instead of text");
  app.add_flag("--spares", options->spares, "also what is worth having at hand");
  app.add_option("--prices", options->prices, "a CSV file size,item,length,price");
  add_units_option(app, options->units);
  return [options](const Streams& streams) { return tell_shopping(*options, streams); };
}

}  // namespace dryfit::cli
