#include "model/editing/edit.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <stdexcept>
#include <vector>

#include "model/editing/outline.hpp"
#include "model/frame/cannot_edit.hpp"
#include "model/geometry/direction.hpp"

namespace dryfit::model {
namespace {

constexpr std::array<std::string_view, 6> kMayBeAdded{"stock", "fix", "hole", "strap", "notch", "facing"};

/// Of a part: put in where they are not there.
constexpr std::array<std::string_view, 5> kOptions{"size", "to-size", "branch-size", "plane", "plain"};
/// Of the whole file.
constexpr std::array<std::string_view, 4> kAtTop{"name", "units", "make-up", "driver"};

std::vector<std::string> split(std::string_view text) {
  std::vector<std::string> words;
  while (true) {
    const auto dot = text.find('.');
    words.emplace_back(text.substr(0, dot));
    if (dot == std::string_view::npos) return words;
    text.remove_prefix(dot + 1);
  }
}

const Written* in_section(const Written& root, std::string_view section, std::string_view key) {
  const Written* found = root.find(section);
  return found == nullptr ? nullptr : found->find(key);
}

std::string replaced_by(std::string_view text, const Written& found, std::string_view value) {
  return with_patches(text, {{found.at, (found.kind == Written::Kind::nothing ? " " : "") + std::string(value)}});
}

CannotEdit no_value(std::string_view target, const std::string& owner) {
  return CannotEdit(message("'{}' has no value '{}' in the file to set", owner, target.substr(owner.size() + 1)));
}

/// "coupling" becomes "{coupling: , size: 1/2}", "{pipe: 6}" becomes "{pipe: 6, size: 1/2}".
std::string with_option(std::string_view text, const Written& part, const std::string& key, std::string_view value) {
  if (part.kind == Written::Kind::scalar) {
    return with_patches(text, {{part.at, fmt::format("{{{}: , {}: {}}}", part.text, key, value)}});
  }
  return with_entry(text, part, key, std::string(value));
}

std::string with_part_value(std::string_view text, const Written& part, std::string_view target, const std::string& key,
                            std::string_view value) {
  const Written* found = part.find(key == "length" ? "pipe" : key);
  if (key == "length" && found == nullptr) {
    throw CannotEdit(message("'{}' is no pipe: it has no length to set", part.key));
  }
  const bool option = std::find(kOptions.begin(), kOptions.end(), key) != kOptions.end();
  if (found == nullptr && option) return with_option(text, part, key, value);
  if (found == nullptr || (found->kind != Written::Kind::scalar && !found->flow)) throw no_value(target, part.key);
  return replaced_by(text, *found, value);
}

std::string with_inner_value(std::string_view text, const Written& owner, std::string_view target,
                             const std::vector<std::string>& path, std::string_view value) {
  const Written* found = owner.find(path[1]);
  if (found != nullptr && path.size() == 3) found = found->find(path[2]);
  if (found == nullptr && path.size() == 2 &&
      std::find(kMayBeAdded.begin(), kMayBeAdded.end(), path[1]) != kMayBeAdded.end()) {
    return with_entry(text, owner, path[1], std::string(value));
  }
  const bool can = found != nullptr && (found->kind == Written::Kind::scalar || found->flow);
  if (!can) throw no_value(target, path[0]);
  return replaced_by(text, *found, value);
}

/// The name before a dot: that of a part or board in "T1.right"; "U1~a" speaks of U1.
Bytes name_in(const Written& scalar, std::string_view text) {
  const std::string_view raw = text.substr(scalar.at.from, scalar.at.to - scalar.at.from);
  std::size_t from = scalar.at.from + (raw.starts_with('"') || raw.starts_with('\'') ? 1 : 0);
  return {from, from + std::min(scalar.text.find_first_of(".~"), scalar.text.size())};
}

/// All scalars, items and keys of a value that are that name. A direction or a diameter is none.
void gather_names(std::string_view text, const Written& value, const std::string& was, const std::string& now,
                  std::vector<Patch>& patches) {
  if (value.kind == Written::Kind::scalar && !direction_named(value.text)) {
    const Bytes name = name_in(value, text);
    if (text.substr(name.from, name.to - name.from) == was) patches.push_back({name, now});
  }
  for (const Written& item : value.items) {
    if (item.key == was) patches.push_back({item.key_at, now});
    gather_names(text, item, was, now, patches);
  }
}

void gather_entries(const Written& root, std::string_view section, const std::string& was, const std::string& now,
                    std::vector<Patch>& patches) {
  if (const Written* found = in_section(root, section, was)) patches.push_back({found->key_at, now});
}

void gather_mentions(std::string_view text, const Written& root, const std::string& was, const std::string& now,
                     std::vector<Patch>& patches) {
  const auto of = [&](const Written& owner, std::string_view key) {
    if (const Written* found = owner.find(key)) gather_names(text, *found, was, now, patches);
  };
  if (const Written* runs = root.find("runs")) {
    for (const Written& run : runs->items) {
      of(run, "from");
      of(run, "to");
    }
  }
  if (const Written* boards = root.find("boards")) {
    for (const Written& board : boards->items) {
      for (const char* key : {"through", "rests-on", "notch", "hole", "strap", "fix"}) of(board, key);
    }
  }
  of(root, "clips");
}

}  // namespace

std::string with_value(std::string_view text, std::string_view target, std::string_view value) {
  const std::vector<std::string> path = split(target);
  const Written root = outline_of(text);
  if (path.size() == 1) {
    const Written* found = root.find(path[0]);
    if (found != nullptr && found->kind == Written::Kind::scalar) return replaced_by(text, *found, value);
    const bool top = std::find(kAtTop.begin(), kAtTop.end(), path[0]) != kAtTop.end();
    if (found == nullptr && top) return with_top_value(text, path[0], std::string(value));
    for (const PartSpot& spot : parts_written(root)) {
      if (spot.part->key == path[0] && spot.part->find("pipe") != nullptr) {
        return with_part_value(text, *spot.part, target, "length", value);
      }
    }
  }
  if (path.size() < 2 || path.size() > 3) {
    throw CannotEdit(message("'{}' names no value, expected PART.length, PART.size or BOARD.KEY", target));
  }
  for (const PartSpot& spot : parts_written(root)) {
    if (spot.part->key == path[0]) return with_part_value(text, *spot.part, target, path[1], value);
  }
  for (const char* section : {"boards", "surfaces", "runs"}) {
    if (const Written* owner = in_section(root, section, path[0])) {
      return with_inner_value(text, *owner, target, path, value);
    }
  }
  if (path[0] == "pipe" && root.find("pipe") != nullptr) {
    return with_inner_value(text, *root.find("pipe"), target, path, value);
  }
  throw CannotEdit(message("there is no part or board '{}' in the file", path[0]));
}

std::string with_values(std::string_view text, std::string_view target, std::string_view value) {
  const std::string_view names = target.substr(0, target.find('.')), key = target.substr(names.size());
  const Written root = outline_of(text);
  const std::vector<PartSpot> parts = parts_written(root);
  const bool one =
      names.find('+') == std::string_view::npos ||
      std::any_of(parts.begin(), parts.end(), [&](const PartSpot& spot) { return spot.part->key == names; });
  if (one) return with_value(text, target, value);  // a name may have a plus in it
  std::string changed(text);
  for (std::size_t from = 0, end = 0; end != std::string_view::npos; from = end + 1) {
    end = names.find('+', from);
    changed = with_value(changed, std::string(names.substr(from, end - from)) + std::string(key), value);
  }
  return changed;
}

std::string with_part_swapped(std::string_view text, std::string_view id, const std::string& value) {
  const Written root = outline_of(text);
  return replaced_by(text, *part_written(root, id).part, value);
}

std::string with_name(std::string_view text, const std::string& was, const std::string& now) {
  const Written root = outline_of(text);
  std::vector<Patch> patches;
  for (const PartSpot& spot : parts_written(root)) {
    if (spot.part->key == now) throw CannotEdit(message("there is a part '{}' already", now));
    if (spot.part->key == was) patches.push_back({spot.part->key_at, now});
  }
  for (const char* section : {"boards", "surfaces"}) {
    if (in_section(root, section, now) != nullptr) {
      throw CannotEdit(message("'{}' is there already, among the {}", now, std::string_view(section)));
    }
    gather_entries(root, section, was, now, patches);
  }
  if (patches.empty()) {
    gather_entries(root, "runs", was, now, patches);
    if (patches.empty()) throw CannotEdit(message("there is no part, board, surface or run '{}'", was));
    if (in_section(root, "runs", now) != nullptr) throw CannotEdit(message("there is a run '{}' already", now));
  } else {
    gather_mentions(text, root, was, now, patches);
  }
  return with_patches(text, std::move(patches));
}

}  // namespace dryfit::model
