#include "cli/edit/flat_board.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>

#include "cli/io/usage_error.hpp"
#include "cli/words/say.hpp"
#include "model/editing/outline.hpp"
#include "model/geometry/at.hpp"
#include "model/text/length.hpp"
#include "model/text/typed_length.hpp"

namespace dryfit::cli {
namespace {

/// "wall@12,48, stock: oak": the place, and what else is said.
struct FlatOn {
  std::string surface;
  std::array<double, 2> spot{};  ///< mm, in x y z order
  std::string rest;
};
std::optional<FlatOn> flat_on(const model::Frame& frame, const std::string& given) {
  const std::size_t sign = given.find('@');
  if (sign == std::string::npos || given.find(':') < sign) return std::nullopt;
  FlatOn flat{given.substr(0, sign), {}, ""};
  std::size_t from = sign + 1;
  for (double& coordinate : flat.spot) {
    const std::size_t first = given.find_first_not_of(' ', from), end = std::min(given.find(',', from), given.size());
    const auto read = first < end ? model::parse_length(given.substr(first, end - first), frame.units) : std::nullopt;
    if (!read) throw UsageError(say("--board {}: expected two places on '{}', as 12,48", given, flat.surface));
    coordinate = *read;
    from = std::min(end + 1, given.size());
  }
  if (const std::size_t rest = given.find_first_not_of(' ', from); rest != std::string::npos)
    flat.rest = given.substr(rest);
  return flat;
}

/// Keys of a board flat on a surface.
std::vector<std::pair<std::string, std::string>> keys_flat_on(const model::Frame& frame, const FlatOn& flat) {
  const auto is_it = [&](const model::Surface& one) { return one.id == flat.surface; };
  const auto surface = std::find_if(frame.surfaces.begin(), frame.surfaces.end(), is_it);
  if (surface == frame.surfaces.end()) {
    throw UsageError(say("there is no '{0}' yet: say where it is first, as --surface {0}=12", flat.surface));
  }
  const UsualBoard& usual = frame.units == model::Units::in ? kBoardInches : kBoardMetric;
  const model::Written said = model::outline_of("{" + flat.rest + "}");
  const int normal = surface->normal.axis();
  std::array<double, 3> size{};
  std::size_t next = 0;
  for (int axis = 0; axis < 3; ++axis) {
    const model::Written* sizes = said.find("size");
    const model::Written* one = sizes == nullptr ? nullptr : sizes->find(std::string(1, "xyz"[axis]));
    const double usual_here = axis == normal ? usual.thick : next == 0 ? usual.wide : usual.deep;
    const auto typed = one == nullptr ? std::nullopt : model::parse_length(one->text, frame.units);
    size[at(axis)] = typed.value_or(usual_here);
    if (axis != normal) ++next;
  }
  const auto typed = [&](double mm) { return model::typed_length(mm, frame.units); };
  std::vector<std::pair<std::string, std::string>> keys;
  if (surface->normal != model::kUp) keys.emplace_back("facing", surface->normal.name());
  keys.emplace_back("height", typed(surface->at));  // of its back, along the way that it faces
  keys.emplace_back("size", fmt::format("{{x: {}, y: {}, z: {}}}", typed(size[0]), typed(size[1]), typed(size[2])));
  keys.emplace_back("at", fmt::format("[{}, {}]", typed(flat.spot[0]), typed(flat.spot[1])));
  for (const model::Written& item : said.items) {
    const std::string whole = "{" + flat.rest + "}";
    if (item.key != "size") keys.emplace_back(item.key, whole.substr(item.at.from, item.at.to - item.at.from));
  }
  keys.emplace_back("fix", "[" + surface->id + "]");
  return keys;
}

}  // namespace

std::optional<std::vector<std::pair<std::string, std::string>>> board_flat_on(const model::Frame& frame,
                                                                              const std::string& given) {
  const auto flat = flat_on(frame, given);
  if (!flat) return std::nullopt;
  return keys_flat_on(frame, *flat);
}

}  // namespace dryfit::cli
