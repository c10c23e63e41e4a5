#pragma once
/// Search and judge by turns: what the judge refuses is struck out, and the search goes on without it.
#include <optional>
#include <stdexcept>
#include <string>
#include <utility>

#include "planner/state/contacts.hpp"

namespace dryfit::planner {

/// The first plan of `search(list)` that `refused(plan, why)` finds nothing in (a plan that claims nothing has nothing
/// to be judged). Throws std::logic_error, `what` being what was found, where the judge refuses again and again: a
/// judge who refuses more moves than that one after the other has a fault of ours before him.
template <class Search, class Refused>
[[nodiscard]] auto until_judged(ContactList list, const char* what, const Search& search, const Refused& refused) {
  constexpr int kMostRounds = 100;
  std::string why;
  for (int round = 0; round < kMostRounds; ++round) {
    auto plan = search(list);
    std::optional<StruckOut> struck = refused(plan, why);
    if (!struck) return plan;
    list.struck_out.push_back(*std::move(struck));
  }
  throw std::logic_error(std::string(what) + " that was found did not pass the check: " + why);
}

}  // namespace dryfit::planner
