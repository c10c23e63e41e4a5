#pragma once
/// Pen and paper for the random generator: fresh ids, parts, lengths that close, boards that reach.
#include <array>
#include <random>
#include <string>
#include <utility>
#include <vector>

#include "tests/support/frames/frame_spec.hpp"

namespace dryfit::test {

struct Draft {
  explicit Draft(std::mt19937& source);

  std::mt19937& rng;
  FrameSpec spec;
  std::vector<std::pair<std::string, Direction>> stubs;  ///< free ports that may get something
  std::vector<std::string> rails;                        ///< level pipes that can carry a board

  [[nodiscard]] bool one_in(int n) { return below(rng, n) == 0; }
  /// A whole multiple of 10 mm.
  [[nodiscard]] double length(int lo, int hi) { return lo + 10.0 * below(rng, (hi - lo) / 10 + 1); }
  template <typename T>
  [[nodiscard]] T one_of(std::initializer_list<T> items) {
    return items.begin()[below(rng, static_cast<int>(items.size()))];
  }
  [[nodiscard]] std::string one_of(std::initializer_list<const char*> items) {
    return items.begin()[below(rng, static_cast<int>(items.size()))];
  }
  [[nodiscard]] std::string id(const std::string& letters);

  [[nodiscard]] PartSpec plain(const std::string& letters, const std::string& kind);
  [[nodiscard]] PartSpec aimed(const std::string& letters, const std::string& kind, Direction toward);
  [[nodiscard]] PartSpec pipe(double length);
  [[nodiscard]] PartSpec side_elbow(const std::string& name, Direction toward, Direction side);

  /// From one corner's axis to the next, beyond the pipe between them: two centre-to-end less two engagements.
  [[nodiscard]] double corner_gap() const;
  /// Pipe and fitting in a line ("union", "coupling", "tee" with its branch toward the front or back, "union tee", or
  /// "" for none) that together are as long as one pipe of `total`. Falls back to one pipe where it would be too short.
  [[nodiscard]] std::vector<PartSpec> joined(double total, const std::string& fitting);

  /// A board through these pipes, which stand from x = first to x = last: its edges go beyond them. Some are notched.
  [[nodiscard]] BoardSpec board(std::vector<std::string> pipes, double first, double last);
  /// A laid board on these carriers, now and then strapped.
  void lay_on(const std::vector<std::string>& carriers);
  /// Goes on from `heading` with so many pipes and fittings between them; keeps branches for fill_stubs.
  void walk(std::vector<PartSpec>& parts, Direction heading, int pipes);
  /// Puts plugs, pipes with caps or short walks in about half of the free ports.
  void fill_stubs();

 private:
  [[nodiscard]] Direction square_turn(Direction heading);
  int next_ = 1;
  double engaged_ = 0.0;
  double centre_to_end_ = 0.0;
  double coupling_ = 0.0;
  double union_ = 0.0;
  double union_radius_ = 0.0;
};

}  // namespace dryfit::test
