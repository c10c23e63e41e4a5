#include "planner/peel/peeler.hpp"

#include <algorithm>
#include <utility>

#include "model/geometry/at.hpp"

namespace dryfit::planner {

Peeler::Peeler(Undoer& undoer, State state, std::vector<char> frozen, RefusalMemory* memory)
    : undoer_(&undoer),
      memory_(memory),
      state_(std::move(state)),
      frozen_(std::move(frozen)),
      queued_(frozen_.size(), 0),
      waiting_(frozen_.size()),
      refusals_(frozen_.size()),
      cap_(kFirstPeelCap) {
  std::vector<PeelRank> asked;  // put in order at once: they are many
  for (ContactId c = 0; c < static_cast<ContactId>(frozen_.size()); ++c) {
    if (frozen_[at(c)] != 0 || !state_.made(c)) continue;
    queued_[at(c)] = 1;
    asked.push_back(peel_rank(undoer_->list(), c));
  }
  queue_ = decltype(queue_)(std::greater<>(), std::move(asked));
}

void Peeler::ask(ContactId c) {
  const auto i = at(c);
  if (queued_[i] != 0 || frozen_[i] != 0 || !state_.made(c)) return;
  queued_[i] = 1;
  queue_.push(peel_rank(undoer_->list(), c));
}

void Peeler::wake(ContactId c) {
  waiting_.each_of(c, [this](ContactId waiting) { ask(waiting); });
}

void Peeler::release(ContactId c) {
  if (!frozen(c)) return;
  frozen_[at(c)] = 0;
  ask(c);
  wake(c);  // moves that were refused only because they would have taken c along
}

bool Peeler::step(std::vector<Move>* moves) {
  if (queue_.empty()) {
    if (large_.empty()) return false;
    cap_ = cap_ >= undoer_->list().at.size() ? Undoer::kNoCap : cap_ * 8;
    for (const ContactId c : std::exchange(large_, {})) ask(c);
    return true;
  }
  const ContactId c = queue_.top().contact();
  queue_.pop();
  const auto i = at(c);
  queued_[i] = 0;
  if (!state_.made(c) || frozen_[i] != 0) return true;
  if (memory_ != nullptr) {
    if (SharedRefusals known = memory_->find(state_, c)) {
      wait(c, std::move(known));
      return true;
    }
  }
  Attempt attempt =
      moves != nullptr ? undoer_->try_undo(state_, c, cap_, &frozen_) : undoer_->try_briefly(state_, c, cap_, &frozen_);
  if (attempt.legal) {
    take_off(std::move(attempt.move), moves);
    return true;
  }
  auto refusals = std::make_shared<const Refusals>(std::move(attempt.refusals));
  if (attempt.capped) {
    large_.push_back(c);
  } else if (memory_ != nullptr) {
    memory_->keep(c, refusals);
  }
  wait(c, std::move(refusals));
  return true;
}

void Peeler::take_off(Move move, std::vector<Move>* moves) {
  state_.undo(move.contacts);
  for (const ContactId gone : move.contacts) {
    wake(gone);
    waiting_.drop(gone);
  }
  if (moves == nullptr) {
    undone_.push_back(std::move(move.contacts));
    return;
  }
  undone_.push_back(move.contacts);
  moves->push_back(std::move(move));
}

void Peeler::wait(ContactId c, SharedRefusals refusals) {
  SharedRefusals& known = refusals_[at(c)];
  if (refusals == known) return;
  waiting_.wait(c, std::shared_ptr<const std::vector<ContactId>>(refusals, &refusals->held_by()));
  known = std::move(refusals);
}

void Peeler::run(std::vector<Move>* moves) {
  while (step(moves)) {
  }
}

bool Peeler::run_until_gone(const std::vector<ContactId>& gone) {
  const auto all_gone = [&] { return std::none_of(gone.begin(), gone.end(), [&](ContactId c) { return made(c); }); };
  while (!all_gone()) {
    if (!step()) return false;
  }
  return true;
}

std::vector<ContactId> Peeler::remaining() const {
  std::vector<ContactId> result;
  for (ContactId c = 0; c < static_cast<ContactId>(frozen_.size()); ++c) {
    if (state_.made(c)) result.push_back(c);
  }
  return result;
}

const std::vector<Refusal>& Peeler::refusals(ContactId c) const {
  static const std::vector<Refusal> kNothing;
  const auto& found = refusals_[at(c)];
  return found == nullptr ? kNothing : found->each();
}

}  // namespace dryfit::planner
