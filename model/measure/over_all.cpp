#include "model/measure/over_all.hpp"

#include <algorithm>

namespace dryfit::model {

Bounds joined(const Bounds& a, const Bounds& b) {
  Bounds out = a;
  for (int i = 0; i < 3; ++i) {
    out.lo[i] = std::min(a.lo[i], b.lo[i]);
    out.hi[i] = std::max(a.hi[i], b.hi[i]);
  }
  return out;
}

Bounds over_all(const Frame& frame) {
  Bounds all;
  bool first = true;
  for (const Part& part : frame.parts) {
    for (const Solid& solid : part.solids) {
      const Bounds one = bounds_of(solid);
      all = first ? one : joined(all, one);
      first = false;
    }
  }
  return all;
}

}  // namespace dryfit::model
