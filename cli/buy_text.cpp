#include "cli/buy_text.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "cli/words.hpp"

namespace dryfit::cli {
namespace {

using planner::BuyGroup;
using planner::BuyLine;

constexpr std::size_t kLabels = 12;  ///< labels named before "and 7 more"

std::string sized(const BuyLine& line, const std::string& word) {
  return line.size.empty() ? word : fmt::format("{} in {}", line.size, word);
}

bool is_cut(const BuyLine& line) { return line.item == "cut and thread" || line.item == "cut"; }

std::string pipe_text(const BuyLine& line, const Lengths& lengths) {
  if (!is_cut(line)) return fmt::format("{}, {} long", sized(line, line.item), lengths(line.length));
  const char* ends = line.item == "cut"             ? "both ends plain"
                     : line.note == "one end plain" ? "one end threaded, one plain"
                                                    : "both ends threaded";
  return fmt::format("{}, cut to {}, {}", sized(line, "pipe"), lengths(line.length), ends);
}

std::string what_text(const BuyLine& line, int count, const Lengths& lengths) {
  if (line.group == BuyGroup::pipe) return pipe_text(line, lengths);
  std::string what = sized(line, counter_word(line.item));
  if (line.group == BuyGroup::board) what += ": ";
  if (line.item == "screw") what = count == 1 ? "screw " : "screws ";
  if (line.note.empty()) return what;
  if (line.group == BuyGroup::bit) return "bit " + line.note;
  if (what.back() != ' ') what += ", ";
  return what + line.note;
}

BuyEntry entry_of(const BuyLine& line, int count, const Lengths& lengths) {
  BuyEntry entry;
  entry.count = count;
  entry.what = what_text(line, count, lengths);
  entry.labels = listed_briefly(line.labels, kLabels);
  if (line.price) entry.price = fmt::format("{:.2f}", *line.price);
  entry.from_memory = line.from_memory;
  return entry;
}

const char* heading_of(BuyGroup group) {
  switch (group) {
    case BuyGroup::pipe: return "Pipe";
    case BuyGroup::fitting: return "Fittings";
    case BuyGroup::hardware: return "Hardware";
    case BuyGroup::board: return "Boards";
    case BuyGroup::bit: return "Bits to own";
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
    notes.push_back(
        fmt::format("The cut pieces of {} in take {} of pipe in all, and a saw cut each.", size, lengths(length)));
  }
  return notes;
}

}  // namespace

std::string counter_word(const std::string& item) {
  if (item == "elbow45") return "45 elbow";
  if (item == "street-elbow") return "street elbow";
  if (item == "side-elbow") return "side-outlet elbow";
  if (item == "side-tee") return "side-outlet tee";
  if (item == "flange") return "floor flange";
  return item;
}

std::vector<BuySection> buy_sections(const planner::Shopping& shopping, const Lengths& lengths) {
  std::vector<BuySection> out;
  BuySection spares{"Spares", {}, {}};
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
  if (!out.empty() && out.front().heading == "Pipe") out.front().notes = cut_notes(shopping, lengths);
  if (!spares.entries.empty()) out.push_back(std::move(spares));
  return out;
}

std::vector<std::string> buy_remarks(const planner::Shopping& shopping, model::Units units) {
  std::vector<std::string> out;
  if (!shopping.heavy.empty()) {
    out.push_back(fmt::format("Two people lift {}: over {}, one person's limit ({}).", listed(shopping.heavy),
                              weight(shopping.lifting_limit, units), shopping.lifting_source));
  }
  if (std::any_of(shopping.lines.begin(), shopping.lines.end(), [](const BuyLine& l) { return l.from_memory; })) {
    out.emplace_back(
        "* Its weight or stock length is from memory: no published source confirms it. Measure your fittings: type "
        "them as `measured`.");
  }
  return out;
}

}  // namespace dryfit::cli
