/// Prints the random frame of a seed, for tests that are not written in C++.
#include <cstdlib>
#include <iostream>

#include "tests/support/frames/random_benches.hpp"
#include "tests/support/frames/random_frames.hpp"

int main(int argc, char** argv) {
  if (argc != 2) return 2;
  const auto seed = static_cast<std::uint32_t>(std::strtoul(argv[1], nullptr, 10));
  std::cout << (seed % 4 == 0 ? dryfit::test::random_bench(seed).text : dryfit::test::random_frame(seed).text);
  return 0;
}
