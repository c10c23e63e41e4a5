/// One part of a run: its kind, value and options.
#include <fmt/format.h>

#include <algorithm>
#include <array>

#include "model/frame/plain_text.hpp"
#include "model/reading/reading.hpp"
#include "model/text/messages.hpp"

namespace dryfit::model {
namespace {

enum class Value { none, length, direction, size };

/// A row of the table of parts in the description of the format.
struct KindRow {
  std::string_view word;
  PartKind kind;
  Value value;
  std::string_view value_name;               ///< for messages
  std::array<std::string_view, 5> options;   ///< "" past the last
  std::array<std::string_view, 4> measured;  ///< dimensions that can be overridden
};

constexpr std::array<KindRow, 16> kKinds{{
    {"pipe", PartKind::pipe, Value::length, "length", {"size", "plain", "turns", "measured"}, {"mass"}},
    {"coupling", PartKind::coupling, Value::none, "", {"size", "to-size", "measured"}, {"length", "band", "mass"}},
    {"elbow",
     PartKind::elbow,
     Value::direction,
     "new walking direction",
     {"size", "to-size", "measured"},
     {"centre-to-end", "band", "mass"}},
    {"elbow45",
     PartKind::elbow45,
     Value::direction,
     "new walking direction",
     {"size", "measured"},
     {"centre-to-end", "band", "mass"}},
    {"street-elbow",
     PartKind::street_elbow,
     Value::direction,
     "new walking direction",
     {"size", "reverse", "measured"},
     {"centre-to-end", "length", "band", "mass"}},
    {"tee",
     PartKind::tee,
     Value::direction,
     "branch direction",
     {"size", "branch-size", "entry", "measured"},
     {"centre-to-end", "band", "mass"}},
    {"cross", PartKind::cross, Value::none, "", {"size", "plane", "measured"}, {"centre-to-end", "band", "mass"}},
    {"side-elbow",
     PartKind::side_elbow,
     Value::direction,
     "new walking direction",
     {"size", "side", "measured"},
     {"centre-to-end", "band", "mass"}},
    {"side-tee",
     PartKind::side_tee,
     Value::direction,
     "branch direction",
     {"size", "side", "measured"},
     {"centre-to-end", "band", "mass"}},
    {"cap", PartKind::cap, Value::none, "", {"size", "measured"}, {"height", "band", "mass"}},
    {"plug", PartKind::plug, Value::none, "", {"size", "measured"}, {"length", "height", "band", "mass"}},
    {"bushing",
     PartKind::bushing,
     Value::size,
     "inner size",
     {"size", "measured"},
     {"length", "height", "band", "mass"}},
    {"flange", PartKind::flange, Value::none, "", {"size", "measured"}, {"plate", "height", "band", "mass"}},
    {"union", PartKind::union_half, Value::none, "", {"size", "measured"}, {"length", "band", "mass"}},
    {"foot", PartKind::foot, Value::none, "", {"size", "measured"}, {"plate", "height", "band", "mass"}},
    {"caster", PartKind::caster, Value::none, "", {"size", "measured"}, {"plate", "height", "band", "mass"}},
}};

template <std::size_t N>
std::span<const std::string_view> filled(const std::array<std::string_view, N>& words) {
  const auto end = std::find(words.begin(), words.end(), std::string_view());
  return {words.begin(), end};
}

const std::array<std::string_view, kKinds.size()>& kind_words() {
  static const auto words = [] {
    std::array<std::string_view, kKinds.size()> out;
    std::transform(kKinds.begin(), kKinds.end(), out.begin(), [](const KindRow& row) { return row.word; });
    return out;
  }();
  return words;
}

const KindRow* kind_named(std::string_view word) {
  const auto found = std::find_if(kKinds.begin(), kKinds.end(), [&](const KindRow& row) { return row.word == word; });
  return found == kKinds.end() ? nullptr : &*found;
}

std::string_view example_of(Value value) {
  switch (value) {
    case Value::length: return "12";
    case Value::size: return "1/2";
    case Value::direction: return "right";
    case Value::none: break;
  }
  return "";
}

/// What a word in the place of a kind was meant to be: "pipe 6" and "pipe:6" are {pipe: 6}, "nipple" is a pipe.
Message meant_kind(std::string_view text) {
  const std::size_t end = text.find_first_of(" :");
  if (end != std::string_view::npos) {
    const KindRow* row = kind_named(text.substr(0, end));
    const std::size_t value = text.find_first_not_of(" :", end);
    if (row != nullptr && row->value != Value::none && value != std::string_view::npos) {
      return message("; did you mean '{}'?", fmt::format("{{{}: {}}}", row->word, shown(text.substr(value))));
    }
  }
  const bool length = !text.empty() && text.front() >= '0' && text.front() <= '9';
  if (length) return message("; did you mean '{}'?", fmt::format("{{pipe: {}}}", shown(text)));
  return did_you_mean(text, kind_words());
}

void read_measured(Reading& in, const YamlNode& node, const KindRow& row, const Subject& subject, DraftPart& part) {
  const auto allowed = filled(row.measured);
  if (!node.is_map()) {
    in.wrong(node.where, subject,
             message("measured: write it like {}, got {}", fmt::format("{{{}: LENGTH}}", allowed.front()),
                     node.described()));
    part.broken = true;
    return;
  }
  check_keys(in, node, subject, allowed);
  const auto take = [&](std::string_view name, std::optional<double>& into) {
    const YamlNode* value = node.find(name);
    if (value == nullptr || std::find(allowed.begin(), allowed.end(), name) == allowed.end()) return;
    into = length_of(in, *value, subject, name, Sign::positive);
    part.broken |= !into;
  };
  take("centre-to-end", part.measured.centre_to_end);
  take("length", part.measured.length);
  take("band", part.measured.band);
  take("plate", part.measured.plate);
  take("height", part.measured.height);
  if (const YamlNode* value = node.find("mass")) {
    part.measured.mass = mass_of(in, *value, subject, "mass");
    part.broken |= !part.measured.mass;
  }
}

void read_turns(Reading& in, const YamlNode& node, const Subject& subject, DraftPart& part) {
  static constexpr std::array<std::string_view, 2> kEnds{"start", "end"};
  if (!node.is_map()) {
    in.wrong(node.where, subject, message("turns: write it like {}, got {}", "{start: 5, end: 4}", node.described()));
    return;
  }
  check_keys(in, node, subject, kEnds);
  if (const YamlNode* start = node.find("start")) {
    part.turns_start = number_of(in, *start, subject, "turns").value_or(0.0);
  }
  if (const YamlNode* end = node.find("end")) part.turns_end = number_of(in, *end, subject, "turns").value_or(0.0);
}

void read_value(Reading& in, const YamlNode& node, const KindRow& row, const Subject& subject, DraftPart& part) {
  switch (row.value) {
    case Value::none:
      if (!node.is_null()) {
        in.wrong(node.where, subject,
                 message("a {} has no value, got {}; leave it empty: {}", row.word, node.described(),
                         fmt::format("{{{}: , ...}}", row.word)));
      }
      break;
    case Value::length:
      if (const auto length = length_of(in, node, subject, "length", Sign::positive)) {
        part.length = *length;
      } else {
        part.broken = true;
      }
      break;
    case Value::direction:
      if (const auto turn = direction_of(in, node, subject, row.value_name)) {
        part.turn = *turn;
      } else {
        part.broken = true;
      }
      break;
    case Value::size:
      if (const auto size = size_of(in, node, subject, row.value_name)) {
        part.other_size = *size;
      } else {
        part.broken = true;
      }
      break;
  }
}

void read_options(Reading& in, const YamlNode& map, const KindRow& row, const Subject& subject, DraftPart& part) {
  std::array<std::string_view, 6> allowed{};
  std::copy(row.options.begin(), row.options.end(), std::copy_n(&row.word, 1, allowed.begin()));
  check_keys(in, map, subject, filled(allowed));
  const auto option = [&](std::string_view name) -> const YamlNode* {
    const auto known = filled(row.options);
    return std::find(known.begin(), known.end(), name) == known.end() ? nullptr : map.find(name);
  };
  const auto one_word = [&](std::string_view name, std::span<const std::string_view> words) {
    const YamlNode* node = option(name);
    if (node == nullptr) return std::optional<std::size_t>();
    const auto found = word_of(in, *node, subject, name, words);
    part.broken |= !found;
    return found;
  };
  if (const YamlNode* size = option("size")) {
    part.size = size_of(in, *size, subject, "size").value_or(kNone);
    part.broken |= part.size == kNone;
  }
  for (const std::string_view name : {"to-size", "branch-size"}) {
    if (const YamlNode* size = option(name)) {
      part.other_size = size_of(in, *size, subject, name).value_or(kNone);
      part.broken |= part.other_size == kNone;
    }
  }
  if (const YamlNode* side = option("side")) {
    const auto direction = direction_of(in, *side, subject, "side");
    if (direction) part.side = *direction;
    part.broken |= !direction;
  } else if (row.kind == PartKind::side_elbow || row.kind == PartKind::side_tee) {
    in.wrong(map.where, subject, message("'side' is missing: where does the side outlet point?"));
    part.broken = true;
  }
  static constexpr std::array<std::string_view, 3> kPlanes{"yz", "xz", "xy"};
  if (const auto plane = one_word("plane", kPlanes)) {
    part.plane_normal = static_cast<int>(*plane);
  } else if (row.kind == PartKind::cross && option("plane") == nullptr) {
    in.wrong(map.where, subject, message("'plane' is missing, expected yz, xz or xy"));
    part.broken = true;
  }
  static constexpr std::array<std::string_view, 1> kEntries{"branch"};
  if (one_word("entry", kEntries)) part.entry_branch = true;
  static constexpr std::array<std::string_view, 2> kTruth{"false", "true"};
  if (const auto reverse = one_word("reverse", kTruth)) part.reverse = *reverse == 1;
  static constexpr std::array<std::string_view, 3> kPlain{"start", "end", "both"};
  if (const auto plain = one_word("plain", kPlain)) {
    part.plain_start = *plain != 1;
    part.plain_end = *plain != 0;
  }
  if (const YamlNode* turns = option("turns")) read_turns(in, *turns, subject, part);
  if (const YamlNode* measured = option("measured")) read_measured(in, *measured, row, subject, part);
}

/// The kind among the keys of {kind: value, option: value}; index of the pair, or nothing (told).
std::optional<std::size_t> kind_in(Reading& in, const YamlNode& map, const Subject& subject) {
  std::optional<std::size_t> found;
  for (std::size_t i = 0; i < map.pairs(); ++i) {
    if (kind_named(map.key(i).text) == nullptr) continue;
    if (found) {
      in.wrong(map.key(i).where, subject,
               message("is a '{}' already and can't be a '{}' too; give every part its own line",
                       shown(map.key(*found).text), shown(map.key(i).text)));
      return std::nullopt;
    }
    found = i;
  }
  if (found) return found;
  // The kind stands first by habit; a key that is an option for certain is not a misspelt kind.
  static constexpr std::array<std::string_view, 10> kOptions{"size",  "to-size", "branch-size", "reverse", "entry",
                                                             "plane", "side",    "measured",    "plain",   "turns"};
  for (std::size_t i = 0; i < map.pairs(); ++i) {
    const std::string& text = map.key(i).text;
    if (std::find(kOptions.begin(), kOptions.end(), text) != kOptions.end()) continue;
    in.wrong(map.key(i).where, subject,
             message("unknown kind '{}', expected {}{}", shown(text), one_of(kind_words()), meant_kind(text)));
    return std::nullopt;
  }
  in.wrong(map.where, subject, message("what is it? expected {}", one_of(kind_words())));
  return std::nullopt;
}

/// "P1:{pipe: 6}" and "P1:coupling" want a blank behind the colon.
Message missing_blank(const YamlNode& item) {
  if (!item.is_scalar()) return {};
  const std::size_t colon = item.text.find(':');
  if (colon == std::string::npos || colon == 0 || colon + 1 >= item.text.size()) return {};
  return message("; a blank is missing behind the colon: '{}'",
                 shown(item.text.substr(0, colon)) + ": " + shown(item.text.substr(colon + 1)));
}

/// The value of a part says what it is.
bool names_a_kind(const YamlNode& value) {
  if (value.is_scalar()) return kind_named(value.text) != nullptr;
  for (std::size_t i = 0; value.is_map() && i < value.pairs(); ++i) {
    if (kind_named(value.key(i).text) != nullptr) return true;
  }
  return false;
}

/// "{pipe: 6}" of "- pipe: 6".
std::string unnamed_part(std::string_view kind, const YamlNode& value) {
  if (value.is_null()) return std::string(kind);
  return fmt::format("{{{}: {}}}", kind, value.is_scalar() ? shown(value.text) : std::string("..."));
}

void read_kind(Reading& in, const YamlNode& node, const Subject& subject, DraftPart& part) {
  static const YamlNode kNothing;
  part.broken = true;
  const KindRow* row = nullptr;
  if (node.is_scalar()) {
    row = kind_named(node.text);
    if (row == nullptr) {
      in.wrong(
          node.where, subject,
          message("unknown kind '{}', expected {}{}", shown(node.text), one_of(kind_words()), meant_kind(node.text)));
      return;
    }
    part.kind = row->kind;
    if (row->value != Value::none) {
      in.wrong(node.where, subject,
               message("the {} needs its {}: write it like {}", row->word, value_name(row->value_name),
                       fmt::format("{{{}: {}}}", row->word, example_of(row->value))));
      return;
    }
    if (row->kind == PartKind::cross) {
      in.wrong(node.where, subject, message("the cross needs its plane: write it like {}", "{cross: , plane: xz}"));
      return;
    }
    part.broken = false;
    part.way_known = true;
  } else if (node.is_map() && node.pairs() > 0) {
    const auto pair = kind_in(in, node, subject);
    if (!pair) return;
    row = kind_named(node.key(*pair).text);
    part.kind = row->kind;
    part.broken = false;
    read_value(in, node.value(*pair), *row, subject, part);
    const bool straight = row->kind == PartKind::tee || row->kind == PartKind::side_tee;
    part.way_known = !part.broken || straight || row->value != Value::direction;
    read_options(in, node, *row, subject, part);
  } else {
    in.wrong(node.where, subject,
             message("what is it? write it like 'coupling' or {}, got {}", "{pipe: 12}",
                     node.is_map() ? message("an empty map") : node.described()));
    return;
  }
  if (part.size == kNone && !part.broken) {
    part.size = in.draft.size;
    if (part.size == kNone) {
      if (!in.size_told)
        in.wrong(part.where, subject,
                 message("has no size: give 'size' here, or once for all parts in 'pipe' at the top"));
      part.broken = true;
    }
  }
}

}  // namespace

void read_part(Reading& in, const YamlNode& item, DraftRun& run) {
  if (++in.parts > kMaxParts) {
    // Told once, at the first part too many.
    if (in.parts == kMaxParts + 1) {
      in.wrong(item.where, {"frame", {}}, message("more than {} parts", kMaxParts));
    }
    run.broken = true;
    return;
  }
  if (!item.is_map() || item.pairs() != 1) {
    const Message got = item.is_map() ? message("a map of {} keys", item.pairs()) : item.described();
    in.wrong(item.where, {"run", run.id},
             message("a part has a name and a kind: write it like '{}' or '{}', got {}{}", "- C1: coupling",
                     "- P1: {pipe: 12}", got, missing_blank(item)));
    run.parts.emplace_back().broken = true;
    return;
  }
  if (const YamlNode& key = item.key(0); kind_named(key.text) != nullptr && !names_a_kind(item.value(0))) {
    in.wrong(key.where, {"run", run.id},
             message("the {}'s own name is missing: write it like '{}'", key.text,
                     fmt::format("- {}1: {}", static_cast<char>(key.text.front() - 'a' + 'A'),
                                 unnamed_part(key.text, item.value(0)))));
    run.parts.emplace_back().broken = true;
    return;
  }
  DraftPart& part = run.parts.emplace_back();
  part.id = item.key(0).text;
  part.where = item.key(0).where;
  const Subject subject{"part", part.id};
  const bool fresh = enter_id(in, item.key(0), subject);
  read_kind(in, item.value(0), subject, part);
  part.broken |= !fresh;
}

}  // namespace dryfit::model
