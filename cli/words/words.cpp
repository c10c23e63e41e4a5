#include "cli/words/words.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "cli/words/lengths.hpp"
#include "cli/words/say.hpp"
#include "model/geometry/at.hpp"

namespace dryfit::cli {
namespace {

/// A table of words for the six axis directions, in the order right, left, back, front, up, down. The words are said in
/// `context`.
struct WordsOfSides {
  const char* context;
  const char* words[6];
};

/// Words for the components of a direction; the vertical word is said first.
std::vector<std::string> by_components(model::Direction d, const WordsOfSides& table) {
  std::vector<std::string> words;
  const auto add = [&](int component, std::size_t axis) {
    if (component != 0) words.push_back(translated(table.context, table.words[2 * axis + (component < 0 ? 1U : 0U)]));
  };
  add(d.z, 2);
  add(d.x, 0);
  add(d.y, 1);
  return words;
}

constexpr WordsOfSides kGoing{
    "where something goes",
    {marked_in("where something goes", "to the right"), marked_in("where something goes", "to the left"),
     marked_in("where something goes", "back"), marked_in("where something goes", "forward"),
     marked_in("where something goes", "up"), marked_in("where something goes", "down")}};
constexpr WordsOfSides kComing{
    "where something comes from",
    {marked_in("where something comes from", "right"), marked_in("where something comes from", "left"),
     marked_in("where something comes from", "back"), marked_in("where something comes from", "front"),
     marked_in("where something comes from", "upper"), marked_in("where something comes from", "lower")}};
constexpr WordsOfSides kSide{"half, face or edge",
                             {marked_in("half, face or edge", "right"), marked_in("half, face or edge", "left"),
                              marked_in("half, face or edge", "back"), marked_in("half, face or edge", "front"),
                              marked_in("half, face or edge", "upper"), marked_in("half, face or edge", "lower")}};
constexpr WordsOfSides kPointing{
    "where an opening points",
    {marked_in("where an opening points", "right"), marked_in("where an opening points", "left"),
     marked_in("where an opening points", "back"), marked_in("where an opening points", "front"),
     marked_in("where an opening points", "up"), marked_in("where an opening points", "down")}};

constexpr WordsOfSides kOpening{"where a slot opens",
                                {marked_in("where a slot opens", "right"), marked_in("where a slot opens", "left"),
                                 marked_in("where a slot opens", "back"), marked_in("where a slot opens", "front"),
                                 marked_in("where a slot opens", "upper"), marked_in("where a slot opens", "lower")}};

/// One word after the other, as a language puts together what lies at 45 degrees.
std::string of_two(const std::vector<std::string>& words) {
  if (words.empty()) return "";
  std::string text = words.front();
  for (std::size_t i = 1; i < words.size(); ++i) text = say_in("upper left", "{0} {1}", text, words[i]);
  return text;
}

enum class Last { conjunction, disjunction };

std::string listing(const std::vector<std::string>& words, Last last) {
  if (words.empty()) return "";
  std::string text = words.front();
  for (std::size_t i = 1; i < words.size(); ++i) {
    if (i + 1 < words.size()) {
      text += ", " + words[i];
    } else {
      text = last == Last::conjunction ? say("{0} and {1}", text, words[i]) : say("{0} or {1}", text, words[i]);
    }
  }
  return text;
}

}  // namespace

std::string listed(const std::vector<std::string>& words) { return listing(words, Last::conjunction); }
std::string listed_or(const std::vector<std::string>& words) { return listing(words, Last::disjunction); }

std::string listed_briefly(const std::vector<std::string>& words, std::size_t most) {
  if (words.size() <= most + 1) return listed(words);  // "and 1 more" would be no shorter than the name
  std::vector<std::string> first(words.begin(), words.begin() + static_cast<std::ptrdiff_t>(most));
  first.push_back(say("{} more", words.size() - most));
  return listed(first);
}

std::string turns_in_words(double turns) {
  const auto quarters = static_cast<long long>(std::llround(turns * 4.0));
  const long long whole = quarters / 4;
  constexpr const char* kQuarters[] = {"", "\u00bc", "\u00bd", "\u00be"};  // as one letter each
  const char* fraction = kQuarters[quarters % 4];
  if (quarters == 0) return say("less than {} turn", kQuarters[1]);
  if (quarters % 4 == 0) return say_n(whole, "{} turn", "{} turns");
  if (whole == 0) return say_in("a fraction", "{} turn", fraction);
  return say_in("whole turns and a fraction", "{} turns", fmt::format("{}{}", whole, fraction));
}

std::string weight(double kg, model::Units units) {
  constexpr double kPoundsPerKg = 1.0 / 0.45359237;  // exact by definition
  const std::string metric = decimal(kg, kg < 10.0 ? 1 : 0) + " kg";
  const double pounds = kg * kPoundsPerKg;
  const std::string inch = say("{} lb", decimal(pounds, pounds < 10.0 ? 1 : 0));
  switch (Lengths(units).show()) {
    case Lengths::Show::inches: return inch;
    case Lengths::Show::metric: return metric;
    case Lengths::Show::both: break;
  }
  return units == model::Units::in ? fmt::format("{} ({})", inch, metric) : fmt::format("{} ({})", metric, inch);
}

model::Direction nearest_direction(model::Vec3 v) {
  const double length = model::norm(v);
  model::Direction best;
  if (length == 0.0) return best;
  double most = 0.0;
  for (const model::Direction d : model::all_directions()) {
    const double along = model::dot(d.unit(), v) / length;
    if (along > most + 1e-9) {
      most = along;
      best = d;
    }
  }
  return best;
}

std::string going(model::Direction d) { return listed(by_components(d, kGoing)); }

std::string coming_from(model::Direction d) {
  if (d == model::kUp) return say("from below");
  if (d == model::kDown) return say("from above");
  if (d == model::kFront) return say("from behind");
  return say("from the {}", of_two(by_components(-d, kComing)));
}

std::string side(model::Direction d) { return of_two(by_components(d, kSide)); }

std::string from_edge(model::Direction d) {
  if (d == model::kRight) return say("from the right edge");
  if (d == model::kLeft) return say("from the left edge");
  if (d == model::kBack) return say("from the back edge");
  if (d == model::kFront) return say("from the front edge");
  return d == model::kUp ? say("from the upper edge") : say("from the lower edge");
}

std::string edge(model::Direction d) { return say("{} edge", side(d)); }

model::Direction side_named(std::string_view name) {
  if (name == "upper") return model::kUp;
  if (name == "lower") return model::kDown;
  return model::direction_named(name).value_or(model::kRight);
}

std::string face_title(model::Direction d) {
  if (d == model::kRight) return say("RIGHT FACE");
  if (d == model::kLeft) return say("LEFT FACE");
  if (d == model::kBack) return say("BACK FACE");
  if (d == model::kFront) return say("FRONT FACE");
  return d == model::kUp ? say("UPPER FACE") : say("LOWER FACE");
}

std::string opening(model::Direction d) { return of_two(by_components(d, kOpening)); }

std::string pointing(model::Direction d) {
  if (d.y == 0 || !d.along_axis()) return listed(by_components(d, kPointing));
  return d.y > 0 ? say("to the back") : say("to the front");
}

std::string name_of(const model::Frame& frame, model::PartId id, const model::Attitude& lies) {
  const model::Part& part = frame.part(id);
  if (part.union_mate == model::kNone || part.ports.empty()) return part.label;
  return say("the {0} half of {1}", side(lies(part.ports.front().facing)), part.label);
}

std::vector<std::string> labels_of(const model::Frame& frame, const std::vector<model::PartId>& parts) {
  std::vector<std::string> labels;
  for (const model::PartId id : parts) {
    const model::Part& part = frame.part(id);
    const bool half =
        part.union_mate != model::kNone && std::find(parts.begin(), parts.end(), part.union_mate) == parts.end();
    std::string label = half ? say("half of {}", part.label) : part.label;
    if (std::find(labels.begin(), labels.end(), label) == labels.end()) labels.push_back(std::move(label));
  }
  return labels;
}

std::size_t letters(std::string_view text) {
  // The bytes of a letter after its first begin with the bits 10.
  return at(
      std::count_if(text.begin(), text.end(), [](char c) { return (static_cast<unsigned char>(c) & 0xC0U) != 0x80U; }));
}

std::string capitalized(std::string text) {
  if (!text.empty() && text.front() >= 'a' && text.front() <= 'z') {
    text.front() = static_cast<char>(text.front() - 'a' + 'A');
  }
  return text;
}

std::string wrapped(const std::string& text, std::size_t indent, std::size_t width) {
  std::string result;
  std::size_t column = indent;
  std::size_t start = 0;
  while (start < text.size()) {
    std::size_t end = text.find(' ', start);
    if (end == std::string::npos) end = text.size();
    const std::size_t length = letters(std::string_view(text).substr(start, end - start));
    if (!result.empty()) {
      if (column + 1 + length > width) {
        result += '\n' + std::string(indent, ' ');
        column = indent;
      } else {
        result += ' ';
        ++column;
      }
    }
    result.append(text, start, end - start);
    column += length;
    start = end + 1;
  }
  return result;
}

std::string hanging(const std::string& heading, const std::string& text, std::size_t indent, const char* stop) {
  return std::string(indent, ' ') + heading + " " + wrapped(text + stop, indent + letters(heading) + 1) + "\n";
}

std::string noted(const std::string& note) { return hanging(say("Note:"), note, 0); }

}  // namespace dryfit::cli
