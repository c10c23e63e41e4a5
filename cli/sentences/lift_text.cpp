#include "cli/sentences/lift_text.hpp"

#include "cli/words/lengths.hpp"
#include "cli/words/say.hpp"
#include "cli/words/words.hpp"

namespace dryfit::cli {

std::string people_text(int people) {
  return people == 2 ? say("two people") : say_n(people, "{} person", "{} people");
}

std::string lift_text(const planner::Lift& lift, model::Units units) {
  const std::string mass = weight(lift.mass, units), out = length_text(lift.held_out, units);
  const std::string who = capitalized(people_text(lift.people));
  return say("{0} lift this: it weighs {1}, and one person may lift {3} held {2} from the body.", who, mass, out,
             weight(lift.limit, units));
}

}  // namespace dryfit::cli
