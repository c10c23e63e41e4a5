#include "cli/words.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

namespace dryfit::cli {
namespace {

/// Words for the components of a direction, joined by `between` where it lies at 45 degrees. `words` in the order
/// right, left, back, front, up, down; the vertical word is said first.
std::string by_components(model::Direction d, const char* const (&words)[6], const char* between) {
  std::string text;
  const auto add = [&](int component, const char* positive, const char* negative) {
    if (component == 0) return;
    if (!text.empty()) text += between;
    text += component > 0 ? positive : negative;
  };
  add(d.z, words[4], words[5]);
  add(d.x, words[0], words[1]);
  add(d.y, words[2], words[3]);
  return text;
}

}  // namespace

std::string listed(const std::vector<std::string>& words, const char* last) {
  std::string text;
  for (std::size_t i = 0; i < words.size(); ++i) {
    if (i > 0) text += i + 1 == words.size() ? fmt::format(" {} ", last) : std::string(", ");
    text += words[i];
  }
  return text;
}

std::string listed_briefly(const std::vector<std::string>& words, std::size_t most) {
  if (words.size() <= most + 1) return listed(words);  // "and 1 more" would be no shorter than the name
  std::vector<std::string> first(words.begin(), words.begin() + static_cast<std::ptrdiff_t>(most));
  first.push_back(fmt::format("{} more", words.size() - most));
  return listed(first);
}

std::string counted(long long count, const char* one, const char* many) {
  if (count == 1) return fmt::format("1 {}", one);
  return many != nullptr ? fmt::format("{} {}", count, many) : fmt::format("{} {}s", count, one);
}

std::string turns_in_words(double turns) {
  const auto quarters = static_cast<long long>(std::llround(turns * 4.0));
  if (quarters == 0) return "less than 1/4 turn";
  static constexpr const char* kFractions[] = {"", "1/4", "1/2", "3/4"};
  const long long whole = quarters / 4;
  const char* fraction = kFractions[quarters % 4];
  if (whole == 0) return fmt::format("{} turn", fraction);
  if (*fraction == '\0') return counted(whole, "turn");
  return fmt::format("{}-{} turns", whole, fraction);
}

std::string weight(double kg, model::Units units) {
  constexpr double kPoundsPerKg = 1.0 / 0.45359237;  // exact by definition
  const std::string metric = kg < 10.0 ? fmt::format("{:.1f} kg", kg) : fmt::format("{:.0f} kg", kg);
  const double pounds = kg * kPoundsPerKg;
  const std::string inch = pounds < 10.0 ? fmt::format("{:.1f} lb", pounds) : fmt::format("{:.0f} lb", pounds);
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

std::string going(model::Direction d) {
  return by_components(d, {"to the right", "to the left", "back", "forward", "up", "down"}, " and ");
}

std::string coming_from(model::Direction d) {
  if (d == model::kUp) return "from below";
  if (d == model::kDown) return "from above";
  if (d == model::kFront) return "from behind";
  return "from the " + side(-d);
}

std::string side(model::Direction d) {
  return by_components(d, {"right", "left", "back", "front", "upper", "lower"}, " ");
}

std::string pointing(model::Direction d) {
  if (d.y == 0 || !d.along_axis()) return by_components(d, {"right", "left", "back", "front", "up", "down"}, " and ");
  return d.y > 0 ? "to the back" : "to the front";
}

std::string name_of(const model::Frame& frame, model::PartId id) {
  const model::Part& part = frame.parts[static_cast<std::size_t>(id)];
  if (part.union_mate == model::kNone || part.ports.empty()) return part.label;
  return fmt::format("the {} half of {}", side(part.ports.front().facing), part.label);
}

std::vector<std::string> labels_of(const model::Frame& frame, const std::vector<model::PartId>& parts) {
  std::vector<std::string> labels;
  for (const model::PartId id : parts) {
    const model::Part& part = frame.parts[static_cast<std::size_t>(id)];
    const bool half =
        part.union_mate != model::kNone && std::find(parts.begin(), parts.end(), part.union_mate) == parts.end();
    std::string label = half ? "half of " + part.label : part.label;
    if (std::find(labels.begin(), labels.end(), label) == labels.end()) labels.push_back(std::move(label));
  }
  return labels;
}

std::string wrapped(const std::string& text, std::size_t indent, std::size_t width) {
  std::string result;
  std::size_t column = indent;
  std::size_t start = 0;
  while (start < text.size()) {
    std::size_t end = text.find(' ', start);
    if (end == std::string::npos) end = text.size();
    const std::size_t length = end - start;
    if (!result.empty()) {
      if (column + 1 + length > width) {
        result += '\n' + std::string(indent, ' ');
        column = indent;
      } else {
        result += ' ';
        ++column;
      }
    }
    result.append(text, start, length);
    column += length;
    start = end + 1;
  }
  return result;
}

}  // namespace dryfit::cli
