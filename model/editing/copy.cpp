#include "model/editing/copy.hpp"

#include <array>
#include <stdexcept>

#include "model/editing/outline.hpp"
#include "model/frame/cannot_edit.hpp"

namespace dryfit::model {
namespace {

/// Words of a value that are directions, turned.
void gather_turned(const Written& value, const Turning& turning, std::size_t shift, std::vector<Patch>& patches) {
  if (value.kind == Written::Kind::scalar) {
    const auto direction = direction_named(value.text);
    if (direction) {
      patches.push_back({{value.at.from - shift, value.at.to - shift}, turned(turning, *direction).name()});
    }
  }
  for (const Written& item : value.items) gather_turned(item, turning, shift, patches);
}

std::string value_turned(std::string_view text, const Written& part, const Turning& turning) {
  const std::string_view value = text.substr(part.at.from, part.at.to - part.at.from);
  std::vector<Patch> patches;
  gather_turned(part, turning, part.at.from, patches);
  // A plane of a cross is named by its axes.
  if (const Written* plane = part.find("plane"); plane != nullptr && plane->text.size() == 2) {
    std::string named;
    for (const char axis : std::string_view("xyz")) {
      for (const char letter : plane->text) {
        const Direction along = letter == 'x' ? kRight : letter == 'y' ? kBack : kUp;
        if ("xyz"[turned(turning, along).axis()] == axis) named += axis;
      }
    }
    patches.push_back({{plane->at.from - part.at.from, plane->at.to - part.at.from}, named});
  }
  return with_patches(value, std::move(patches));
}

/// What stands for each part of a run, in walking order.
std::vector<const Written*> parts_in(const Written& root, const Written& run) {
  std::vector<const Written*> parts;
  for (const PartSpot& spot : parts_written(root)) {
    if (spot.run == &run) parts.push_back(spot.part);
  }
  return parts;
}

/// A word of a board: the twin of a part, a direction turned, an axis where it has gone; any other as it is.
std::string board_word(const std::string& word, const std::map<std::string, std::string>& names,
                       const Turning& turning) {
  if (const auto name = names.find(word); name != names.end()) return name->second;
  if (const auto direction = direction_named(word)) return turned(turning, *direction).name();
  if (word.size() == 1 && std::string_view("xyz").find(word) != std::string_view::npos) {
    const Direction along = word == "x" ? kRight : word == "y" ? kBack : kUp;
    return std::string(1, "xyz"[turned(turning, along).axis()]);
  }
  return word;
}

/// The value of a board's key, keys and words of it told anew.
std::string board_value(const Written& value, const std::map<std::string, std::string>& names, const Turning& turning) {
  if (value.items.empty()) return board_word(value.text, names, turning);
  const bool map = value.kind == Written::Kind::map;
  std::string inner;
  for (const Written& item : value.items) {
    inner += inner.empty() ? "" : ", ";
    if (map) inner += board_word(item.key, names, turning) + ": ";
    inner += board_value(item, names, turning);
  }
  return map ? "{" + inner + "}" : "[" + inner + "]";
}

}  // namespace

Turning mirrored_along(int axis) {
  Turning turning;
  for (const Direction direction : all_directions().first(6)) {
    turning[direction] = direction.axis() == axis ? -direction : direction;
  }
  return turning;
}

Turning turned_from(Direction from, Direction to) {
  if (from == to || !from.along_axis() || !to.along_axis()) return {};
  if (from == -to) return mirrored_along(from.axis());
  Turning turning;
  const Direction axis = square_to(from, to);
  turning[from] = to;
  turning[-from] = -to;
  turning[to] = -from;
  turning[-to] = from;
  turning[axis] = axis;
  turning[-axis] = -axis;
  return turning;
}

Direction turned(const Turning& turning, Direction direction) {
  if (turning.empty()) return direction;
  Direction made;
  const auto add = [&](Direction along) {
    const Direction to = turning.at(along);
    made = {made.x + to.x, made.y + to.y, made.z + to.z};
  };
  if (direction.x != 0) add({direction.x, 0, 0});
  if (direction.y != 0) add({0, direction.y, 0});
  if (direction.z != 0) add({0, 0, direction.z});
  return made;
}

NewRun run_copied(std::string_view text, const std::string& run, const std::map<std::string, std::string>& names,
                  const Turning& turning) {
  const Written root = outline_of(text);
  const Written& found = run_written(root, run);
  NewRun made;
  for (const Written* part : parts_in(root, found)) {
    const auto name = names.find(part->key);
    if (name == names.end()) throw CannotEdit(message("'{}' gets no name in the copy", part->key));
    made.parts.push_back({name->second, value_turned(text, *part, turning)});
  }
  if (const Written* go = found.find("go")) {
    const auto direction = direction_named(go->text);
    made.go = direction ? turned(turning, *direction).name() : go->text;
  }
  return made;
}

std::optional<std::vector<std::pair<std::string, std::string>>> board_copied(
    std::string_view text, const std::string& board, const std::map<std::string, std::string>& names,
    const Turning& turning) {
  const Written root = outline_of(text);
  const Written* boards = root.find("boards");
  const Written* found = boards == nullptr ? nullptr : boards->find(board);
  if (found == nullptr) throw CannotEdit(message("there is no board '{}' in the file", board));
  std::vector<std::pair<std::string, std::string>> keys;
  bool carried = false;
  for (const Written& item : found->items) {
    if (item.key == "at") return std::nullopt;
    for (const char* key : {"through", "notch", "rests-on", "strap"}) {
      if (item.key != key) continue;
      carried = true;
      for (const Written& one : item.items) {
        if (!names.contains(one.key.empty() ? one.text : one.key)) return std::nullopt;
      }
    }
    // A shelf's thickness and what it is made of are no names, whatever they are called.
    const bool plain = item.key == "stock" || item.key == "mass";
    keys.emplace_back(item.key, plain ? item.text : board_value(item, names, turning));
  }
  if (!carried) return std::nullopt;
  return keys;
}

std::vector<NewPart> parts_of_run(std::string_view text, const std::string& run) {
  const Written root = outline_of(text);
  const Written& found = run_written(root, run);
  std::vector<NewPart> parts;
  for (const Written* part : parts_in(root, found)) {
    parts.push_back({part->key, part->items.empty() ? part->text : part->items.front().key});
  }
  return parts;
}

std::string said_of_run(std::string_view text, const std::string& run, const std::string& key) {
  const Written root = outline_of(text);
  const Written* said = run_written(root, run).find(key);
  return said == nullptr ? "" : said->text;
}

}  // namespace dryfit::model
