#include "planner/state/loop_sums.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <utility>

namespace dryfit::planner {
namespace {

/// Contacts between numbered parts.
ContactList list_of(const std::vector<std::pair<int, int>>& ends, int parts) {
  ContactList list;
  for (const auto& [a, b] : ends) {
    Contact contact;
    contact.a = a;
    contact.b = b;
    list.contacts.push_back(contact);
  }
  list.at.resize(static_cast<std::size_t>(parts) + 1);
  return list;
}

std::vector<ContactId> sorted(std::vector<ContactId> contacts) {
  std::sort(contacts.begin(), contacts.end());
  return contacts;
}

TEST_CASE("two meshes with a rung between them make one way round the outside") {
  // By hand: a square 0-1-2-3 with the rung 4 across it.
  const ContactList list = list_of({{0, 1}, {1, 2}, {2, 3}, {3, 0}, {0, 2}}, 4);
  const std::vector<WayRound> sums = sums_of(list, {{0, 1, 4}, {2, 3, 4}});
  REQUIRE(sums.size() == 1);
  CHECK(sorted(sums.front().contacts) == std::vector<ContactId>{0, 1, 2, 3});
  CHECK(sums.front().vertices.size() == 4);
  for (std::size_t i = 0; i < 4; ++i) {  // each vertex lies between its two contacts
    for (const std::size_t k : {i, (i + 1) % 4}) {
      const Contact& c = list.contact(sums.front().contacts[k]);
      CHECK((c.a == sums.front().vertices[i] || c.b == sums.front().vertices[i]));
    }
  }
}

TEST_CASE("loops that share nothing, or only a part, make no way round together") {
  CHECK(sums_of(list_of({{0, 1}, {1, 2}, {2, 0}, {3, 4}, {4, 5}, {5, 3}}, 6), {{0, 1, 2}, {3, 4, 5}}).empty());
  CHECK(sums_of(list_of({{0, 1}, {1, 2}, {2, 0}, {0, 3}, {3, 4}, {4, 0}}, 5), {{0, 1, 2}, {3, 4, 5}}).empty());
}

TEST_CASE("of three meshes in a row every run of neighbours makes a way round") {
  // Two rails 0-1-2-3 and 4-5-6-7 with four rungs: meshes 1, 2 and 3; sums are 1+2, 2+3 and 1+2+3, but not 1+3.
  const ContactList list = list_of({{0, 1}, {1, 2}, {2, 3}, {4, 5}, {5, 6}, {6, 7}, {0, 4}, {1, 5}, {2, 6}, {3, 7}}, 8);
  const std::vector<WayRound> sums = sums_of(list, {{0, 3, 6, 7}, {1, 4, 7, 8}, {2, 5, 8, 9}});
  CHECK(sums.size() == 3);
}

}  // namespace
}  // namespace dryfit::planner
