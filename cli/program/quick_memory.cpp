/// Memory for the program alone: what is given back is kept at hand by size. A search makes and drops small lists by
/// the million, and the C library keeps but seven of a size at hand before it looks for neighbours to join them with.
#include <cstddef>
#include <cstdlib>
#include <new>

#if defined(__GLIBC__)
#include <malloc.h>

namespace {

/// Blocks are of 8, 24, 40, ... bytes, as the C library has them: it is asked for nothing that it would round up.
constexpr std::size_t kStep = 16, kFirst = 8;
constexpr std::size_t kLargest = 8192;      // larger ones are few
constexpr std::size_t kAtHand = 64 * 1024;  // bytes of a size, at most: what is kept of one is no use for another

constexpr std::size_t size_class(std::size_t bytes) {
  return bytes <= kFirst + kStep ? 1 : (bytes + kFirst - 1) / kStep;
}
constexpr std::size_t kClasses = size_class(kLargest) + 1;

struct Block {
  Block* next;
};
struct Kept {
  Block* first;
  std::size_t bytes;
};
/// A thread that ends leaves what it had at hand; the program has one.
constinit thread_local Kept at_hand[kClasses]{};

void* from_library(std::size_t bytes) {
  for (;;) {
    if (void* block = std::malloc(bytes)) return block;
    const std::new_handler handler = std::get_new_handler();
    if (handler == nullptr) throw std::bad_alloc();
    handler();
  }
}

void keep(void* block, std::size_t c) noexcept {
  Kept& kept = at_hand[c];
  const std::size_t bytes = c * kStep + kFirst;
  if (kept.bytes + bytes > kAtHand) return std::free(block);
  kept.bytes += bytes;
  kept.first = new (block) Block{kept.first};
}

}  // namespace

void* operator new(std::size_t bytes) {
  if (bytes > kLargest) return from_library(bytes);
  const std::size_t c = size_class(bytes);
  Kept& kept = at_hand[c];
  Block* const block = kept.first;
  if (block == nullptr) return from_library(c * kStep + kFirst);
  kept.first = block->next;
  kept.bytes -= c * kStep + kFirst;
  return block;
}

void operator delete(void* block, std::size_t bytes) noexcept {
  if (block == nullptr) return;
  if (bytes > kLargest) return std::free(block);
  keep(block, size_class(bytes));
}

void operator delete(void* block) noexcept {
  if (block == nullptr) return;
  const std::size_t bytes = malloc_usable_size(block);
  if (bytes > kLargest + kStep) return std::free(block);
  const std::size_t c = (bytes - kFirst) / kStep;
  if (c >= kClasses) return std::free(block);
  keep(block, c);
}

#endif
