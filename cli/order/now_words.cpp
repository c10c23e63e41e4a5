#include "cli/order/now_words.hpp"

#include <fmt/ostream.h>
#include <fmt/ranges.h>

#include <cmath>
#include <nlohmann/json.hpp>
#include <ostream>
#include <set>

#include "cli/order/step_json.hpp"
#include "cli/sentences/alike_steps.hpp"
#include "cli/sentences/undo_text.hpp"
#include "cli/words/say.hpp"
#include "cli/words/search_end.hpp"
#include "cli/words/words.hpp"
#include "planner/moves/moves.hpp"
#include "planner/order/steps.hpp"
#include "planner/peel/peel.hpp"

namespace dryfit::cli {
namespace {

/// Efforts that differ by less are one, seconds.
constexpr double kSame = 1e-6;

}  // namespace

std::vector<planner::Step> a_way_to_make(const model::Frame& frame, const planner::ContactList& list,
                                         const std::vector<char>& made) {
  planner::Undoer undoer(frame, list);
  planner::State state(list, made);
  return planner::steps_of(frame, list, planner::peel(undoer, state).moves);
}

std::vector<StepWords> words_from_here(const LoadedFrame& loaded, const Finding& finding,
                                       const std::vector<planner::Step>& made_before,
                                       const std::vector<planner::Step>& steps) {
  std::vector<planner::Step> all = made_before;
  all.insert(all.end(), steps.begin(), steps.end());
  std::vector<StepWords> words = words_with_turns(loaded.frame, loaded.contacts, finding.fit, all);
  words.erase(words.begin(), words.begin() + static_cast<std::ptrdiff_t>(made_before.size()));
  return words;
}

void print_some(const model::Frame& frame, const std::vector<StepWords>& words, std::size_t from, std::size_t to,
                std::ostream& out) {
  std::set<std::string> cautioned;
  std::vector<ToldStep> told;
  for (std::size_t i = from; i < to; ++i)
    told.push_back({{}, words[i].text + fmt::format(" {}", fmt::join(words[i].cautions, " "))});
  const std::vector<AlikeSteps> alike = alike_steps(frame, told);
  auto run = alike.begin();
  for (std::size_t i = from; i < to; ++i) {
    if (run != alike.end() && run->first == i - from) {
      i += run->count - 1;
      fmt::print(out, "{}\n", alike_line(*run, static_cast<int>(from) + 1, 2));
      ++run;
      continue;
    }
    fmt::print(out, "  {:>2}. {}\n", i + 1, wrapped(words[i].text, 6));
    for (const std::string& caution : words[i].cautions) {
      if (cautioned.insert(caution).second) fmt::print(out, "      ! {}\n", wrapped(caution, 8));  // once is enough
    }
  }
}

bool is_exact(const planner::Bounded& bounds) { return bounds.at_most - bounds.at_least <= kSame; }

Json whole(double number) { return static_cast<long long>(std::llround(number)); }

std::string undo_total(const planner::Bounded& moves) {
  const long long most = std::llround(moves.at_most);
  if (is_exact(moves)) return say_n(most, "{} step, and no way takes fewer", "{} steps, and no way takes fewer");
  return say_n(most, "{0} step at most, at least {1}", "{0} steps at most, at least {1}",
               static_cast<long long>(std::llround(moves.at_least)));
}

void print_effort(const planner::Bounded& effort, std::ostream& out) {
  const std::string most = decimal(effort.at_most, 0), least = decimal(effort.at_least, 0);
  if (is_exact(effort) || most == least) return;
  out << '\n'
      << wrapped(say("There may be an easier way. Effort score {0} (for comparing, not a time); no way scores lower "
                     "than {1}.",
                     most, least),
                 0)
      << '\n';
}

Json effort_json(const planner::Bounded& effort, long long states) {
  return {{"value", rounded(effort.at_most)},
          {"lower_bound", rounded(effort.at_least)},
          {"proven", is_exact(effort)},
          {"ended_by", word_for(is_exact(effort) ? SearchEnd::proof : SearchEnd::moves)},
          {"states", states}};
}

Json undo_json(const LoadedFrame& loaded, const std::vector<planner::Move>& undo, const std::vector<char>& built) {
  Json json = Json::array();
  const std::vector<StepWords> words = undo_words(loaded.frame, loaded.contacts, undo, built);
  for (std::size_t i = 0; i < undo.size(); ++i) {
    const planner::Step step = undo_step(loaded.frame, undo[i], static_cast<int>(i) + 1);
    json.push_back(step_json(loaded.frame, loaded.contacts, step, words[i]));
  }
  return json;
}

}  // namespace dryfit::cli
