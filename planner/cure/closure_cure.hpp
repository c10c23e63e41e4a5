#pragma once
/// Cures of open closures: each is written into the frame file, read again, placed, judged and planned before it is
/// told, as those of locked frames are.
#include <string>
#include <string_view>
#include <vector>

#include "planner/base/foreman.hpp"
#include "planner/fit/fit.hpp"
#include "planner/state/contacts.hpp"

namespace dryfit::planner {

/// A change that is no other pipe; other pipes stand in ClosureFit::cures.
struct ClosureCure {
  enum class Kind {
    reach,    ///< a board's `reach` to an edge
    size,     ///< a board's extent
    surface,  ///< where a surface is
    let_go    ///< a run's `at` taken out, so that another run places it
  };
  Kind kind = Kind::reach;
  std::string name;                  ///< of the board, surface or run
  std::string side;                  ///< reach: the edge; size: x, y or z
  double was = 0.0;                  ///< mm; for let_go nothing
  double now = 0.0;                  ///< mm
  std::vector<int> closes;           ///< indices into Fit::closures
  FitState state = FitState::exact;  ///< the worst of the whole frame with the change, open ones left out
  double turning = 0.0;              ///< turns of the whole frame then
  int still_open = 0;                ///< closures that are open then
  int steps = 0;                     ///< of the order that was found for it
  std::string text;                  ///< the frame file with the change
};
/// "reach", "size", "surface", "let-go".
[[nodiscard]] const char* word_for(ClosureCure::Kind kind);

struct ClosureCureLimits {
  int tries = 80;              ///< designs read and planned again
  std::size_t largest = 400;   ///< frames of more contacts are not planned again: nothing is told for them
  Foreman* foreman = nullptr;  ///< told of designs; none is tried any more once he ends the work
};

/// The fit of a frame read from `text` with the cures of what is open: ClosureFit::cures holds only those that can be
/// built and closed, and all others follow. Deterministic.
struct MendedFit {
  Fit fit;
  std::vector<ClosureCure> cures;  ///< by kind, then in file order
};
[[nodiscard]] MendedFit fit_with_cures(const model::Frame& frame, std::string_view text,
                                       const ClosureCureLimits& limits = {});

}  // namespace dryfit::planner
