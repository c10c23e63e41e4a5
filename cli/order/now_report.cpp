#include "cli/order/now_report.hpp"

#include <fmt/ostream.h>

#include <cmath>
#include <nlohmann/json.hpp>
#include <ostream>

#include "cli/order/now_words.hpp"
#include "cli/order/step_json.hpp"
#include "cli/sentences/safety_text.hpp"
#include "cli/sentences/undo_text.hpp"
#include "cli/words/say.hpp"
#include "cli/words/words.hpp"
#include "model/geometry/at.hpp"

namespace dryfit::cli {
namespace {

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

void print_without(const LoadedFrame& loaded, const NowAsked& asked, const NowAnswer& answer,
                   const std::vector<StepWords>& words, std::ostream& out) {
  const auto needed = at(answer.needed_at - 1);
  if (needed > 0) {
    out << '\n' << say("Without {}:", listed(asked.without)) << "\n\n";
    print_some(loaded.frame, words, 0, needed, out);
  }
  out << '\n' << say("From here on you need {}:", listed(asked.without)) << "\n\n";
  print_some(loaded.frame, words, needed, words.size(), out);
  const long long most = std::llround(answer.left.at_most);
  out << '\n'
      << (is_exact(answer.left) ? say_n(most, "{} step is left after that, and no order leaves fewer.",
                                        "{} steps are left after that, and no order leaves fewer.")
                                : say_n(most, "{0} step is left after that; no order leaves fewer than {1}.",
                                        "{0} steps are left after that; no order leaves fewer than {1}.",
                                        static_cast<long long>(std::llround(answer.left.at_least))))
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
  Json steps = Json::array();
  const auto words = words_from_here(loaded, finding, answer.made_before, answer.steps);
  for (std::size_t i = 0; i < words.size(); ++i) {
    steps.push_back(step_json(loaded.frame, loaded.contacts, answer.steps[i], words[i]));
  }
  document["undo"] = undo_json(loaded, answer.undo, answer.built);
  document["undo_moves"] = whole(answer.undo_moves.at_most);
  document["undo_moves_at_least"] = whole(answer.undo_moves.at_least);
  document["undo_proven"] = is_exact(answer.undo_moves);
  document["stays"] = contact_ids(loaded.contacts, answer.kept);
  if (!asked.without.empty()) {
    document["without"] = {{"parts", asked.without},
                           {"needed_at_step", answer.needed_at},
                           {"moves_left", whole(answer.left.at_most)},
                           {"moves_left_at_least", whole(answer.left.at_least)},
                           {"proven", is_exact(answer.left)}};
  }
  document["steps"] = std::move(steps);
  document["effort"] = effort_json(answer.effort, answer.states);
}

void print_now(const LoadedFrame& loaded, const Finding& finding, const NowAsked& asked, const NowAnswer& answer,
               std::ostream& out) {
  fmt::print(out, "{}: {}\n", loaded.frame.name, headline(asked, answer));
  if (!answer.undo.empty() || !answer.steps.empty()) out << '\n' << wrapped(as_finished_text(), 0) << '\n';
  if (!answer.undo.empty()) {
    const std::vector<StepWords> words = undo_words(loaded.frame, loaded.contacts, answer.undo, answer.built);
    out << '\n' << say("Undo:") << "\n\n";
    print_some(loaded.frame, words, 0, words.size(), out);
  }
  const auto words = words_from_here(loaded, finding, answer.made_before, answer.steps);
  if (!asked.without.empty()) {
    print_without(loaded, asked, answer, words, out);
  } else if (!words.empty()) {
    out << '\n'
        << (asked.replace.empty() ? (answer.undo.empty() ? say("What is left to do:") : say("Then:"))
                                  : say("The way back, with the new part:"))
        << "\n\n";
    print_some(loaded.frame, words, 0, words.size(), out);
  }
  if (!words.empty()) print_effort(answer.effort, out);
  fmt::print(out, "\n{}\n", wrapped(wear_text() + " " + climb_text(loaded.frame), 0));
}

}  // namespace dryfit::cli
