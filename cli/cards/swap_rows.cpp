#include "cli/cards/swap_rows.hpp"

#include <algorithm>

#include "cli/words/say.hpp"
#include "planner/early/swap_price.hpp"

namespace dryfit::cli {
namespace {

constexpr std::size_t kMostRows = 40;
constexpr std::size_t kMostContacts = 300;

}  // namespace

std::vector<SwapRow> swap_rows(const LoadedFrame& loaded, const std::vector<planner::Step>& steps, Working* working) {
  if (loaded.contacts.contacts.size() > kMostContacts) return {};
  std::vector<planner::NamedPart> parts;
  for (planner::NamedPart& part : planner::named_parts(loaded.frame, loaded.contacts)) {
    const model::PartKind kind = loaded.frame.part(part.parts.front()).kind;
    if (part.board || kind == model::PartKind::pipe) parts.push_back(std::move(part));
  }
  std::vector<std::vector<planner::ContactId>> made_by;
  for (const planner::Step& step : steps) made_by.push_back(step.contacts);
  planner::Undoer undoer(loaded.frame, loaded.contacts);
  std::vector<planner::SwapPrice> prices;
  {
    const LongWork work(working, marked("working out changes of mind"), marked("steps"));
    constexpr long long kEach = 2000, kTotal = 400'000;
    prices = planner::swap_prices(undoer, parts, made_by, kEach, kTotal, working);
  }
  std::vector<SwapRow> rows;
  for (const planner::SwapPrice& price : prices) {
    SwapRow row{price.part.label, {}, {}};
    for (const planner::SwapPoint& point : price.after) {
      row.at_least.push_back(point.at_least);
      row.at_most.push_back(point.at_most);
    }
    rows.push_back(std::move(row));
  }
  if (rows.size() <= kMostRows) return rows;
  std::vector<int> dearest;
  for (const SwapRow& row : rows) dearest.push_back(*std::max_element(row.at_most.begin(), row.at_most.end()));
  std::vector<std::size_t> rank(rows.size());
  for (std::size_t i = 0; i < rank.size(); ++i) rank[i] = i;
  std::stable_sort(rank.begin(), rank.end(), [&](std::size_t a, std::size_t b) { return dearest[a] > dearest[b]; });
  rank.resize(kMostRows);
  std::sort(rank.begin(), rank.end());
  std::vector<SwapRow> most;
  for (const std::size_t i : rank) most.push_back(std::move(rows[i]));
  return most;
}

}  // namespace dryfit::cli
