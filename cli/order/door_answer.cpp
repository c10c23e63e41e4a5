#include "cli/order/door_answer.hpp"

#include <utility>

#include "cli/check/as_built.hpp"
#include "cli/io/working.hpp"
#include "cli/order/given_state.hpp"
#include "cli/order/now_words.hpp"
#include "cli/order/opening.hpp"
#include "cli/words/say.hpp"
#include "model/geometry/at.hpp"
#include "planner/order/order.hpp"

namespace dryfit::cli {
namespace {

/// The moves of an answer, down or up, on the frame as it stands after the turns of its fit.
std::optional<planner::StruckOut> refused_as_turned(const Placed& turned, const DoorAnswer& answer) {
  std::vector<char> made = answer.built;
  return planner::judged(turned.frame, turned.contacts, made, answer.undo(), answer.steps());
}

void search_door(DoorAnswer& answer, const model::Frame& frame, const planner::ContactList& list,
                 const planner::NowOptions& options) {
  if (answer.down) {
    answer.apart = planner::take_down(frame, list, answer.built, answer.opening, options);
  } else {
    answer.carry = planner::carry(frame, list, answer.built, *answer.opening, options);
    std::vector<char> kept(list.contacts.size(), 0);
    for (const planner::ContactId c : answer.carry.kept) kept[at(c)] = 1;
    answer.made_before = a_way_to_make(frame, list, kept);
  }
}

}  // namespace

DoorAnswer door_answer(const LoadedFrame& loaded, const Finding& finding, const DoorAsked& asked,
                       const std::string& built, int people, const Streams& streams) {
  DoorAnswer answer;
  answer.down = asked.down;
  if (!asked.carry.empty()) answer.opening = opening_said(asked.carry, loaded.frame.units);
  planner::NowOptions options;
  for (const planner::Step& step : finding.order.steps) options.order.push_back(step.contacts);
  options.people = people;
  options.foreman = streams.working;
  answer.built.assign(loaded.contacts.contacts.size(), static_cast<char>(asked.down ? 1 : 0));
  answer.from_built = !built.empty();
  if (answer.from_built) answer.built = given_state(as_built(loaded, finding), built, options.order, streams);
  const LongWork work(streams.working, marked("looking for the way through the door"), marked("tried"), true);
  const Placed* turned = finding.turned.get();
  planner::ContactList list = loaded.contacts;
  // Each round strikes out more than the last, so the rounds end; where nothing is built as drawn, the frame as it
  // stands after the turns of the fit is searched instead.
  while (turned == nullptr || planner::find_order(loaded.frame, list).buildable) {
    search_door(answer, loaded.frame, list, options);
    const auto refused = turned == nullptr ? std::nullopt : refused_as_turned(*turned, answer);
    if (!refused) return answer;
    list.struck_out.push_back(*refused);
  }
  search_door(answer, turned->frame, turned->contacts, options);
  count_as_made_up(loaded.frame, loaded.contacts, answer.carry.before);
  count_as_made_up(loaded.frame, loaded.contacts, answer.carry.on_spot);
  return answer;
}

}  // namespace dryfit::cli
