#include "planner/fit/fit_answer.hpp"

namespace dryfit::planner {

const char* word_for(FitState state) {
  switch (state) {
    case FitState::exact: return "exact";
    case FitState::by_turning: return "by-turning";
    case FitState::by_wrenching: return "by-wrenching";
    case FitState::open: return "open";
  }
  return "";
}

}  // namespace dryfit::planner
