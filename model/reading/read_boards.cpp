/// Boards.
#include <fmt/format.h>

#include <algorithm>
#include <array>

#include "model/frame/plain_text.hpp"
#include "model/geometry/at.hpp"
#include "model/reading/reading.hpp"
#include "model/standards/standards.hpp"
#include "model/text/messages.hpp"

namespace dryfit::model {
namespace {

constexpr std::array<std::string_view, 13> kBoardKeys{
    "size", "facing", "through", "notch", "rests-on", "height", "reach", "hole", "at", "fix", "strap", "stock", "mass"};

/// Of words that are no keys of a board, what to write instead.
const std::array<std::pair<std::string_view, Message>, 1>& meant_of_boards() {
  static const std::array<std::pair<std::string_view, Message>, 1> kMeant{
      {{"screw", message("; did you mean 'fix'? A flange is screwed to the board by 'to: BOARD.down' in its run")}}};
  return kMeant;
}

Message sides_of(int axis) {
  return axis == 0   ? message("{} or {}", "left", "right")
         : axis == 1 ? message("{} or {}", "front", "back")
                     : message("{} or {}", "up", "down");
}

/// The two axes of the board's plane, lower first.
std::array<int, 2> plane_axes(int normal) {
  return normal == 0 ? std::array{1, 2} : std::array{0, normal == 1 ? 2 : 1};
}

/// Three lengths in a list are meant as x, y and z.
Message meant_size(const YamlNode& node) {
  if (!node.is_sequence() || node.items.size() != 3) return {};
  for (const YamlNode* item : node.items) {
    if (!item->is_scalar()) return {};
  }
  return message("; did you mean {}?", fmt::format("{{x: {}, y: {}, z: {}}}", shown(node.items[0]->text),
                                                   shown(node.items[1]->text), shown(node.items[2]->text)));
}

/// Names where each needs a value too, as in {P4: 2}: "P4" and [P4, P6] are meant so.
Message meant_map(const YamlNode& node, std::string_view key, std::string_view value) {
  std::string pairs;
  const auto add = [&](const YamlNode& name) {
    if (name.is_scalar() && !name.text.empty()) {
      pairs += fmt::format("{}{}: {}", pairs.empty() ? "" : ", ", shown(name.text), value);
    }
  };
  add(node);
  if (node.is_sequence()) {
    for (const YamlNode* item : node.items) add(*item);
  }
  return pairs.empty() ? Message() : message("; did you mean '{}'?", fmt::format("{}: {{{}}}", key, pairs));
}

void read_size(Reading& in, const YamlNode& map, const Subject& subject, DraftBoard& board) {
  static constexpr std::array<std::string_view, 3> kAxes{"x", "y", "z"};
  const YamlNode* size = map.find("size");
  board.broken = true;
  if (size == nullptr) {
    in.wrong(map.where, subject, message("'size' is missing: write it like {}", "{x: 30, y: 9-1/4, z: 3/4}"));
    return;
  }
  if (!size->is_map()) {
    in.wrong(
        size->where, subject,
        message("size: write it like {}, got {}{}", "{x: 30, y: 9-1/4, z: 3/4}", size->described(), meant_size(*size)));
    return;
  }
  check_keys(in, *size, subject, kAxes);
  bool whole = true;
  for (int axis = 0; axis < 3; ++axis) {
    const std::string_view name = kAxes[dryfit::at(axis)];
    const YamlNode* node = size->find(name);
    if (node == nullptr) {
      in.wrong(size->where, subject, message("size: '{}' is missing, a board has x, y and z", name));
      whole = false;
      continue;
    }
    const auto length = length_of(in, *node, subject, fmt::format("size {}", name), Sign::positive);
    if (length) board.size[axis] = *length;
    whole &= length.has_value();
  }
  board.broken = !whole;
}

void read_facing(Reading& in, const YamlNode& map, const Subject& subject, DraftBoard& board) {
  const double thickness = std::min({board.size.x, board.size.y, board.size.z});
  const YamlNode* node = map.find("facing");
  if (node != nullptr) {
    const auto facing = direction_of(in, *node, subject, "facing", true);
    if (!facing) {
      board.broken = true;
      return;
    }
    board.facing = *facing;
  }
  board.normal = board.facing.axis();
  if (board.broken || board.size[board.normal] <= thickness) return;
  const int thin = board.size.x <= thickness ? 0 : board.size.y <= thickness ? 1 : 2;
  in.wrong(node == nullptr ? map.where : node->where, subject,
           message("facing: the board is thinnest along {0}, so it faces {1}, got {2}", "xyz"[thin], sides_of(thin),
                   node == nullptr ? message("nothing, which means up") : node->described()));
  board.broken = true;
}

void read_notches(Reading& in, const YamlNode& node, const Subject& subject, DraftBoard& board) {
  if (!node.is_map()) {
    in.wrong(node.where, subject,
             message("notch: write it like {}, got {}{}", "{P6: front}", node.described(),
                     meant_map(node, "notch", "front")));
    board.broken = true;
    return;
  }
  for (std::size_t i = 0; i < node.pairs(); ++i) {
    const auto open = direction_of(in, node.value(i), subject, "notch", true);
    if (open && parallel(*open, board.facing) && !board.broken) {
      const auto axes = plane_axes(board.normal);
      in.wrong(node.value(i).where, subject,
               message("notch: a slot opens toward an edge, expected {}, or {}, got {}", sides_of(axes[0]),
                       sides_of(axes[1]), node.value(i).described()));
      board.broken = true;
    } else if (open) {
      board.notches.push_back({{node.key(i).text, node.key(i).where}, *open});
    } else {
      board.broken = true;
    }
  }
}

void read_reach(Reading& in, const YamlNode& node, const Subject& subject, DraftBoard& board) {
  const auto axes = plane_axes(board.normal);
  const Message expected = message("the distances to two edges ({}, and {})", sides_of(axes[0]), sides_of(axes[1]));
  board.place_where = node.where;
  if (!node.is_map()) {
    in.wrong(node.where, subject, message("reach: expected {}, got {}", expected, node.described()));
    board.broken = true;
    return;
  }
  std::array<std::optional<DraftBoard::Reach>, 3> found;
  for (std::size_t i = 0; i < node.pairs(); ++i) {
    const YamlNode& key = node.key(i);
    if (tell_comma(in, node, i, subject)) {
      board.broken = true;
      continue;
    }
    const auto side = direction_of(in, key, subject, "reach", true);
    const auto distance = length_of(in, node.value(i), subject, "reach", Sign::zero_too);
    if (!side || !distance) {
      board.broken = true;
      continue;
    }
    auto& place = found[dryfit::at(side->axis())];
    if (board.broken) continue;  // the board's plane may be unknown
    if (side->axis() == board.normal || place) {
      in.wrong(
          key.where, subject,
          message("reach: '{}' is {}, expected {}", key.text,
                  place ? message("a second distance along the same axis") : message("square to the board"), expected));
      board.broken = true;
      continue;
    }
    place = DraftBoard::Reach{*side, *distance};
  }
  if (board.broken) return;
  for (const int axis : axes) {
    const auto& place = found[dryfit::at(axis)];
    if (place) {
      board.reach.push_back(*place);
    } else {
      in.wrong(node.where, subject, message("reach: no distance to {}, expected {}", sides_of(axis), expected));
      board.broken = true;
    }
  }
}

void read_holes(Reading& in, const YamlNode& node, const Subject& subject, DraftBoard& board) {
  board.hole_where = node.where;
  if (!node.is_map()) {
    board.hole = length_of(in, node, subject, "hole", Sign::positive);
    board.broken |= !board.hole;
    return;
  }
  for (std::size_t i = 0; i < node.pairs(); ++i) {
    const auto diameter = length_of(in, node.value(i), subject, "hole", Sign::positive);
    if (diameter) board.holes.push_back({{node.key(i).text, node.key(i).where}, *diameter});
    board.broken |= !diameter;
  }
}

/// What is not in the table is still wood: its mass may be given instead.
void read_stock(Reading& in, const YamlNode& node, const Subject& subject, DraftBoard& board) {
  const std::vector<std::string_view> words(stock_words().begin(), stock_words().end());
  if (node.is_scalar() && std::find(words.begin(), words.end(), node.text) == words.end()) {
    in.wrong(node.where, subject,
             message("unknown stock '{}', expected {}; for any other give 'mass' in its place{}", shown(node.text),
                     one_of(words), did_you_mean(node.text, words)));
  } else if (const auto i = word_of(in, node, subject, "stock", words)) {
    board.stock = words[*i];
  }
}

void read_straps(Reading& in, const YamlNode& node, const Subject& subject, DraftBoard& board) {
  if (!node.is_map()) {
    in.wrong(node.where, subject,
             message("strap: write it like {}, got {}{}", "{P4: 2}", node.described(), meant_map(node, "strap", "1")));
    return;
  }
  for (std::size_t i = 0; i < node.pairs(); ++i) {
    const auto count = count_of(in, node.value(i), subject, "strap");
    if (count) board.straps.push_back({{node.key(i).text, node.key(i).where}, *count});
  }
}

void read_place(Reading& in, const YamlNode& map, const Subject& subject, DraftBoard& board) {
  board.place_where = board.where;
  const YamlNode* reach = map.find("reach");
  const YamlNode* at = map.find("at");
  if (reach != nullptr) read_reach(in, *reach, subject, board);
  if (at != nullptr) {
    if (reach != nullptr)
      in.wrong(at->where, subject, message("at: the board has 'reach' as well; leave one of them out"));
    const auto place =
        coordinates_of(in, *at, subject, "at", message("two coordinates of the board's left front corner"), 2, 2);
    if (place.size() == 2) {
      board.at = {place[0], place[1]};
    } else {
      board.broken = true;
    }
    board.place_where = at->where;
  }
  if (const YamlNode* height = map.find("height")) {
    board.height = length_of(in, *height, subject, "height", Sign::any);
    board.broken |= !board.height;
    if (map.find("rests-on") != nullptr) {
      in.wrong(height->where, subject, message("height: the board has 'rests-on' as well; leave one of them out"));
    }
  }
}

void read_board(Reading& in, const YamlNode& key, const YamlNode& map) {
  const Subject subject{"board", key.text};
  const bool fresh = enter_id(in, key, subject);
  if (!map.is_map()) {
    in.wrong(map.where, subject,
             message("expected size, rests-on and so on, each on its line, got {}", map.described()));
    return;
  }
  DraftBoard board;
  board.id = key.text;
  board.where = key.where;
  check_keys(in, map, subject, kBoardKeys, meant_of_boards());
  read_size(in, map, subject, board);
  read_facing(in, map, subject, board);
  if (const YamlNode* node = map.find("through")) {
    board.through = names_of(in, *node, subject, "through");
    board.broken |= board.through.empty();
  }
  if (const YamlNode* node = map.find("notch")) read_notches(in, *node, subject, board);
  if (const YamlNode* node = map.find("rests-on")) {
    board.rests_on = names_of(in, *node, subject, "rests-on");
    board.broken |= board.rests_on.empty();
  }
  read_place(in, map, subject, board);
  if (const YamlNode* node = map.find("hole")) read_holes(in, *node, subject, board);
  if (const YamlNode* node = map.find("fix")) board.fix = names_of(in, *node, subject, "fix");
  if (const YamlNode* node = map.find("strap")) read_straps(in, *node, subject, board);
  if (const YamlNode* node = map.find("stock")) read_stock(in, *node, subject, board);
  if (const YamlNode* node = map.find("mass")) board.mass = mass_of(in, *node, subject, "mass");
  board.broken |= !fresh;
  in.draft.boards.push_back(std::move(board));
}

}  // namespace

void read_boards(Reading& in, const YamlNode& node) {
  if (!node.is_map()) {
    in.wrong(node.where, {"boards", {}}, message("expected boards, each under its name, got {}", node.described()));
    return;
  }
  for (std::size_t i = 0; i < node.pairs(); ++i) {
    const YamlNode& key = node.key(i);
    if (key.is_map() || key.is_sequence()) continue;
    if (++in.parts > kMaxParts) {
      if (in.parts == kMaxParts + 1) {
        in.wrong(key.where, {"frame", {}}, message("more than {} parts", kMaxParts));
      }
      return;
    }
    read_board(in, key, node.value(i));
  }
}

}  // namespace dryfit::model
