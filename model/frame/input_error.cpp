#include "model/frame/input_error.hpp"

#include <utility>

namespace dryfit::model {
namespace {

std::string all_lines(const std::string& file, const std::vector<InputFault>& faults) {
  std::string out;
  for (const InputFault& fault : faults) {
    if (!out.empty()) out += '\n';
    out += file;
    if (fault.where.line > 0) {
      out += ':' + std::to_string(fault.where.line);
      if (fault.where.column > 0) out += ':' + std::to_string(fault.where.column);
    }
    out += ": " + fault.text;
  }
  return out;
}

}  // namespace

InputError::InputError(std::string file, std::vector<InputFault> faults)
    : std::runtime_error(all_lines(file, faults)), file_(std::move(file)), faults_(std::move(faults)) {}

}  // namespace dryfit::model
