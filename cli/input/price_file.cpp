#include "cli/input/price_file.hpp"

#include <fmt/format.h>

#include <charconv>
#include <cmath>
#include <vector>

#include "model/frame/input_error.hpp"
#include "model/standards/standards.hpp"
#include "model/text/length.hpp"

namespace dryfit::cli {
namespace {

std::string_view stripped(std::string_view text) {
  const auto blank = [](char c) { return c == ' ' || c == '\t' || c == '\r'; };
  while (!text.empty() && blank(text.front())) text.remove_prefix(1);
  while (!text.empty() && blank(text.back())) text.remove_suffix(1);
  return text;
}

std::vector<std::string_view> fields_of(std::string_view line) {
  std::vector<std::string_view> fields;
  for (;;) {
    const std::size_t comma = line.find(',');
    fields.push_back(stripped(line.substr(0, comma)));
    if (comma == std::string_view::npos) return fields;
    line.remove_prefix(comma + 1);
  }
}

/// Never by the locale: a price file must read the same everywhere.
std::optional<double> number(std::string_view text) {
  double value = 0.0;
  const auto [end, error] = std::from_chars(text.data(), text.data() + text.size(), value);
  if (error != std::errc{} || end != text.data() + text.size() || !std::isfinite(value) || value < 0.0)
    return std::nullopt;
  return value;
}

/// One line of prices; what is wrong with it, or "".
std::string read_line(const std::vector<std::string_view>& fields, model::Units units, planner::PriceList& list) {
  if (fields.size() != 4) return fmt::format("expected size,item,length,price, found {} fields", fields.size());
  const auto size = model::nominal_size(fields[0]);
  if (!size) return fmt::format("unknown pipe size '{}'", fields[0]);
  if (fields[1].empty()) return "expected an item: pipe or a kind of fitting";
  double length = 0.0;
  if (!fields[2].empty()) {
    std::string why;
    const auto parsed = model::parse_length(fields[2], units, &why);
    if (!parsed) return why;
    length = *parsed;
  } else if (fields[1] == "pipe") {
    return "a pipe's price needs its length";
  }
  const auto price = number(fields[3]);
  if (!price) return fmt::format("expected a price of 0 or more, found '{}'", fields[3]);
  list.prices[{*size, std::string(fields[1]), std::lround(length * 10.0)}] = *price;
  return "";
}

}  // namespace

planner::PriceList read_prices(std::string_view text, const std::string& file, model::Units units) {
  planner::PriceList list;
  std::vector<model::InputFault> faults;
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
      if (fields_of(line) == std::vector<std::string_view>{"size", "item", "length", "price"}) continue;
      throw model::InputError(file, {{{line_number, 1}, "expected the heading size,item,length,price"}});
    }
    if (std::string fault = read_line(fields_of(line), units, list); !fault.empty()) {
      faults.push_back({{line_number, 1}, std::move(fault)});
    }
  }
  if (!headed) throw model::InputError(file, {{{}, "no prices in it; expected the heading size,item,length,price"}});
  if (!faults.empty()) throw model::InputError(file, std::move(faults));
  return list;
}

}  // namespace dryfit::cli
