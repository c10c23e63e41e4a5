#pragma once
/// Tones, line weights and sizes of all drawings, in one place. Chosen so that pipes, fittings, boards and the new
/// piece stay apart on a black-and-white printer: their greys are 0.93, 0.70, 0.95 (grained) and 0.45. Straps and clips
/// are 0.55, floors and walls 0.97 and hatched.
#include "model/frame/frame.hpp"

namespace dryfit::cli::look {

struct Tone {
  double red = 0.0;
  double green = 0.0;
  double blue = 0.0;
};

inline constexpr Tone kInk{0.10, 0.11, 0.13};
inline constexpr Tone kPaper{1.0, 1.0, 1.0};
inline constexpr Tone kPipe{0.92, 0.93, 0.94};
inline constexpr Tone kFitting{0.66, 0.71, 0.76};
inline constexpr Tone kBoard{0.98, 0.93, 0.83};
inline constexpr Tone kNew{0.93, 0.42, 0.12};
inline constexpr Tone kNewBoard{0.97, 0.58, 0.28};
inline constexpr Tone kGrain{0.74, 0.64, 0.48};
inline constexpr Tone kStrap{0.53, 0.55, 0.58};
inline constexpr Tone kRoom{0.97, 0.97, 0.96};
inline constexpr Tone kRoomLine{0.62, 0.62, 0.60};
inline constexpr Tone kHole{0.30, 0.28, 0.26};

/// Line weights in mm at a picture width of 120 mm; see weight().
inline constexpr double kOutline = 0.20;
inline constexpr double kNewOutline = 0.42;
inline constexpr double kFine = 0.10;

/// Smallest lettering that is read at arm's length, mm (height of the font's em).
inline constexpr double kSmallestText = 2.2;

[[nodiscard]] constexpr Tone base_tone(model::PartKind kind, bool emphasised) {
  if (kind == model::PartKind::board) return emphasised ? kNewBoard : kBoard;
  if (emphasised) return kNew;
  return kind == model::PartKind::pipe ? kPipe : kFitting;
}

/// Lines grow a little with the picture, but never vanish or clot.
[[nodiscard]] constexpr double weight(double at_120, double picture_width) {
  const double k = picture_width / 120.0;
  return at_120 * (k < 0.8 ? 0.8 : k > 1.6 ? 1.6 : k);
}

}  // namespace dryfit::cli::look
