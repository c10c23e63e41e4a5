#include "planner/judge/replay.hpp"

#include <algorithm>
#include <utility>

#include <fmt/format.h>

#include "model/frame/message.hpp"
#include "model/geometry/at.hpp"
#include "planner/judge/replay_judge.hpp"

namespace dryfit::planner {
namespace {

using judge::called;
using judge::Judge;
using judge::Made;
using judge::Verdict;
using model::Message;
using model::message;

bool fits(Action action, ContactKind kind) {
  switch (action) {
    case Action::screw: return kind == ContactKind::thread;
    case Action::slide:
    case Action::pass: return kind == ContactKind::hole || kind == ContactKind::notch;
    case Action::lay: return kind == ContactKind::rest;
    case Action::join: return kind == ContactKind::nut;
    case Action::fasten: return kind == ContactKind::fastening;
  }
  return false;
}

Message what_it_takes(Action action) {
  switch (action) {
    case Action::screw: return called(ContactKind::thread);
    case Action::slide:
    case Action::pass: return message("a hole or a notch");
    case Action::lay: return called(ContactKind::rest);
    case Action::join: return called(ContactKind::nut);
    case Action::fasten: return called(ContactKind::fastening);
  }
  return {};
}

/// True for the one thing that two moves in a row may be told as: a pipe is passed through boards and screwed in.
bool passed_before(Action action, ContactKind kind) {
  return action == Action::screw && (kind == ContactKind::hole || kind == ContactKind::notch);
}

/// What is wrong with the step before any body is looked at; empty when nothing is.
Message malformed(const judge::Scene& scene, const GivenStep& step) {
  if (step.contacts.empty()) return message("it makes no contact");
  const auto count = static_cast<ContactId>(scene.list().contacts.size());
  for (const ContactId id : step.contacts) {
    if (id < 0 || id >= count) return message("contact number {} does not exist", id);
  }
  for (const PartId part : step.moving) {
    if (part < 0 || part >= scene.list().room()) return message("part number {} does not exist", part);
  }
  std::vector<ContactId> sorted = step.contacts;
  std::sort(sorted.begin(), sorted.end());
  const auto twice = std::adjacent_find(sorted.begin(), sorted.end());
  if (twice != sorted.end()) return message("it names {} twice", scene.contact(*twice).id);
  const auto misfit = std::find_if(step.contacts.begin(), step.contacts.end(), [&](ContactId id) {
    return !fits(step.action, scene.contact(id).kind) && !passed_before(step.action, scene.contact(id).kind);
  });
  if (misfit != step.contacts.end()) {
    const Contact& other = scene.contact(*misfit);
    return message("{} takes {}, and {} is {}", called(step.action), what_it_takes(step.action), other.id,
                   called(other.kind));
  }
  const bool alone = step.action == Action::join || step.action == Action::fasten;
  const auto one_each = std::count_if(step.contacts.begin(), step.contacts.end(), [&](ContactId id) {
    return alone || scene.contact(id).kind == ContactKind::thread;
  });
  if (one_each > 1) return message("a step is one move: {} makes one contact at a time", called(step.action));
  if (step.action == Action::screw && one_each == 0) {
    const Contact& first = scene.contact(step.contacts.front());
    return message("{} takes {}, and {} is {}", called(step.action), what_it_takes(step.action), first.id,
                   called(first.kind));
  }
  return {};
}

/// Takes the contacts, all of one kind of move, off in one move and out of `made`; why not, or empty.
Message undo_move(Judge& judge, Made& made, const GivenStep& step, std::vector<ContactId> contacts) {
  std::sort(contacts.begin(), contacts.end());
  const ContactId first = contacts.front();
  const Contact& c = judge.scene().contact(first);
  Verdict verdict{contacts, {}};
  switch (c.kind) {
    case ContactKind::thread: verdict = judge.unscrew(made, first, {step.moving, true}); break;
    case ContactKind::hole:
    case ContactKind::notch: verdict = judge.off_pipe(made, first, {contacts, true}); break;
    case ContactKind::rest: verdict = judge.take_away(made, c.a, {contacts, true}); break;
    case ContactKind::nut: break;  // it comes off at any time
    case ContactKind::fastening: verdict = judge.unfasten(made, first); break;
  }
  if (!verdict.legal()) return verdict.why;
  for (const ContactId id : verdict.undone) made[dryfit::at(id)] = 0;
  return {};
}

/// Undoes the step in `made`, as far as it can be; why it cannot, or empty.
Message undo_step(Judge& judge, Made& made, const GivenStep& step) {
  if (Message fault = malformed(judge.scene(), step); !fault.empty()) return fault;
  for (const ContactId id : step.contacts) {
    if (made[dryfit::at(id)] == 0) return message("{} is not made", judge.scene().contact(id).id);
  }
  // What was made last goes first: the thread, and then the holes that its pipe was passed through.
  std::vector<ContactId> last, before;
  for (const ContactId id : step.contacts) {
    (passed_before(step.action, judge.scene().contact(id).kind) ? before : last).push_back(id);
  }
  Message why = undo_move(judge, made, step, last);
  if (why.empty() && !before.empty()) why = undo_move(judge, made, step, before);
  return why;
}

}  // namespace

struct MoveJudge::Inside {
  Judge judge;
};

MoveJudge::MoveJudge(const model::Frame& frame, const ContactList& list)
    : inside_(std::make_unique<Inside>(Inside{Judge(frame, list)})) {}
MoveJudge::~MoveJudge() = default;
MoveJudge::MoveJudge(MoveJudge&&) noexcept = default;
MoveJudge& MoveJudge::operator=(MoveJudge&&) noexcept = default;

bool MoveJudge::can_undo(const std::vector<char>& made, const GivenStep& step, std::string* why) {
  Message reason;
  const bool legal = can_undo(made, step, reason);
  if (why != nullptr) *why = reason.english();
  return legal;
}

bool MoveJudge::can_undo(const std::vector<char>& made, const GivenStep& step, Message& why) {
  Made state = made;
  why = undo_step(inside_->judge, state, step);
  return why.empty();
}

bool replay_move_is_legal(const model::Frame& frame, const ContactList& list, const std::vector<char>& made,
                          Action action, const std::vector<ContactId>& contacts, std::string* why) {
  return MoveJudge(frame, list).can_undo(made, {action, contacts, {}}, why);
}

ReplayResult replay(const model::Frame& frame, const ContactList& list, const std::vector<GivenStep>& steps,
                    bool both_units, Message* reason) {
  Judge judge(frame, list);
  if (both_units) judge.tell_both_units();
  const std::size_t count = list.contacts.size();
  std::vector<Message> fault(steps.size());
  std::vector<std::size_t> made_in(count, 0);  // number of the step, from 1; 0: none
  for (std::size_t s = 0; s < steps.size(); ++s) {
    fault[s] = malformed(judge.scene(), steps[s]);
    for (const ContactId id : steps[s].contacts) {
      if (id < 0 || dryfit::at(id) >= count) continue;
      std::size_t& earlier = made_in[dryfit::at(id)];
      if (earlier == 0) {
        earlier = s + 1;
      } else if (fault[s].empty()) {
        fault[s] = message("{} is made by step {} already", list.contact(id).id, earlier);
      }
    }
  }
  Made made(count, 0);
  std::vector<Message> missing;
  for (std::size_t c = 0; c < count; ++c) {
    made[c] = made_in[c] != 0 ? 1 : 0;
    if (made_in[c] == 0) missing.push_back(Message::as_it_is(list.contacts[c].id));
  }

  ReplayResult result{true, 0, {}};
  Message told;
  if (!missing.empty()) {
    told = message("no step makes {}", judge::listed(missing));
    result = {false, static_cast<int>(steps.size()) + 1, told.english()};
  }
  for (std::size_t s = steps.size(); s-- > 0;) {
    Message why = fault[s].empty() ? undo_step(judge, made, steps[s]) : fault[s];
    if (!why.empty()) {
      const int number = static_cast<int>(s) + 1;
      told = std::move(why);
      result = {false, number, fmt::format("step {}: {}", number, told.english())};
    }
    for (const ContactId id : steps[s].contacts) {
      if (id < 0 || dryfit::at(id) >= count || made_in[dryfit::at(id)] != s + 1) continue;
      made[dryfit::at(id)] = 0;
    }
  }
  if (reason != nullptr) *reason = std::move(told);
  return result;
}

}  // namespace dryfit::planner
