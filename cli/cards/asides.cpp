#include "cli/cards/asides.hpp"

#include <algorithm>
#include <set>
#include <utility>

#include "cli/check/as_built.hpp"
#include "cli/words/say.hpp"
#include "cli/words/words.hpp"
#include "model/geometry/at.hpp"
#include "planner/now/go_on.hpp"
#include "planner/now/stops.hpp"
#include "planner/state/named_part.hpp"

namespace dryfit::cli {
namespace {

using planner::ContactId;
using planner::LeftAs;
using planner::LeftPiece;
using planner::Step;
using planner::Stop;

/// More steps than that are asked neither for places to stop at nor for missing parts.
constexpr std::size_t kMostSteps = 250;
/// One good place to stop at for about so many steps.
constexpr std::size_t kStepsAnEvening = 12;
constexpr std::size_t kNames = 3;

/// Numbers of the steps at good places to stop at.
std::set<int> good_places(planner::Stops& stops, std::size_t steps) {
  std::set<int> numbers;
  if (steps < kStepsAnEvening / 2) return numbers;
  const auto best = stops.best(static_cast<int>(std::max<std::size_t>(1, steps / kStepsAnEvening)));
  if (best) {
    for (const Stop& stop : *best) numbers.insert(stop.after_step);
  }
  return numbers;
}

/// What has to be done about a piece; nothing for one that is left as it is.
void add_care(const model::Frame& frame, const LeftPiece& left, bool alone, std::vector<std::string>& text) {
  const std::string who = alone ? say("the assembly") : listed_briefly(labels_of(frame, left.piece.parts), kNames);
  if (left.as == LeftAs::propped) {
    text.push_back(say("Don't stop here unless you prop {}: it would tip over.", who));
  } else if (left.as == LeftAs::laid_down) {
    text.push_back(say("If you stop here, lay {} down: it would tip over.", who));
  }
  if (!left.piece.slack.empty()) {
    text.push_back(say("If you stop here, leave {0} where it is: nothing holds {1} yet.", who,
                       listed(labels_of(frame, left.piece.slack))));
  }
}

void add_stops(const LoadedFrame& loaded, const OrderPlan& plan, Deck& deck) {
  const std::vector<Step>& steps = plan.best.order.steps;
  planner::Undoer undoer(loaded.frame, loaded.contacts);
  planner::Stops stops(undoer, steps, plan.standing.pose_of_step, plan.people);
  const std::set<int> good = good_places(stops, steps.size());
  int next_safe = 0;  // number of the step; 0: none before the last
  for (std::size_t k = steps.size() - 1; k > 0; --k) {
    const Stop stop = stops.after(static_cast<int>(k));
    std::vector<std::string>& text = deck.cards[k - 1].stop;
    const auto pieces = static_cast<long long>(stop.pieces.size());
    if (good.contains(static_cast<int>(k))) {
      text.push_back(say_n(pieces, "Good place to stop: {} piece, and nothing to prop.",
                           "Good place to stop: {} pieces, and nothing to prop."));
    }
    for (const LeftPiece& left : stop.pieces) add_care(loaded.frame, left, pieces == 1, text);
    if (stop.safe()) {
      next_safe = static_cast<int>(k);
    } else if (next_safe > 0) {
      text.push_back(say("You can stop after step {}.", next_safe));
    }
  }
}

/// "10 to 13, 16 and 18".
std::string numbers_text(const std::vector<Step>& steps, const std::vector<std::size_t>& some) {
  std::vector<std::string> runs;
  for (std::size_t i = 0; i < some.size();) {
    std::size_t j = i;
    while (j + 1 < some.size() && some[j + 1] == some[j] + 1) ++j;
    const int from = steps[some[i]].number, to = steps[some[j]].number;
    if (j > i + 1) {
      runs.push_back(say_in("numbers of steps", "{0} to {1}", from, to));
    } else {
      for (std::size_t k = i; k <= j; ++k) runs.push_back(std::to_string(steps[some[k]].number));
    }
    i = j + 1;
  }
  return listed(runs);
}

/// Per step: the parts that it is the first to join to anything.
std::vector<std::vector<planner::NamedPart>> brought_by_steps(const LoadedFrame& loaded,
                                                              const std::vector<Step>& steps) {
  std::vector<std::size_t> step_of(loaded.contacts.contacts.size(), steps.size());
  for (std::size_t k = 0; k < steps.size(); ++k) {
    for (const ContactId c : steps[k].contacts) step_of[at(c)] = k;
  }
  std::vector<std::vector<planner::NamedPart>> brought(steps.size());
  for (planner::NamedPart& part : planner::named_parts(loaded.frame, loaded.contacts)) {
    std::size_t first = steps.size();
    for (const ContactId c : part.contacts) first = std::min(first, step_of[at(c)]);
    if (first < steps.size()) brought[first].push_back(std::move(part));
  }
  return brought;
}

/// Whether nothing but steps with the part itself is left to do from step k on, once those found are done.
bool only_it_left(const planner::NamedPart& part, const planner::WithoutIt& found, const std::vector<Step>& steps,
                  std::size_t k) {
  for (; k < steps.size(); ++k) {
    const std::vector<ContactId>& made = steps[k].contacts;
    const bool with_it = std::any_of(made.begin(), made.end(), [&](ContactId c) {
      return std::find(part.contacts.begin(), part.contacts.end(), c) != part.contacts.end();
    });
    if (!with_it && std::find(found.steps.begin(), found.steps.end(), k) == found.steps.end()) return false;
  }
  return true;
}

std::string without_text(const std::vector<std::string>& labels, const planner::WithoutIt& found, bool only_it,
                         const std::vector<Step>& steps) {
  const auto count = static_cast<long long>(found.steps.size());
  const std::string who = listed_or(labels), which = numbers_text(steps, found.steps);
  if (only_it) {
    return say_n(count, "Without {1} you can still do step {2}, then only {1} is left to put on.",
                 "Without {1} you can still do steps {2}, then only {1} is left to put on.", who, which);
  }
  return found.then_needed ? say_n(count, "Without {1} you can still do step {2}, then you need it.",
                                   "Without {1} you can still do steps {2}, then you need it.", who, which)
                           : say_n(count, "Without {1} you can still do step {2}.",
                                   "Without {1} you can still do steps {2}.", who, which);
}

/// False when the work was ended.
bool add_missing(const LoadedFrame& loaded, const Finding& finding, const std::vector<Step>& steps, Working* working,
                 Deck& deck) {
  planner::GoOn go_on(loaded.frame, loaded.contacts, steps);
  if (finding.turned) go_on.judge_on(finding.turned->frame, finding.turned->contacts);
  const auto brought = brought_by_steps(loaded, steps);
  for (std::size_t k = 0; k < steps.size(); ++k) {
    if (!planner::may_go_on(working, static_cast<long long>(k), static_cast<long long>(steps.size()))) return false;
    // Parts without which the same can be done share a sentence.
    struct Told {
      planner::WithoutIt found;
      bool only_it = false;
      std::vector<std::string> labels;
    };
    std::vector<Told> told;
    for (const planner::NamedPart& part : brought[k]) {
      planner::WithoutIt found = go_on.without(k, part.contacts);
      if (found.steps.empty()) continue;
      const bool only_it = only_it_left(part, found, steps, k);
      const auto same = std::find_if(told.begin(), told.end(), [&](const Told& one) {
        return one.found.steps == found.steps && one.found.then_needed == found.then_needed && one.only_it == only_it;
      });
      if (same != told.end()) {
        same->labels.push_back(part.label);
      } else {
        told.push_back({std::move(found), only_it, {part.label}});
      }
    }
    for (const Told& one : told) {
      deck.cards[k].missing.push_back(without_text(one.labels, one.found, one.only_it, steps));
    }
  }
  return true;
}

}  // namespace

void add_asides(const LoadedFrame& loaded, const Finding& finding, const OrderPlan& plan, Working* working,
                Deck& deck) {
  const std::vector<Step>& steps = plan.best.order.steps;
  if (!plan.priced || steps.empty() || steps.size() > kMostSteps) return;
  const LoadedFrame stands = as_built(loaded, finding);
  add_stops(stands, plan, deck);
  deck.safety.push_back(say("You can stop for the night after any step whose card doesn't say otherwise."));
  static_cast<void>(add_missing(stands, finding, steps, working, deck));
}

}  // namespace dryfit::cli
