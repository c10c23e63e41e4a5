#include "cli/input/price_file.hpp"

#include <fmt/format.h>

#include <cmath>
#include <vector>

#include "model/frame/faults.hpp"
#include "model/frame/plain_text.hpp"
#include "model/standards/standards.hpp"
#include "model/text/csv.hpp"
#include "model/text/decimal.hpp"
#include "model/text/length.hpp"
#include "model/text/length_fault.hpp"

namespace dryfit::cli {
namespace {

using model::Message;
using model::message;

std::string_view stripped(std::string_view text) {
  const auto blank = [](char c) { return c == ' ' || c == '\t' || c == '\r'; };
  while (!text.empty() && blank(text.front())) text.remove_prefix(1);
  while (!text.empty() && blank(text.back())) text.remove_suffix(1);
  return text;
}

/// Never by the locale: a price file must read the same everywhere.
std::optional<double> number(std::string_view text) {
  const std::optional<double> value = model::decimal_number(text);
  return value && *value >= 0.0 ? value : std::nullopt;
}

/// The fields of a line, without blanks round them; empty, with `why`, where it is no line of fields.
std::vector<std::string> fields_of(std::string_view line, Message* why) {
  std::vector<std::string> texts;
  if (const auto fields = model::csv_fields(line, why)) {
    for (const std::string_view field : *fields) texts.push_back(model::csv_text(stripped(field)));
  }
  return texts;
}

/// One line of prices; what is wrong with it, or nothing.
Message read_line(std::string_view line, model::Units units, planner::PriceList& list) {
  Message wrong;
  const std::vector<std::string> fields = fields_of(line, &wrong);
  if (fields.empty()) return wrong;
  if (fields.size() != 4) return message("expected size,item,length,price, found {} fields", fields.size());
  const auto size = model::nominal_size(fields[0]);
  if (!size) return message("unknown pipe size '{}'", model::shown(fields[0]));
  if (fields[1].empty()) return message("expected an item: pipe or a kind of fitting");
  double length = 0.0;
  if (!fields[2].empty()) {
    Message why;
    const auto parsed = model::parse_length(fields[2], units, why);
    if (!parsed) return why;
    length = *parsed;
  } else if (fields[1] == "pipe") {
    return message("a pipe's price needs its length");
  }
  const auto price = number(fields[3]);
  if (!price) return message("expected a price of 0 or more, found '{}'", model::shown(fields[3]));
  list.prices[{*size, fields[1], std::lround(length * 10.0)}] = *price;
  return {};
}

}  // namespace

planner::PriceList read_prices(std::string_view bytes, const std::string& file, model::Units units) {
  const std::string lines = model::with_plain_lines(std::string(bytes));
  std::string_view text = lines;
  if (const auto unfit = model::first_unfit(text)) {
    throw model::FaultsError(file, {{model::place_of(text, unfit->at), {}, unfit->what}});
  }
  planner::PriceList list;
  std::vector<model::Fault> faults;
  bool headed = false;
  int line_number = 0;
  while (!text.empty()) {
    ++line_number;
    const std::size_t end = text.find('\n');
    const std::string_view line = stripped(text.substr(0, end));
    text.remove_prefix(end == std::string_view::npos ? text.size() : end + 1);
    if (line.empty() || line.front() == '#') continue;
    if (!headed) {
      headed = true;
      Message wrong;
      if (fields_of(line, &wrong) == std::vector<std::string>{"size", "item", "length", "price"}) continue;
      throw model::FaultsError(file, {{{line_number, 1}, {}, message("expected the heading size,item,length,price")}});
    }
    if (Message fault = read_line(line, units, list); !fault.empty()) {
      faults.push_back({{line_number, 1}, {}, std::move(fault)});
    }
  }
  if (!headed)
    throw model::FaultsError(file, {{{}, {}, message("no prices in it; expected the heading size,item,length,price")}});
  if (!faults.empty()) throw model::FaultsError(file, std::move(faults));
  return list;
}

}  // namespace dryfit::cli
