#include "cli/early/early_report.hpp"

#include <fmt/ostream.h>

#include <algorithm>
#include <map>
#include <nlohmann/json.hpp>
#include <ostream>

#include "cli/early/hair_report.hpp"
#include "cli/sentences/closed_out_text.hpp"
#include "cli/words/say.hpp"
#include "cli/words/words.hpp"
#include "model/geometry/at.hpp"

namespace dryfit::cli {
namespace {

using planner::ContactId;
using planner::EarlyPart;

Json sets_json(const planner::ContactList& list, const std::vector<std::vector<ContactId>>& sets) {
  Json all = Json::array();
  for (const auto& set : sets) all.push_back(contact_ids(list, set));
  return all;
}

/// The lock-outs as sentences: "before both of these are done: C4 into A3 and A3 into E1".
std::vector<std::string> lockout_texts(const EarlyReport& report, const EarlyPart& early) {
  std::vector<std::string> texts;
  for (const auto& set : early.lockouts.sets) {
    const std::string these = contacts_text(report.frame, report.list, set, set.size());
    texts.push_back(set.size() == 1   ? say("before {}", these)
                    : set.size() == 2 ? say("before both of these are done: {}", these)
                                      : say("before all of these are done: {}", these));
  }
  return texts;
}

std::string price_text(const EarlyReport& report, const EarlyPart& early) {
  if (!early.depth.possible) return say("it can't be put on any more at all");
  if (early.price.at_most() == 0) return say("nothing to undo");
  const std::string moves = bounded_text(early.price.at_least(), early.price.at_most());
  return say_n(early.price.at_most(), "undo {1} joint: {2}", "undo {1} joints: {2}", moves,
               undone_texts(report.frame, report.list, early.price.out.moves, early.price.comes_off));
}

}  // namespace

std::string bounded_text(int at_least, int at_most) {
  if (at_least >= at_most) return std::to_string(at_most);
  return say("at least {0}, at most {1}", at_least, at_most);
}

std::string why_text(const EarlyReport& report, const EarlyPart& early) {
  if (early.last_call.step == 0) return "";
  return closed_out_text(report.frame, report.list, early.last_call.stuck, early.last_call.why);
}

Json early_part_json(const EarlyReport& report, const EarlyPart& early) {
  const planner::LastCall& call = early.last_call;
  Json json;
  json["part"] = early.part.label;
  json["last_call_step"] = call.step == 0 ? Json(nullptr) : Json(call.step);
  json["closed_out_by"] = contact_ids(report.list, call.closed_out_by);
  json["trap"] = call.trap;
  json["asked_for_step"] = call.asked_for == 0 ? Json(nullptr) : Json(call.asked_for);
  json["needed_by_step"] = call.needed_by == 0 ? Json(nullptr) : Json(call.needed_by);
  json["lockouts"] = sets_json(report.list, early.lockouts.sets);
  json["lockouts_complete"] = early.lockouts.complete;
  json["depth_moves"] = early.depth.at_most();
  json["price_moves"] = early.price.at_most();
  json["price_at_least"] = early.price.at_least();
  json["price_proven"] = early.price.proven();
  json["comes_off"] = contact_ids(report.list, early.price.comes_off);
  json["why"] = why_text(report, early);
  json["within_hair"] = hair_json(report.frame, report.list, early);
  return json;
}

void add_relation(Json& document, const planner::Precedence& precedence, const planner::ContactList& list) {
  Json pairs = Json::array(), together = Json::array();
  for (ContactId later = 0; later < static_cast<ContactId>(precedence.before.size()); ++later) {
    for (const ContactId first : precedence.before[at(later)]) {
      pairs.push_back(contact_ids(list, {first, later}));
    }
  }
  for (const auto& members : precedence.classes) {
    if (members.size() > 1) together.push_back(contact_ids(list, members));
  }
  document["pairs"] = std::move(pairs);
  document["together"] = std::move(together);
}

namespace {

void print_trap(const EarlyReport& report, const EarlyPart& early, bool whole, std::ostream& out) {
  const planner::LastCall& call = early.last_call;
  const std::string before = say("put it on before step {0} ({1}).", call.step,
                                 contacts_text(report.frame, report.list, call.closed_out_by, 4));
  fmt::print(out, "  {}\n", wrapped(fmt::format("{}: {}", early.part.label, before), 6));
  out << hanging(say("Why:"), why_text(report, early), 6, ".");
  out << hanging(say("If forgotten:"), price_text(report, early), 6, ".");
  if (!whole) return;
  for (const std::string& text : lockout_texts(report, early)) {
    fmt::print(out, "      {}\n", wrapped(say("In any order: put it on {}.", text), 8));
  }
}

/// Parts with a last call that an earlier step asks for.
void print_missed(const EarlyReport& report, const std::vector<std::size_t>& missed, bool whole, std::ostream& out) {
  if (missed.empty() || !whole) return;  // what a step asks for is not forgotten
  out << '\n' << say("You won't forget these, because an earlier step needs them:") << '\n';
  for (const std::size_t i : missed) {
    print_trap(report, report.parts[i], whole, out);
    fmt::print(out, "      {}\n", say("Needed in step {}.", report.parts[i].last_call.asked_for));
  }
}

}  // namespace

void print_early(const EarlyReport& report, bool whole, std::ostream& out) {
  std::vector<std::size_t> dear, missed;
  for (const std::size_t i : planner::traps_worst_first(report.parts)) {
    if (report.parts[i].price.at_most() > 0) (report.parts[i].last_call.unnoticed() ? dear : missed).push_back(i);
  }
  const std::string heading =
      dear.empty() ? say("{}: no part is easy to forget.", report.frame.name)
                   : say_n(static_cast<long long>(dear.size()),
                           "{1}: {0} of {2} parts is easy to forget: nothing stops you building past it.",
                           "{1}: {0} of {2} parts are easy to forget: nothing stops you building past them.",
                           report.frame.name, report.parts.size());
  fmt::print(out, "{}\n", wrapped(heading, 2));
  constexpr std::size_t kMost = 6;  // three lines each: a screen
  const std::size_t shown = whole ? dear.size() : std::min(dear.size(), kMost);
  if (shown > 0) out << '\n' << say("Worst first:") << '\n';
  for (std::size_t i = 0; i < shown; ++i) print_trap(report, report.parts[dear[i]], whole, out);
  if (shown < dear.size()) fmt::print(out, "  {}\n", say("and {} more, all shown with --all.", dear.size() - shown));
  print_missed(report, missed, whole, out);
  print_hairs(report.frame, report.list, report.parts, whole, out);

  std::vector<std::string> waiting;
  for (const EarlyPart& early : report.parts) {
    if (early.part.board && early.last_call.step == 0) waiting.push_back(early.part.label);
  }
  if (!waiting.empty()) {
    fmt::print(out, "\n{}\n", wrapped(say("{} can wait until the end.", listed(waiting)), 0));
  }
}

void print_links(const EarlyReport& report, std::ostream& out) {
  const auto links = planner::reduced(report.precedence);
  if (links.empty()) {
    out << '\n' << say("You can start from either end: no joint has to come before another.") << '\n';
    return;
  }
  // What has the same to come first is told in one line.
  std::map<int, std::vector<int>> earlier_of;
  for (const planner::MustPrecede& link : links) earlier_of[link.later].push_back(link.earlier);
  std::vector<std::pair<std::vector<int>, std::vector<int>>> lines;  // earlier, later
  for (const auto& [later, earlier] : earlier_of) {
    const auto same = std::find_if(lines.begin(), lines.end(),
                                   [&, &first = earlier](const auto& line) { return line.first == first; });
    if (same == lines.end()) {
      lines.push_back({earlier, {later}});
    } else {
      same->second.push_back(later);
    }
  }
  const auto words = [&](const std::vector<int>& classes) {
    std::vector<ContactId> contacts;
    for (const int c : classes) {
      const auto& members = report.precedence.classes[at(c)];
      contacts.insert(contacts.end(), members.begin(), members.end());
    }
    return contacts_text(report.frame, report.list, contacts, 8);
  };
  constexpr std::size_t kMost = 40;
  out << '\n' << say("These must come first, in any order:") << '\n';
  for (std::size_t i = 0; i < lines.size() && i < kMost; ++i) {
    fmt::print(out, "  {}\n", wrapped(say("{0} before {1}", words(lines[i].first), words(lines[i].second)), 4));
  }
  if (lines.size() > kMost)
    fmt::print(out, "  {}\n", say("and {} more; --json and `dryfit graph` have them all.", lines.size() - kMost));
}

void print_story(const EarlyReport& report, const EarlyPart& early, std::ostream& out) {
  const planner::LastCall& call = early.last_call;
  fmt::print(out, "{}, {}:\n", report.frame.name, early.part.label);
  if (call.step == 0) {
    fmt::print(out, "  {}\n", say("It can wait until everything is done that can be done without it."));
  } else {
    out << hanging(say("Last call:"),
                   say("put it on before step {0} ({1}). That step can be done without it.", call.step,
                       contacts_text(report.frame, report.list, call.closed_out_by, 4)),
                   2);
    out << hanging(say("Why:"), why_text(report, early), 2, ".");
  }
  if (call.needed_by != 0) fmt::print(out, "  {}\n", say("Step {} can't be done without it.", call.needed_by));
  const auto lockouts = lockout_texts(report, early);
  if (lockouts.empty() && early.lockouts.complete) {
    fmt::print(out, "  {}\n", say("Whatever the order, nothing locks it out."));
  }
  if (!lockouts.empty()) {
    fmt::print(out, "  {}\n",
               early.lockouts.complete ? say("Whatever the order, put it on:")
                                       : say("Whatever the order, put it on (there may be more):"));
    for (const std::string& text : lockouts) fmt::print(out, "    {}.\n", wrapped(text, 6));
  }
  const std::string moves = say_n(early.depth.at_most(), "{} joint", "{} joints");
  fmt::print(out, "  {}\n",
             early.depth.proven() ? say("To get it out of the finished frame: {} to undo.", moves)
                                  : say("To get it out of the finished frame: {0} to undo, or as few as {1}.", moves,
                                        early.depth.at_least));
  out << hanging(say("If forgotten:"), price_text(report, early), 2, ".");
  for (const std::string& text : hair_texts(report.frame, report.list, early)) {
    out << hanging(say("Too close to call, measure first:"), text, 2);
  }
  std::vector<std::string> earlier, later;
  for (const planner::MustPrecede& link : planner::reduced(report.precedence)) {
    const auto touches = [&](int c) {
      const auto& members = report.precedence.classes[at(c)];
      return std::any_of(members.begin(), members.end(), [&](ContactId m) {
        return std::binary_search(early.part.contacts.begin(), early.part.contacts.end(), m);
      });
    };
    const auto words = [&](int c) {
      return contacts_text(report.frame, report.list, report.precedence.classes[at(c)], 4);
    };
    if (touches(link.later) && !touches(link.earlier)) earlier.push_back(words(link.earlier));
    if (touches(link.earlier) && !touches(link.later)) later.push_back(words(link.later));
  }
  const auto sorted = [](std::vector<std::string>& words) {
    std::sort(words.begin(), words.end());
    words.erase(std::unique(words.begin(), words.end()), words.end());
  };
  sorted(earlier);
  sorted(later);
  if (!earlier.empty())
    fmt::print(out, "  {}\n", wrapped(say("Always done before it: {}.", listed_briefly(earlier, 8)), 4));
  if (!later.empty()) fmt::print(out, "  {}\n", wrapped(say("Always done after it: {}.", listed_briefly(later, 8)), 4));
}

}  // namespace dryfit::cli
