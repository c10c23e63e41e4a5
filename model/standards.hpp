#pragma once
/// Tables of the standards, read once from model/data/*.csv, which are built into the program.
/// Every row keeps its source and how sure it is. All values in millimetres, kilograms, kilograms per metre.
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "model/frame.hpp"

namespace dryfit::model {

/// How well a number is known, best first.
enum class Confidence { published, secondary, common_practice, derived, memory };
[[nodiscard]] const char* word_for(Confidence confidence);

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
  hand_engagement,      ///< NPT: L1 of ASME B1.20.1; ISO 7-1: basic gauge length
  wrench_engagement,    ///< NPT: L1 + L3; ISO 7-1: gauge length + wrenching allowance
  useful_thread,        ///< NPT: L2; ISO 7-1: useful thread at basic gauge length
  centre_to_end,        ///< elbow, tee, cross
  centre_to_end_45,     ///< 45 elbow
  side_outlet_centre_to_end,
  street_female,        ///< street elbow: centre to face of the female end
  street_male,          ///< street elbow: centre to tip of the male end
  street45_female,
  street45_male,
  coupling_length,
  band,                 ///< band diameter of a fitting's arm
  cap_height,
  union_length,         ///< EN 10242 U1 for both standards where the inch table has none
  flange_plate,         ///< mean of the plate diameters
  flange_height,
  bushing_male,         ///< bushing: length of the male thread part (tip to head)
  bushing_head,         ///< bushing: height of the head outside
  plug_male,            ///< plug: length of the male thread part
  plug_head             ///< plug: height of the square
};

/// The value for a standard and a nominal size (index into nominal_sizes()), or nullopt when no table has it. O(1).
[[nodiscard]] std::optional<Datum> dimension(Standard standard, int size, Dimension which);

/// Index of a nominal size written "3/4", "1-1/4" or "1 1/4"; nullopt when unknown.
[[nodiscard]] std::optional<int> nominal_size(std::string_view text);

/// Stock: what a counter sells.
struct StockPipe {
  int size = 0;
  std::string item;       ///< "close nipple", "nipple", "pre-threaded pipe", "mill length"
  double length = 0.0;    ///< mm, end to end
  Confidence confidence = Confidence::memory;
  std::string_view source;
};
[[nodiscard]] const std::vector<StockPipe>& stock_pipes();

struct Bit {
  bool inch = true;       ///< series
  std::string label;      ///< "1-3/8" or "35"
  double diameter = 0.0;  ///< mm
};
[[nodiscard]] const std::vector<Bit>& bits();

/// Density of a board's stock word ("pine", "oak", "birch-plywood", "mdf", ...), kg/m^3.
[[nodiscard]] std::optional<Datum> density(std::string_view stock);
/// All stock words, sorted.
[[nodiscard]] const std::vector<std::string>& stock_words();

}  // namespace dryfit::model
