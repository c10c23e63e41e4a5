#include "planner/state/step.hpp"

namespace dryfit::planner {

const char* word_for(Action action) {
  switch (action) {
    case Action::screw: return "screw";
    case Action::slide: return "slide";
    case Action::pass: return "pass";
    case Action::lay: return "lay";
    case Action::join: return "join";
    case Action::fasten: return "fasten";
  }
  return "";
}

}  // namespace dryfit::planner
