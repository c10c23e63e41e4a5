#include "model/editing/take_off.hpp"

#include <algorithm>
#include <set>
#include <stdexcept>

#include "model/editing/outline.hpp"
#include "model/frame/cannot_edit.hpp"

namespace dryfit::model {
namespace {

std::string before_dot(const Written* link) {
  return link == nullptr ? "" : link->text.substr(0, link->text.find_first_of(".~"));
}

std::string without_parts_from(std::string_view text, const Written& run, std::size_t index) {
  const Written& parts = *run.find("parts");
  if (index == 0) return without_section_entry(text, "runs", run.key);
  return without_items(text, parts, index, parts.items.size());
}

/// What the file names a part by, under the keys of a board.
bool names_any(const Written& board, const std::set<std::string>& gone) {
  for (const char* key : {"through", "notch", "rests-on", "strap"}) {
    const Written* value = board.find(key);
    if (value == nullptr) continue;
    const auto named = [&](const Written& item) { return gone.contains(item.key.empty() ? item.text : item.key); };
    if (std::any_of(value->items.begin(), value->items.end(), named)) return true;
  }
  return false;
}

/// One more that hangs on what goes already; false when there is none.
bool gather_more(const Written& root, std::set<std::string>& gone) {
  const std::size_t before = gone.size();
  bool behind = false;
  const Written* run = nullptr;
  for (const PartSpot& spot : parts_written(root)) {
    if (spot.run != run) {
      run = spot.run;
      behind = gone.contains(before_dot(run->find("from")));
    }
    behind |= gone.contains(spot.part->key);
    if (behind) gone.insert(spot.part->key);
  }
  if (const Written* boards = root.find("boards")) {
    for (const Written& board : boards->items) {
      if (names_any(board, gone)) gone.insert(board.key);
    }
  }
  return gone.size() > before;
}

/// A run's `to` goes with what it ends on, or with its last part.
std::string without_ends(std::string text, const std::set<std::string>& gone) {
  while (true) {
    const Written root = outline_of(text);
    const Written* runs = root.find("runs");
    const Written* loose = nullptr;
    for (const Written& run : runs == nullptr ? std::vector<Written>{} : runs->items) {
      const Written* parts = run.find("parts");
      const bool ends = run.find("to") != nullptr && parts != nullptr && !parts->items.empty();
      if (!ends) continue;
      const Written& last = parts->items.back();
      const bool cut = !last.items.empty() && gone.contains(last.items.front().key);
      if (cut || gone.contains(before_dot(run.find("to")))) loose = runs->find(run.key);
    }
    if (loose == nullptr) return text;
    text = without_entry(text, *loose, "to");
  }
}

/// Clips and fixings of what goes.
std::string without_clips(std::string text, const std::set<std::string>& gone) {
  for (const std::string& id : gone) {
    const Written root = outline_of(text);
    const Written* clips = root.find("clips");
    if (clips != nullptr && clips->find(id) != nullptr) text = without_section_entry(text, "clips", id);
  }
  return text;
}

}  // namespace

std::string without_last_part(std::string_view text, const std::string& id) {
  const Written root = outline_of(text);
  const PartSpot spot = part_written(root, id);
  if (spot.index + 1 < spot.parts->items.size()) {
    throw CannotEdit(message("'{}' is not the last part of run '{}'", id, spot.run->key));
  }
  if (spot.index == 0 && root.find("runs")->flow) {
    throw CannotEdit(message("runs that stand in one line cannot be taken off"));
  }
  return without_parts_from(text, *spot.run, spot.index);
}

TakenOff without_what_hangs_on(std::string_view text, const std::string& id) {
  const Written root = outline_of(text);
  std::set<std::string> gone{id};
  const Written* boards = root.find("boards");
  if (boards == nullptr || boards->find(id) == nullptr) static_cast<void>(part_written(root, id));
  while (gather_more(root, gone)) {
  }
  TakenOff taken;
  std::string left = without_clips(without_ends(std::string(text), gone), gone);
  const std::vector<PartSpot> spots = parts_written(root);
  for (const PartSpot& spot : spots) {
    if (gone.contains(spot.part->key)) taken.off.push_back(spot.part->key);
  }
  if (boards != nullptr) {
    for (const Written& board : boards->items) {
      if (!gone.contains(board.key)) continue;
      taken.off.push_back(board.key);
      left = without_section_entry(left, "boards", board.key);
    }
  }
  // From the first part of each run on: what stands behind it goes with it.
  std::set<const Written*> cut;
  for (const PartSpot& spot : spots) {
    if (!gone.contains(spot.part->key) || !cut.insert(spot.run).second) continue;
    const Written now = outline_of(left);
    const PartSpot there = part_written(now, spot.part->key);
    left = without_parts_from(left, *there.run, there.index);
  }
  taken.text = std::move(left);
  return taken;
}

}  // namespace dryfit::model
