#include "model/reading/reading.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cctype>
#include <charconv>

#include "model/frame/plain_text.hpp"
#include "model/geometry/at.hpp"
#include "model/standards/standards.hpp"
#include "model/text/length.hpp"
#include "model/text/messages.hpp"

namespace dryfit::model {
namespace {

bool letter(char c) { return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z'); }
bool digit(char c) { return c >= '0' && c <= '9'; }

std::string lowered(std::string_view text) {
  std::string out(text);
  for (char& c : out) {
    if (c >= 'A' && c <= 'Z') c = static_cast<char>(c - 'A' + 'a');
  }
  return out;
}

/// Words that one YAML reader or another takes for a truth value or for nothing.
bool yaml_word(std::string_view text) {
  static constexpr std::array<std::string_view, 10> kWords{"y",   "n",    "yes",   "no",   "on",
                                                           "off", "true", "false", "null", "nan"};
  return std::find(kWords.begin(), kWords.end(), lowered(text)) != kWords.end();
}

const std::vector<std::string>& direction_words(bool along_axis_only) {
  const auto collect = [](bool axes) {
    std::vector<std::string> words;
    for (const Direction d : all_directions()) {
      if (!axes || d.along_axis()) words.push_back(d.name());
    }
    return words;
  };
  static const std::vector<std::string> axes = collect(true);
  static const std::vector<std::string> all = collect(false);
  return along_axis_only ? axes : all;
}

}  // namespace

void check_keys(Reading& in, const YamlNode& map, const Subject& subject, std::span<const std::string_view> allowed) {
  for (std::size_t i = 0; i < map.pairs(); ++i) {
    const YamlNode& key = map.key(i);
    if (key.is_map() || key.is_sequence()) continue;  // told by read_yaml
    if (key.text == "<<" && !key.quoted) continue;    // likewise
    if (std::find(allowed.begin(), allowed.end(), key.text) != allowed.end()) continue;
    in.wrong(key.where, subject,
             fmt::format("unknown key {}, expected {}{}", key.described(), one_of(allowed),
                         did_you_mean(key.text, allowed)));
  }
}

std::optional<std::size_t> word_of(Reading& in, const YamlNode& node, const Subject& subject, std::string_view name,
                                   std::span<const std::string_view> words) {
  if (node.is_scalar()) {
    const auto found = std::find(words.begin(), words.end(), node.text);
    if (found != words.end()) return at(found - words.begin());
    in.wrong(node.where, subject,
             fmt::format("unknown {} '{}', expected {}{}", name, shown(node.text), one_of(words),
                         did_you_mean(node.text, words)));
  } else {
    in.wrong(node.where, subject, fmt::format("{}: expected {}, got {}", name, one_of(words), node.described()));
  }
  return std::nullopt;
}

std::optional<double> length_of(Reading& in, const YamlNode& node, const Subject& subject, std::string_view name,
                                Sign sign) {
  if (!node.is_scalar()) {
    in.wrong(node.where, subject,
             fmt::format("{}: expected a length such as 30, 4-1/2 or 114 mm, got {}", name, node.described()));
    return std::nullopt;
  }
  std::string why;
  const std::optional<double> mm = parse_length(node.text, in.draft.units, &why);
  if (!mm) {
    in.wrong(node.where, subject, fmt::format("{}: {}", name, why));
    return std::nullopt;
  }
  // A kilometre of pipe is a slip of the pen, and huge numbers would drown the tolerances.
  constexpr double kFarthest = 1e6;
  if (std::abs(*mm) > kFarthest) {
    in.wrong(node.where, subject, fmt::format("{}: expected at most 1 km, got '{}'", name, shown(node.text)));
    return std::nullopt;
  }
  if ((sign == Sign::positive && *mm <= 0.0) || (sign == Sign::zero_too && *mm < 0.0)) {
    in.wrong(node.where, subject,
             fmt::format("{}: expected {}, got '{}'", name,
                         sign == Sign::positive ? "a length greater than zero" : "zero or more", shown(node.text)));
    return std::nullopt;
  }
  return mm;
}

std::optional<double> number_of(Reading& in, const YamlNode& node, const Subject& subject, std::string_view name) {
  if (node.is_scalar() && std::none_of(node.text.begin(), node.text.end(), letter)) {
    // The spelling of numbers is that of lengths; without a unit nothing is converted.
    const std::optional<double> value = parse_length(node.text, Units::mm);
    if (value && *value > 0.0 && *value <= 1000.0) return value;
  }
  in.wrong(node.where, subject,
           fmt::format("{}: expected a number greater than zero, at most 1000, got {}", name, node.described()));
  return std::nullopt;
}

std::optional<int> count_of(Reading& in, const YamlNode& node, const Subject& subject, std::string_view name) {
  if (node.is_scalar() && !node.text.empty() && node.text.size() <= 4 && node.text[0] != '0' &&
      std::all_of(node.text.begin(), node.text.end(), digit)) {
    int value = 0;
    std::from_chars(node.text.data(), node.text.data() + node.text.size(), value);
    if (value >= 1 && value <= 1000) return value;
  }
  in.wrong(node.where, subject,
           fmt::format("{}: expected a whole number from 1 to 1000, got {}", name, node.described()));
  return std::nullopt;
}

std::optional<Direction> direction_of(Reading& in, const YamlNode& node, const Subject& subject, std::string_view name,
                                      bool along_axis_only) {
  const auto& words = direction_words(along_axis_only);
  if (node.is_scalar()) {
    const std::optional<Direction> found = direction_named(node.text);
    if (found && (!along_axis_only || found->along_axis())) return found;
  }
  // "right-up" is "up-right" in the wrong order: nearer in meaning than any word is in spelling.
  std::string meant;
  const std::size_t hyphen = node.text.find('-');
  if (!along_axis_only && hyphen != std::string::npos) {
    const auto a = direction_named(std::string_view(node.text).substr(0, hyphen));
    const auto b = direction_named(std::string_view(node.text).substr(hyphen + 1));
    if (a && b && a->along_axis() && b->along_axis() && square(*a, *b)) {
      meant = "; did you mean '" + Direction{a->x + b->x, a->y + b->y, a->z + b->z}.name() + "'?";
    }
  }
  const std::string expected =
      along_axis_only ? one_of(words) : one_of(direction_words(true)) + ", or two of them such as up-right";
  in.wrong(node.where, subject,
           node.is_scalar() ? fmt::format("{}: unknown direction '{}', expected {}{}", name, shown(node.text), expected,
                                          meant.empty() ? did_you_mean(node.text, words) : meant)
                            : fmt::format("{}: expected a direction ({}), got {}", name, expected, node.described()));
  return std::nullopt;
}

std::optional<int> size_of(Reading& in, const YamlNode& node, const Subject& subject, std::string_view name) {
  if (node.is_scalar()) {
    const std::optional<int> size = nominal_size(node.text);
    if (size) return size;
  }
  in.wrong(
      node.where, subject,
      fmt::format("{}: expected a nominal pipe size ({}), got {}", name, one_of(nominal_sizes()), node.described()));
  return std::nullopt;
}

std::optional<std::string> text_of(Reading& in, const YamlNode& node, const Subject& subject, std::string_view name) {
  if (node.is_scalar() && !node.text.empty()) {
    const auto unfit = first_unfit_in_line(node.text);
    if (!unfit) return node.text;
    in.wrong(node.where, subject, fmt::format("{}: {}, expected one line of text", name, unfit->what));
    return std::nullopt;
  }
  in.wrong(node.where, subject, fmt::format("{}: expected a text, got {}", name, node.described()));
  return std::nullopt;
}

std::vector<Word> names_of(Reading& in, const YamlNode& node, const Subject& subject, std::string_view name) {
  std::vector<Word> out;
  if (!node.is_sequence() || node.items.empty()) {
    in.wrong(node.where, subject,
             fmt::format("{}: expected a list of names, got {}", name,
                         node.is_sequence() ? "an empty list" : node.described()));
    return out;
  }
  std::unordered_map<std::string_view, SourcePos> seen;
  for (const YamlNode* item : node.items) {
    if (!item->is_scalar()) {
      in.wrong(item->where, subject, fmt::format("{}: expected a name, got {}", name, item->described()));
      continue;
    }
    if (!seen.emplace(item->text, item->where).second) {
      in.wrong(item->where, subject, fmt::format("{}: '{}' stands twice in the list", name, shown(item->text)));
      continue;
    }
    out.push_back({item->text, item->where});
  }
  return out;
}

std::vector<double> coordinates_of(Reading& in, const YamlNode& node, const Subject& subject, std::string_view name,
                                   std::string_view expected, std::size_t least, std::size_t most) {
  if (!node.is_sequence() || node.items.size() < least || node.items.size() > most) {
    in.wrong(node.where, subject,
             fmt::format("{}: expected {}, got {}", name, expected,
                         node.is_sequence() ? fmt::format("a list of {}", node.items.size()) : node.described()));
    return {};
  }
  std::vector<double> out;
  for (const YamlNode* item : node.items) {
    const std::optional<double> value = length_of(in, *item, subject, name, Sign::any);
    if (value) out.push_back(*value);
  }
  return out.size() == node.items.size() ? out : std::vector<double>{};
}

bool is_id(std::string_view text) {
  return !text.empty() && letter(text[0]) && !yaml_word(text) &&
         std::all_of(text.begin(), text.end(), [](char c) { return letter(c) || digit(c) || c == '-' || c == '_'; });
}

bool enter_id(Reading& in, const YamlNode& key, const Subject& subject) {
  if (key.is_map() || key.is_sequence()) return false;  // told by read_yaml
  if (!is_id(key.text)) {
    in.wrong(
        key.where, subject,
        key.is_null() || yaml_word(key.text)
            ? fmt::format("{} is no name, for YAML may read it as something else; expected a letter, then letters, "
                          "digits, '-' or '_'",
                          key.described())
            : fmt::format("'{}' is no name, expected a letter, then letters, digits, '-' or '_'", shown(key.text)));
    return false;
  }
  const auto [first, fresh] = in.ids.emplace(key.text, key.where);
  if (!fresh) {
    in.wrong(key.where, subject,
             fmt::format("the name '{}' is taken, first at line {}, column {}; expected each name once among parts, "
                         "boards and surfaces",
                         shown(key.text), first->second.line, first->second.column));
  }
  return fresh;
}

}  // namespace dryfit::model
