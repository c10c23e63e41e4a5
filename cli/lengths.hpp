#pragma once
/// How lengths are shown to people: inches, metric or both, as asked with --units or else as the frame file has it.
#include <optional>
#include <string>

#include "model/frame.hpp"

namespace CLI {
class App;
}

namespace dryfit::cli {

/// Formats lengths given in mm.
class Lengths {
 public:
  enum class Show { inches, metric, both };
  /// `asked` is the value of --units: "in", "mm", "both" or "" for the frame's own.
  Lengths(const std::string& asked, model::Units units);

  /// A length to cut or measure: "30 in", "762 mm", "30 in (762 mm)".
  [[nodiscard]] std::string operator()(double mm) const;
  /// A small difference, where shop fractions are too coarse: "0.031 in", "0.8 mm".
  [[nodiscard]] std::string fine(double mm) const;
  [[nodiscard]] Show show() const { return show_; }

 private:
  Show show_;
  model::Units units_;
};

/// Declares --units on a command.
void add_units_option(CLI::App& app, std::string& units);

}  // namespace dryfit::cli
