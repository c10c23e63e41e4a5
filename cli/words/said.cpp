#include "cli/words/said.hpp"

#include "cli/words/say.hpp"
#include "model/frame/cannot_edit.hpp"
#include "model/frame/fault_lines.hpp"
#include "model/frame/faults.hpp"

namespace dryfit::cli {
namespace {

std::string as_spoken(std::string_view english) { return translated({}, english); }

}  // namespace

std::string said(const model::Message& message) { return message.in(as_spoken); }

std::string said(const model::InputError& error) {
  if (const auto* faults = dynamic_cast<const model::FaultsError*>(&error)) return faults->lines_in(as_spoken);
  return model::fault_lines(error.file(), error.faults(), as_spoken);
}

std::string said(const std::invalid_argument& error) {
  const auto* edit = dynamic_cast<const model::CannotEdit*>(&error);
  return edit == nullptr ? std::string(error.what()) : said(edit->why());
}

}  // namespace dryfit::cli
