#include "planner/order/pose.hpp"

namespace dryfit::planner {

const char* word_for(Pose pose) {
  switch (pose) {
    case Pose::standing: return "standing";
    case Pose::laid: return "laid";
    case Pose::over: return "over";
  }
  return "";
}

}  // namespace dryfit::planner
