#include "cli/edit/put_board.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <stdexcept>

#include "cli/edit/flat_board.hpp"
#include "cli/io/usage_error.hpp"
#include "cli/words/said.hpp"
#include "cli/words/say.hpp"
#include "model/editing/edit.hpp"
#include "model/editing/grow.hpp"
#include "model/editing/outline.hpp"
#include "model/text/length.hpp"
#include "model/text/typed_length.hpp"

namespace dryfit::cli {
namespace {

constexpr double kLevel = 0.5;  ///< mm
constexpr double kHairUp = 1e-6;

/// Two sides by axis: the lower and the upper one.
constexpr std::array<std::array<const char*, 2>, 3> kSides{{{"left", "right"}, {"front", "back"}, {"down", "up"}}};

/// What the pipes or carriers of a board come to along one axis of its plane.
struct BoardSpread {
  double first = 0.0;  ///< coordinate that `reach` counts from
  double low = 0.0, high = 0.0;
};

class BoardFilling {
 public:
  BoardFilling(const model::Frame& frame, const std::string& given)
      : frame_(frame),
        usual_(frame.units == model::Units::in ? kBoardInches : kBoardMetric),
        braced_("{" + given + "}") {
    given_ = model::outline_of(braced_);
    for (const model::Written& item : given_.items) {
      keys_.emplace_back(item.key, braced_.substr(item.at.from, item.at.to - item.at.from));
    }
    through_ = parts_under("through");
    for (const model::PartId part : parts_under("notch")) through_.push_back(part);
    rests_on_ = parts_under("rests-on");
    find_normal();
  }

  [[nodiscard]] std::vector<std::pair<std::string, std::string>> filled() {
    if (through_.empty() && rests_on_.empty()) {
      throw UsageError(
          say("--board: say what it goes over or rests on, as \"through: [P3, P8]\" or \"rests-on: [R1]\""));
    }
    if (!has("rests-on") && !has("height")) fill_rests_on();
    fill_size_and_reach();
    sort_keys();
    return keys_;
  }

 private:
  [[nodiscard]] bool has(const std::string& key) const { return given_.find(key) != nullptr; }

  /// Parts named under a key: items of a list, keys of a map, or one word.
  std::vector<model::PartId> parts_under(const char* key) {
    std::vector<model::PartId> parts;
    const model::Written* value = given_.find(key);
    if (value == nullptr) return parts;
    const auto add = [&](const std::string& label) {
      const model::PartId part = frame_.find(label);
      if (part == model::kNone) throw UsageError(say("--board: there is no part '{}'", label));
      parts.push_back(part);
    };
    if (value->kind == model::Written::Kind::scalar) add(value->text);
    for (const model::Written& item : value->items) add(item.key.empty() ? item.text : item.key);
    return parts;
  }

  void find_normal() {
    if (const model::Written* facing = given_.find("facing")) {
      if (const auto direction = model::direction_named(facing->text)) facing_ = *direction;
    } else if (!through_.empty()) {
      const auto& ports = frame_.part(through_.front()).ports;
      const int axis = ports.empty() ? -1 : ports.front().facing.axis();
      // A board on level pipes faces the room.
      if (axis == 0) facing_ = model::kRight;
      if (axis == 1) facing_ = model::kFront;
      if (axis == 0 || axis == 1) keys_.emplace_back("facing", facing_.name());
    }
    normal_ = std::max(facing_.axis(), 0);
    plane_ = normal_ == 0 ? std::array{1, 2} : std::array{0, normal_ == 1 ? 2 : 1};
  }

  /// Fittings that the pipes are screwed into right below; of those the highest, for on them it comes to lie.
  void fill_rests_on() {
    std::vector<std::pair<double, model::PartId>> below;
    for (const model::PartId pipe : through_) {
      for (const model::Port& port : frame_.part(pipe).ports) {
        if (port.facing != -facing_ || port.joint == model::kNone) continue;
        const model::Joint& joint = frame_.joint(port.joint);
        const model::PartId fitting = joint.male == pipe ? joint.female : joint.male;
        const auto& sockets = frame_.part(fitting).ports;
        const std::size_t socket = at(joint.male == pipe ? joint.female_port : joint.male_port);
        below.emplace_back(dot(sockets[socket].at, facing_.unit()), fitting);
      }
    }
    if (below.empty()) {
      throw UsageError(say("--board: nothing is right below those pipes; say what it lies on, as \"rests-on: [C1]\""));
    }
    const double highest = std::max_element(below.begin(), below.end())->first;
    std::string list;
    for (const auto& [height, part] : below) {
      if (height < highest - kLevel) continue;
      rests_on_.push_back(part);
      list += (list.empty() ? "" : ", ") + frame_.part(part).label;
    }
    keys_.emplace_back("rests-on", "[" + list + "]");
  }

