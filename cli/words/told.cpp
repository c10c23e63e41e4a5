#include "cli/words/told.hpp"

#include <fmt/args.h>
#include <fmt/format.h>

#include "cli/words/lengths.hpp"
#include "cli/words/say.hpp"
#include "cli/words/trade_words.hpp"
#include "cli/words/words.hpp"

namespace dryfit::cli {
namespace {

struct InWords {
  model::Units units;

  std::string operator()(const std::string& name) const { return name; }
  std::string operator()(const std::vector<std::string>& names) const {
    constexpr std::size_t kMost = 5;
    return listed_briefly(names, kMost);
  }
  std::string operator()(const planner::SurfaceName& surface) const { return the_surface(surface.id); }
  std::string operator()(const planner::Quantity& measure) const {
    const Lengths lengths(units);
    switch (measure.as) {
      case planner::Quantity::As::slope: return lengths.slope(measure.value);
      case planner::Quantity::As::fine: return lengths.fine(measure.value);
      case planner::Quantity::As::length: break;
    }
    return lengths(measure.value);
  }
};

}  // namespace

std::string told(const planner::Remark& remark, model::Units units) {
  fmt::dynamic_format_arg_store<fmt::format_context> fields;
  for (const planner::RemarkField& field : remark.fields) fields.push_back(std::visit(InWords{units}, field));
  return fmt::vformat(translated({}, remark.english), fields);
}

std::vector<std::string> told(const std::vector<planner::Remark>& remarks, model::Units units) {
  std::vector<std::string> out;
  for (const planner::Remark& remark : remarks) out.push_back(told(remark, units));
  return out;
}

}  // namespace dryfit::cli
