#include "model/standards/tables.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <stdexcept>
#include <utility>

#include "model/text/csv.hpp"

#include "model/geometry/at.hpp"
#include "model/text/decimal.hpp"

namespace dryfit::model {
namespace {

std::vector<std::string_view> fields_of(std::string_view line) {
  Message why;
  auto fields = csv_fields(line, &why);
  if (!fields) throw std::logic_error(fmt::format("table: {}: {}", why.english(), line));
  return std::move(*fields);
}

}  // namespace

Table::Table(std::string_view text) {
  while (!text.empty()) {
    const std::size_t end = std::min(text.size(), text.find('\n'));
    const std::string_view line = text.substr(0, end);
    text.remove_prefix(std::min(text.size(), end + 1));
    if (line.empty() || line.front() == '#') continue;
    std::vector<std::string_view> fields = fields_of(line);
    if (head_.empty()) {
      head_ = std::move(fields);
      continue;
    }
    if (fields.size() != head_.size()) throw std::logic_error(fmt::format("table: fields are missing: {}", line));
    cells_.push_back(std::move(fields));
  }
}

Table Table::built_in(std::string_view name) {
  for (const BuiltInFile& file : built_in_files()) {
    if (file.name == name) return Table(file.text);
  }
  throw std::logic_error(fmt::format("table: no built-in file '{}'", name));
}

std::string_view Table::at(std::size_t row, std::string_view column) const {
  const auto found = std::find(head_.begin(), head_.end(), column);
  if (found == head_.end()) throw std::logic_error(fmt::format("table: no column '{}'", column));
  return cells_.at(row)[dryfit::at(found - head_.begin())];
}

double Table::number(std::size_t row, std::string_view column) const {
  const std::string_view field = at(row, column);
  const std::optional<double> value = model::decimal_number(field);
  if (!value) throw std::logic_error(fmt::format("table: '{}' is no number", field));
  return *value;
}

}  // namespace dryfit::model