  [[nodiscard]] BoardSpread spread_along(int axis) const {
    BoardSpread spread;
    const std::vector<model::PartId>& over = through_.empty() ? rests_on_ : through_;
    bool first = true;
    for (const model::PartId id : over) {
      const model::Part& part = frame_.part(id);
      const double centre = part.centre[axis];
      if (first) spread = {centre, centre, centre};
      first = false;
      spread.low = std::min(spread.low, centre);
      spread.high = std::max(spread.high, centre);
    }
    return spread;
  }

  /// A board laid on rails stays between the fittings at their ends, which are thicker than the pipe.
  [[nodiscard]] std::optional<std::pair<double, double>> between_fittings(int axis) const {
    if (!through_.empty()) return std::nullopt;
    double low = -1e9, high = 1e9;
    bool along = false;
    for (const model::PartId id : rests_on_) {
      const model::Part& part = frame_.part(id);
      if (part.kind != model::PartKind::pipe || part.ports.front().facing.axis() != axis) continue;
      along = true;
      std::array<double, 2> ends{};
      for (std::size_t i = 0; i < 2; ++i) {
        const model::Port& port = part.ports[i];
        ends[i] = port.at[axis];
        if (port.joint == model::kNone) continue;
        const model::Joint& joint = frame_.joint(port.joint);
        ends[i] -= port.facing.unit()[axis] * joint.engaged;
      }
      low = std::max(low, std::min(ends[0], ends[1]) + usual_.clear);
      high = std::min(high, std::max(ends[0], ends[1]) - usual_.clear);
    }
    if (!along || high <= low) return std::nullopt;
    return std::pair{low, high};
  }

  /// How far it is to a wall behind or before, where that is near enough for the board to touch it; and on which side.
  [[nodiscard]] std::optional<std::pair<double, int>> near_wall(int axis, double middle, double deep) const {
    for (const model::Surface& surface : frame_.surfaces) {
      if (surface.normal.axis() != axis) continue;
      const double away = surface.at - middle;
      const bool behind = (away > 0.0) == (surface.normal.unit()[axis] < 0.0);
      if (behind && std::abs(away) < 0.75 * deep) return std::pair{std::abs(away), away > 0.0 ? 1 : 0};
    }
    return std::nullopt;
  }

  [[nodiscard]] std::optional<double> said_size(int axis) const {
    const model::Written* size = given_.find("size");
    const model::Written* one = size == nullptr ? nullptr : size->find(std::string(1, "xyz"[axis]));
    return one == nullptr ? std::nullopt : model::parse_length(one->text, frame_.units);
  }
  [[nodiscard]] double rounded_up(double mm) const { return std::ceil(mm / usual_.step - kHairUp) * usual_.step; }

  struct Extent {
    double size = 0.0;
    int side = 0;  ///< lower or upper
    double reach = 0.0;
  };
  [[nodiscard]] Extent extent_along(int axis) const {
    const BoardSpread spread = spread_along(axis);
    const std::optional<double> said = said_size(axis);
    if (const auto room = between_fittings(axis)) {
      const double step = usual_.step / 4.0;
      const double size = said ? *said : std::floor((room->second - room->first) / step) * step;
      return {size, 0, spread.first - ((room->first + room->second) / 2.0 - size / 2.0)};
    }
    const double over = spread.high - spread.low;
    if (over > usual_.step) {
      const double size = said ? *said : rounded_up(over + 2.0 * usual_.past);
      const double before = said ? std::max((size - over) / 2.0, 0.0) : usual_.past;
      return {size, 0, spread.first - spread.low + before};
    }
    const double deep = said ? *said : usual_.deep;
    if (const auto wall = near_wall(axis, spread.first, deep)) {
      const auto [away, side] = *wall;
      return {deep, 0, side == 1 ? deep - away : away};
    }
    return {deep, 0, deep / 2.0};
  }

