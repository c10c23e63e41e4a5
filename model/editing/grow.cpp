#include "model/editing/grow.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <stdexcept>

#include "model/editing/edit.hpp"
#include "model/editing/outline.hpp"
#include "model/frame/cannot_edit.hpp"

namespace dryfit::model {
namespace {

std::string entry_of(const NewPart& part) { return part.id + ": " + part.value; }

/// One name for another where a board names the pipes that it is drilled for.
void rename_in_board(const Written& board, const std::string& was, const std::string& now,
                     std::vector<Patch>& patches) {
  for (const char* key : {"through", "notch", "hole", "strap"}) {
    const Written* value = board.find(key);
    if (value == nullptr) continue;
    for (const Written& item : value->items) {
      if (item.key == was) patches.push_back({item.key_at, now});
      if (item.kind == Written::Kind::scalar && item.key.empty() && item.text == was) patches.push_back({item.at, now});
    }
  }
}

/// All runs that begin or end at one end of a part.
void relink(const Written& root, const std::string& was, const std::string& now, std::vector<Patch>& patches) {
  const Written* runs = root.find("runs");
  if (runs == nullptr) return;
  for (const Written& run : runs->items) {
    for (const char* key : {"from", "to"}) {
      const Written* link = run.find(key);
      if (link != nullptr && link->kind == Written::Kind::scalar && link->text == was)
        patches.push_back({link->at, now});
    }
  }
}

}  // namespace

std::string with_head(std::string_view text, const std::string& name, const std::string& units,
                      const std::string& standard, const std::string& size) {
  if (outline_of(text).kind != Written::Kind::nothing) {
    throw CannotEdit(message("the file says something already, and a start needs an empty one"));
  }
  const std::string newline = newline_of(text);
  const bool open = !text.empty() && text.back() != '\n';
  std::string more = open ? newline : "";
  more += "dryfit: 1" + newline + "name: " + name + newline + "units: " + units + newline;
  more += fmt::format("pipe: {{standard: {}, size: {}}}", standard, size) + newline;
  return std::string(text) + more;
}

std::string with_surface(std::string_view text, const std::string& id, const std::string& normal,
                         const std::string& at) {
  return with_section_entry(text, "surfaces", id, fmt::format("{{normal: {}, at: {}}}", normal, at));
}

std::string with_part_behind(std::string_view text, const std::string& run, const NewPart& part) {
  const Written root = outline_of(text);
  const Written& parts = *run_written(root, run).find("parts");
  return with_item_behind(text, parts, parts.items.size() - 1, entry_of(part));
}

std::string with_parts_behind(std::string_view text, const std::string& part, const std::vector<NewPart>& more) {
  std::string longer(text), behind = part;
  for (const NewPart& one : more) {
    const Written root = outline_of(longer);
    const PartSpot spot = part_written(root, behind);
    longer = with_item_behind(longer, *spot.parts, spot.index, entry_of(one));
    behind = one.id;
  }
  return longer;
}

std::string with_run(std::string_view text, const NewRun& run) {
  const Written root = outline_of(text);
  const Written* runs = root.find("runs");
  if (runs != nullptr && runs->flow) throw CannotEdit(message("runs that stand in one line cannot be added to"));
  std::string lines;
  const auto line = [&](const char* key, const std::string& value) {
    if (!value.empty()) lines += fmt::format("\n  {}: {}", key, value);
  };
  line("from", run.from);
  line("at", run.at);
  line("go", run.go);
  lines += "\n  parts:";
  for (const NewPart& part : run.parts) lines += "\n    - " + entry_of(part);
  line("to", run.to);
  return with_section_entry(text, "runs", run.id, lines);
}

std::string with_run_ended(std::string_view text, const std::string& run, const std::string& to) {
  const Written root = outline_of(text);
  const Written& found = run_written(root, run);
  if (const Written* end = found.find("to")) {
    throw CannotEdit(message("run '{}' ends on {} already", run, end->text));
  }
  return with_entry(text, found, "to", to);
}

std::string with_run_key_out(std::string_view text, const std::string& run, const std::string& key) {
  const Written root = outline_of(text);
  return without_entry(text, run_written(root, run), key);
}

std::string with_run_at(std::string_view text, const std::string& run, const std::string& at) {
  const Written root = outline_of(text);
  const Written& found = run_written(root, run);
  const Written* from = found.find("from");
  if (from == nullptr || found.find("at") != nullptr) {
    throw CannotEdit(message("run '{}' cannot be given a place", run));
  }
  if (found.flow) return put_in(text, from->at.to, ", at: " + at);
  const std::string step(from->key_at.from - line_begin(text, from->key_at.from), ' ');
  return put_in(text, line_end(text, from->at.to), step + "at: " + at + newline_of(text));
}

std::string with_insertion(std::string_view text, const Insertion& insertion) {
  const Written root = outline_of(text);
  const PartSpot spot = part_written(root, insertion.pipe);
  const Written* length = spot.part->find("pipe");
  if (length == nullptr) throw CannotEdit(message("'{}' is no pipe", insertion.pipe));
  if (spot.part->find("turns") != nullptr || spot.part->find("plain") != nullptr) {
    throw CannotEdit(message("'{}' says more of its ends than a fitting can be put between", insertion.pipe));
  }
  std::vector<Patch> patches{{length->at, insertion.first}};
  relink(root, insertion.pipe + ".end", insertion.second.id + ".end", patches);
  if (const Written* boards = root.find("boards")) {
    for (const Written& board : boards->items) {
      const auto& named = insertion.on_second;
      if (std::find(named.begin(), named.end(), board.key) == named.end()) continue;
      rename_in_board(board, insertion.pipe, insertion.second.id, patches);
    }
  }
  return with_parts_behind(with_patches(text, std::move(patches)), insertion.pipe,
                           {insertion.fitting, insertion.second});
}

std::string with_board(std::string_view text, const std::string& id,
                       const std::vector<std::pair<std::string, std::string>>& keys) {
  std::string lines;
  for (const auto& [key, value] : keys) lines += fmt::format("\n  {}: {}", key, value);
  return with_section_entry(text, "boards", id, lines);
}

}  // namespace dryfit::model
