#include "cli/sentences/buy_text.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "cli/words/say.hpp"
#include "cli/words/trade_words.hpp"
#include "cli/words/words.hpp"

namespace dryfit::cli {
namespace {

using planner::BuyGroup;
using planner::BuyLine;

constexpr std::size_t kLabels = 12;  ///< labels named before "and 7 more"

std::string sized(const BuyLine& line, const std::string& word) {
  return line.size.empty() ? word : say_in("nominal size and item", "{0} in {1}", line.size, word);
}

bool is_cut(const BuyLine& line) { return line.item == "cut and thread" || line.item == "cut"; }

std::string pipe_text(const BuyLine& line, const Lengths& lengths) {
  if (!is_cut(line)) return say("{0}, {1} long", sized(line, counter_word(line.item)), lengths(line.length));
  const std::string pipe = sized(line, say("pipe")), length = lengths(line.length);
  if (line.item == "cut") return say("{0}, cut to {1}, both ends plain", pipe, length);
  return line.note == "one end plain" ? say("{0}, cut to {1}, one end threaded, one plain", pipe, length)
                                      : say("{0}, cut to {1}, both ends threaded", pipe, length);
}

/// The size of a bit, or that there is none of that size.
std::string bit_of(const BuyLine& line, const Lengths& lengths) {
  constexpr const char* kNone = "no stock bit";
  if (line.note.starts_with(kNone)) return say("for holes of {}, which no stock bit drills", lengths(line.length));
  return say("bit {}", bit_text(line.note));
}

BuyEntry entry_of(const BuyLine& line, int count, const Lengths& lengths) {
  BuyEntry entry;
  entry.count = count;
  entry.what = what_text(line, count, lengths);
  entry.labels = listed_briefly(line.labels, kLabels);
  if (line.price) entry.price = decimal(*line.price, 2);
  return entry;
}

std::string heading_of(BuyGroup group) {
  switch (group) {
    case BuyGroup::pipe: return say("Pipe");
    case BuyGroup::fitting: return say("Fittings");
    case BuyGroup::hardware: return say("Hardware");
    case BuyGroup::board: return say("Boards");
    case BuyGroup::bit: return say("Drill bits");
  }
  return "";
}

/// How much pipe the cut pieces take, size by size.
std::vector<std::string> cut_notes(const planner::Shopping& shopping, const Lengths& lengths) {
  std::vector<std::pair<std::string, double>> sums;  // by size, in the order of the list
  for (const BuyLine& line : shopping.lines) {
    if (line.group != BuyGroup::pipe || !is_cut(line) || line.count == 0) continue;
    if (sums.empty() || sums.back().first != line.size) sums.emplace_back(line.size, 0.0);
    sums.back().second += line.count * line.length;
  }
  std::vector<std::string> notes;
  for (const auto& [size, length] : sums) {
    notes.push_back(say("The cut pieces of {0} in pipe need {1} in all, plus saw kerfs.", size, lengths(length)));
  }
  return notes;
}

}  // namespace

std::string what_text(const BuyLine& line, int count, const Lengths& lengths) {
  if (line.group == BuyGroup::pipe) return pipe_text(line, lengths);
  if (line.group == BuyGroup::bit) return bit_of(line, lengths);
  if (line.item == "screw" && !line.size.empty()) {
    const std::string size = screw_text(line.size, line.length, lengths);
    return count == 1 ? say("screw {0} {1}", size, purpose_text(line.note))
                      : say("screws {0} {1}", size, purpose_text(line.note));
  }
  if (line.item == "screw") {
    return count == 1 ? say("screw {}", purpose_text(line.note)) : say("screws {}", purpose_text(line.note));
  }
  std::string what = sized(line, counter_word(line.item));
  if (line.group == BuyGroup::board && line.sizes.size() == 6) {
    const std::vector<double>& mm = line.sizes;
    if (!line.nominal.empty()) {
      return say("{0}: nominal {1}, {2} long; finished {3} x {4} x {5}", what, line.nominal, lengths(mm[0]),
                 lengths(mm[3]), lengths(mm[4]), lengths(mm[5]));
    }
    return say("{0}: rough {1} x {2} x {3}, finished {4} x {5} x {6}", what, lengths(mm[0]), lengths(mm[1]),
               lengths(mm[2]), lengths(mm[3]), lengths(mm[4]), lengths(mm[5]));
  }
  if (line.screws > 0) return say_n(line.screws, "{1}, {0} screw each", "{1}, {0} screws each", what);
  return what;
}

std::vector<BuySection> buy_sections(const planner::Shopping& shopping, const Lengths& lengths) {
  std::vector<BuySection> out;
  BuySection spares{say("Spares"), {}, {}};
  for (const BuyLine& line : shopping.lines) {
    if (line.spares > 0) {
      BuyEntry spare = entry_of(line, line.spares, lengths);
      spare.labels.clear();
      spares.entries.push_back(std::move(spare));
    }
    if (line.count == 0) continue;
    const std::string heading = heading_of(line.group);
    if (out.empty() || out.back().heading != heading) out.push_back({heading, {}, {}});
    out.back().entries.push_back(entry_of(line, line.count, lengths));
  }
  if (!out.empty() && out.front().heading == heading_of(BuyGroup::pipe))
    out.front().notes = cut_notes(shopping, lengths);
  if (!spares.entries.empty()) out.push_back(std::move(spares));
  return out;
}

std::vector<std::string> buy_remarks(const planner::Shopping& shopping, model::Units units) {
  std::vector<std::string> out;
  if (!shopping.heavy.empty()) {
    out.push_back(
        say("Two people lift {0}. One person may lift {1} held close to the body, and less if it is wide "
            "({2}).",
            listed(shopping.heavy), weight(shopping.lifting_limit, units), source_text(shopping.lifting_source)));
  }
  return out;
}

}  // namespace dryfit::cli
