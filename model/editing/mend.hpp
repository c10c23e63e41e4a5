#pragma once
/// Changes of a design in the text of its frame file: a pipe parted, an end let go, a hole opened to a slot or made
/// wider, another driver. The result is a whole frame file to be read by read_frame; it says the same as before but for
/// the change, without comments. All throw std::invalid_argument when the text has no such part or board. O(length of
/// the text).
#include <array>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "model/geometry/direction.hpp"
#include "model/geometry/vec.hpp"

namespace dryfit::model {

/// A pipe made of two pieces, end to end in walking order, with a coupling or union between them.
struct PipeParting {
  std::string pipe;
  double first = 0.0;                         ///< mm; this piece keeps the pipe's id
  double second = 0.0;                        ///< mm
  std::string second_id;                      ///< new
  std::string fitting;                        ///< "union" or "coupling"
  std::string fitting_id;                     ///< new
  std::vector<std::string> boards_on_second;  ///< boards drilled for, slotted round or strapped to the second piece
};
[[nodiscard]] std::string with_pipe_parted(std::string_view text, const PipeParting& parting);

/// A pipe's end that is not screwed into its fitting any more. Where the run went on from there, what follows becomes a
/// run of its own.
struct EndLetGo {
  std::string pipe;
  bool at_end = true;   ///< false: the pipe's start
  double length = 0.0;  ///< of the pipe, mm
  Vec3 at;              ///< start of what follows when that becomes a run of its own, or of the pipe itself, mm
  std::string go;       ///< walking direction there
  std::string run;      ///< new run's id
  /// More parts for that end, each {id, value}, in walking order: {"E9", "{elbow: back}"}; and what they end on.
  std::vector<std::pair<std::string, std::string>> more;
  std::string surface;                 ///< where `more` ends, or begins when the pipe's start is let go; "" for nowhere
  std::array<double, 2> on_surface{};  ///< the spot there, mm
};
[[nodiscard]] std::string with_end_let_go(std::string_view text, const EndLetGo& let_go);

/// Holes of one board opened to slots toward an edge.
struct HolesOpened {
  struct Slot {
    std::string pipe;
    std::string side;  ///< direction of the open edge
  };
  std::string board;
  std::vector<Slot> slots;
  /// New `reach`, {side, mm} each, where the pipe it was counted from is no `through` pipe any more; else empty.
  std::vector<std::pair<std::string, double>> reach;
};
[[nodiscard]] std::string with_holes_opened(std::string_view text, const HolesOpened& opened);

/// Holes or slots of one board made wider.
struct HolesWidened {
  std::string board;
  std::vector<std::string> pipes;                      ///< that go through them
  double diameter = 0.0;                               ///< mm
  std::vector<std::pair<std::string, double>> others;  ///< the board's other holes as they are, {pipe, mm}
};
[[nodiscard]] std::string with_holes_widened(std::string_view text, const HolesWidened& widened);

/// One value set, or taken out with its key when `value` is empty. `path`: the keys that lead to it from the top, as in
/// {"surfaces", "wall", "at"}; all have to be there. `value` is written as the file would hold it.
[[nodiscard]] std::string with_key(std::string_view text, const std::vector<std::string>& path,
                                   const std::string& value);
/// `driver` set: the clear way that screws are driven with, mm.
[[nodiscard]] std::string with_driver(std::string_view text, double length);

}  // namespace dryfit::model
