#include "cli/change/turns_left.hpp"

#include <cmath>
#include <map>

#include "model/geometry/at.hpp"
#include "planner/fit/fit.hpp"

namespace dryfit::cli {

std::vector<planner::JointTurn> turns_left(const ChangeAnswer& a) {
  std::map<int, double> left;
  for (const planner::JointTurn& turn : a.found.fit.turns) left[turn.joint] += turn.turns;
  planner::FitOptions options;
  options.cures = false;
  std::map<int, double> stands;
  for (const planner::JointTurn& turn : planner::find_fit(a.old_design.frame, options).turns) {
    stands[turn.joint] += turn.turns;
  }
  for (const planner::ContactId c : a.plan.kept) {
    const planner::Contact& old_one = a.old_design.contacts.contact(c);
    const auto turned = stands.find(old_one.joint);
    if (old_one.kind != planner::ContactKind::thread || turned == stands.end()) continue;
    left[a.new_design.contacts.contact(a.matching.kept_as[at(c)]).joint] -= turned->second;
  }
  std::vector<planner::JointTurn> turns;
  constexpr double kNone = 1e-9;
  for (const auto& [joint, by] : left) {
    if (std::abs(by) > kNone) turns.push_back({joint, by});
  }
  return turns;
}

}  // namespace dryfit::cli
