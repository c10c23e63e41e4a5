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
#include "model/text/length_fault.hpp"
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

/// What one YAML reader or another takes the word for; "" when all read it as text.
std::string_view yaml_reads(std::string_view text) {
  struct Reads {
    std::string_view word, as;
  };
  static constexpr std::array<Reads, 10> kWords{{{"y", "true"},
                                                 {"n", "false"},
                                                 {"yes", "true"},
                                                 {"no", "false"},
                                                 {"on", "true"},
                                                 {"off", "false"},
                                                 {"true", "true"},
                                                 {"false", "false"},
                                                 {"null", "null"},
                                                 {"nan", "nan"}}};
  const std::string word = lowered(text);
  const auto found = std::find_if(kWords.begin(), kWords.end(), [&](const Reads& row) { return row.word == word; });
  return found == kWords.end() ? std::string_view() : found->as;
}

/// The same in words.
Message yaml_takes_for(std::string_view text) {
  const std::string_view reads = yaml_reads(text);
  if (reads == "null") return message("nothing");
  if (reads == "nan") return message("not a number");
  return Message::as_it_is(std::string(reads));
}

/// "size: " before what is said of it.
Message named(std::string_view name) { return value_name(name) + Message::as_it_is(": "); }

/// The name that the text can be made into with the least change, or "".
/// "BOEDEN" of "BÖDEN": umlauts as they are written where there are none.
std::string plain_letters(std::string text) {
  constexpr std::array<std::pair<std::string_view, std::string_view>, 7> kUmlauts{
      {{"ä", "ae"}, {"ö", "oe"}, {"ü", "ue"}, {"Ä", "AE"}, {"Ö", "OE"}, {"Ü", "UE"}, {"ß", "ss"}}};
  for (const auto& [umlaut, plain] : kUmlauts) {
    for (std::size_t at = text.find(umlaut); at != std::string::npos; at = text.find(umlaut)) {
      text.replace(at, umlaut.size(), plain);
    }
  }
  return text;
}

std::string possible_name(std::string_view text) {
  std::string out;
  std::size_t digits = 0;
  while (digits < text.size() && digit(text[digits])) ++digits;
  // "1P" is P1 to whoever wrote it.
  for (const char c : plain_letters(std::string(text.substr(digits)) + std::string(text.substr(0, digits)))) {
    if (letter(c) || digit(c) || c == '_') {
      out += c;
    } else if (!out.empty() && out.back() != '-') {
      out += '-';
    }
  }
  while (!out.empty() && out.back() == '-') out.pop_back();
  if (!yaml_reads(out).empty()) out += '1';
  return is_id(out) && out.size() <= 40 ? out : std::string();
}

/// "pipe:6" without a blank is one word to YAML; "" for anything else.
std::string with_blank(const YamlNode& key) {
  const std::size_t colon = key.text.find(':');
  if (colon == std::string::npos || colon == 0 || colon + 1 >= key.text.size() || key.quoted) return {};
  return shown(key.text.substr(0, colon)) + ": " + shown(key.text.substr(colon + 1));
}

bool digits_only(const YamlNode& node) {
  return node.is_scalar() && !node.text.empty() && std::all_of(node.text.begin(), node.text.end(), digit);
}

/// "4" and "4 mm".
bool begins_with_digits(const YamlNode& node) {
  if (!node.is_scalar() || node.text.empty() || !digit(node.text[0])) return false;
  const std::size_t end = node.text.find_first_not_of("0123456789");
  if (end == std::string::npos) return true;
  const std::string_view unit =
      std::string_view(node.text).substr(std::min(node.text.find_first_not_of(' ', end), node.text.size()));
  return !unit.empty() && std::all_of(unit.begin(), unit.end(), [](char c) { return letter(c) || c == '"'; });
}

