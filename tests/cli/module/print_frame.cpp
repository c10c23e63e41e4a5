/// Prints the random frames of seeds FIRST to LAST, each ended by a zero byte, for tests that are not written in C++.
#include <cstdlib>
#include <iostream>

#include "tests/support/frames/random_benches.hpp"
#include "tests/support/frames/random_frames.hpp"

int main(int argc, char** argv) {
  if (argc != 3) return 2;
  const auto first = static_cast<std::uint32_t>(std::strtoul(argv[1], nullptr, 10));
  const auto last = static_cast<std::uint32_t>(std::strtoul(argv[2], nullptr, 10));
  for (std::uint32_t seed = first; seed <= last; ++seed) {
    std::cout << (seed % 4 == 0 ? dryfit::test::random_bench(seed).text : dryfit::test::random_frame(seed).text) << '\0';
  }
  return 0;
}
