#include "planner/shop/span_measuring.hpp"

#include <algorithm>
#include <array>

namespace dryfit::planner {

using model::PartKind;

std::vector<WorthMeasuring> worth_measuring(const SpanQuery& query) {
  constexpr std::array kEndKinds{PartKind::elbow,  PartKind::elbow45,    PartKind::street_elbow, PartKind::tee,
                                 PartKind::cross,  PartKind::side_elbow, PartKind::side_tee,     PartKind::cap,
                                 PartKind::flange, PartKind::union_half, PartKind::coupling};
  std::vector<WorthMeasuring> out{worth_measuring(query.size, PartKind::coupling)};
  for (const SpanEnd& end : query.ends) {
    const auto kind = std::find_if(kEndKinds.begin(), kEndKinds.end(),
                                   [&](PartKind one) { return end.kind == model::word_for(one); });
    if (!end.from_memory || kind == kEndKinds.end()) continue;
    const bool told =
        std::any_of(out.begin(), out.end(), [&](const WorthMeasuring& other) { return other.kind == *kind; });
    if (!told) out.push_back(worth_measuring(query.size, *kind));
  }
  return out;
}

}  // namespace dryfit::planner