  void fill_size_and_reach() {
    std::array<std::string, 3> sizes;
    std::string reach;
    for (const int axis : plane_) {
      const Extent extent = extent_along(axis);
      sizes[at(axis)] = typed(extent.size);
      const auto& sides = kSides[at(axis)];
      reach += fmt::format("{}{}: {}", reach.empty() ? "" : ", ", sides[at(extent.side)],
                           typed(std::max(extent.reach, 0.0)));
    }
    sizes[at(normal_)] = typed(said_size(normal_).value_or(usual_.thick));
    const std::string size = fmt::format("{{x: {}, y: {}, z: {}}}", sizes[0], sizes[1], sizes[2]);
    set("size", size);
    if (!has("reach") && !has("at")) keys_.emplace_back("reach", "{" + reach + "}");
  }
  [[nodiscard]] std::string typed(double mm) const { return model::typed_length(mm, frame_.units); }

  void set(const std::string& key, const std::string& value) {
    for (auto& [known, old] : keys_) {
      if (known == key) {
        old = value;
        return;
      }
    }
    keys_.emplace_back(key, value);
  }
  /// As the format's page has them.
  void sort_keys() {
    static const std::vector<std::string> kOrder{"facing", "through", "notch", "rests-on", "height", "size",
                                                 "reach",  "hole",    "at",    "stock",    "fix",    "strap"};
    const auto rank = [](const std::string& key) { return std::find(kOrder.begin(), kOrder.end(), key); };
    std::stable_sort(keys_.begin(), keys_.end(),
                     [&](const auto& a, const auto& b) { return rank(a.first) < rank(b.first); });
  }

  const model::Frame& frame_;
  UsualBoard usual_;
  std::string braced_;
  model::Written given_;
  std::vector<std::pair<std::string, std::string>> keys_;
  std::vector<model::PartId> through_, rests_on_;
  model::Direction facing_ = model::kUp;
  int normal_ = 2;
  std::array<int, 2> plane_{0, 1};
};

/// The surface that an edge or face of the board lies on, which the file lacks.
std::string with_surface_behind(const std::string& text, const model::Frame& frame, const model::Board& board,
                                const std::string& surface) {
  const model::Direction normal = surface == "wall"      ? model::kFront
                                  : surface == "floor"   ? model::kUp
                                  : surface == "ceiling" ? model::kDown
                                                         : model::Direction{};
  if (!normal.valid()) {
    throw UsageError(say("there is no surface '{0}': say where it is first, as --surface {0}=\"front 12\"", surface));
  }
  const int axis = normal.axis();
  const double where = normal.unit()[axis] < 0.0 ? board.hi[axis] : board.lo[axis];
  return model::with_surface(text, surface, normal.name(), model::typed_length(where, frame.units));
}

}  // namespace

EditMade board_put_in(const std::string& text, const std::string& name, const std::string& given) {
  const LoadedFrame loaded = loaded_from(text, name);
  std::set<std::string> taken = names_taken(loaded.frame);
  try {
    const auto flat = board_flat_on(loaded.frame, given);
    const auto keys = flat ? *flat : BoardFilling(loaded.frame, given).filled();
    EditMade made;
    made.added.push_back(new_name(taken, "S"));
    made.text = model::with_board(text, made.added.front(), keys);
    return made;
  } catch (const std::invalid_argument& error) {
    throw UsageError(fmt::format("--board {}: {}", given, said(error)));
  }
}

std::string board_fixed(const std::string& text, const std::string& name, const std::string& given) {
  const auto [label, surface] = two_sides("--fix", given);
  const LoadedFrame loaded = loaded_from(text, name);
  const model::PartId part = loaded.frame.find(label);
  if (part == model::kNone || loaded.frame.part(part).board == model::kNone) {
    throw UsageError(say("--fix {}: there is no board '{}'", given, label));
  }
  std::string made = text;
  const auto& surfaces = loaded.frame.surfaces;
  const auto is_it = [&id = surface](const model::Surface& one) { return one.id == id; };
  if (std::none_of(surfaces.begin(), surfaces.end(), is_it)) {
    made = with_surface_behind(made, loaded.frame, loaded.frame.board_of(part), surface);
  }
  return model::with_value(made, label + ".fix", "[" + surface + "]");
}

}  // namespace dryfit::cli
