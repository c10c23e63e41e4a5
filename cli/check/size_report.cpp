#include "cli/check/size_report.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <nlohmann/json.hpp>
#include <vector>

#include "cli/words/lengths.hpp"
#include "cli/words/say.hpp"
#include "cli/words/words.hpp"
#include "model/geometry/at.hpp"
#include "model/measure/over_all.hpp"

namespace dryfit::cli {
namespace {

model::Vec3 size_of(const model::Frame& frame) {
  const model::Bounds all = model::over_all(frame);
  return all.hi - all.lo;
}

/// Heights are counted from the floor that the frame stands on; from z = 0 where there is none.
double floor_of(const model::Frame& frame) {
  const auto floor = std::find_if(frame.surfaces.begin(), frame.surfaces.end(),
                                  [](const model::Surface& one) { return one.normal == model::kUp; });
  return floor == frame.surfaces.end() ? 0.0 : floor->at;
}

}  // namespace

std::string size_text(const model::Frame& frame) {
  constexpr std::size_t kMost = 6;  // boards; a line more than that is no help
  const model::Vec3 size = size_of(frame);
  if (size == model::Vec3{}) return "";
  const Lengths lengths(frame.units);
  std::string text = say("{0} wide, {1} deep and {2} high.", lengths(size.x), lengths(size.y), lengths(size.z));
  std::vector<std::string> tops;
  for (const model::Board& board : frame.boards) {
    if (board.facing != model::kUp) continue;
    tops.push_back(say("{0} at {1}", frame.part(board.part).label, lengths(board.hi.z - floor_of(frame))));
  }
  if (!tops.empty()) text += " " + say("Board tops: {}.", listed_briefly(tops, kMost));
  return fmt::format("  {}\n", wrapped(text, 4));
}

void add_size(Json& document, const model::Frame& frame) {
  const model::Vec3 size = size_of(frame);
  document["over_all_mm"] = {rounded(size.x), rounded(size.y), rounded(size.z)};
}

}  // namespace dryfit::cli
