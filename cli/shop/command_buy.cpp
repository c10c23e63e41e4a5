#include "cli/shop/command_buy.hpp"

#include <fmt/ostream.h>

#include <memory>
#include <nlohmann/json.hpp>
#include <ostream>

#include "cli/call/declare.hpp"
#include "cli/draw/sheet/buy_sheet.hpp"
#include "cli/input/frame_file.hpp"
#include "cli/input/price_file.hpp"
#include "cli/io/exit_code.hpp"
#include "cli/io/text_file.hpp"
#include "cli/io/usage_error.hpp"
#include "cli/json/inch_fields.hpp"
#include "cli/json/json_answer.hpp"
#include "cli/sentences/buy_text.hpp"
#include "cli/words/lengths.hpp"
#include "cli/words/say.hpp"
#include "cli/words/words.hpp"
#include "model/text/csv.hpp"
#include "model/text/length.hpp"
#include "planner/shop/buy.hpp"

namespace dryfit::cli {
namespace {

struct BuyCall {
  std::string frame;
  std::string prices;
  std::string file;
  std::string paper;
  bool json = false;
  bool csv = false;
  bool spares = false;
};

Json optional_number(const std::optional<double>& value) { return value ? Json(rounded(*value)) : Json(nullptr); }

void print_json(const model::Frame& frame, const planner::Shopping& shopping, const std::vector<std::string>& files,
                std::ostream& out) {
  Json document = envelope("buy", frame, "list");
  const Lengths lengths(frame.units);
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
                     {"text", what_text(line, line.count, lengths)},
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
  if (!files.empty()) document["files"] = files;
  print(out, with_inches(document, lengths_asked()));
}

void print_csv(const planner::Shopping& shopping, std::ostream& out) {
  out << "group,count,spares,size,item,length_mm,length_in,note,mass_kg,price,labels\n";
  for (const planner::BuyLine& line : shopping.lines) {
    const std::string length = line.length > 0.0 ? fmt::format("{:.1f}", line.length) : "";
    const std::string inches = line.length > 0.0 ? model::csv_field(model::inches(line.length)) : "";
    fmt::print(out, "{},{},{},{},{},{},{},{},{:.3f},{},{}\n", planner::word_for(line.group), line.count, line.spares,
               model::csv_field(line.size), model::csv_field(line.item), length, inches, model::csv_field(line.note),
               line.mass, line.price ? fmt::format("{:.2f}", *line.price) : "",
               model::csv_field(fmt::format("{}", fmt::join(line.labels, " "))));
  }
}

/// "what to buy, 28 lb (13 kg) in all, 61.20".
std::string summary_of(const model::Frame& frame, const planner::Shopping& shopping) {
  const std::string mass = weight(shopping.mass, frame.units);
  return shopping.price ? say("what to buy, {0} in all, {1}", mass, decimal(*shopping.price, 2))
                        : say("what to buy, {} in all", mass);
}

void print_text(const model::Frame& frame, const planner::Shopping& shopping, const Lengths& lengths,
                std::ostream& out) {
  fmt::print(out, "{}: {}\n", frame.name, summary_of(frame, shopping));
  for (const BuySection& section : buy_sections(shopping, lengths)) {
    fmt::print(out, "\n{}\n", section.heading);
    for (const BuyEntry& entry : section.entries) {
      std::string what = entry.what;
      if (!entry.price.empty()) what = say("{0} at {1}", what, entry.price);
      if (!entry.labels.empty()) what += ": " + entry.labels;
      fmt::print(out, "  {:>3}  {}\n", entry.count, wrapped(what, 7));
    }
    for (const std::string& note : section.notes) fmt::print(out, "       {}\n", wrapped(note, 7));
  }
  for (const std::string& remark : buy_remarks(shopping, frame.units)) fmt::print(out, "\n{}\n", wrapped(remark, 2));
}

/// The paper is made in memory first: nothing is written when anything about it is wrong. The names of the files.
std::vector<std::string> write_paper(const BuyCall& options, const model::Frame& frame,
                                     const planner::Shopping& shopping, const Lengths& lengths) {
  const PictureFormat format = paper_format_for(options.file);
  BuySheet sheet{frame.name, summary_of(frame, shopping), buy_sections(shopping, lengths),
                 buy_remarks(shopping, frame.units)};
  const bool letter = options.paper.empty() ? frame.units == model::Units::in : options.paper == "letter";
  return write_documents(options.file, buy_pages(sheet, letter ? PaperSize::letter : PaperSize::a4, format));
}

int tell_shopping(const BuyCall& options, const Streams& streams) {
  if (options.json && options.csv) throw UsageError(say("--json and --csv cannot go together"));
  if (options.frame == "-" && options.prices == "-") {
    throw UsageError(say("standard input can be read only once"));
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
  const Lengths lengths(loaded.frame.units);
  std::vector<std::string> files;
  if (!options.file.empty()) files = write_paper(options, loaded.frame, shopping, lengths);
  if (options.json) {
    print_json(loaded.frame, shopping, files, streams.out);
  } else if (options.csv) {
    print_csv(shopping, streams.out);
  } else {
    print_text(loaded.frame, shopping, lengths, streams.out);
  }
  return kYes;
}

}  // namespace

Job set_up_buy(OptionList& list) {
  const auto options = std::make_shared<BuyCall>();
  list.value("FRAME", options->frame, "the frame file; - for standard input").required();
  const Option& file = list.value("-o,--output", options->file,
                                  "also write a PDF to print and tick off, or with .svg a picture of each page");
  list.value("--paper", options->paper, "a4 or letter; by the frame's units when not given")
      .one_of({"a4", "letter"})
      .needs(file);
  list.flag("--json", options->json, "one JSON document instead of text");
  list.flag("--csv", options->csv, "a table for a spreadsheet instead of text");
  list.flag("--spares", options->spares, "also what is worth having at hand");
  list.value("--prices", options->prices, "a CSV file size,item,length,price");
  add_units_option(list);
  return [options](const Streams& streams) { return tell_shopping(*options, streams); };
}

}  // namespace dryfit::cli
