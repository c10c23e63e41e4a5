#include "cli/sentences/knot_text.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <map>
#include <set>

#include "cli/sentences/closed_out_text.hpp"
#include "cli/sentences/refusal_text.hpp"
#include "cli/words/say.hpp"
#include "cli/words/words.hpp"

namespace dryfit::cli {
namespace {

using planner::Contact;
using planner::ContactId;
using planner::Refusal;

/// A big knot repeats itself; the first few tell the story and --json has them all.
constexpr std::size_t kMostRings = 4;
constexpr std::size_t kMostExplained = 6;
constexpr std::size_t kMostNamed = 12;

const Contact& contact_of(const planner::ContactList& list, ContactId c) { return list.contact(c); }

/// Parts in the order in which one meets them going round; as many as are met when it is no plain ring.
std::vector<model::PartId> walked_round(const planner::ContactList& list, const std::vector<ContactId>& contacts) {
  std::map<model::PartId, std::vector<ContactId>> at;
  for (const ContactId c : contacts) {
    at[contact_of(list, c).a].push_back(c);
    at[contact_of(list, c).b].push_back(c);
  }
  std::vector<model::PartId> parts;
  std::set<ContactId> used;
  model::PartId here = at.begin()->first;
  if (here == model::kRoom && at.size() > 1) here = std::next(at.begin())->first;
  for (bool moved = true; moved;) {
    parts.push_back(here);
    moved = false;
    for (const ContactId c : at[here]) {
      if (!used.insert(c).second) continue;
      here = contact_of(list, c).a == here ? contact_of(list, c).b : contact_of(list, c).a;
      moved = std::find(parts.begin(), parts.end(), here) == parts.end();
      break;
    }
  }
  return parts;
}

/// What one meets going round, the room among it where flanges close the ring over it.
std::vector<std::string> ring_names(const model::Frame& frame, const std::vector<model::PartId>& parts) {
  std::vector<std::string> names;
  for (const model::PartId part : parts) {
    std::string name = part == model::kRoom ? say("floor or wall") : frame.part(part).label;
    if (std::find(names.begin(), names.end(), name) == names.end()) names.push_back(std::move(name));
  }
  return names;
}

bool no_driver(const std::vector<Refusal>& refusals) {
  return std::any_of(refusals.begin(), refusals.end(),
                     [](const Refusal& refusal) { return refusal.why == Refusal::Why::no_reach; });
}

}  // namespace

std::vector<KnotRing> rings_of(const planner::ContactList& list, const planner::Order& order) {
  std::set<std::pair<std::size_t, std::vector<ContactId>>> found;
  for (std::size_t i = 0; i < order.knot.size(); ++i) {
    for (const Refusal& refusal : order.knot_refusals[i]) {
      if (refusal.why != Refusal::Why::ring || refusal.held_by.empty()) continue;
      std::vector<ContactId> ring = refusal.held_by;
      ring.push_back(order.knot[i]);
      std::sort(ring.begin(), ring.end());
      ring.erase(std::unique(ring.begin(), ring.end()), ring.end());
      found.insert({ring.size(), ring});
    }
  }
  std::vector<KnotRing> rings;
  std::set<ContactId> covered;
  for (const auto& [size, ring] : found) {
    if (std::all_of(ring.begin(), ring.end(), [&](ContactId c) { return covered.contains(c); })) continue;
    covered.insert(ring.begin(), ring.end());
    rings.push_back({ring, walked_round(list, ring)});
  }
  return rings;
}

std::string knot_text(const model::Frame& frame, const planner::ContactList& list, const planner::Order& order) {
  std::vector<std::string> names;
  for (const ContactId id : order.knot) names.push_back(contact_text(frame, list, id));
  const std::vector<KnotRing> rings = rings_of(list, order);
  std::set<ContactId> in_rings;
  for (const KnotRing& ring : rings) in_rings.insert(ring.contacts.begin(), ring.contacts.end());
  const auto count = static_cast<long long>(names.size());
  const bool one_loop = rings.size() == 1 && in_rings.size() == order.knot.size();
  const bool threads = std::all_of(in_rings.begin(), in_rings.end(), [&](ContactId c) {
    return contact_of(list, c).kind == planner::ContactKind::thread;
  });
  std::string text = !one_loop
                         ? say_n(count, "Whatever you start with, {} joint can't be put in:",
                                 "Whatever you start with, {} joints are left, and none of them can be the last one:")
                     : threads ? say("{} joints form a loop: whichever you leave for last can't be screwed in.", count)
                               : say("{} joints form a loop: whichever you leave for last can't go in.", count);
  text = wrapped(text, 0) + "\n";
  if (!one_loop) text += fmt::format("  {}\n", wrapped(listed_briefly(names, kMostNamed), 2));
  for (std::size_t i = 0; i < rings.size() && i < kMostRings; ++i) {
    text += fmt::format("  {}\n", wrapped(say("Loop: {}.", listed(ring_names(frame, rings[i].parts))), 4));
  }
  if (rings.size() > kMostRings)
    text += fmt::format(
        "  {}\n", say_n(static_cast<long long>(rings.size() - kMostRings), "and {} more loop.", "and {} more loops."));
  if (!rings.empty()) {
    text += fmt::format(
        "  {}\n",
        wrapped(
            threads
                ? say("The last pipe would have to screw into both ends at once. Turning it tightens one end and "
                      "loosens the other.")
                : say("Whichever joint you leave for last, its two sides are already joined the other way round, so "
                      "neither can turn or slide."),
            2));
  }
  std::size_t told = 0, left = 0;
  for (std::size_t i = 0; i < order.knot.size(); ++i) {
    // Screws that close a ring over the room would open it, if a driver got at them: that is why it is shut.
    if (in_rings.contains(order.knot[i]) && !no_driver(order.knot_refusals[i])) continue;
    if (told == kMostExplained) {
      ++left;
      continue;
    }
    if (told++ == 0) {
      text += fmt::format("  {}\n", rings.empty() ? say("Why, joint by joint:") : say("Also stuck:"));
    }
    std::string why;
    for (const std::string& clause : refusal_texts(frame, list, order.knot_refusals[i])) {
      why += (why.empty() ? "" : "; ") + clause;
    }
    text += fmt::format("    {}\n", wrapped(fmt::format("{}: {}.", names[i], why), 6));
  }
  if (left > 0) text += fmt::format("    {}\n", say("and {} more (--json lists them all).", left));
  return text;
}

}  // namespace dryfit::cli
