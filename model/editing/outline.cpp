#include "model/editing/outline.hpp"

#include <yaml-cpp/yaml.h>

#include <algorithm>
#include <array>
#include <deque>
#include <stdexcept>
#include <utility>

#include "model/frame/cannot_edit.hpp"
#include "model/geometry/at.hpp"

namespace dryfit::model {
namespace {

constexpr std::array<std::string_view, 10> kSections{"dryfit", "name",     "units", "pipe",   "make-up",
                                                     "driver", "surfaces", "runs",  "boards", "clips"};

/// Where a node begins, an anchor passed over; npos for an alias, which stands for what was written further up.
std::size_t begin_of(std::string_view text, const YAML::Node& node, std::size_t least, std::size_t shift) {
  if (node.Mark().is_null()) return std::string_view::npos;
  std::size_t begin = at(node.Mark().pos) + shift;
  if (begin < least || begin >= text.size()) return std::string_view::npos;
  if (text[begin] == '&') begin = std::min(text.find_first_of(" \n", begin), text.size());
  while (begin < text.size() && text[begin] == ' ') ++begin;
  return begin;
}

void take_scalar(std::string_view text, const YAML::Node& node, std::size_t begin, Written& made) {
  made.text = node.Scalar();
  made.kind = Written::Kind::scalar;
  if (text[begin] == '"' || text[begin] == '\'') {
    made.at = {begin, quoted_end(text, begin)};
  } else if (text.substr(begin, made.text.size()) == made.text) {
    made.at = {begin, begin + made.text.size()};
  } else {
    made.kind = Written::Kind::other;
    made.at = {begin, begin};
  }
}

/// `least`: where it can stand at the first. `shift`: bytes before those that the marks count.
Written built(std::string_view text, const YAML::Node& node, std::size_t least, std::size_t shift) {
  Written made;
  made.at = {least, least};
  if (!node.IsDefined() || node.IsNull()) return made;
  const std::size_t begin = begin_of(text, node, least, shift);
  if (begin == std::string_view::npos) {
    made.kind = Written::Kind::other;
    return made;
  }
  if (node.IsScalar()) {
    take_scalar(text, node, begin, made);
    return made;
  }
  made.kind = node.IsMap() ? Written::Kind::map : Written::Kind::list;
  made.flow = text[begin] == (node.IsMap() ? '{' : '[');
  made.at = {begin, begin};
  for (const auto& entry : node) {
    if (node.IsMap()) {
      const Written key = built(text, entry.first, begin, shift);
      const std::size_t colon = text.find(':', key.at.to);
      Written item = built(text, entry.second, colon == std::string_view::npos ? key.at.to : colon + 1, shift);
      item.key = key.text;
      item.key_at = key.at;
      made.items.push_back(std::move(item));
    } else {
      made.items.push_back(built(text, entry, begin, shift));
    }
    made.at.to = std::max(made.at.to, made.items.back().at.to);
  }
  if (made.flow) made.at.to = closing_bracket(text, begin) + 1;
  return made;
}

/// The first byte of an item or entry.
std::size_t first_byte(const Written& item) { return item.key.empty() ? item.at.from : item.key_at.from; }

/// Lines of a list's item or a map's entry, whole.
Bytes lines_of(std::string_view text, const Written& item) {
  const std::size_t line = line_begin(text, first_byte(item));
  return {line, block_end(text, line, indent_at(text, line))};
}

/// `lines` behind the line that ends at `end`, which may be the last and have no newline.
std::string with_lines(std::string_view text, std::size_t end, std::string lines, const std::string& newline) {
  const bool unfinished = end > 0 && text[end - 1] != '\n';
  return put_in(text, end, unfinished ? newline + lines : lines + newline);
}

std::string indented(const std::string& value, const std::string& step, const std::string& newline) {
  std::string made;
  for (const char c : value) {
    if (c == '\n') {
      made += newline + step;
    } else {
      made += c;
    }
  }
  return made;
}

std::string without_bracketed(std::string_view text, const Written& all, std::size_t from, std::size_t to) {
  if (from > 0) {
    return with_patches(text, {{{all.items[from - 1].at.to, all.items[to - 1].at.to}, ""}});
  }
  return with_patches(text, {{{first_byte(all.items[0]), first_byte(all.items[to])}, ""}});
}

/// Behind the last entry that stands before `key` in the usual order; 0 when none does.
std::size_t place_at_top(std::string_view text, const Written& root, std::string_view key) {
  const auto rank = [](std::string_view one) { return std::find(kSections.begin(), kSections.end(), one); };
  std::size_t place = 0;
  for (const Written& entry : root.items) {
    if (rank(entry.key) <= rank(key)) place = std::max(place, lines_of(text, entry).to);
  }
  return place;
}

std::string with_new_section(std::string_view text, const Written& root, const std::string& section,
                             const std::string& body) {
  const std::string newline = newline_of(text);
  std::size_t place = place_at_top(text, root, section);
  if (place == 0) place = text.size();
  std::string lines = section + ":" + newline + body;
  if (place > 0) lines = newline + lines;
  const bool close = place < text.size() && text[place] != '\n' && text[place] != '\r';
  return with_lines(text, place, lines + (close ? newline : ""), newline);
}

Written read_outline(std::string_view text) {
  const std::size_t mark = text.starts_with("\xEF\xBB\xBF") ? 3 : 0;  // yaml-cpp counts behind it
  try {
    return built(text, YAML::Load(std::string(text.substr(mark))), mark, mark);
  } catch (const YAML::Exception& e) {
    throw CannotEdit(message("the file cannot be read as YAML: {}", std::string_view(e.what())));
  }
}

}  // namespace

const Written* Written::find(std::string_view wanted) const {
  if (kind != Kind::map) return nullptr;
  const auto found = std::find_if(items.begin(), items.end(), [&](const Written& item) { return item.key == wanted; });
  return found == items.end() ? nullptr : &*found;
}

Written outline_of(std::string_view text) {
  // One change asks about the same text many times over, and about what became of it: reading is what takes time.
  constexpr std::size_t kKept = 4;
  thread_local std::deque<std::pair<std::string, Written>> known;
  const auto found = std::find_if(known.begin(), known.end(), [&](const auto& one) { return one.first == text; });
  if (found != known.end()) return found->second;
  Written made = read_outline(text);
  if (known.size() == kKept) known.pop_front();
  known.emplace_back(std::string(text), made);
  return made;
}

std::vector<PartSpot> parts_written(const Written& root) {
  std::vector<PartSpot> found;
  const Written* runs = root.find("runs");
  if (runs == nullptr) return found;
  for (const Written& run : runs->items) {
    const Written* parts = run.find("parts");
    if (parts == nullptr || parts->kind != Written::Kind::list) continue;
    for (std::size_t i = 0; i < parts->items.size(); ++i) {
      const Written& item = parts->items[i];
      if (item.kind == Written::Kind::map && item.items.size() == 1) found.push_back({&run, parts, &item.items[0], i});
    }
  }
  return found;
}

PartSpot part_written(const Written& root, std::string_view id) {
  for (const PartSpot& spot : parts_written(root)) {
    if (spot.part->key == id) return spot;
  }
  throw CannotEdit(message("there is no part '{}' in a run of the file", id));
}

const Written& run_written(const Written& root, std::string_view id) {
  const Written* runs = root.find("runs");
  const Written* run = runs == nullptr ? nullptr : runs->find(id);
  const Written* parts = run == nullptr ? nullptr : run->find("parts");
  if (parts == nullptr || parts->kind != Written::Kind::list || parts->items.empty()) {
    throw CannotEdit(message("there is no run '{}' with parts in the file", id));
  }
  return *run;
}

std::string with_item_behind(std::string_view text, const Written& list, std::size_t index, const std::string& item) {
  const Written& before = list.items[index];
  if (list.flow) {
    // Behind the closing brace of "{P1: {pipe: 6}}" as of "P1: {pipe: 6}".
    return put_in(text, before.at.to, ", " + item);
  }
  const Bytes lines = lines_of(text, before);
  const std::size_t line = lines.from;
  return with_lines(text, lines.to, std::string(indent_at(text, line), ' ') + "- " + item, newline_of(text));
}

std::string with_item_first(std::string_view text, const Written& list, const std::string& item) {
  const Written& first = list.items.front();
  if (list.flow) return put_in(text, first_byte(first), item + ", ");
  const std::size_t line = lines_of(text, first).from;
  return put_in(text, line, std::string(indent_at(text, line), ' ') + "- " + item + newline_of(text));
}

std::string without_items(std::string_view text, const Written& list, std::size_t from, std::size_t to) {
  if (list.flow) return without_bracketed(text, list, from, to);
  std::vector<Patch> patches;
  for (std::size_t i = from; i < to; ++i) patches.push_back({lines_of(text, list.items[i]), ""});
  return with_patches(text, std::move(patches));
}

std::string with_entry(std::string_view text, const Written& map, const std::string& key, const std::string& value) {
  const std::string entry = key + ":" + (value.empty() || value[0] == '\n' ? "" : " ");
  if (map.flow) {
    if (value.find('\n') != std::string::npos) {
      throw CannotEdit(message("'{}' takes several lines, and its place is within brackets in one", key));
    }
    return put_in(text, map.items.back().at.to, ", " + entry + value);
  }
  const Written& last = map.items.back();
  const Bytes lines = lines_of(text, last);
  // An entry may stand behind the dash of its list.
  const std::string step(last.key_at.from - line_begin(text, last.key_at.from), ' ');
  const std::string newline = newline_of(text);
  return with_lines(text, lines.to, step + entry + indented(value, step, newline), newline);
}

std::string without_entry(std::string_view text, const Written& map, std::string_view key) {
  const Written* entry = map.find(key);
  if (entry == nullptr) throw CannotEdit(message("there is no '{}' to take out", key));
  const auto index = static_cast<std::size_t>(entry - map.items.data());
  if (map.flow) return without_bracketed(text, map, index, index + 1);
  return with_patches(text, {{lines_of(text, *entry), ""}});
}

std::string with_section_entry(std::string_view text, const std::string& section, const std::string& key,
                               const std::string& value) {
  const Written root = outline_of(text);
  const Written* found = root.find(section);
  if (found != nullptr && found->kind == Written::Kind::map && !found->items.empty()) {
    return with_entry(text, *found, key, value);
  }
  const std::string newline = newline_of(text);
  const std::string entry =
      "  " + key + ":" + (value.empty() || value[0] == '\n' ? "" : " ") + indented(value, "  ", newline);
  if (found == nullptr) return with_new_section(text, root, section, entry);
  if (found->kind != Written::Kind::nothing) {
    throw CannotEdit(message("'{}' is written in a way that cannot be added to", section));
  }
  return with_lines(text, line_end(text, found->key_at.from), entry, newline);
}

std::string with_top_value(std::string_view text, const std::string& key, const std::string& value) {
  const Written root = outline_of(text);
  if (root.flow) return with_entry(text, root, key, value);
  return with_lines(text, place_at_top(text, root, key), key + ": " + value, newline_of(text));
}

std::string without_section_entry(std::string_view text, const std::string& section, std::string_view key) {
  const Written root = outline_of(text);
  const Written* found = root.find(section);
  if (found == nullptr || found->find(key) == nullptr) {
    throw CannotEdit(message("there is no '{}' among the {}", key, section));
  }
  if (found->items.size() > 1) return without_entry(text, *found, key);
  // The blank line before a section goes with it.
  Bytes lines = lines_of(text, *found);
  const std::string newline = newline_of(text);
  if (lines.from >= newline.size() && text.substr(0, lines.from).ends_with(newline + newline)) {
    lines.from -= newline.size();
  }
  return with_patches(text, {{lines, ""}});
}

}  // namespace dryfit::model
