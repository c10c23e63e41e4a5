#include "cli/early/hair_report.hpp"

#include <fmt/ostream.h>

#include <nlohmann/json.hpp>
#include <optional>
#include <ostream>

#include "cli/sentences/closed_out_text.hpp"
#include "cli/words/lengths.hpp"
#include "cli/words/say.hpp"
#include "cli/words/words.hpp"

namespace dryfit::cli {
namespace {

using planner::LastCall;

std::string why(const model::Frame& frame, const planner::ContactList& list, const LastCall& call) {
  return call.step == 0 ? std::string() : closed_out_text(frame, list, call.stuck, call.why);
}

Json call_json(const model::Frame& frame, const planner::ContactList& list, const std::optional<LastCall>& call) {
  if (!call) return nullptr;
  return {{"last_call_step", call->step == 0 ? Json(nullptr) : Json(call->step)},
          {"closed_out_by", contact_ids(list, call->closed_out_by)},
          {"trap", call->trap},
          {"why", why(frame, list, *call)}};
}

std::string less_text(const model::Frame& frame, const planner::ContactList& list, const planner::EarlyPart& early,
                      const std::string& hair) {
  const LastCall& call = *early.hair.less;
  if (call.step == 0) return say("With {0} less room {1} can wait.", hair, early.part.label);
  const std::string by = contacts_text(frame, list, call.closed_out_by, 3);
  return say("With {0} less room put {1} on before step {2} ({3}): {4}.", hair, early.part.label, call.step, by,
             why(frame, list, call));
}

std::string more_text(const model::Frame& frame, const planner::ContactList& list, const planner::EarlyPart& early,
                      const std::string& hair) {
  const LastCall& call = *early.hair.more;
  const std::string now = why(frame, list, early.last_call);
  if (call.step == 0) return say("With {0} more room {1} can wait. As drawn, {2}.", hair, early.part.label, now);
  const std::string by = contacts_text(frame, list, call.closed_out_by, 3);
  return say("With {0} more room {1} can go on until step {2} ({3}). As drawn, {4}.", hair, early.part.label, call.step,
             by, now);
}

}  // namespace

Json hair_json(const model::Frame& frame, const planner::ContactList& list, const planner::EarlyPart& early) {
  if (!early.hair.any()) return nullptr;
  return {{"within_mm", rounded(planner::kHairOfRoom)},
          {"less_room", call_json(frame, list, early.hair.less)},
          {"more_room", call_json(frame, list, early.hair.more)}};
}

std::vector<std::string> hair_texts(const model::Frame& frame, const planner::ContactList& list,
                                    const planner::EarlyPart& early) {
  const std::string hair = hair_text(frame.units);
  std::vector<std::string> texts;
  if (early.hair.less) texts.push_back(less_text(frame, list, early, hair));
  if (early.hair.more) texts.push_back(more_text(frame, list, early, hair));
  return texts;
}

void print_hairs(const model::Frame& frame, const planner::ContactList& list,
                 const std::vector<planner::EarlyPart>& parts, bool whole, std::ostream& out) {
  std::vector<std::string> texts;
  for (const planner::EarlyPart& early : parts) {
    const bool trap_with_less = early.hair.less && early.hair.less->unnoticed();
    const bool trap_now = early.last_call.unnoticed() && early.price.at_most() > 0;
    if (!whole && !trap_with_less && !trap_now) continue;
    for (std::string& text : hair_texts(frame, list, early)) texts.push_back(std::move(text));
  }
  if (texts.empty()) return;
  out << '\n' << say("Too close to call. Measure first:") << '\n';
  for (const std::string& text : texts) fmt::print(out, "  {}\n", wrapped(text, 4));
}

}  // namespace dryfit::cli
