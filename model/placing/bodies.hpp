#pragma once
/// The shape of one part: ports, bodies, mass and centre of mass, from the tables and what the owner measured.
#include <optional>

#include "model/frame/frame.hpp"
#include "model/reading/draft.hpp"

namespace dryfit::model {

/// kg/m^3; steel and malleable iron alike to a few percent.
inline constexpr double kSteelDensity = 7850.0;
/// Thickness of a flange's plate, mm.
inline constexpr double kFlangePlate = 6.0;
/// A union with its nut is this many bands across.
inline constexpr double kUnionAcross = 1.25;
/// The head of a bushing or plug is this many outside diameters of its pipe size across. No table: the hexagon must
/// only be a little larger than the thread, so that it cannot follow it into the port.
inline constexpr double kHeadAcross = 1.1;

/// How a part is walked through.
struct Walk {
  Direction in;              ///< walking direction on entry
  Direction out;             ///< walking direction behind it
  bool entered = true;       ///< false: the first part of a run, and nothing before it
  bool enters_male = false;  ///< bushings: the male end comes first
};

/// Fills in size, ports, solids, masses, centres and lengths of `part` from its draft, placed so that its starting end
/// is the origin: of a pipe its start, of a fitting that is entered the face (or male tip) that is entered, of a cap,
/// plug or flange that begins a run its closed end, head or mounting face. A union takes two calls, `second` tells
/// which half. Returns what is missing, as a sentence for people with lengths in `units`,
/// or nothing. O(1).
///
/// Interpretations where the format leaves room:
/// - A fitting with two sizes: each arm is the mean of the two sizes' table values, a coupling is as long as its larger
///   size; the band of an arm is that of its own size. B16.3 and EN 10242 print reducing fittings one by one; until
///   such rows are entered the mean is marked as from memory.
/// - `measured`: `centre-to-end` goes for every arm; of a street elbow for the female arm, `length` for the male one
///   (centre to tip). Of a bushing or plug `length` is over all, from face to face, and so is `height` by itself;
///   beside `length` a smaller `height` is that of the head. `band` is the head's width.
/// - Masses of fittings are derived: the bodies less a bore of the pipe's outside diameter, at steel density. What
///   arms share at their crossing is counted per arm up to the centre, which errs by grams.
[[nodiscard]] std::optional<Message> shape_part(const DraftPart& draft, Standard standard, Units units,
                                                const Walk& walk, bool second, Part& part);

/// Shifts a part with everything on it.
void move_part(Part& part, Vec3 by);

}  // namespace dryfit::model
