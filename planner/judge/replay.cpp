#include "planner/judge/replay.hpp"

#include <algorithm>
#include <utility>

#include <fmt/format.h>

#include "model/geometry/at.hpp"
#include "planner/judge/replay_judge.hpp"

namespace dryfit::planner {
namespace {

using judge::called;
using judge::Judge;
using judge::Made;
using judge::Verdict;

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

std::string what_it_takes(Action action) {
  switch (action) {
    case Action::screw: return called(ContactKind::thread);
    case Action::slide:
    case Action::pass: return "a hole or a notch";
    case Action::lay: return called(ContactKind::rest);
    case Action::join: return called(ContactKind::nut);
    case Action::fasten: return called(ContactKind::fastening);
  }
  return "";
}

/// Undoes the contacts of one step in `made` by a chain of legal moves; stops halfway when it is stuck. What can be
/// undone stays undoable when something else goes first, so trying them in any order until none is left decides it.
class Chain {
 public:
  Chain(Judge& judge, Made& made, const GivenStep& step) : judge_(judge), made_(made), left_(step.contacts) {
    order_ = step.contacts;
    std::sort(left_.begin(), left_.end());
    std::size_t threads = 0;
    for (const ContactId id : left_) threads += kind(id) == ContactKind::thread ? 1U : 0U;
    wanted_ = {step.moving, threads == 1};
  }

  /// Why the step cannot be undone; empty when it can.
  std::string run() {
    // Nuts and fastenings come off at any time.
    for (const ContactId id : std::vector<ContactId>(left_)) {
      if (kind(id) == ContactKind::nut || kind(id) == ContactKind::fastening) take({{id}, {}});
    }
    while (!left_.empty()) {
      const std::size_t before = left_.size();
      undo_threads();
      undo_boards();
      if (left_.size() == before) return explain();
    }
    return {};
  }

 private:
  [[nodiscard]] ContactKind kind(ContactId id) const { return judge_.scene().contact(id).kind; }
  [[nodiscard]] bool is_left(ContactId id) const { return std::binary_search(left_.begin(), left_.end(), id); }

  bool take(const Verdict& verdict) {
    if (!verdict.legal()) return false;
    for (const ContactId id : verdict.undone) {
      made_[dryfit::at(id)] = 0;
      left_.erase(std::remove(left_.begin(), left_.end(), id), left_.end());
    }
    return true;
  }

  /// What is named last was made last, most likely, so it goes first.
  void undo_threads() {
    for (auto id = order_.rbegin(); id != order_.rend(); ++id) {
      if (kind(*id) == ContactKind::thread && is_left(*id)) take(judge_.unscrew(made_, *id, wanted_));
    }
  }

  void undo_boards() {
    for (auto id = order_.rbegin(); id != order_.rend(); ++id) {
      if (!is_left(*id)) continue;
      const PartId board = judge_.scene().contact(*id).a;
      switch (kind(*id)) {
        case ContactKind::rest: take(judge_.take_away(made_, board, left_)); break;
        case ContactKind::hole: take(judge_.slide_apart(made_, *id, left_)); break;
        case ContactKind::notch:
          if (take(judge_.slide_apart(made_, *id, left_)) || take(judge_.sideways(made_, board, left_))) break;
          take(judge_.swing(made_, board, left_));
          break;
        default: break;
      }
    }
  }

  /// The reason for the first thread that is left, or else for the first contact that is left.
  std::string explain() {
    ContactId stuck = model::kNone;
    for (const ContactId id : order_) {
      if (!is_left(id)) continue;
      if (stuck == model::kNone) stuck = id;
      if (kind(id) == ContactKind::thread) {
        stuck = id;
        break;
      }
    }
    const PartId board = judge_.scene().contact(stuck).a;
    switch (kind(stuck)) {
      case ContactKind::thread: return judge_.unscrew(made_, stuck, wanted_).why;
      case ContactKind::rest: return judge_.take_away(made_, board, left_).why;
      case ContactKind::hole: return judge_.slide_apart(made_, stuck, left_).why;
      case ContactKind::notch: {
        std::string why = judge_.slide_apart(made_, stuck, left_).why;
        const bool with_hole = judge::quarter_turn(judge_.scene(), made_, board, true).has_value();
        return why + "; " +
               (with_hole ? judge_.swing(made_, board, left_).why : judge_.sideways(made_, board, left_).why);
      }
      default: return {};
    }
  }

