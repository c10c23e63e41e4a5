#include "cli/edit/end_alone.hpp"

#include <fmt/format.h>

namespace dryfit::cli {

std::string one_run(const model::Frame& frame, int size, model::Direction go, const std::vector<std::string>& parts) {
  std::string text = fmt::format(
      "dryfit: 1\nunits: mm\npipe: {{standard: {}, size: {}}}\nmake-up: {}\nruns:\n  one:\n    at: [0, 0, 0]\n    go: {}\n"
      "    parts:\n",
      frame.standard == model::Standard::npt ? "npt" : "iso7", model::nominal_sizes()[at(size)],
      frame.make_up == model::MakeUp::hand ? "hand" : "wrench", go.name());
  for (const std::string& part : parts) text += "      - " + part + "\n";
  return text;
}

std::optional<EndAlone> end_alone(const model::Frame& frame, const model::Port& port) {
  if (!port.threaded) return std::nullopt;
  std::vector<std::string> parts{"A: {pipe: 300}"};
  if (!port.male) parts.emplace_back("B: coupling");
  EndAlone alone{one_run(frame, port.size, port.facing, parts), port.male ? "A.end" : "B." + port.facing.name()};
  const auto loaded = read_if_sound(alone.text, "an end");
  if (!loaded || !end_named(loaded->frame, alone.end)) return std::nullopt;
  return alone;
}

}  // namespace dryfit::cli
