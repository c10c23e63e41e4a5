#include "planner/peel/peel_rank.hpp"

#include <algorithm>

namespace dryfit::planner {
namespace {

int rank_of(const Contact& contact) {
  switch (contact.kind) {
    case ContactKind::fastening: return contact.b == model::kRoom ? 0 : 1;
    case ContactKind::nut: return 2;
    case ContactKind::rest: return 3;
    case ContactKind::hole:
    case ContactKind::notch: return 4;
    case ContactKind::thread: break;
  }
  return 5;
}

}  // namespace

PeelRank peel_rank(const ContactList& list, ContactId c) {
  const Contact& contact = list.contact(c);
  return {rank_of(contact), -std::max(contact.a, contact.b), -c};
}

}  // namespace dryfit::planner
