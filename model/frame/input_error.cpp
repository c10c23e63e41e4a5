#include "model/frame/input_error.hpp"

#include <algorithm>
#include <utility>

#include "model/frame/fault_lines.hpp"

namespace dryfit::model {
namespace {

/// Further faults are counted in a last line.
constexpr std::size_t kMostTold = 100;
/// No fault needs more, whatever names it has to repeat.
constexpr std::size_t kLongest = 2000;

}  // namespace

std::string fault_lines(const std::string& file, const std::vector<InputFault>& faults, const Translate& translate) {
  std::string out;
  const std::size_t told = std::min(faults.size(), kMostTold);
  for (std::size_t i = 0; i < told; ++i) {
    const InputFault& fault = faults[i];
    if (!out.empty()) out += '\n';
    out += file;
    if (fault.where.line > 0) {
      out += ':' + std::to_string(fault.where.line);
      if (fault.where.column > 0) out += ':' + std::to_string(fault.where.column);
    }
    out += ": ";
    out.append(fault.text, 0, kLongest);
    if (fault.text.size() > kLongest) out += "...";
  }
  if (const std::size_t rest = faults.size() - told; rest > 0) {
    const Message more = rest == 1 ? message("and 1 more fault") : message("and {} more faults", rest);
    out += '\n' + file + ": " + more.in(translate);
  }
  return out;
}

InputError::InputError(std::string file, std::vector<InputFault> faults)
    : std::runtime_error(fault_lines(file, faults, in_english)), file_(std::move(file)), faults_(std::move(faults)) {}

}  // namespace dryfit::model
