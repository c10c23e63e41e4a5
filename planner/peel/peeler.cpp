#include "planner/peel/peeler.hpp"

#include <algorithm>
#include <iterator>
#include <utility>

#include "model/geometry/at.hpp"

namespace dryfit::planner {

Peeler::Peeler(Undoer& undoer, State state, std::vector<char> frozen, RefusalMemory* memory)
    : undoer_(&undoer),
      memory_(memory),
      state_(std::move(state)),
      frozen_(std::move(frozen)),
      queued_(frozen_.size(), 0),
      nodes_(std::make_shared<std::vector<Waiting>>()),
      first_waiting_(frozen_.size(), model::kNone),
      refusals_(frozen_.size()),
      waits_for_(frozen_.size()),
      cap_(kFirstPeelCap) {
  for (ContactId c = 0; c < static_cast<ContactId>(frozen_.size()); ++c) ask(c);
}

void Peeler::ask(ContactId c) {
  const auto i = at(c);
  if (queued_[i] != 0 || frozen_[i] != 0 || !state_.made(c)) return;
  queued_[i] = 1;
  queue_.push(peel_turn(undoer_->list(), c));
}

void Peeler::wake(ContactId c) {
  int node = first_waiting_[at(c)];
  while (node != model::kNone) {
    const Waiting waiting = (*nodes_)[at(node)];
    ask(waiting.contact);
    node = waiting.next;
  }
}

void Peeler::release(ContactId c) {
  if (!frozen(c)) return;
  frozen_[at(c)] = 0;
  ask(c);
  wake(c);  // moves that were refused only because they would have taken c along
}

bool Peeler::step() {
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
  Attempt attempt = undoer_->try_undo(state_, c, cap_, &frozen_);
  if (attempt.legal) {
    state_.undo(attempt.move.contacts);
    for (const ContactId gone : attempt.move.contacts) {
      wake(gone);
      first_waiting_[at(gone)] = model::kNone;
    }
    undone_.push_back(std::move(attempt.move.contacts));
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

void Peeler::wait(ContactId c, SharedRefusals refusals) {
  const auto i = at(c);
  if (refusals != refusals_[i]) {
    const std::vector<ContactId>& held = refusals->held_by();
    static const std::vector<ContactId> kNobody;
    const std::vector<ContactId>& known = waits_for_[i] == nullptr ? kNobody : *waits_for_[i];
    std::vector<ContactId> fresh;
    std::set_difference(held.begin(), held.end(), known.begin(), known.end(), std::back_inserter(fresh));
    for (const ContactId h : fresh) {
      int& head = first_waiting_[at(h)];
      nodes_->push_back({c, head});
      head = static_cast<int>(nodes_->size()) - 1;
    }
    if (!fresh.empty()) {
      auto all = std::make_shared<std::vector<ContactId>>();
      std::set_union(known.begin(), known.end(), fresh.begin(), fresh.end(), std::back_inserter(*all));
      waits_for_[i] = std::move(all);
    }
    refusals_[i] = std::move(refusals);
  }
}

void Peeler::run() {
  while (step()) {
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
