#pragma once
/// How lengths are shown to people: inches, metric or both, as asked with --units or else as the frame file has it.
#include <optional>
#include <string>

#include "model/frame/frame.hpp"

namespace dryfit::cli {

/// Formats lengths given in mm.
class Lengths {
 public:
  enum class Show { inches, metric, both };
  /// As asked for this run, see show_lengths_in(); `units` are the frame's own.
  explicit Lengths(model::Units units);

  /// A length to cut or measure, inches to the nearest 1/32: "30 in", "762 mm", "30 in (762 mm)".
  [[nodiscard]] std::string operator()(double mm) const;
  /// A clearance or a small difference: "1/64 in", "0.8 mm".
  [[nodiscard]] std::string fine(double mm) const;
  /// The play of a thing in a hole: "0.020 in", "0.5 mm". No rule shows it, so thousandths of an inch.
  [[nodiscard]] std::string play(double mm) const;
  /// Of mm per m: "1/8 in per ft", "10.4 mm per m".
  [[nodiscard]] std::string slope(double mm_per_m) const;
  /// What has to be there at least: to the next 1/16 in or whole millimetre above. Nobody measures a room to a tenth of
  /// a millimetre, and what is rounded down would not be enough.
  [[nodiscard]] std::string rounded_up(double mm) const;
  [[nodiscard]] Show show() const { return show_; }

 private:
  Show show_;
  model::Units units_;
};

/// Lengths and weights are shown so from now on, where nobody says otherwise: "in", "mm", "both", or "" for the
/// frame's own units. Like the language this is chosen once a run.
void show_lengths_in(const std::string& asked);
[[nodiscard]] const std::string& lengths_asked();

/// A length as Lengths(units) has it.
[[nodiscard]] std::string length_text(double mm, model::Units units);
/// A length as its rounded_up().
[[nodiscard]] std::string rounded_up_text(double mm, model::Units units);
/// In inches, and in the metric unit of a frame file in `units`, whatever was asked for.
[[nodiscard]] std::string inch_text(double mm);
[[nodiscard]] std::string metric_text(double mm, model::Units units);
/// What no tape measure tells apart, 1/64 in, as lengths are shown: "1/64 in", "0.4 mm".
[[nodiscard]] std::string hair_text(model::Units units);
/// A clearance: "1/64 in", "0.8 mm"; a zero behind the mark goes with `trim`.
[[nodiscard]] std::string fine_inch_text(double mm);
[[nodiscard]] std::string fine_metric_text(double mm, bool trim = true);

}  // namespace dryfit::cli
