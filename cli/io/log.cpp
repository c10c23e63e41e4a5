#include "cli/io/log.hpp"

#include <spdlog/sinks/ostream_sink.h>
#include <spdlog/sinks/stdout_color_sinks.h>
#include <spdlog/spdlog.h>

#include "model/frame/plain_text.hpp"

namespace dryfit::cli {
namespace {

void use(std::shared_ptr<spdlog::logger> logger) {
  logger->set_pattern("%^dryfit: %v%$");
  logger->set_level(spdlog::level::trace);
  spdlog::set_default_logger(std::move(logger));
  log_details(false);
}

}  // namespace

struct LogTo::Before {
  std::shared_ptr<spdlog::logger> logger = spdlog::default_logger();
};

void log_error(const std::string& message) { spdlog::error("{}", model::escaped(message)); }

void log_detail(const std::string& message) { spdlog::debug("{}", message); }

void log_details(bool wanted) { spdlog::set_level(wanted ? spdlog::level::debug : spdlog::level::warn); }

/// The library's own default is standard output, where messages would mix with results.
void log_to_standard_error(bool colour) {
  use(spdlog::stderr_color_st("dryfit", colour ? spdlog::color_mode::always : spdlog::color_mode::never));
}

LogTo::LogTo(std::ostream& stream) : before_(std::make_unique<Before>()) {
  use(std::make_shared<spdlog::logger>("dryfit", std::make_shared<spdlog::sinks::ostream_sink_st>(stream)));
}

LogTo::~LogTo() { spdlog::set_default_logger(before_->logger); }

}  // namespace dryfit::cli
