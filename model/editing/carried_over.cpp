#include "model/editing/carried_over.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <optional>
#include <stdexcept>

#include "model/editing/outline.hpp"
#include "model/frame/cannot_edit.hpp"
#include "model/text/length.hpp"
#include "model/text/typed_length.hpp"

namespace dryfit::model {
namespace {

using Kind = Written::Kind;

constexpr int kMostSteps = 10000;  ///< differences of two files of one frame

/// "254.0000 mm" as "10" in a file in inches; any other word as it stands, and all where no units are given.
std::string typed(const std::string& word, std::optional<Units> units) {
  if (!units || !word.ends_with(" mm")) return word;
  const auto length = parse_length(word, *units);
  return length ? typed_length(*length, *units) : word;
}

/// A value in one line. What holds a key without a value alone is that word: "union".
std::string in_one_line(const Written& value, std::optional<Units> units) {
  if (value.kind == Kind::scalar) return typed(value.text, units);
  if (value.kind == Kind::nothing) return "";
  const bool map = value.kind == Kind::map;
  if (map && value.items.size() == 1 && value.items.front().kind == Kind::nothing) return value.items.front().key;
  std::string inner;
  for (const Written& item : value.items) {
    inner += inner.empty() ? "" : ", ";
    if (map) inner += item.key + ": ";
    inner += in_one_line(item, units);
  }
  return map ? "{" + inner + "}" : "[" + inner + "]";
}

/// A run or board under its name, a key a line; parts a line each.
std::string in_lines(const Written& entry, Units units) {
  std::string lines;
  for (const Written& item : entry.items) {
    lines += fmt::format("\n  {}:", item.key);
    if (item.key != "parts") {
      lines += " " + in_one_line(item, units);
      continue;
    }
    for (const Written& part : item.items) {
      const Written& one = part.items.front();
      lines += fmt::format("\n    - {}: {}", one.key, in_one_line(one, units));
    }
  }
  return lines;
}

/// The same item of a list: a part of the same name, or the same word.
bool is_same(const Written& was, const Written& now, Units units) {
  if (was.items.empty() != now.items.empty()) return false;
  if (!was.items.empty()) return was.items.front().key == now.items.front().key;
  return was.text == now.text || was.text == typed(now.text, units);
}

/// One text on its way to the other, a difference a step.
class CarryingOver {
 public:
  CarryingOver(std::string_view text, Units units) : text_(text), units_(units) {}

  /// The text with the first difference below `was` gone; nullopt where there is none.
  std::optional<std::string> next(const Written& was, const Written& now, const std::string& section) {
    if (was.kind == Kind::other || (was.kind == Kind::nothing && now.kind == Kind::nothing)) return std::nullopt;
    if (was.kind == Kind::map && now.kind == Kind::map) return next_in_map(was, now, section);
    if (was.kind == Kind::list && now.kind == Kind::list) return next_in_list(was, now);
    // As it was written, or as it would be: a length that was typed is not typed anew.
    const std::string there = in_one_line(was, std::nullopt);
    if (there == in_one_line(now, std::nullopt) || there == in_one_line(now, units_)) return std::nullopt;
    const std::string gap = was.kind == Kind::nothing ? " " : "";
    return with_patches(text_, {{was.at, gap + in_one_line(now, units_)}});
  }

 private:
  std::optional<std::string> next_in_map(const Written& was, const Written& now, const std::string& section) {
    for (const Written& item : was.items) {
      const Written* there = now.find(item.key);
      if (there == nullptr) continue;
      if (auto made = next(item, *there, section.empty() ? item.key : section + ".")) return made;
    }
    for (const Written& item : now.items) {
      if (was.find(item.key) == nullptr) return with_new(was, item, section);
    }
    for (const Written& item : was.items) {
      if (now.find(item.key) == nullptr) return without_entry(text_, was, item.key);
    }
    return std::nullopt;
  }

  std::string with_new(const Written& map, const Written& item, const std::string& section) const {
    if (section.empty()) return with_top_value(text_, item.key, in_one_line(item, units_));
    const bool block = section == "runs" || section == "boards";
    return with_entry(text_, map, item.key, block ? in_lines(item, units_) : in_one_line(item, units_));
  }

  std::optional<std::string> next_in_list(const Written& was, const Written& now) {
    const auto left_out = [&](const Written& item) {
      return std::none_of(now.items.begin(), now.items.end(),
                          [&](const Written& one) { return is_same(item, one, units_); });
    };
    const auto is_new = [&](const Written& item) {
      return std::none_of(was.items.begin(), was.items.end(),
                          [&](const Written& one) { return is_same(one, item, units_); });
    };
    const bool as_many = was.items.size() == now.items.size();
    for (std::size_t i = 0; i < std::max(was.items.size(), now.items.size()); ++i) {
      const bool here = i < was.items.size(), there = i < now.items.size();
      if (here && there && is_same(was.items[i], now.items[i], units_)) {
        if (auto made = next(was.items[i], now.items[i], "list.")) return made;
      } else if (as_many && was.items[i].items.empty() && now.items[i].items.empty()) {
        return next(was.items[i], now.items[i], "list.");  // a coordinate
      } else if (there && is_new(now.items[i])) {
        return with_item(was, i, now.items[i]);
      } else if (here && left_out(was.items[i]) && was.items.size() > 1) {
        return without_items(text_, was, i, i + 1);
      } else {
        return with_patches(text_, {{was.at, in_one_line(now, units_)}});
      }
    }
    return std::nullopt;
  }

  /// One more item that becomes the one at `index`.
  std::string with_item(const Written& list, std::size_t index, const Written& item) const {
    const bool named = item.kind == Kind::map && item.items.size() == 1;
    const std::string words =
        named ? item.items.front().key + ": " + in_one_line(item.items.front(), units_) : in_one_line(item, units_);
    const std::string whole = named && list.flow ? "{" + words + "}" : words;
    return index == 0 ? with_item_first(text_, list, whole) : with_item_behind(text_, list, index - 1, whole);
  }

  std::string_view text_;
  Units units_;
};

}  // namespace

std::string with_changes_of(std::string_view text, std::string_view changed, Units units) {
  const Written now = outline_of(changed);
  std::string made(text);
  for (int step = 0; step < kMostSteps; ++step) {
    const Written was = outline_of(made);
    auto nearer = CarryingOver(made, units).next(was, now, "");
    if (!nearer) return made;
    made = std::move(*nearer);
  }
  throw CannotEdit(message("the file is written in a way that a change cannot be carried over into"));
}

}  // namespace dryfit::model
