#pragma once
/// Small changes of a design that may free what is locked: which there are, and the frame file that has them.
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "planner/state/contacts.hpp"

namespace dryfit::planner {

enum class CureKind {
  unite,   ///< a union in a pipe
  couple,  ///< a coupling in a pipe, which is then two shorter ones
  slot,    ///< holes of a board opened to slots
  widen,   ///< holes or slots of a board made wider
  flange,  ///< a pipe ended on a surface instead of in a fitting
  drive,   ///< a right-angle driver for flanges whose screws no other gets at
  share    ///< a pipe that shares its threads between two fittings: weaker
};
/// "union", "coupling", "notch", "wider-hole", "flange", "right-angle-driver", "shared-threads".
[[nodiscard]] const char* word_for(CureKind kind);

/// One change. `kind`, `part` and what is marked "asked" say what to do; the rest is filled with what it comes to.
struct CureChange {
  CureKind kind = CureKind::unite;
  std::string part;                   ///< asked: label of the pipe or board; drive: of the first of the flanges
  bool at_end = false;                ///< asked: near or at the pipe's end instead of its start
  bool middle = false;                ///< asked; unite, couple: in the middle of the pipe
  std::vector<std::string> pipes;     ///< asked; slot, widen: of whose holes. drive: the flanges
  model::Direction side;              ///< asked; slot: toward which edge. flange: the way to the surface
  int surface = model::kNone;         ///< asked; flange
  std::vector<std::string> contacts;  ///< ids of the contacts that change
  std::string fitting;                ///< fitting at that end of the pipe
  std::string other_fitting;          ///< fitting at the other end, "" for none
  double width = 0.0;                 ///< asked; widen: the new diameter, mm
  double length = 0.0;                ///< of the pipe as it was, mm; widen: the widest diameter as it was
  double first = 0.0;                 ///< unite, couple: pieces in walking order, mm. flange, share: new length. drive:
                                      ///< the clear way that it takes
  double second = 0.0;                ///< unite, couple: second piece. flange: pipe between elbow and flange
  double turns = 0.0;                 ///< share: turns that each end keeps
  double hand_turns = 0.0;            ///< share: what hand-tight would be
};

struct Edited {
  CureChange change;  ///< filled
  std::string text;   ///< the frame file with the change
};

/// The file `text`, of which `frame` was read, with the change asked for; nullopt when it cannot be made there: no
/// table has the length, a piece would be too short, a board is in the way, no surface is near. O(length of the text).
[[nodiscard]] std::optional<Edited> edited(const model::Frame& frame, std::string_view text, const CureChange& asked);

/// Changes that touch the contacts given, the cheapest kinds first, then in file order. Whether they can be made and
/// help is not asked here.
[[nodiscard]] std::vector<CureChange> changes_at(const model::Frame& frame, const ContactList& list,
                                                 const std::vector<ContactId>& contacts);

}  // namespace dryfit::planner
