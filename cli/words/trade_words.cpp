#include "cli/words/trade_words.hpp"

#include <array>

#include "cli/words/say.hpp"

namespace dryfit::cli {
namespace {

/// A word of a table, and what people say for it.
struct Word {
  const char* key;
  const char* said;
};

constexpr auto kItems = std::to_array<Word>({
    {"nipple", marked("nipple")},
    {"close nipple", marked("close nipple")},
    {"pre-threaded pipe", marked("pre-threaded pipe")},
    {"mill length", marked("mill length")},
    {"coupling", marked("coupling")},
    {"elbow", marked("elbow")},
    {"elbow45", marked("45 elbow")},
    {"street-elbow", marked("street elbow")},
    {"side-elbow", marked("side-outlet elbow")},
    {"tee", marked("tee")},
    {"side-tee", marked("side-outlet tee")},
    {"cross", marked("cross")},
    {"cap", marked("cap")},
    {"plug", marked("plug")},
    {"bushing", marked("bushing")},
    {"flange", marked("floor flange")},
    {"union", marked("union")},
    {"foot", marked("foot")},
    {"caster", marked("caster")},
    {"pipe clip", marked("pipe clip")},
    {"pipe strap", marked("pipe strap")},
    {"board", marked("board")},
});

constexpr auto kStock = std::to_array<Word>({
    {"ash", marked("ash")},
    {"beech", marked("beech")},
    {"birch", marked("birch")},
    {"birch-plywood", marked("birch-plywood")},
    {"cherry", marked("cherry")},
    {"douglas-fir", marked("douglas-fir")},
    {"hardboard", marked("hardboard")},
    {"maple", marked("maple")},
    {"mdf", marked("mdf")},
    {"oak", marked("oak")},
    {"osb", marked("osb")},
    {"particleboard", marked("particleboard")},
    {"pine", marked("pine")},
    {"plywood", marked("plywood")},
    {"poplar", marked("poplar")},
    {"spruce", marked("spruce")},
    {"walnut", marked("walnut")},
});

constexpr auto kPurposes = std::to_array<const char*>({
    marked("into boards, for flanges (shorter than the board is thick)"),
    marked("into wall studs or rated anchors, for flanges"),
    marked("into wall studs or rated anchors, for boards"),
    marked("into wall studs or rated anchors, for clips"),
    marked("into joists or rated anchors, for flanges"),
    marked("into joists or rated anchors, for boards"),
    marked("into joists or rated anchors, for clips"),
    marked("into boards, for straps (shorter than the board is thick)"),
    marked("one end plain"),
    marked("both ends plain"),
});

constexpr const char* kLiftingSource =
    marked("NIOSH Publication 94-110 (revised September 2021), read on three pages that reproduce it");

template <typename Words>
std::string found(const Words& words, const std::string& key) {
  for (const Word& word : words) {
    if (key == word.key) return translated({}, word.said);
  }
  return key;
}

}  // namespace

std::string counter_word(const std::string& item) {
  constexpr std::string_view kBoard = "board, ";
  if (item.starts_with(kBoard)) return say("board, {}", stock_word(item.substr(kBoard.size())));
  return found(kItems, item);
}

std::string kind_word(const std::string& kind) {
  if (kind == "flange") return say("flange");
  return kind == "end" ? say_in("of a pipe", "end") : counter_word(kind);
}

std::string stock_word(const std::string& stock) { return found(kStock, stock); }

std::string bit_text(const std::string& bit) {
  constexpr std::string_view kInch = " in";
  if (bit.ends_with(kInch)) return say("{} in", bit.substr(0, bit.size() - kInch.size()));
  return with_mark(bit);
}

std::string purpose_text(const std::string& note) {
  for (const char* purpose : kPurposes) {
    if (note == purpose) return translated({}, purpose);
  }
  return note;
}

std::string screw_text(const std::string& gauge, double length, const Lengths& lengths) {
  constexpr std::string_view kNumber = "No. ", kMm = " mm";
  if (gauge.starts_with(kNumber))
    return say_in("gauge and length of a screw", "No. {0} x {1}", gauge.substr(kNumber.size()), lengths(length));
  const std::string wide = gauge.ends_with(kMm) ? gauge.substr(0, gauge.size() - kMm.size()) : gauge;
  return say_in("width and length of a screw, mm", "{0} x {1}", wide, metric_text(length, model::Units::mm));
}

std::string source_text(const std::string& source) {
  return source == kLiftingSource ? translated({}, source) : source;
}

std::string surface_word(const std::string& id) {
  if (id == "wall") return say_in("surface", "wall");
  if (id == "floor") return say_in("surface", "floor");
  return id == "ceiling" ? say_in("surface", "ceiling") : id;
}

std::string the_surface(const std::string& id) {
  if (id == "wall") return say("the wall");
  if (id == "floor") return say("the floor");
  if (id == "ceiling") return say("the ceiling");
  return say("the {}", id);
}

std::string from_surface(const std::string& id) {
  if (id == "wall") return say("from the wall");
  if (id == "floor") return say("from the floor");
  if (id == "ceiling") return say("from the ceiling");
  return say("from the {}", id);
}

}  // namespace dryfit::cli
