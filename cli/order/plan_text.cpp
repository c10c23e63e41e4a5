#include "cli/order/plan_text.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "cli/order/place_text.hpp"
#include "cli/order/ring_words.hpp"
#include "cli/sentences/closed_out_text.hpp"
#include "cli/sentences/lift_text.hpp"
#include "cli/words/lengths.hpp"
#include "cli/words/say.hpp"
#include "cli/words/told.hpp"
#include "cli/words/trade_words.hpp"
#include "cli/words/words.hpp"
#include "model/geometry/at.hpp"
#include "model/text/length.hpp"
#include "planner/base/disjoint_sets.hpp"

namespace dryfit::cli {
namespace {

using planner::Pose;

std::string score_text(double effort) { return decimal(effort, effort < 10.0 ? 1 : 0); }

/// "12 s for starting a piece apart and 5 s for carrying"; "" when it is nothing worth telling.
std::string extra_text(const planner::WhyNow& why) {
  const planner::Extra& extra = why.extra;
  std::vector<std::string> shares;
  const auto share = [&](double value, const char* what) {
    if (value >= 0.05) shares.push_back(fmt::format(fmt::runtime(translated({}, what)), decimal(value, 1)));
  };
  share(extra.start, marked("{} for starting a separate piece"));
  share(extra.carry, marked("{} for lifting what is already made up"));
  share(extra.swing, marked("{} for swinging it round"));
  share(extra.air, marked("{} for lining up a fitting in the air"));
  share(extra.hole, marked("{} for turning a pipe in the hole of a board"));
  share(extra.strap, marked("{} for tying down a loose board first"));
  share(extra.room, marked("{} for working on what is already screwed to floor or wall"));
  share(extra.aside, marked("{} for holding a board clear of the screwdriver"));
  share(extra.heavy, marked("{} for lifting something heavy onto what is not screwed down yet"));
  share(why.awkward, marked("{} for reaching underneath, or for moving a board on edge or uphill"));
  share(why.prop, marked("{} for a prop or a second pair of hands"));
  return shares.empty() ? "" : listed(shares);
}

/// Said beside the step's own words to one who works alone; "" where one person may lift it.
std::string alone_text(const OrderPlan& plan, std::size_t step) {
  if (plan.people > 1 || plan.best.order.steps[step].lift.people < 2) return "";
  return plan.best.effort.proven ? say("No order avoids this lift. Don't do it alone.")
                                 : say("This order doesn't avoid the lift. Don't do it alone.");
}

/// What lies, lies on that side.
std::string lying_on(const model::Attitude& lies) {
  if (lies.up == model::kBack) return say_in("how the work lies", "on its back");
  if (lies.up == model::kFront) return say_in("how the work lies", "on its front");
  return lies.up == model::kLeft ? say_in("how the work lies", "on its left side")
                                 : say_in("how the work lies", "on its right side");
}

/// What is laid down, is laid on that side.
std::string laid_on(const model::Attitude& lies) {
  if (lies.up == model::kBack) return say_in("how the work is laid", "on its back");
  if (lies.up == model::kFront) return say_in("how the work is laid", "on its front");
  return lies.up == model::kLeft ? say_in("how the work is laid", "on its left side")
                                 : say_in("how the work is laid", "on its right side");
}

/// The piece that is still apart and is turned; nullptr where it is the main work.
const planner::Subassembly* piece_turned(const OrderPlan& plan, const planner::Turning& turning) {
  for (const planner::Subassembly& piece : plan.grouping.pieces) {
    if (piece.joined_in >= turning.before_step &&
        std::includes(piece.parts.begin(), piece.parts.end(), turning.parts.begin(), turning.parts.end())) {
      return &piece;
    }
  }
  return nullptr;
}

/// The main work; by its parts where the frame falls into several that nothing joins.
std::string main_work(const model::Frame& frame, const OrderPlan& plan, const planner::Turning& turning) {
  if (plan.grouping.works.empty()) return "";
  return listed_briefly(labels_of(frame, turning.parts), 5);
}

/// What is turned, and into which pose.
std::string turned_text(const model::Frame& frame, const OrderPlan& plan, const planner::Turning& turning,
                        const std::string& mass) {
  const model::Attitude lies = plan.lies.of(turning.to);
  if (const planner::Subassembly* piece = piece_turned(plan, turning); piece != nullptr) {
    if (lies.up == model::kUp) return say("Stand piece {0} up, {1}", piece->name, mass);
    if (lies.up == model::kDown) return say("Turn piece {0} upside down, {1}", piece->name, mass);
    return say("Lay piece {0} {1}, {2}", piece->name, laid_on(lies), mass);
  }
  if (const std::string what = main_work(frame, plan, turning); !what.empty()) {
    if (lies.up == model::kUp) return say("Stand {0} up, {1}", what, mass);
    if (lies.up == model::kDown) return say("Turn {0} upside down, {1}", what, mass);
    return say("Lay {0} {1}, {2}", what, laid_on(lies), mass);
  }
  if (lies.up == model::kUp) return say("Stand the assembly up, {}", mass);
  if (lies.up == model::kDown) return say("Turn the assembly upside down, {}", mass);
  return say("Lay the assembly {0}, {1}", laid_on(lies), mass);
}

/// Which way up, left, right, front and back go from now on.
std::string now_points_text(const model::Attitude& lies) {
  if (lies.up == model::kDown) return say("Up is now toward its feet.");
  if (lies.up == model::kBack) return say("Up is now toward its front, and its top points away from you.");
  if (lies.up == model::kFront) return say("Up is now toward its back, and its top points toward you.");
  if (lies.up == model::kLeft) return say("Up is now toward its right side, and its top points to the left.");
  return lies.up == model::kRight ? say("Up is now toward its left side, and its top points to the right.") : "";
}

bool rolls(const model::Frame& frame, const std::vector<model::PartId>& parts) {
  return std::any_of(parts.begin(), parts.end(),
                     [&](model::PartId part) { return frame.part(part).kind == model::PartKind::caster; });
}

/// In which pose the main work begins.
std::string begins_text(const model::Attitude& lies) {
  if (lies.up == model::kUp) return say("Build this standing, as it stands when finished.");
  if (lies.up == model::kDown) return say("Build this upside down.") + " " + now_points_text(lies);
  return say("Build this lying {} on the floor or bench.", lying_on(lies)) + " " + now_points_text(lies);
}

}  // namespace

std::string pose_words(const model::Attitude& lies) {
  if (lies.up == model::kUp) return say_in("how the work lies", "standing");
  if (lies.up == model::kDown) return say_in("how the work lies", "upside down");
  return lying_on(lies);
}

std::string turning_text(const model::Frame& frame, const OrderPlan& plan, const planner::Turning& turning) {
  const bool floor = planner::surface_facing(frame, model::kUp) != nullptr;
  const std::string mass = weight(turning.lift.mass, frame.units);
  const bool two = turning.lift.people > 1;
  if (turning.to == Pose::standing && !floor) {
    if (const planner::Subassembly* piece = piece_turned(plan, turning); piece != nullptr) {
      return two ? say("Carry piece {0} to its place ({1}, {2}), and hold or prop it there until it is screwed on.",
                       piece->name, mass, people_text(turning.lift.people))
                 : say("Carry piece {0} to its place ({1}), and hold or prop it there until it is screwed on.",
                       piece->name, mass);
    }
    if (const std::string what = main_work(frame, plan, turning); !what.empty()) {
      return two ? say("Carry {0} to their place ({1}, {2}), and hold or prop them there until they are screwed on.",
                       what, mass, people_text(turning.lift.people))
                 : say("Carry {0} to their place ({1}), and hold or prop them there until they are screwed on.", what,
                       mass);
    }
    return two ? say("Carry the assembly to its place ({0}, {1}), and hold or prop it there until it is screwed on.",
                     mass, people_text(turning.lift.people))
               : say("Carry the assembly to its place ({}), and hold or prop it there until it is screwed on.", mass);
  }
  std::string text = turned_text(frame, plan, turning, mass);
  constexpr double kCoarse = model::kMmPerInch / 16.0;  // more than rounding up adds
  std::vector<std::string> takes;
  if (turning.tilt.room_height) {
    // Where it only just passes, a rounded number would say that it does not.
    const bool tight = turning.tilt.fits && turning.tilt.diagonal + kCoarse > *turning.tilt.room_height;
    takes.push_back(say(
        "{0} of headroom (room: {1})",
        tight ? length_text(turning.tilt.diagonal, frame.units) : rounded_up_text(turning.tilt.diagonal, frame.units),
        length_text(*turning.tilt.room_height, frame.units)));
  } else if (turning.lift.mass > planner::effort_rates().in_one_hand) {
    takes.push_back(say("{} of headroom", rounded_up_text(turning.tilt.diagonal, frame.units)));
  }
  if (two) takes.push_back(people_text(turning.lift.people));
  if (!takes.empty()) text = say("{0}. That takes {1}", text, listed(takes));
  if (!turning.tilt.fits) {
    text = say("{0}. IT WOULD HIT THE {1}: build it standing from here on, or somewhere else", text,
               surface_word(turning.tilt.obstacle));
  }
  text += ".";
  if (turning.to == Pose::standing && rolls(frame, turning.parts)) text += " " + say("Lock the casters first.");
  if (const std::string now = now_points_text(plan.lies.of(turning.to)); !now.empty()) text += " " + now;
  if (!turning.pipes.empty()) {
    const std::vector<std::string> pipes = labels_of(frame, turning.pipes);
    text +=
        " " + (pipes.size() == 1
                   ? say("Only a board holds {}: keep it in there while you turn, or it slips out.", pipes.front())
                   : say("Only a board holds {}: keep them in there while you turn, or they slip out.", listed(pipes)));
  }
  if (!turning.loose.empty()) {
    const std::vector<std::string> loose = labels_of(frame, turning.loose);
    text +=
        " " + (loose.size() == 1 ? say("{} is loose on its pipes: hold it while you turn, then let it down to where "
                                       "it rests.",
                                       loose.front())
                                 : say("{} are loose on their pipes: hold them while you turn, then let them down "
                                       "to where they rest.",
                                       listed(loose)));
  }
  return text;
}

std::string way_in_text(const model::Frame& frame, const OrderPlan& plan, const planner::WayIn& way) {
  std::vector<std::string> surfaces, flanges;
  for (const std::string& id : way.surfaces) surfaces.push_back(surface_word(id));
  const std::string between = listed(surfaces);
  if (way.upright && plan.standing.headroom_missing > 0.0) {
    return say(
        "Warning: the frame can't get in between {0}. Tilted up it hits, and standing, one joint needs "
        "{1} more headroom than there is. Make the frame that much shorter, or put a union into the post.",
        between, rounded_up_text(plan.standing.headroom_missing, frame.units));
  }
  const planner::Give* one = nullptr;
  for (const std::vector<planner::Give>& end : way.ends) {
    for (const planner::Give& give : end) {
      one = &give;
      flanges.push_back(fmt::format("{} {}", name_of(frame, give.flange), turns_in_words(give.turns)));
    }
  }
  if (one == nullptr) {
    return say(
        "Warning: the frame is screwed to {}, and no flange can be screwed further in to let it pass. "
        "Stand it up before the last flange goes on.",
        between);
  }
  const std::string gives = length_text(way.gives(), frame.units);
  if (flanges.size() == 1) {
    return say(
        "To get it in between {0}, screw flange {1} {2} further in ({3} shorter). Stand the frame in its "
        "place, then back the flange off against the surface.",
        between, name_of(frame, one->flange), turns_in_words(one->turns), gives);
  }
  return say(
      "To get it in between {0}, screw these flanges further in ({1} shorter in all): {2}. Stand the "
      "frame in its place, then back them off against the surfaces.",
      between, gives, listed(flanges));
}

std::vector<std::string> why_sentences(const model::Frame& frame, const planner::ContactList& list,
                                       const OrderPlan& plan, std::size_t step) {
  std::vector<std::string> text;
  const planner::WhyNow& why = plan.why[step];
  const auto names = [&](const std::vector<planner::ContactId>& contacts) {
    return contacts_text(frame, list, contacts, 4);
  };
  if (why.shut_out_by != 0) {
    const planner::Step& later = plan.best.order.steps[static_cast<std::size_t>(why.shut_out_by) - 1];
    text.push_back(
        say("Why now: after step {0} ({1}) it can't be done any more.", why.shut_out_by, names(later.contacts)));
  } else if (!why.heavy.empty()) {
    const std::string boards = listed(labels_of(frame, why.heavy));
    const bool puts_on = plan.best.order.steps[step].action != planner::Action::fasten;
    text.push_back(
        puts_on ? say("Why now: {} takes more than one person to lift, so it waits until what carries it is screwed "
                      "to floor or wall.",
                      boards)
                : say("Why now: {} takes more than one person to lift. It goes on after this, when what carries it is "
                      "screwed to floor or wall.",
                      boards));
  } else {
    text.push_back(say("Why now: no later step locks it out. Done here, it saves walking and turning."));
  }
  if (const std::string costs = extra_text(why); !costs.empty())
    text.push_back(say("It adds to the effort score: {}.", costs));
  if (why.weighed) {
    text.push_back(why.runner_up > 0.05
                       ? say("With {0} here instead, the effort score would be higher by at least {1}.",
                             names(why.instead), decimal(why.runner_up, 1))
                       : say("With {} here instead, nothing would be saved.", names(why.instead)));
  }
  return text;
}

std::string chores_text(const std::string& heading, const std::vector<planner::ChoreLine>& chores, model::Units units) {
  if (chores.empty()) return "";
  std::string text = fmt::format("{}:\n", heading);
  for (std::size_t i = 0; i < chores.size(); ++i) {
    text += fmt::format("  {}. {}\n", i + 1, wrapped(told(chores[i].text, units), 5));
    for (const std::string& caution : told(chores[i].cautions, units))
      text += fmt::format("     ! {}\n", wrapped(caution, 7));
  }
  return text + "\n";
}

namespace {

/// Ways in between facing surfaces that are told before the step: where it is the first that screws its piece to the
/// room, those of the flanges that are on the piece; and where one lacks the headroom, all of them there.
std::vector<planner::WayIn> ways_in_at(const model::Frame& frame, const planner::ContactList& list,
                                       const OrderPlan& plan, std::size_t step) {
  const planner::Step& now = plan.best.order.steps[step];
  if (plan.standing.headroom_missing > 0.0) {
    return now.number == plan.standing.no_headroom_step ? plan.standing.ways_in : std::vector<planner::WayIn>{};
  }
  std::vector<planner::WayIn> told;
  if (plan.standing.ways_in.empty() || now.action != planner::Action::fasten ||
      list.contact(now.contacts.front()).b != model::kRoom) {
    return told;
  }
  planner::DisjointSets pieces(list.at.size());  // as they are before the step, without the room
  for (std::size_t i = 0; i < step; ++i) {
    for (const planner::ContactId c : plan.best.order.steps[i].contacts) {
      const planner::Contact& made = list.contact(c);
      if (made.b != model::kRoom) pieces.join(list.vertex(made.a), list.vertex(made.b));
    }
  }
  const model::PartId here = list.contact(now.contacts.front()).a;
  const auto on_piece = [&](model::PartId p) { return pieces.together(list.vertex(p), list.vertex(here)); };
  for (std::size_t i = 0; i < step; ++i) {
    const planner::Contact& made = list.contact(plan.best.order.steps[i].contacts.front());
    if (made.b == model::kRoom && on_piece(made.a)) return told;  // it is in its place already
  }
  for (planner::WayIn way : plan.standing.ways_in) {
    const auto reaches = [&](const std::string& surface) {
      return std::any_of(frame.fastenings.begin(), frame.fastenings.end(), [&](const model::Fastening& f) {
        return f.surface != model::kNone && frame.surface(f.surface).id == surface && on_piece(f.part);
      });
    };
    if (!std::all_of(way.surfaces.begin(), way.surfaces.end(), reaches)) continue;
    for (std::vector<planner::Give>& end : way.ends) {
      std::erase_if(end, [&](const planner::Give& give) { return !on_piece(give.flange); });
    }
    told.push_back(std::move(way));
  }
  return told;
}

/// What heads the steps of a piece that is made by itself, where they begin or go on.
std::string piece_heading(const model::Frame& frame, const planner::ContactList& list, const OrderPlan& plan,
                          std::size_t step) {
  const std::vector<int>& of_step = plan.grouping.of_step;
  const int piece = of_step[step];
  const planner::Subassembly& what = plan.grouping.pieces[at(piece)];
  if (std::find(of_step.begin(), of_step.begin() + static_cast<std::ptrdiff_t>(step), piece) !=
      of_step.begin() + static_cast<std::ptrdiff_t>(step)) {
    return say("Back to piece {}:", what.name);
  }
  bool stands = false;  // a post that is screwed to the floor is not carried to where it joins the rest
  for (std::size_t i = step; i < of_step.size(); ++i) {
    const planner::Step& one = plan.best.order.steps[i];
    if (of_step[i] == piece && one.action == planner::Action::fasten) {
      stands |= list.contacts[at(one.contacts.front())].b == model::kRoom;
    }
  }
  const std::string parts = listed(labels_of(frame, what.parts));
  return stands
             ? say("Piece {0}, put up by itself and joined on in step {1}: {2}.", what.name, what.joined_in, parts)
             : say("Piece {0}, made up separately and joined on in step {1}: {2}.", what.name, what.joined_in, parts);
}

/// What heads the steps of a further work that nothing ever joins to those before; "" elsewhere.
std::string next_work(const model::Frame& frame, const planner::ContactList& list, const OrderPlan& plan,
                      std::size_t step) {
  const auto work_of = [&](std::size_t i) {
    const model::PartId part = list.contact(plan.best.order.steps[i].contacts.front()).a;
    const auto& works = plan.grouping.works;
    return std::find_if(works.begin(), works.end(), [&](const std::vector<model::PartId>& parts) {
      return std::binary_search(parts.begin(), parts.end(), part);
    });
  };
  const auto work = work_of(step);
  if (step == 0 || work == plan.grouping.works.end()) return "";
  for (std::size_t i = 0; i < step; ++i) {
    if (work_of(i) == work) return "";
  }
  return say("Next, what stands by itself: {}.", listed_briefly(labels_of(frame, *work), 8));
}

}  // namespace

std::string before_step_text(const model::Frame& frame, const planner::ContactList& list, const OrderPlan& plan,
                             std::size_t step) {
  std::string text;
  const planner::Step& now = plan.best.order.steps[step];
  const auto drill = std::find_if(plan.chores.at_step.begin(), plan.chores.at_step.end(),
                                  [&](const auto& chore) { return chore.first == now.number; });
  const auto drilled = [&] {
    if (drill == plan.chores.at_step.end()) return;
    text += fmt::format("  > {}\n", wrapped(told(drill->second.text, frame.units), 4));
    for (const std::string& caution : told(drill->second.cautions, frame.units)) {
      text += fmt::format("  ! {}\n", wrapped(caution, 4));
    }
  };
  if (!plan.priced) {
    drilled();
    return text;
  }
  for (const planner::WayIn& way : ways_in_at(frame, list, plan, step)) {
    text += fmt::format("  ! {}\n", wrapped(way_in_text(frame, plan, way), 4));
  }
  for (const planner::Turning& turning : plan.standing.turnings) {
    if (turning.before_step == now.number)
      text += fmt::format("  > {}\n", wrapped(turning_text(frame, plan, turning), 4));
  }
  if (std::find(plan.level_before.begin(), plan.level_before.end(), now.number) != plan.level_before.end()) {
    text += fmt::format(
        "  > {}\n",
        wrapped(
            say("Check level and plumb now: where it is off, tighten or back off a joint a little. Once it is screwed "
                "down you can only shim."),
            4));
  }
  if (const std::string next = next_work(frame, list, plan, step); !next.empty()) {
    text += fmt::format("  {}\n", wrapped(next, 4));
  }
  const int piece = plan.grouping.of_step[step];
  const int before = step == 0 ? -1 : plan.grouping.of_step[step - 1];
  const bool begins =
      std::find(plan.grouping.of_step.begin(), plan.grouping.of_step.begin() + static_cast<std::ptrdiff_t>(step), -1) ==
      plan.grouping.of_step.begin() + static_cast<std::ptrdiff_t>(step);
  if (piece != before) {
    if (piece < 0) {
      text += fmt::format("  {}\n", begins ? say("Main assembly:") : say("Back to the main assembly:"));
    } else {
      text += fmt::format("  {}\n", wrapped(piece_heading(frame, list, plan, step), 4));
    }
  }
  if (piece < 0 && begins) {
    text += fmt::format("  > {}\n", wrapped(begins_text(plan.lies.of(plan.standing.pose_of_step[step])), 4));
  }
  drilled();
  return text;
}

std::vector<std::string> under_step(const model::Frame& frame, const model::Frame& turned,
                                    const planner::ContactList& list, const OrderPlan& plan, std::size_t step) {
  std::vector<std::string> text;
  if (!plan.priced) return text;
  const planner::Step& now = plan.best.order.steps[step];
  if (std::string place = place_text(turned, list, plan.best.order.steps, step); !place.empty()) {
    text.push_back(std::move(place));
  }
  for (const planner::Subassembly& piece : plan.grouping.pieces) {
    if (piece.joined_in == now.number) text.push_back(say("This joins piece {} to the rest.", piece.name));
  }
  if (!stands_alone(plan, step)) {
    text.push_back(now.action == planner::Action::fasten
                       ? say("Hold it in place until the screws are in.")
                       : say("It doesn't stand by itself now. Prop it or have it held."));
  }
  for (const planner::Dip& dip : plan.standing.dips) {
    if (dip.step == now.number) {
      text.push_back(say(
          "What turns reaches {} below what the work stands on. Turn it past the edge of the bench, or raise the work.",
          length_text(dip.by, frame.units)));
    }
  }
  const std::vector<int>& on_loose = plan.standing.on_loose;
  if (std::binary_search(on_loose.begin(), on_loose.end(), now.number)) {
    const bool fastened = std::any_of(frame.fastenings.begin(), frame.fastenings.end(), [&](const model::Fastening& f) {
      return f.part == now.moving.front() || f.other == now.moving.front();
    });
    text.push_back(
        fastened
            ? say("What it rests on is loose. Chock it, so that it can't roll or fall until the board is fastened.")
            : say("What it rests on is loose. Chock it, so that it can't roll or fall."));
  }
  for (const planner::InRing& ring : plan.standing.in_rings) {
    if (ring.step == now.number) text.push_back(in_ring_text(frame, ring));
  }
  if (std::string alone = alone_text(plan, step); !alone.empty()) text.push_back(std::move(alone));
  if (!plan.why.empty()) {
    for (std::string& sentence : why_sentences(frame, list, plan, step)) text.push_back(std::move(sentence));
  }
  return text;
}

std::vector<std::string> turnings_at_end(const model::Frame& frame, const OrderPlan& plan) {
  std::vector<std::string> text;
  const int end = static_cast<int>(plan.best.order.steps.size()) + 1;
  for (const planner::Turning& turning : plan.standing.turnings) {
    if (turning.before_step == end) text.push_back(turning_text(frame, plan, turning));
  }
  return text;
}

std::string effort_text(const OrderPlan& plan) {
  const planner::EffortReport& effort = plan.best.effort;
  if (!plan.priced) {
    return say("This frame is too large to compare its orders. This one works; there may be an easier one.");
  }
  const std::string score = score_text(effort.value);
  std::string text =
      !effort.proven
          ? say("Effort score {0} (for comparing orders, not a time). Another order may score lower, but none "
                "lower than {1}.",
                score, score_text(effort.lower_bound))
      : plan.pose == planner::PosePreference::laid
          ? say("Effort score {} (for comparing orders, not a time). No other order that lies down as much scores lower.",
                score)
      : plan.pose == planner::PosePreference::standing
          ? say("Effort score {} (for comparing orders, not a time). No other order that stands as much scores lower.",
                score)
          : say("Effort score {} (for comparing orders, not a time). No other order scores lower.", score);
  if (effort.handling >= 1.0) {
    text += " " + say("{} of it is for turning, propping and reaching underneath.", score_text(effort.handling));
  }
  return text;
}

std::string unproven_text(const OrderPlan& plan) {
  if (!plan.priced) return effort_text(plan);
  if (plan.more_for_stops >= 0.5) {
    return say("For better places to stop, this order scores {} more than the easiest one found.",
               score_text(plan.more_for_stops));
  }
  if (plan.best.effort.proven) return "";
  return end_sentence(plan.end, plan.seconds);
}

std::string after_steps_text(const model::Frame& frame, const OrderPlan& plan) {
  std::string text;
  for (const std::string& turning : turnings_at_end(frame, plan)) text += fmt::format("  > {}\n", wrapped(turning, 4));
  return text;
}

}  // namespace dryfit::cli
