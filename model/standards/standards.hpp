#pragma once
/// Tables of the standards, read once from model/data/*.csv, which are built into the program.
/// Every row keeps its source and how sure it is. All values in millimetres, kilograms, kilograms per metre.
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "model/frame/frame.hpp"

namespace dryfit::model {

/// How well a number is known, best first.
enum class Confidence { published, secondary, common_practice, derived, memory };
[[nodiscard]] const char* word_for(Confidence confidence);
/// The confidence that model/data writes so, or nullopt.
[[nodiscard]] std::optional<Confidence> confidence_named(std::string_view word);

/// A table value with where it comes from. `source` points into the built-in data (static storage).
struct Datum {
  double value = 0.0;
  Confidence confidence = Confidence::memory;
  std::string_view source;
};

enum class Dimension {
  pipe_od,
  pipe_wall,
  pipe_mass_per_m,
  pitch,
  hand_engagement,    ///< NPT: L1 of ASME B1.20.1; ISO 7-1: basic gauge length
  wrench_engagement,  ///< NPT: L1 + L3; ISO 7-1: gauge length + wrenching allowance
  useful_thread,      ///< NPT: L2; ISO 7-1: useful thread at basic gauge length
  centre_to_end,      ///< elbow, tee, cross
  centre_to_end_45,   ///< 45 elbow
  side_outlet_centre_to_end,
  street_female,  ///< street elbow: centre to face of the female end
  street_male,    ///< street elbow: centre to tip of the male end
  street45_female,
  street45_male,
  coupling_length,
  band,  ///< band diameter of a fitting's arm
  cap_height,
  union_length,  ///< EN 10242 U1 for both standards where the inch table has none
  flange_plate,  ///< mean of the plate diameters
  flange_height,
  bushing_male,  ///< bushing: length of the male thread part (tip to head)
  bushing_head,  ///< bushing: height of the head outside
  plug_male,     ///< plug: length of the male thread part
  plug_head,     ///< plug: height of the square
  // Facts kept beside the ones above, for checks and reports.
  threads_per_inch,         ///< count
  wrench_allowance,         ///< NPT: L3 of ASME B1.20.1; ISO 7-1: wrenching allowance
  wrench_allowance_turns,   ///< ISO 7-1: the same in turns
  vanish_thread,            ///< NPT: V
  overall_thread,           ///< NPT: L4
  gauge_diameter,           ///< ISO 7-1: major diameter at the gauge plane
  fitting_allowance,        ///< ISO 7-1: useful thread less gauge length
  fitting_allowance_turns,  ///< ISO 7-1: the same in turns
  pipe_od_max,              ///< EN 10255
  pipe_od_min,              ///< EN 10255
  band_width,               ///< ASME B16.3 E
  thread_length,            ///< ASME B16.3 B: least thread length in a fitting
  average_insertion,        ///< EN 10242: average length of a made-up thread
  centre_to_pipe,           ///< EN 10242 z of elbow, tee, cross: centre to the pipe's end
  centre_to_pipe_45,        ///< EN 10242 z of a 45 elbow
  coupling_gap,             ///< EN 10242 z of a socket: pipe end to pipe end
  union_gap,                ///< EN 10242 z1 of a union: pipe end to pipe end
  flange_plate_low,
  flange_plate_high,
  flange_screws,  ///< count
  flange_screw_circle,
  foot_height,    ///< from the floor to the face of its port
  foot_plate,     ///< diameter of what stands on the floor
  foot_mass,      ///< kg
  caster_height,  ///< from the floor to the face of its port
  caster_plate,   ///< diameter of the circle that the wheel sweeps as it swivels
  caster_mass     ///< kg
};
/// The word of model/data: "centre-to-end", "pipe-od", ...
[[nodiscard]] std::string_view word_for(Dimension dimension);

/// The value for a standard and a nominal size (index into nominal_sizes()), or nullopt when no table has it. O(1).
[[nodiscard]] std::optional<Datum> dimension(Standard standard, int size, Dimension which);

/// Index of a nominal size written "3/4", "1-1/4" or "1 1/4"; nullopt when unknown.
[[nodiscard]] std::optional<int> nominal_size(std::string_view text);

/// Stock: what a counter sells where the standard is used. By size, then by length.
struct StockPipe {
  int size = 0;
  std::string item;     ///< "close nipple", "nipple", "pre-threaded pipe", "mill length"
  double length = 0.0;  ///< mm, end to end
  Confidence confidence = Confidence::memory;
  std::string_view source;
};
[[nodiscard]] const std::vector<StockPipe>& stock_pipes(Standard standard);

struct Bit {
  bool inch = true;       ///< series
  std::string label;      ///< "1-3/8" or "35"
  double diameter = 0.0;  ///< mm
};
/// Inch series first, each smallest first.
[[nodiscard]] const std::vector<Bit>& bits();

/// Density of a board's stock word ("pine", "oak", "birch-plywood", "mdf", ...), kg/m^3.
[[nodiscard]] std::optional<Datum> density(std::string_view stock);
/// Modulus of elasticity in bending of a stock word, MPa; panels: middle of the printed range.
[[nodiscard]] std::optional<Datum> modulus(std::string_view stock);
/// All stock words, sorted.
[[nodiscard]] const std::vector<std::string>& stock_words();

/// What one person may lift under the best conditions, kg: the load constant of the revised NIOSH lifting equation.
[[nodiscard]] Datum lifting_limit();
/// How far the hands are in front of the ankles' middle when the load begins right there, mm: the same equation.
[[nodiscard]] Datum hands_in_front();
/// A load held farther in front than that nobody lifts alone, mm: the same.
[[nodiscard]] Datum farthest_held();

}  // namespace dryfit::model