/// `b` stands right behind a comma that stands right behind `a`: "152,4" within brackets is two values to YAML.
bool only_a_comma_between(const YamlNode& a, const YamlNode& b) {
  return digits_only(a) && begins_with_digits(b) && !a.quoted && !b.quoted && a.where.line == b.where.line &&
         b.where.column == a.where.column + static_cast<int>(a.text.size()) + 1;
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

Message value_name(std::string_view name) {
  if (name == "new walking direction") return message("new walking direction");
  if (name == "branch direction") return message("branch direction");
  if (name == "inner size") return message("inner size");
  return Message::as_it_is(std::string(name));
}

bool tell_comma(Reading& in, const YamlNode& map, std::size_t i, const Subject& subject) {
  if (i == 0 || !only_a_comma_between(map.value(i - 1), map.key(i))) return false;
  const YamlNode& before = map.value(i - 1);
  in.wrong(before.where, subject,
           Message::as_it_is(
               fmt::format("{}: '{},{}': ", shown(map.key(i - 1).text), shown(before.text), shown(map.key(i).text))) +
               message("decimal comma: write {}", shown(before.text) + "." + shown(map.key(i).text)));
  return true;
}

void check_keys(Reading& in, const YamlNode& map, const Subject& subject, std::span<const std::string_view> allowed,
                std::span<const std::pair<std::string_view, Message>> meant) {
  for (std::size_t i = 0; i < map.pairs(); ++i) {
    const YamlNode& key = map.key(i);
    if (key.is_map() || key.is_sequence()) continue;  // told by read_yaml
    if (key.text == "<<" && !key.quoted) continue;    // likewise
    if (std::find(allowed.begin(), allowed.end(), key.text) != allowed.end()) continue;
    if (tell_comma(in, map, i, subject)) continue;
    if (const std::string blank = with_blank(key); !blank.empty() && map.value(i).is_null()) {
      in.wrong(key.where, subject, message("a blank is missing behind the colon: write '{}'", blank));
      continue;
    }
    const auto other =
        std::find_if(meant.begin(), meant.end(), [&](const auto& word) { return word.first == key.text; });
    in.wrong(key.where, subject,
             message("unknown key {}, expected {}{}", key.described(), one_of(allowed),
                     other != meant.end() ? other->second : did_you_mean(key.text, allowed)));
  }
}

std::optional<std::size_t> word_of(Reading& in, const YamlNode& node, const Subject& subject, std::string_view name,
                                   std::span<const std::string_view> words) {
  if (node.is_scalar()) {
    const auto found = std::find(words.begin(), words.end(), node.text);
    if (found != words.end()) return at(found - words.begin());
    in.wrong(node.where, subject,
             message("unknown {} '{}', expected {}{}", name, shown(node.text), one_of(words),
                     did_you_mean(node.text, words)));
  } else {
    in.wrong(node.where, subject, message("{}: expected {}, got {}", name, one_of(words), node.described()));
  }
  return std::nullopt;
}

std::optional<double> length_of(Reading& in, const YamlNode& node, const Subject& subject, std::string_view name,
                                Sign sign) {
  if (!node.is_scalar()) {
    in.wrong(node.where, subject,
             message("{}: expected a length such as 30, 4-1/2 or 114 mm, got {}", name, node.described()));
    return std::nullopt;
  }
  Message why;
  const std::optional<double> mm = parse_length(node.text, in.draft.units, why);
  if (!mm) {
    in.wrong(node.where, subject, named(name) + why);
    return std::nullopt;
  }
  // A kilometre of pipe is a slip of the pen, and huge numbers would drown the tolerances.
  constexpr double kFarthest = 1e6;
  if (std::abs(*mm) > kFarthest) {
    in.wrong(node.where, subject, message("{}: expected at most 1 km, got '{}'", name, shown(node.text)));
    return std::nullopt;
  }
  if ((sign == Sign::positive && *mm <= 0.0) || (sign == Sign::zero_too && *mm < 0.0)) {
    in.wrong(node.where, subject,
             message("{}: expected {}, got '{}'", name,
                     sign == Sign::positive ? message("a length greater than zero") : message("zero or more"),
                     shown(node.text)));
    return std::nullopt;
  }
  return mm;
}

std::optional<double> mass_of(Reading& in, const YamlNode& node, const Subject& subject, std::string_view name) {
  struct Unit {
    std::string_view word;
    double kg;
  };
  static constexpr std::array<Unit, 5> kUnits{
      {{"kg", 1.0}, {"g", 0.001}, {"lb", 0.45359237}, {"lbs", 0.45359237}, {"oz", 0.45359237 / 16.0}}};
  if (node.is_scalar()) {
    const std::string_view text = node.text;
    const std::size_t end = text.find_last_not_of(" ");
    std::size_t begin = end == std::string_view::npos ? 0 : end + 1;
    while (begin > 0 && letter(text[begin - 1])) --begin;
    const std::string_view word = end == std::string_view::npos ? "" : text.substr(begin, end + 1 - begin);
    const std::string_view wanted = word.empty() ? (in.draft.units == Units::in ? "lb" : "kg") : word;
    const auto unit =
        std::find_if(kUnits.begin(), kUnits.end(), [&](const Unit& known) { return known.word == wanted; });
    Message why;
    // The spelling of numbers is that of lengths; without a unit nothing is converted.
    const std::optional<double> amount = parse_length(text.substr(0, begin), Units::mm, why);
    constexpr double kHeaviest = 10'000.0;
    if (unit != kUnits.end() && amount && *amount > 0.0 && *amount * unit->kg <= kHeaviest) return *amount * unit->kg;
    if (unit != kUnits.end() && why.english().find("decimal comma") != std::string::npos) {
      in.wrong(node.where, subject,
               named(name) + why + Message::as_it_is((word.empty() ? "" : " ") + std::string(word)));
      return std::nullopt;
    }
  }
  in.wrong(node.where, subject,
           message("{}: expected a weight such as 0.9 lb, 14 oz, 400 g or 0.4 kg, got {}", name, node.described()));
  return std::nullopt;
}

std::optional<double> number_of(Reading& in, const YamlNode& node, const Subject& subject, std::string_view name) {
  if (node.is_scalar() && std::none_of(node.text.begin(), node.text.end(), letter)) {
    // The spelling of numbers is that of lengths; without a unit nothing is converted.
    const std::optional<double> value = parse_length(node.text, Units::mm);
    if (value && *value > 0.0 && *value <= 1000.0) return value;
  }
  in.wrong(node.where, subject,
           message("{}: expected a number greater than zero, at most 1000, got {}", name, node.described()));
  return std::nullopt;
}

std::optional<int> count_of(Reading& in, const YamlNode& node, const Subject& subject, std::string_view name) {
  if (node.is_scalar() && !node.text.empty() && node.text.size() <= 4 && node.text[0] != '0' &&
      std::all_of(node.text.begin(), node.text.end(), digit)) {
    int value = 0;
    std::from_chars(node.text.data(), node.text.data() + node.text.size(), value);
    if (value >= 1 && value <= 1000) return value;
  }
  in.wrong(node.where, subject, message("{}: expected a whole number from 1 to 1000, got {}", name, node.described()));
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
  Message meant;
  const std::size_t hyphen = node.text.find('-');
  if (!along_axis_only && hyphen != std::string::npos) {
    const auto a = direction_named(std::string_view(node.text).substr(0, hyphen));
    const auto b = direction_named(std::string_view(node.text).substr(hyphen + 1));
    if (a && b && a->along_axis() && b->along_axis() && square(*a, *b)) {
      meant = message("; did you mean '{}'?", Direction{a->x + b->x, a->y + b->y, a->z + b->z}.name());
    }
  }
  const Message expected =
      along_axis_only ? one_of(words) : message("{}, or two of them such as up-right", one_of(direction_words(true)));
  in.wrong(node.where, subject,
           node.is_scalar()
               ? message("{}: unknown direction '{}', expected {}{}", value_name(name), shown(node.text), expected,
                         meant.empty() ? did_you_mean(node.text, words) : meant)
               : message("{}: expected a direction ({}), got {}", value_name(name), expected, node.described()));
  return std::nullopt;
}

namespace {

/// "; did you mean '3/4'?" of "DN20", "3/4 Zoll" and 3/4"; nothing for anything else.
Message meant_size(std::string_view text) {
  // DN and the size in inches belong together by EN 10242 and ISO 6708 (from memory).
  constexpr std::array<std::string_view, 12> kDn{"6", "8", "10", "15", "20", "25", "32", "40", "50", "65", "80", "100"};
  constexpr std::array<std::string_view, 12> kInches{"1/8",   "1/4",   "3/8", "1/2",   "3/4", "1",
                                                     "1-1/4", "1-1/2", "2",   "2-1/2", "3",   "4"};
  std::string meant;
  if (text.starts_with("DN") || text.starts_with("dn")) {
    text.remove_prefix(std::min(text.find_first_not_of(' ', 2), text.size()));
    const auto found = std::find(kDn.begin(), kDn.end(), text);
    if (found != kDn.end()) meant = kInches[static_cast<std::size_t>(found - kDn.begin())];
  } else {
    text = text.substr(0, std::min(text.find_last_of("0123456789"), text.size() - 1) + 1);
    if (nominal_size(text)) meant = text;
  }
  return meant.empty() ? Message() : message("; did you mean '{}'?", meant);
}

}  // namespace

std::optional<int> size_of(Reading& in, const YamlNode& node, const Subject& subject, std::string_view name) {
  if (node.is_scalar()) {
    const std::optional<int> size = nominal_size(node.text);
    if (size) return size;
  }
  in.wrong(node.where, subject,
           message("{}: expected a nominal pipe size ({}), got {}{}", value_name(name), one_of(nominal_sizes()),
                   node.described(), node.is_scalar() ? meant_size(node.text) : Message()));
  return std::nullopt;
}

std::optional<std::string> text_of(Reading& in, const YamlNode& node, const Subject& subject, std::string_view name) {
  if (node.is_scalar() && !node.text.empty()) {
    const auto unfit = first_unfit_in_line(node.text);
    if (!unfit) return node.text;
    in.wrong(node.where, subject, message("{}: {}, expected one line of text", name, unfit->what));
    return std::nullopt;
  }
  in.wrong(node.where, subject, message("{}: expected a text, got {}", name, node.described()));
  return std::nullopt;
}

std::vector<Word> names_of(Reading& in, const YamlNode& node, const Subject& subject, std::string_view name) {
  std::vector<Word> out;
  if (!node.is_sequence() || node.items.empty()) {
    Message hint;
    if (node.is_scalar() && !node.text.empty())
      hint = message("; did you mean '{}'?", fmt::format("{}: [{}]", name, shown(node.text)));
    in.wrong(node.where, subject,
             message("{}: expected a list of names, got {}{}", name,
                     node.is_sequence() ? message("an empty list") : node.described(), hint));
    return out;
  }
  std::unordered_map<std::string_view, SourcePos> seen;
  for (const YamlNode* item : node.items) {
    if (!item->is_scalar()) {
      in.wrong(item->where, subject, message("{}: expected a name, got {}", name, item->described()));
      continue;
    }
    if (!seen.emplace(item->text, item->where).second) {
      in.wrong(item->where, subject, message("{}: '{}' is listed twice", name, shown(item->text)));
      continue;
    }
    out.push_back({item->text, item->where});
  }
  return out;
}

namespace {

/// What a list of coordinates that is none was meant to be, or nothing.
Message meant_list(const YamlNode& node, std::string_view name, std::size_t most) {
  if (node.is_scalar() && !node.text.empty() && node.text.find(',') != std::string::npos) {
    return message("; did you mean '{}'?", fmt::format("{}: [{}]", name, shown(node.text)));
  }
  std::string list;
  const auto add = [&](const std::string& text) { list += (list.empty() ? "" : ", ") + text; };
  if (node.is_map()) {
    for (const std::string_view axis : {"x", "y", "z"}) {
      const YamlNode* value = node.find(axis);
      if (value != nullptr && value->is_scalar()) add(shown(value->text));
    }
    return list.empty() ? Message() : message("; did you mean '{}'?", fmt::format("{}: [{}]", name, list));
  }
  if (!node.is_sequence() || node.items.size() <= most) return {};
  for (std::size_t i = 0; i < node.items.size(); ++i) {
    if (!node.items[i]->is_scalar()) return {};
    if (i + 1 < node.items.size() && only_a_comma_between(*node.items[i], *node.items[i + 1])) {
      add(shown(node.items[i]->text) + "." + shown(node.items[i + 1]->text));
      ++i;
    } else {
      add(shown(node.items[i]->text));
    }
  }
  const auto count = dryfit::at(std::count(list.begin(), list.end(), ',')) + 1;
  return count == most ? message("; decimal comma: write {}", "[" + list + "]") : Message();
}

}  // namespace

std::vector<double> coordinates_of(Reading& in, const YamlNode& node, const Subject& subject, std::string_view name,
                                   const Message& expected, std::size_t least, std::size_t most) {
  if (!node.is_sequence() || node.items.size() < least || node.items.size() > most) {
    in.wrong(node.where, subject,
             message("{}: expected {}, got {}{}", name, expected,
                     node.is_sequence() ? message("a list of {}", node.items.size()) : node.described(),
                     meant_list(node, name, most)));
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
  return !text.empty() && letter(text[0]) && yaml_reads(text).empty() &&
         std::all_of(text.begin(), text.end(), [](char c) { return letter(c) || digit(c) || c == '-' || c == '_'; });
}

bool enter_id(Reading& in, const YamlNode& key, const Subject& subject) {
  if (key.is_map() || key.is_sequence()) return false;  // told by read_yaml
  if (!is_id(key.text)) {
    const std::string better = possible_name(key.text);
    const Message hint = better.empty() ? Message() : message("; try '{}'", better);
    const Message reads = key.is_null() ? message("nothing") : yaml_takes_for(key.text);
    Message text;
    if (!reads.empty()) {
      text = key.text.empty() ? message("the name is missing")
                              : message("{} can't be a name: YAML reads it as {}{}", key.described(), reads, hint);
    } else if (const std::string blank = with_blank(key); !blank.empty()) {
      text = message("'{}' can't be a name: a blank is missing behind the colon", shown(key.text));
    } else {
      text = message("'{}' can't be a name: a letter first, then letters, digits, '-' or '_'{}", shown(key.text), hint);
    }
    in.wrong(key.where, subject, text);
    return false;
  }
  const auto [first, fresh] = in.ids.emplace(key.text, key.where);
  if (!fresh) {
    in.wrong(key.where, subject,
             message("the name '{}' is used already, at line {}, column {}; every part, board and surface needs a "
                     "name of its own",
                     shown(key.text), first->second.line, first->second.column));
  }
  return fresh;
}

}  // namespace dryfit::model
