#include "cli/early/forgiving_report.hpp"

#include <fmt/ostream.h>

#include <algorithm>
#include <cmath>
#include <map>
#include <nlohmann/json.hpp>
#include <ostream>

#include "cli/sentences/closed_out_text.hpp"
#include "cli/words/say.hpp"
#include "cli/words/words.hpp"

namespace dryfit::cli {
namespace {

constexpr std::size_t kMostCounted = 400;

struct Shares {
  int stuck = 0;
  double share = 0.0, error = 0.0;
  std::vector<int> fatal;   ///< steps, ascending
  std::vector<int> prices;  ///< ascending; of those that were priced
  bool proven = true;       ///< all prices are
  std::map<planner::ContactId, int> locked_out;
};

Shares shares_of(const std::vector<planner::CarelessBuild>& builds) {
  Shares shares;
  for (const planner::CarelessBuild& build : builds) {
    if (!build.stuck) continue;
    ++shares.stuck;
    shares.fatal.push_back(build.fatal_step);
    ++shares.locked_out[build.locked_out];
    if (!build.priced) continue;
    shares.prices.push_back(build.price);
    shares.proven &= build.price == build.price_at_least;
  }
  std::sort(shares.fatal.begin(), shares.fatal.end());
  std::sort(shares.prices.begin(), shares.prices.end());
  if (!builds.empty()) {
    const auto n = static_cast<double>(builds.size());
    shares.share = shares.stuck / n;
    shares.error = std::sqrt(shares.share * (1.0 - shares.share) / n);
  }
  return shares;
}

/// "1234 legal orders.", "About 3.1 x 10^12 legal orders (give or take 8 %, from 200 random ones)."
std::string number_text(const planner::OrderCount& count) {
  if (count.exact) return say("{} orders work.", *count.exact);
  const double floor = std::floor(count.log10_orders);
  const std::string about =
      count.log10_orders < 6.0
          ? fmt::format("{:.0f}", std::pow(10.0, count.log10_orders))
          : say("{0} x 10^{1}", decimal(std::pow(10.0, count.log10_orders - floor), 1), fmt::format("{:.0f}", floor));
  if (count.counted) return say("About {} orders work.", about);
  return say("About {0} orders work (give or take {1} %, judged from {2} random ones).", about,
             decimal(100.0 * count.relative_error, 0), count.samples);
}

}  // namespace

Forgiving how_forgiving(planner::Undoer& undoer, int builders, planner::Foreman* foreman) {
  Forgiving result;
  const std::size_t contacts = undoer.list().contacts.size();
  if (builders == 0 && contacts > kMostCounted) return result;
  result.asked = true;
  planner::FrameRules rules(undoer);
  planner::CountLimits limits;
  limits.moves_asked = 100'000;
  limits.foreman = foreman;
  // A state costs a question per contact: as many states as the same work allows.
  limits.states =
      std::max<long long>(200, limits.moves_asked / static_cast<long long>(std::max<std::size_t>(1, contacts)));
  result.count = planner::count_orders(rules, limits);
  planner::CarelessLimits careless;
  careless.builders = builders == 0 ? 100 : builders;
  careless.moves_asked = builders == 0 ? 60'000 : std::int64_t{1} << 40;
  careless.most_priced = 10;
  careless.price_budget = 2000;
  careless.foreman = foreman;
  result.builds = planner::careless_builds(undoer, careless);
  return result;
}

void add_forgiving(Json& document, const planner::ContactList& list, const Forgiving& forgiving) {
  const planner::OrderCount& count = forgiving.count;
  document["legal_orders"] = count.exact ? Json(*count.exact) : Json(nullptr);
  if (forgiving.asked && !count.exact && (count.counted || count.samples > 1)) {
    document["legal_orders_estimate"] = {{"log10", rounded(count.log10_orders)},
                                         {"relative_error", rounded(count.relative_error)},
                                         {"samples", count.samples}};
  } else {
    document["legal_orders_estimate"] = nullptr;
  }
  if (!forgiving.asked || forgiving.builds.empty()) {  // too large, or interrupted: no share of nobody
    document["careless"] = nullptr;
    return;
  }
  const Shares shares = shares_of(forgiving.builds);
  Json builds = Json::array();
  for (const planner::CarelessBuild& build : forgiving.builds) {
    if (!build.stuck) continue;
    Json json = {{"fatal_step", build.fatal_step},
                 {"fatal_contacts", contact_ids(list, build.fatal_contacts)},
                 {"locked_out",
                  build.locked_out == model::kNone ? Json(nullptr) : contact_ids(list, {build.locked_out}).front()},
                 {"steps", build.steps}};
    json["price_moves"] = build.priced ? Json(build.price) : Json(nullptr);
    json["price_at_least"] = build.priced ? Json(build.price_at_least) : Json(nullptr);
    builds.push_back(std::move(json));
  }
  document["careless"] = {{"builders", forgiving.builds.size()},
                          {"stuck", shares.stuck},
                          {"stuck_share", rounded(shares.share)},
                          {"standard_error", rounded(shares.error)},
                          {"stuck_builds", std::move(builds)}};
}

void print_forgiving(const model::Frame& frame, const planner::ContactList& list, const Forgiving& forgiving,
                     std::ostream& out) {
  if (!forgiving.asked) {
    out << '\n' << say("Room for error: the frame is too large to count its orders. Try --builders.") << '\n';
    return;
  }
  const planner::OrderCount& count = forgiving.count;
  const bool known = count.exact || count.counted || count.samples > 1;
  const Shares shares = shares_of(forgiving.builds);
  const auto builders = static_cast<long long>(forgiving.builds.size());
  if (!known && builders == 0) return;  // interrupted before there was anything to tell
  out << '\n' << say("Room for error:") << '\n';
  if (known) {
    fmt::print(out, "  {}\n",
               wrapped(count.exact && *count.exact == 1 ? say("Only one order works.") : number_text(count), 2));
  }
  if (builders == 0) return;
  const std::string who = say_n(builders, "{} builder who never plans ahead", "{} builders who never plan ahead");
  if (shares.stuck == 0) {
    fmt::print(out, "  {}\n", wrapped(say("Of {}, none gets stuck.", who), 2));
    return;
  }
  const std::string share = decimal(100.0 * shares.share, 0);
  std::string text =
      shares.stuck < builders
          ? say_n(shares.stuck, "Of {1}, {0} gets stuck ({2} %, give or take {3})",
                  "Of {1}, {0} get stuck ({2} %, give or take {3})", who, share, decimal(100.0 * shares.error, 0))
          : say_n(shares.stuck, "Of {1}, {0} gets stuck ({2} %)", "Of {1}, {0} get stuck ({2} %)", who, share);
  const int first = shares.fatal.front(), half = shares.fatal[shares.fatal.size() / 2];
  text = first == shares.fatal.back() ? say("{0}, at step {1}.", text, first)
                                      : say("{0}, the first at step {1}, half of them by step {2}.", text, first, half);
  if (!shares.prices.empty()) {
    const int low = shares.prices.front(), high = shares.prices.back();
    const std::string moves =
        low == high ? say_n(high, "To go on, they have to undo {} joint", "To go on, they have to undo {} joints")
                    : say("To go on, they have to undo {0} to {1} joints", low, high);
    text += " " + (shares.proven ? moves + "." : say("{}, or a few less.", moves));
  }
  fmt::print(out, "  {}\n", wrapped(text, 2));
  std::vector<std::pair<int, planner::ContactId>> often;
  for (const auto& [contact, times] : shares.locked_out) {
    if (contact != model::kNone) often.emplace_back(-times, contact);
  }
  std::sort(often.begin(), often.end());
  std::vector<std::string> words;
  for (const auto& [times, contact] : often) {
    words.push_back(fmt::format("{} ({}x)", contact_text(frame, list, contact), -times));
  }
  if (!words.empty()) fmt::print(out, "  {}\n", wrapped(say("Locked out: {}.", listed_briefly(words, 4)), 4));
}

}  // namespace dryfit::cli
