#include "planner/cure/cure_named.hpp"

#include <array>
#include <cmath>
#include <sstream>
#include <vector>

#include "model/text/decimal.hpp"

namespace dryfit::planner {
namespace {

constexpr std::array<CureKind, 7> kAllKinds{CureKind::unite,  CureKind::couple, CureKind::slot, CureKind::widen,
                                            CureKind::flange, CureKind::drive,  CureKind::share};

/// Tenths of micrometres are enough for any bit.
std::string width_word(double mm) {
  std::string digits = std::to_string(std::llround(mm * 1e4));
  digits.insert(0, digits.size() < 5 ? 5 - digits.size() : 0, '0');
  digits.insert(digits.size() - 4, ".");
  while (digits.back() == '0') digits.pop_back();
  if (digits.back() == '.') digits.pop_back();
  return digits;
}

/// A width of a hole in mm and the pipes that go through.
bool take_width(const std::vector<std::string>& words, CureChange& change) {
  if (words.size() < 4) return false;
  const auto width = model::decimal_number(words[2]);
  if (!width || *width <= 0.0) return false;
  change.width = *width;
  change.pipes.assign(words.begin() + 3, words.end());
  return true;
}

const char* end_word(const CureChange& change) { return change.middle ? "middle" : change.at_end ? "end" : "start"; }

bool take_end(const std::string& word, bool middle_too, CureChange& change) {
  change.at_end = word == "end";
  change.middle = word == "middle";
  return change.at_end || word == "start" || (change.middle && middle_too);
}

bool take_surface(const model::Frame& frame, const std::string& word, CureChange& change) {
  for (std::size_t i = 0; i < frame.surfaces.size(); ++i) {
    if (frame.surfaces[i].id != word) continue;
    change.surface = static_cast<int>(i);
    change.side = -frame.surfaces[i].normal;
    return true;
  }
  return false;
}

/// What stands behind kind and part.
bool take_rest(const model::Frame& frame, const std::vector<std::string>& words, CureChange& change) {
  const std::size_t count = words.size();
  switch (change.kind) {
    case CureKind::unite:
    case CureKind::couple: return count == 3 && take_end(words[2], true, change);
    case CureKind::share: return count == 3 && take_end(words[2], false, change);
    case CureKind::flange:
      return count == 4 && take_end(words[2], false, change) && take_surface(frame, words[3], change);
    case CureKind::drive: change.pipes.assign(words.begin() + 1, words.end()); return true;
    case CureKind::widen: return take_width(words, change);
    case CureKind::slot: break;
  }
  const auto side = count < 4 ? std::nullopt : model::direction_named(words[2]);
  if (!side) return false;
  change.side = *side;
  change.pipes.assign(words.begin() + 3, words.end());
  return true;
}

}  // namespace

std::string name_of_change(const model::Frame& frame, const CureChange& change) {
  std::string words = word_for(change.kind);
  const auto add = [&](const std::string& word) { words += " " + word; };
  if (change.kind != CureKind::drive) add(change.part);
  switch (change.kind) {
    case CureKind::unite:
    case CureKind::couple:
    case CureKind::share: add(end_word(change)); break;
    case CureKind::flange:
      add(end_word(change));
      add(frame.surface(change.surface).id);
      break;
    case CureKind::slot: add(change.side.name()); break;
    case CureKind::widen: add(width_word(change.width)); break;
    case CureKind::drive: break;
  }
  for (const std::string& pipe : change.pipes) add(pipe);
  return words;
}

std::optional<CureChange> change_named(const model::Frame& frame, std::string_view words) {
  std::istringstream read{std::string(words)};
  std::vector<std::string> all;
  for (std::string word; read >> word;) all.push_back(word);
  if (all.size() < 2) return std::nullopt;
  for (const CureKind kind : kAllKinds) {
    if (all[0] != word_for(kind)) continue;
    CureChange change;
    change.kind = kind;
    change.part = all[1];
    if (take_rest(frame, all, change)) return change;
  }
  return std::nullopt;
}

}  // namespace dryfit::planner
