#pragma once
/// Whether pieces of work stand on their own, remembered: orders are weighed in every pose, and share most pieces.
#include <array>
#include <string>
#include <unordered_map>
#include <vector>

#include "planner/effort/support_polygon.hpp"

namespace dryfit::planner {

class KnownStands {
 public:
  /// More than so many bytes of parts are forgotten, and all begins again.
  static constexpr std::size_t kMost = std::size_t{16} << 20U;

  /// Both must outlive this.
  KnownStands(const model::Frame& frame, const Effort& effort) : frame_(frame), effort_(effort) {}

  /// `parts` ascending, not empty. O(parts) when it was asked before, else as stand_of.
  [[nodiscard]] bool of(const std::vector<PartId>& parts, Pose pose);

 private:
  enum class Stands : char { unknown, no, yes };

  const model::Frame& frame_;
  const Effort& effort_;
  std::unordered_map<std::string, std::array<Stands, kPoses>> known_;  ///< by the parts' bytes
  std::size_t bytes_ = 0;
};

}  // namespace dryfit::planner
