#include "planner/peel/waiting_lists.hpp"

#include <algorithm>
#include <iterator>
#include <utility>

#include "model/geometry/at.hpp"

namespace dryfit::planner {

WaitingLists::WaitingLists(std::size_t contacts)
    : nodes_(std::make_shared<std::vector<Node>>()), first_(contacts, model::kNone), waits_for_(contacts) {
  nodes_->reserve(contacts);
}

void WaitingLists::wait(ContactId c, std::shared_ptr<const std::vector<ContactId>> held) {
  const auto put = [&](ContactId h) {
    int& head = first_[at(h)];
    nodes_->push_back({c, head});
    head = static_cast<int>(nodes_->size()) - 1;
  };
  auto& waits_for = waits_for_[at(c)];
  if (waits_for == nullptr) {
    for (const ContactId h : *held) put(h);
    waits_for = std::move(held);
    return;
  }
  thread_local std::vector<ContactId> fresh;  // mostly empty, and asked for all the time
  fresh.clear();
  std::set_difference(held->begin(), held->end(), waits_for->begin(), waits_for->end(), std::back_inserter(fresh));
  if (fresh.empty()) return;
  for (const ContactId h : fresh) put(h);
  auto all = std::make_shared<std::vector<ContactId>>();
  all->reserve(waits_for->size() + fresh.size());
  std::set_union(waits_for->begin(), waits_for->end(), fresh.begin(), fresh.end(), std::back_inserter(*all));
  waits_for = std::move(all);
}

std::vector<ContactId> WaitingLists::of(ContactId gone) const {
  std::vector<ContactId> all;
  each_of(gone, [&](ContactId c) { all.push_back(c); });
  return all;
}

void WaitingLists::drop(ContactId gone) { first_[at(gone)] = model::kNone; }

}  // namespace dryfit::planner
