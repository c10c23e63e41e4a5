#include "cli/order/now_report.hpp"

#include <fmt/ostream.h>

#include <cmath>
#include <nlohmann/json.hpp>
#include <ostream>

#include "cli/check/fit_report.hpp"
#include "cli/order/step_json.hpp"
#include "cli/sentences/safety_text.hpp"
#include "cli/sentences/undo_text.hpp"
#include "cli/words/say.hpp"
#include "cli/words/search_end.hpp"
#include "cli/words/words.hpp"
#include "model/geometry/at.hpp"

namespace dryfit::cli {
namespace {

/// Efforts that differ by less are one, seconds.
constexpr double kSame = 1e-6;

/// The words of the steps, told on the ground of what stands there.
std::vector<StepWords> words_from_here(const LoadedFrame& loaded, const Finding& finding, const NowAnswer& answer) {
  std::vector<planner::Step> all = answer.made_before;
  all.insert(all.end(), answer.steps.begin(), answer.steps.end());
  std::vector<StepWords> words = words_with_turns(loaded.frame, loaded.contacts, finding.fit, all);
  words.erase(words.begin(), words.begin() + static_cast<std::ptrdiff_t>(answer.made_before.size()));
  return words;
}

bool proven(const planner::Bounded& bounds) { return bounds.at_most - bounds.at_least <= kSame; }

Json whole(double number) { return static_cast<long long>(std::llround(number)); }

void print_some(const std::vector<StepWords>& words, std::size_t from, std::size_t to, std::ostream& out) {
  for (std::size_t i = from; i < to; ++i) {
    fmt::print(out, "  {:>2}. {}\n", i + 1, wrapped(words[i].text, 6));
    for (const std::string& caution : words[i].cautions) fmt::print(out, "      ! {}\n", wrapped(caution, 8));
  }
}

/// "3 moves, and no way takes fewer", with bounds where it is not proven.
std::string undo_total(const planner::Bounded& moves) {
  const long long most = std::llround(moves.at_most);
  if (proven(moves)) return say_n(most, "{} step, and no way takes fewer", "{} steps, and no way takes fewer");
  return say_n(most, "{0} step at most, at least {1}", "{0} steps at most, at least {1}",
               static_cast<long long>(std::llround(moves.at_least)));
}

std::string headline(const NowAsked& asked, const NowAnswer& answer) {
  if (!asked.replace.empty()) {
    return say("getting {0} out takes {1}.", listed(asked.replace), undo_total(answer.undo_moves));
  }
  if (!answer.undo.empty()) return say("undo first: {}.", undo_total(answer.undo_moves));
  if (!asked.built.empty() && answer.steps.empty()) return say("it is finished.");
  if (!asked.without.empty()) {
    return answer.needed_at == 1 ? say("nothing can be done without {}.", listed(asked.without))
                                 : say_n(answer.needed_at - 1, "{0} step can be done without {1}.",
                                         "{0} steps can be done without {1}.", listed(asked.without));
  }
  return say("nothing has to come off.");
}

void print_without(const NowAsked& asked, const NowAnswer& answer, const std::vector<StepWords>& words,
                   std::ostream& out) {
  const auto needed = at(answer.needed_at - 1);
  if (needed > 0) {
    out << '\n' << say("Without {}:", listed(asked.without)) << "\n\n";
    print_some(words, 0, needed, out);
  }
  out << '\n' << say("From here on you need {}:", listed(asked.without)) << "\n\n";
  print_some(words, needed, words.size(), out);
  const long long most = std::llround(answer.left.at_most);
  out << '\n'
      << (proven(answer.left) ? say_n(most, "{} step is left after that, and no order leaves fewer.",
                                      "{} steps are left after that, and no order leaves fewer.")
                              : say_n(most, "{0} step is left after that; no order leaves fewer than {1}.",
                                      "{0} steps are left after that; no order leaves fewer than {1}.",
                                      static_cast<long long>(std::llround(answer.left.at_least))))
      << '\n';
}

void print_effort(const planner::Bounded& effort, std::ostream& out) {
  const std::string value = decimal(effort.at_most, 0);
  out << '\n'
      << wrapped(proven(effort) ? say("Effort score {0} for these steps (for comparing orders, not a time; turning the "
                                      "assembly is not in it). No other way on scores lower.",
                                      value)
                                : say("Effort score {0} for these steps (for comparing orders, not a time; turning the "
                                      "assembly is not in it). No way on scores lower than {1}.",
                                      value, decimal(effort.at_least, 0)),
                 0)
      << '\n';
}

}  // namespace

void add_now(Json& document, const LoadedFrame& loaded, const Finding& finding, const NowAsked& asked,
             const NowAnswer& answer) {
  std::vector<planner::ContactId> built;
  for (std::size_t c = 0; c < answer.built.size(); ++c) {
    if (answer.built[c] != 0) built.push_back(static_cast<planner::ContactId>(c));
  }
  document["built"] = contact_ids(loaded.contacts, built);
  if (!asked.replace.empty()) document["replaced"] = asked.replace;
  Json undo = Json::array(), steps = Json::array();
  int number = 0;
  for (const planner::Move& move : answer.undo) {
    undo.push_back(step_json(loaded.frame, loaded.contacts, undo_step(loaded.frame, move, ++number),
                             undo_words(loaded.frame, loaded.contacts, move)));
  }
  const auto words = words_from_here(loaded, finding, answer);
  for (std::size_t i = 0; i < words.size(); ++i) {
    steps.push_back(step_json(loaded.frame, loaded.contacts, answer.steps[i], words[i]));
  }
  document["undo"] = std::move(undo);
  document["undo_moves"] = whole(answer.undo_moves.at_most);
  document["undo_moves_at_least"] = whole(answer.undo_moves.at_least);
  document["undo_proven"] = proven(answer.undo_moves);
  document["stays"] = contact_ids(loaded.contacts, answer.kept);
  if (!asked.without.empty()) {
    document["without"] = {{"parts", asked.without},
                           {"needed_at_step", answer.needed_at},
                           {"moves_left", whole(answer.left.at_most)},
                           {"moves_left_at_least", whole(answer.left.at_least)},
                           {"proven", proven(answer.left)}};
  }
  document["steps"] = std::move(steps);
  document["effort"] = {{"value", rounded(answer.effort.at_most)},
                        {"lower_bound", rounded(answer.effort.at_least)},
                        {"proven", proven(answer.effort)},
                        {"ended_by", word_for(proven(answer.effort) ? SearchEnd::proof : SearchEnd::moves)},
                        {"states", answer.states}};
}

void print_now(const LoadedFrame& loaded, const Finding& finding, const NowAsked& asked, const NowAnswer& answer,
               std::ostream& out) {
  fmt::print(out, "{}: {}\n", loaded.frame.name, headline(asked, answer));
  if (!answer.undo.empty()) {
    std::vector<StepWords> words;
    for (const planner::Move& move : answer.undo) words.push_back(undo_words(loaded.frame, loaded.contacts, move));
    out << '\n' << say("Undo:") << "\n\n";
    print_some(words, 0, words.size(), out);
  }
  const auto words = words_from_here(loaded, finding, answer);
  if (!asked.without.empty()) {
    print_without(asked, answer, words, out);
  } else if (!words.empty()) {
    out << '\n' << (asked.replace.empty() ? say("Then:") : say("The way back, with the new part:")) << "\n\n";
    print_some(words, 0, words.size(), out);
  }
  if (!words.empty()) print_effort(answer.effort, out);
  fmt::print(out, "\n{}\n", wrapped(wear_text() + " " + climb_text(loaded.frame), 0));
}

}  // namespace dryfit::cli
