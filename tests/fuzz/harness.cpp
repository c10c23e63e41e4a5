/// libFuzzer's entry. One program per target: DRYFIT_FUZZ_TARGET is the function's name.
#include <cstddef>
#include <cstdint>
#include <cstdio>
#include <cstdlib>

#include "tests/fuzz/targets.hpp"

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  const std::string_view bytes(reinterpret_cast<const char*>(data), size);
  const std::string broken = dryfit::fuzz::DRYFIT_FUZZ_TARGET(bytes);
  if (broken.empty()) return 0;
  std::fprintf(stderr, "what must hold does not: %s\n", broken.c_str());
  std::abort();
}
