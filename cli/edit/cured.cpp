#include "cli/edit/cured.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "cli/io/usage_error.hpp"
#include "cli/words/say.hpp"
#include "model/editing/carried_over.hpp"
#include "model/editing/edit.hpp"
#include "model/editing/grow.hpp"
#include "model/editing/outline.hpp"
#include "model/text/typed_length.hpp"
#include "planner/cure/cure_named.hpp"

namespace dryfit::cli {
namespace {

constexpr const char* kLetGo = "let-go ";
constexpr double kSamePlace = 0.01;  ///< mm

/// The planner's names for what is new ("P4-E") become those that parts get when they are put on.
void name_what_is_new(const model::Frame& before, const model::Frame& after, EditMade& made) {
  std::set<std::string> taken = names_taken(before), seen;
  for (const model::Part& part : after.parts) {
    if (taken.contains(part.label) || !seen.insert(part.label).second) continue;
    const std::string id = new_name(taken, beginning_for(model::word_for(part.kind)));
    made.text = model::with_name(made.text, part.label, id);
    made.added.push_back(id);
  }
  for (const model::Run& run : after.runs) {
    const auto known = [&](const model::Run& one) { return one.id == run.id; };
    if (std::any_of(before.runs.begin(), before.runs.end(), known)) continue;
    const model::Part& first = after.part(run.parts.front());
    const bool goes = first.ports.size() > 1;
    made.text =
        model::with_name(made.text, run.id, run_named(&before, run_word(goes ? first.ports[1].facing : model::kRight)));
  }
}

/// Both texts say the same frame: no part lies elsewhere.
bool same_frame(const model::Frame& one, const model::Frame& other) {
  if (one.parts.size() != other.parts.size()) return false;
  for (const model::Part& part : one.parts) {
    const model::PartId there = other.find(part.id);
    if (there == model::kNone || norm(other.part(there).centre - part.centre) > kSamePlace) return false;
  }
  return true;
}

/// Threads that are shared no file can say: the pipe is drawn back, and its line says what it comes to.
std::string with_sharing_told(const std::string& text, const model::Frame& frame, const planner::CureChange& change) {
  const model::Written root = model::outline_of(text);
  const model::Written& part = *model::part_written(root, change.part).part;
  const std::size_t line = model::line_begin(text, part.at.to);
  const std::size_t end = std::min(text.find_first_of("\r\n", part.at.to), text.size());
  if (text.find('#', line) < end || root.find("runs")->flow) return text;
  return model::put_in(
      text, end,
      fmt::format("   # cut to {}; when {} is on, back it out into {}: {:.1f} turns in each",
                  model::typed_length(change.first, frame.units), change.fitting, change.fitting, change.turns));
}

std::string placed_by_another(const std::string& text, const std::string& run) {
  const model::Written root = model::outline_of(text);
  if (model::run_written(root, run).find("at") == nullptr) {
    throw UsageError(say("--cure let-go {}: that run says no `at`", run));
  }
  return model::with_run_key_out(text, run, "at");
}

}  // namespace

EditMade cure_made(const std::string& text, const std::string& name, const std::string& given) {
  if (given.starts_with(kLetGo)) return {placed_by_another(text, given.substr(std::string(kLetGo).size())), {}, {}};
  const LoadedFrame loaded = loaded_from(text, name);
  const auto asked = planner::change_named(loaded.frame, given);
  if (!asked) {
    throw UsageError(
        say("--cure {}: expected a change as `check --json` names it, as \"notch S1 back P3\" or "
            "\"flange P4 end floor\"",
            given));
  }
  const auto changed = planner::edited(loaded.frame, text, *asked);
  if (!changed) throw UsageError(say("--cure {}: that cannot be made there", given));
  EditMade made;
  made.text = model::with_changes_of(text, changed->text, loaded.frame.units);
  const LoadedFrame planned = loaded_from(changed->text, name);
  const auto after = read_if_sound(made.text, name);
  if (!after || !same_frame(planned.frame, after->frame)) {
    throw UsageError(say("--cure {}: what it changes is written in a way that only you can change", given));
  }
  if (asked->kind == planner::CureKind::share) made.text = with_sharing_told(made.text, loaded.frame, changed->change);
  name_what_is_new(loaded.frame, after->frame, made);
  return made;
}

}  // namespace dryfit::cli
