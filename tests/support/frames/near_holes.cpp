#include "tests/support/frames/near_holes.hpp"

#include <array>
#include <vector>

#include "model/standards/standards.hpp"
#include "tests/support/frames/frame_draft.hpp"

namespace dryfit::test {

NearHoles::NearHoles(std::uint32_t seed) : rng_(seed ^ 0x5eedU), wanted_(below(rng_, 6) == 0) {}

bool NearHoles::draw(FrameSpec& spec) {
  if (!wanted_) return false;
  std::vector<BoardSpec*> boards;
  for (BoardSpec& board : spec.boards) {
    if (!board.through.empty() || !board.notches.empty()) boards.push_back(&board);
  }
  if (boards.empty()) return false;
  const auto standard = spec.standard == "iso7" ? model::Standard::iso7 : model::Standard::npt;
  const int size = model::nominal_size(spec.size).value();
  const bool pipe = below(rng_, 4) == 0;
  const double across =
      model::dimension(standard, size, pipe ? model::Dimension::pipe_od : model::Dimension::band).value().value;
  constexpr std::array<double, 9> kWider{-0.8, -0.4, -0.1, 0.1, 0.3, 0.45, 0.55, 0.7, 0.95};  // mm
  // A pipe has to go into its hole at all.
  const std::size_t least = pipe ? 3 : 0;
  const double wider = kWider[least + static_cast<std::size_t>(below(rng_, static_cast<int>(kWider.size() - least)))];
  boards[static_cast<std::size_t>(below(rng_, static_cast<int>(boards.size())))]->hole = across + wider;
  return true;
}

}  // namespace dryfit::test
