#include "planner/effort/known_stands.hpp"

#include "model/geometry/at.hpp"

namespace dryfit::planner {

bool KnownStands::of(const std::vector<PartId>& parts, Pose pose) {
  if (bytes_ > kMost) {
    known_.clear();
    bytes_ = 0;
  }
  std::string key(reinterpret_cast<const char*>(parts.data()), parts.size() * sizeof(PartId));
  const std::size_t size = key.size();
  const auto [found, is_new] = known_.try_emplace(std::move(key));
  if (is_new) bytes_ += size;
  Stands& stands = found->second[at(pose)];
  if (stands == Stands::unknown) {
    stands = stand_of(frame_, effort_, parts, pose).stands() ? Stands::yes : Stands::no;
  }
  return stands == Stands::yes;
}

}  // namespace dryfit::planner
