/// Offers as JSON and as words.
#include <fmt/format.h>

#include <cmath>
#include <nlohmann/json.hpp>

#include "cli/edit/offers.hpp"
#include "cli/words/lengths.hpp"
#include "cli/words/say.hpp"
#include "cli/words/words.hpp"

namespace dryfit::cli {
namespace {

std::string lines_up_text(const LengthOffered& one, const std::string& length) {
  if (one.turns == 0.0) return say("{0} lines up with {1}.", length, one.closes);
  const std::string turns = turns_in_words(std::abs(one.turns));
  return one.turns > 0.0 ? say("{0} lines up with {1}, {2} deeper.", length, one.closes, turns)
                         : say("{0} lines up with {1}, {2} less deep.", length, one.closes, turns);
}

}  // namespace

Json lengths_json(const std::vector<LengthOffered>& lengths) {
  Json list = Json::array();
  for (const LengthOffered& one : lengths) {
    Json length{{"length_mm", rounded(one.length)}, {"text", one.text}};
    if (!one.closes.empty()) {
      length["closes"] = one.closes;
      length["turns"] = rounded(one.turns);
    }
    length["off_mm"] = rounded(one.off);
    if (!one.level_with.empty()) length["level_with"] = one.level_with;
    list.push_back(std::move(length));
  }
  return list;
}

std::vector<std::string> lengths_lines(const std::vector<LengthOffered>& lengths, model::Units units) {
  std::vector<std::string> lines, stock;
  for (const LengthOffered& one : lengths) {
    const std::string length = length_text(one.length, units);
    if (!one.closes.empty()) {
      lines.push_back(lines_up_text(one, length));
    } else if (!one.level_with.empty()) {
      lines.push_back(say("{0} is level with {1}.", length, one.level_with));
    } else {
      stock.push_back(length);
    }
  }
  constexpr std::size_t kMost = 16;
  if (!stock.empty()) lines.push_back(say("Other lengths: {}", listed_briefly(stock, kMost)));
  return lines;
}

Json offers_json(const Offers& offers) {
  Json made;
  made["end"] = offers.end;
  made["facing"] = offers.facing.name();
  made["male"] = offers.male;
  made["kinds"] = Json::array();
  for (const KindOffered& one : offers.kinds) {
    Json kind{{"kind", one.kind}, {"directions", one.directions}};
    if (!one.value.empty()) kind["value"] = one.value;
    made["kinds"].push_back(std::move(kind));
  }
  made["lengths"] = lengths_json(offers.lengths);
  made["ways"] = Json::array();
  for (const WayOffered& one : offers.ways) {
    made["ways"].push_back(
        {{"to", one.to}, {"pieces", one.pieces}, {"off_mm", rounded(one.off)}, {"turns", rounded(one.turns)}});
  }
  made["joins"] = offers.joins;
  made["copies"] = offers.copies;
  made["branching"] = offers.branching;
  return made;
}

std::string offers_text(const Offers& offers, model::Units units) {
  std::string lines = say("What fits on {}:", offers.end) + "\n";
  const auto line = [&](const std::string& text) { lines += "  " + wrapped(text, 4) + "\n"; };
  for (const KindOffered& one : offers.kinds) {
    line(one.directions.empty() ? one.kind : fmt::format("{}: {}", one.kind, listed_or(one.directions)));
  }
  for (const std::string& text : lengths_lines(offers.lengths, units)) line(text);
  for (const WayOffered& one : offers.ways) {
    line(say("{0} with couplings between line up with {1}.", listed(one.pieces), one.to));
  }
  for (const std::string& end : offers.joins) line(say("It meets {0}: --join {1}={0}", end, offers.end));
  for (const std::string& run : offers.copies)
    line(say("A copy of '{0}' can go here: --copy \"{0}={1}\"", run, offers.end));
  return lines;
}

}  // namespace dryfit::cli
