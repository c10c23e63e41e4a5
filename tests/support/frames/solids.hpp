#pragma once
/// Numbers by chance for solids that tests throw together.
#include <random>

namespace dryfit::tests {

/// One of ten thousand even steps from lo to hi: the same on every machine, which the library's distributions are not.
[[nodiscard]] inline double part_of(std::mt19937& rng, double lo, double hi) {
  return lo + (hi - lo) * static_cast<double>(rng() % 10001) / 10000.0;
}

}  // namespace dryfit::tests
