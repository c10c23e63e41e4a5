/// The whole program as a module of WebAssembly: one call in, one answer out, with files that are in memory. The page
/// talks to it through module.js.
#include <emscripten.h>
#include <sys/stat.h>

#include <cstdlib>
#include <exception>
#include <functional>
#include <iostream>
#include <sstream>
#include <string>
#include <string_view>
#include <vector>

#include "cli/io/exit_code.hpp"
#include "cli/io/log.hpp"
#include "cli/program/program.hpp"
#include "dryfit_version.hpp"

// clang-format off
EM_JS(void, tell_progress, (const char* line, int size), {
  if (Module["tellProgress"]) Module["tellProgress"](UTF8ToString(line, size));
});
// clang-format on

namespace {

struct Answer {
  std::string out;
  std::string err;
};

Answer& answer() {
  static Answer last;
  return last;
}

std::vector<std::string> words_of(std::string_view joined) {
  std::vector<std::string> words;
  while (!joined.empty()) {
    const std::size_t end = joined.find('\0');
    words.emplace_back(joined.substr(0, end));
    joined.remove_prefix(end == std::string_view::npos ? joined.size() : end + 1);
  }
  return words;
}

}  // namespace

extern "C" {

/// Carries out a call. `words`: its words, each ended by a zero byte. Returns the exit code; what was written is there
/// until the next call.
EMSCRIPTEN_KEEPALIVE int dryfit_run(const char* words, int words_size, const char* in, int in_size, int progress) {
  // The language is the page's to choose, by --language: never what the device happens to have.
  ::setenv("LC_ALL", "C", 1);
  ::umask(022);  // where it begins, nothing that is written can be read
  answer() = {};
  std::istringstream input(std::string(in, static_cast<std::size_t>(in_size)));
  std::ostringstream out;
  std::ostringstream err;
  const std::function<void(const std::string&)> tell = [](const std::string& line) {
    tell_progress(line.data(), static_cast<int>(line.size()));
  };
  int code = dryfit::cli::kUnusable;
  try {
    const dryfit::cli::LogTo log(err);
    dryfit::cli::Streams streams{input, out, err};
    if (progress != 0) streams.progress = &tell;
    code = dryfit::cli::run_program(words_of({words, static_cast<std::size_t>(words_size)}), streams);
  } catch (const std::exception& error) {
    err << "dryfit: internal error: " << error.what() << '\n';
  }
  answer() = {std::move(out).str(), std::move(err).str()};
  return code;
}

EMSCRIPTEN_KEEPALIVE const char* dryfit_out() { return answer().out.data(); }
EMSCRIPTEN_KEEPALIVE int dryfit_out_size() { return static_cast<int>(answer().out.size()); }
EMSCRIPTEN_KEEPALIVE const char* dryfit_err() { return answer().err.data(); }
EMSCRIPTEN_KEEPALIVE int dryfit_err_size() { return static_cast<int>(answer().err.size()); }
EMSCRIPTEN_KEEPALIVE const char* dryfit_version() { return DRYFIT_VERSION; }
}
