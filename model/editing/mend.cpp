#include "model/editing/mend.hpp"

#include <fmt/format.h>
#include <yaml-cpp/yaml.h>

#include <algorithm>
#include <stdexcept>

#include "model/frame/cannot_edit.hpp"

namespace dryfit::model {
namespace {

std::string mm(double length) { return fmt::format("{:.4f} mm", length); }

/// The value of `key`; undefined when there is none. Never creates keys.
YAML::Node value_of(const YAML::Node& map, const std::string& key) {
  if (map.IsMap()) {
    for (const auto& entry : map) {
      if (entry.first.IsScalar() && entry.first.Scalar() == key) return entry.second;
    }
  }
  return YAML::Node(YAML::NodeType::Undefined);
}

/// The same map without `key`.
YAML::Node without(const YAML::Node& map, const std::string& key) {
  YAML::Node rest(YAML::NodeType::Map);
  for (const auto& entry : map) {
    if (entry.first.Scalar() != key) rest.force_insert(entry.first, entry.second);
  }
  return rest;
}

/// The same map with `key` set, in its place or at the end.
YAML::Node with(const YAML::Node& map, const std::string& key, const YAML::Node& value) {
  YAML::Node changed(YAML::NodeType::Map);
  bool found = false;
  for (const auto& entry : map) {
    const bool same = entry.first.Scalar() == key;
    found |= same;
    changed.force_insert(entry.first, same ? value : entry.second);
  }
  if (!found) changed.force_insert(key, value);
  return changed;
}

/// A scalar, the scalars of a list, or the keys of a map, with one name for another.
YAML::Node renamed(const YAML::Node& node, const std::string& from, const std::string& to) {
  if (node.IsScalar()) return node.Scalar() == from ? YAML::Node(to) : node;
  if (node.IsSequence()) {
    YAML::Node list(YAML::NodeType::Sequence);
    for (const auto& item : node) list.push_back(renamed(item, from, to));
    return list;
  }
  if (node.IsMap()) {
    YAML::Node map(YAML::NodeType::Map);
    for (const auto& entry : node) map.force_insert(renamed(entry.first, from, to), entry.second);
    return map;
  }
  return node;
}

YAML::Node part_item(const std::string& id, const YAML::Node& value) {
  YAML::Node item(YAML::NodeType::Map);
  item.force_insert(id, value);
  return item;
}

/// A frame file as a tree of which `runs` and `boards` are made anew.
class File {
 public:
  explicit File(std::string_view text) {
    try {
      root_.reset(YAML::Load(std::string(text)));
    } catch (const YAML::Exception& e) {
      throw CannotEdit(message("the file cannot be read as YAML: {}", std::string_view(e.what())));
    }
    if (!root_.IsMap()) throw CannotEdit(message("the file is no map"));
  }

  struct Spot {
    std::string run;
    std::size_t index = 0;  ///< into the run's parts
  };
  [[nodiscard]] Spot spot_of(const std::string& id) const {
    const YAML::Node runs = value_of(root_, "runs");
    if (runs.IsMap()) {
      for (const auto& run : runs) {
        const YAML::Node parts = value_of(run.second, "parts");
        for (std::size_t i = 0; parts.IsSequence() && i < parts.size(); ++i) {
          if (value_of(parts[i], id).IsDefined()) return {run.first.Scalar(), i};
        }
      }
    }
    throw CannotEdit(message("there is no part '{}' in the file", id));
  }
  [[nodiscard]] YAML::Node run(const std::string& id) const { return value_of(value_of(root_, "runs"), id); }
  [[nodiscard]] YAML::Node board(const std::string& id) const {
    const YAML::Node found = value_of(value_of(root_, "boards"), id);
    if (!found.IsMap()) throw CannotEdit(message("there is no board '{}' in the file", id));
    return found;
  }
  void set_run(const std::string& id, const YAML::Node& run) {
    root_.reset(with(root_, "runs", with(value_of(root_, "runs"), id, run)));
  }
  void set_board(const std::string& id, const YAML::Node& board) {
    root_.reset(with(root_, "boards", with(value_of(root_, "boards"), id, board)));
  }
  void set(const std::string& key, const YAML::Node& value) { root_.reset(with(root_, key, value)); }
  /// `from` and `to` of all runs.
  void rename_link(const std::string& from, const std::string& to) {
    std::vector<std::string> ids;
    for (const auto& run : value_of(root_, "runs")) ids.push_back(run.first.Scalar());
    for (const std::string& id : ids) {
      for (const char* key : {"from", "to"}) {
        const YAML::Node link = value_of(run(id), key);
        if (link.IsDefined() && link.IsScalar() && link.Scalar() == from) {
          set_run(id, with(run(id), key, YAML::Node(to)));
        }
      }
    }
  }
  void set_key(const std::vector<std::string>& path, const std::string& value) {
    root_.reset(with_path(root_, path, 0, value));
  }
  [[nodiscard]] std::string text() const {
    YAML::Emitter out;
    out << root_;
    return std::string(out.c_str()) + "\n";
  }

