#pragma once

/// Before every unit that carries faults: each faulty place asks whether its fault is the one to be made.
namespace dryfit::faults {

inline constexpr int kMost = 4096;

/// The fault of this run, by the environment variable DRYFIT_FAULT; none without it.
extern int chosen;
/// Which places were passed since the test case began.
extern unsigned char reached[kMost];

/// Whether place `number` goes wrong in this run. O(1).
inline bool on(int number) {
  reached[number] = 1;
  return number == chosen;
}

}  // namespace dryfit::faults
