#pragma once
/// The fit of a frame in words and in JSON, for every command that tells it.
#include <string>
#include <vector>

#include "cli/json/json_answer.hpp"
#include "cli/sentences/step_text.hpp"
#include "cli/words/lengths.hpp"
#include "planner/cure/closure_cure.hpp"
#include "planner/fit/confidence.hpp"
#include "planner/fit/fit.hpp"

namespace dryfit::cli {

/// `closures` of a document: between, gap, state, turns, stock that would close it.
[[nodiscard]] Json closures_json(const model::Frame& frame, const planner::Fit& fit);
/// `levels`, the same for boards and legs, with slopes.
[[nodiscard]] Json levels_json(const model::Frame& frame, const planner::Fit& fit);
/// Turns as [{"contact", "turns"}].
[[nodiscard]] Json turns_json(const model::Frame& frame, const std::vector<planner::JointTurn>& turns);

/// "exactly as made up", "by turning: ...".
[[nodiscard]] std::string closes_in_words(planner::FitState state);
/// "P4 another 1/2 turn into T1 and P9 1 turn back out of C2".
/// With `most` above 0 about that many, then "and 7 more".
[[nodiscard]] std::string turns_text(const model::Frame& frame, const std::vector<planner::JointTurn>& turns,
                                     std::size_t most = 0);
/// The words of the steps, with a caution where a joint is to be turned more or less than it is made up, so that the
/// whole frame fits. `lies` as in words_for.
[[nodiscard]] std::vector<StepWords> words_with_turns(const model::Frame& frame, const planner::ContactList& list,
                                                      const planner::Fit& fit, const std::vector<planner::Step>& steps,
                                                      const std::vector<model::Attitude>& lies = {});
/// What ends a number that rests on table rows from memory: "*", or "".
[[nodiscard]] const char* memory_mark(bool from_memory);
/// What is worth measuring: "3/4 in coupling: length".
[[nodiscard]] std::vector<std::string> measure_texts(const model::Frame& frame);
/// The footnote to it, as whole lines: what the mark means and which fittings to measure; "" when the frame has none.
[[nodiscard]] std::string memory_footnote(const model::Frame& frame);
[[nodiscard]] std::string memory_footnote(const std::vector<planner::WorthMeasuring>& worth);
/// What else has to be said about a fit: turns that are not proven the fewest, the leg to buy a spare nipple for.
/// Whole sentences.
[[nodiscard]] std::vector<std::string> fit_remarks(const model::Frame& frame, const planner::Fit& fit);
/// All closures that are not exact, each open one with what would close it, and which pipe is likely wrong; the same
/// cures are told once.
[[nodiscard]] std::string closures_text(const model::Frame& frame, const planner::Fit& fit,
                                        const std::vector<planner::ClosureCure>& cures, const Lengths& lengths);
/// Adds `closure_cures` and `likely_wrong` to a document, as far as there are any.
void add_closing(Json& document, const model::Frame& frame, const planner::Fit& fit,
                 const std::vector<planner::ClosureCure>& cures);
/// One paragraph for a closure that is not exact, without cures; lines end with a newline.
[[nodiscard]] std::string closure_text(const model::Frame& frame, const planner::ClosureFit& closure,
                                       const Lengths& lengths);
[[nodiscard]] std::string level_text(const model::Frame& frame, const planner::LevelFit& level, const Lengths& lengths);
/// All of them; those that are level as drawn in one paragraph.
[[nodiscard]] std::string levels_text(const model::Frame& frame, const std::vector<planner::LevelFit>& levels,
                                      const Lengths& lengths);

}  // namespace dryfit::cli