  Judge& judge_;
  Made& made_;
  std::vector<ContactId> order_;  ///< as the step names them
  std::vector<ContactId> left_;   ///< ascending
  judge::Wanted wanted_;
};

/// What is wrong with the step before any body is looked at; empty when nothing is.
std::string malformed(const judge::Scene& scene, const GivenStep& step) {
  if (step.contacts.empty()) return "it makes no contact";
  const auto count = static_cast<ContactId>(scene.list().contacts.size());
  for (const ContactId id : step.contacts) {
    if (id < 0 || id >= count) return fmt::format("contact number {} does not exist", id);
  }
  for (const PartId part : step.moving) {
    if (part < 0 || part >= scene.list().room()) return fmt::format("part number {} does not exist", part);
  }
  std::vector<ContactId> sorted = step.contacts;
  std::sort(sorted.begin(), sorted.end());
  const auto twice = std::adjacent_find(sorted.begin(), sorted.end());
  if (twice != sorted.end()) return fmt::format("it names {} twice", scene.contact(*twice).id);
  const bool fitting = std::any_of(step.contacts.begin(), step.contacts.end(),
                                   [&](ContactId id) { return fits(step.action, scene.contact(id).kind); });
  if (!fitting) {
    const Contact& first = scene.contact(step.contacts.front());
    return fmt::format("{} takes {}, and {} is {}", called(step.action), what_it_takes(step.action), first.id,
                       called(first.kind));
  }
  return {};
}

/// Undoes the step in `made`, as far as it can be; why it cannot, or empty.
std::string undo_step(Judge& judge, Made& made, const GivenStep& step) {
  if (std::string fault = malformed(judge.scene(), step); !fault.empty()) return fault;
  for (const ContactId id : step.contacts) {
    if (made[dryfit::at(id)] == 0) return fmt::format("{} is not made", judge.scene().contact(id).id);
  }
  return Chain(judge, made, step).run();
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
  Made state = made;
  std::string reason = undo_step(inside_->judge, state, step);
  const bool legal = reason.empty();
  if (why != nullptr) *why = std::move(reason);
  return legal;
}

bool replay_move_is_legal(const model::Frame& frame, const ContactList& list, const std::vector<char>& made,
                          Action action, const std::vector<ContactId>& contacts, std::string* why) {
  return MoveJudge(frame, list).can_undo(made, {action, contacts, {}}, why);
}

ReplayResult replay(const model::Frame& frame, const ContactList& list, const std::vector<GivenStep>& steps,
                    bool both_units) {
  Judge judge(frame, list);
  if (both_units) judge.tell_both_units();
  const std::size_t count = list.contacts.size();
  std::vector<std::string> fault(steps.size());
  std::vector<std::size_t> made_in(count, 0);  // number of the step, from 1; 0: none
  for (std::size_t s = 0; s < steps.size(); ++s) {
    fault[s] = malformed(judge.scene(), steps[s]);
    for (const ContactId id : steps[s].contacts) {
      if (id < 0 || dryfit::at(id) >= count) continue;
      std::size_t& earlier = made_in[dryfit::at(id)];
      if (earlier == 0) {
        earlier = s + 1;
      } else if (fault[s].empty()) {
        fault[s] =
            fmt::format("{} is made by step {} already", list.contact(id).id, earlier);
      }
    }
  }
  Made made(count, 0);
  std::vector<std::string> missing;
  for (std::size_t c = 0; c < count; ++c) {
    made[c] = made_in[c] != 0 ? 1 : 0;
    if (made_in[c] == 0) missing.push_back(list.contacts[c].id);
  }

  ReplayResult result{true, 0, {}};
  if (!missing.empty()) {
    result = {false, static_cast<int>(steps.size()) + 1, "no step makes " + judge::listed(missing)};
  }
  for (std::size_t s = steps.size(); s-- > 0;) {
    std::string why = fault[s].empty() ? undo_step(judge, made, steps[s]) : fault[s];
    if (!why.empty()) {
      const int number = static_cast<int>(s) + 1;
      result = {false, number, fmt::format("step {}: {}", number, why)};
    }
    for (const ContactId id : steps[s].contacts) {
      if (id < 0 || dryfit::at(id) >= count || made_in[dryfit::at(id)] != s + 1) continue;
      made[dryfit::at(id)] = 0;
    }
  }
  return result;
}

}  // namespace dryfit::planner