 private:
  static YAML::Node with_path(const YAML::Node& map, const std::vector<std::string>& path, std::size_t depth,
                              const std::string& value) {
    const std::string& key = path[depth];
    const YAML::Node inner = value_of(map, key);
    if (!inner.IsDefined()) throw CannotEdit(message("there is no key '{}' in the file to change", key));
    if (depth + 1 < path.size()) return with(map, key, with_path(inner, path, depth + 1, value));
    return value.empty() ? without(map, key) : with(map, key, YAML::Load(value));
  }

  YAML::Node root_;
};

YAML::Node list_of(const std::vector<YAML::Node>& items) {
  YAML::Node list(YAML::NodeType::Sequence);
  for (const YAML::Node& item : items) list.push_back(item);
  return list;
}

std::vector<YAML::Node> items_of(const YAML::Node& list) {
  std::vector<YAML::Node> items;
  for (const auto& item : list) items.push_back(item);
  return items;
}

/// The pipe's value with another length and without what was said of one end of it.
YAML::Node piece_of(const YAML::Node& pipe, double length, const std::string& new_end) {
  if (!pipe.IsMap()) throw CannotEdit(message("a part that is no pipe cannot be parted"));
  YAML::Node piece = with(YAML::Clone(pipe), "pipe", YAML::Node(mm(length)));
  const std::string kept = new_end == "end" ? "start" : "end";
  if (const YAML::Node turns = value_of(piece, "turns"); turns.IsDefined() && turns.IsMap()) {
    const YAML::Node rest = without(turns, new_end);
    piece.reset(rest.size() == 0 ? without(piece, "turns") : with(piece, "turns", rest));
  }
  if (const YAML::Node plain = value_of(piece, "plain"); plain.IsDefined() && plain.IsScalar()) {
    const bool stays = plain.Scalar() == kept || plain.Scalar() == "both";
    piece.reset(stays ? with(piece, "plain", YAML::Node(kept)) : without(piece, "plain"));
  }
  return piece;
}

YAML::Node point(std::initializer_list<double> coordinates) {
  YAML::Node list(YAML::NodeType::Sequence);
  for (const double c : coordinates) list.push_back(mm(c));
  return list;
}

}  // namespace

std::string with_pipe_parted(std::string_view text, const PipeParting& parting) {
  File file(text);
  const File::Spot spot = file.spot_of(parting.pipe);
  const YAML::Node run = file.run(spot.run);
  const std::vector<YAML::Node> parts = items_of(value_of(run, "parts"));
  const YAML::Node pipe = value_of(parts[spot.index], parting.pipe);
  YAML::Node fitting(YAML::NodeType::Map);
  fitting.force_insert(parting.fitting, YAML::Node(YAML::NodeType::Null));
  if (const YAML::Node size = value_of(pipe, "size"); size.IsDefined()) fitting.force_insert("size", YAML::Clone(size));
  // Lists are made anew: assigning to a node in a vector would change the node that it stands for.
  std::vector<YAML::Node> changed;
  for (std::size_t i = 0; i < parts.size(); ++i) {
    if (i != spot.index) {
      changed.push_back(parts[i]);
      continue;
    }
    changed.push_back(part_item(parting.pipe, piece_of(pipe, parting.first, "end")));
    changed.push_back(part_item(parting.fitting_id, fitting));
    changed.push_back(part_item(parting.second_id, piece_of(pipe, parting.second, "start")));
  }
  file.set_run(spot.run, with(run, "parts", list_of(changed)));
  file.rename_link(parting.pipe + ".end", parting.second_id + ".end");
  for (const std::string& id : parting.boards_on_second) {
    YAML::Node board = file.board(id);
    for (const char* key : {"through", "notch", "hole", "strap"}) {
      const YAML::Node value = value_of(board, key);
      if (value.IsDefined()) board.reset(with(board, key, renamed(value, parting.pipe, parting.second_id)));
    }
    file.set_board(id, board);
  }
  return file.text();
}

std::string with_end_let_go(std::string_view text, const EndLetGo& let_go) {
  File file(text);
  const File::Spot spot = file.spot_of(let_go.pipe);
  const YAML::Node run = file.run(spot.run);
  std::vector<YAML::Node> parts = items_of(value_of(run, "parts"));
  parts[spot.index].reset(part_item(
      let_go.pipe, piece_of(value_of(parts[spot.index], let_go.pipe), let_go.length, let_go.at_end ? "end" : "start")));
  std::vector<YAML::Node> more;
  for (const auto& [id, value] : let_go.more) more.push_back(part_item(id, YAML::Load(value)));

  const auto cut = static_cast<std::ptrdiff_t>(spot.index + (let_go.at_end ? 1 : 0));
  std::vector<YAML::Node> before(parts.begin(), parts.begin() + cut);
  std::vector<YAML::Node> after(parts.begin() + cut, parts.end());
  YAML::Node first = run, second(YAML::NodeType::Map);
  const YAML::Node to = value_of(run, "to");
  if (let_go.at_end) {
    before.insert(before.end(), more.begin(), more.end());
    first.reset(with(without(run, "to"), "parts", list_of(before)));
    if (!let_go.surface.empty()) first.reset(with(first, "to", YAML::Node(let_go.surface)));
    if (after.empty()) {
      file.set_run(spot.run, first);
      return file.text();
    }
    second.force_insert("go", let_go.go);
    second.force_insert("at", point({let_go.at.x, let_go.at.y, let_go.at.z}));
  } else {
    more.insert(more.end(), after.begin(), after.end());
    if (let_go.surface.empty()) {
      second.force_insert("go", let_go.go);
      second.force_insert("at", point({let_go.at.x, let_go.at.y, let_go.at.z}));
    } else {
      second.force_insert("from", let_go.surface);
      second.force_insert("at", point({let_go.on_surface[0], let_go.on_surface[1]}));
    }
    first.reset(with(without(run, "to"), "parts", list_of(before)));
  }
  second.force_insert("parts", list_of(let_go.at_end ? after : more));
  if (to.IsDefined()) second.force_insert("to", to);
  if (before.empty()) {  // the run began with this end
    file.set_run(spot.run, second);
    return file.text();
  }
  file.set_run(spot.run, first);
  file.set_run(let_go.run, second);
  return file.text();
}

std::string with_holes_opened(std::string_view text, const HolesOpened& opened) {
  File file(text);
  YAML::Node board = file.board(opened.board);
  YAML::Node through(YAML::NodeType::Sequence), notch(YAML::NodeType::Map);
  if (const YAML::Node old = value_of(board, "notch"); old.IsDefined() && old.IsMap()) {
    for (const auto& entry : old) notch.force_insert(entry.first, entry.second);
  }
  const YAML::Node drilled = value_of(board, "through");
  for (const YAML::Node& pipe : items_of(drilled)) {
    const auto slot = std::find_if(opened.slots.begin(), opened.slots.end(),
                                   [&](const HolesOpened::Slot& s) { return s.pipe == pipe.Scalar(); });
    if (slot == opened.slots.end()) {
      through.push_back(pipe);
    } else {
      notch.force_insert(slot->pipe, slot->side);
    }
  }
  board.reset(through.size() == 0 ? without(board, "through") : with(board, "through", through));
  board.reset(with(board, "notch", notch));
  if (!opened.reach.empty()) {
    YAML::Node reach(YAML::NodeType::Map);
    for (const auto& [side, distance] : opened.reach) reach.force_insert(side, mm(distance));
    board.reset(with(board, "reach", reach));
  }
  file.set_board(opened.board, board);
  return file.text();
}

std::string with_holes_widened(std::string_view text, const HolesWidened& widened) {
  File file(text);
  const YAML::Node board = file.board(widened.board);
  const YAML::Node old = value_of(board, "hole");
  const bool for_all = old.IsDefined() && old.IsScalar();
  YAML::Node hole(YAML::NodeType::Map);
  if (for_all) {
    for (const auto& [pipe, diameter] : widened.others) hole.force_insert(pipe, old.Scalar());
  } else if (old.IsDefined() && old.IsMap()) {
    for (const auto& entry : old) {
      const std::string pipe = entry.first.Scalar();
      if (std::find(widened.pipes.begin(), widened.pipes.end(), pipe) == widened.pipes.end()) {
        hole.force_insert(entry.first, entry.second);
      }
    }
  }
  for (const std::string& pipe : widened.pipes) hole.force_insert(pipe, mm(widened.diameter));
  file.set_board(widened.board, with(board, "hole", widened.others.empty() ? YAML::Node(mm(widened.diameter)) : hole));
  return file.text();
}

std::string with_key(std::string_view text, const std::vector<std::string>& path, const std::string& value) {
  if (path.empty()) throw CannotEdit(message("no key is named"));
  File file(text);
  file.set_key(path, value);
  return file.text();
}

std::string with_driver(std::string_view text, double length) {
  File file(text);
  file.set("driver", YAML::Node(mm(length)));
  return file.text();
}

}  // namespace dryfit::model
