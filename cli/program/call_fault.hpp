#pragma once
/// What is wrong with a call, in the words of this program instead of the option parser's.
#include <string>

namespace CLI {
class App;
class ParseError;
}  // namespace CLI

namespace dryfit::cli {

/// "--people: expected 1 to 20, got '99'", "there is no option '--peple'; did you mean '--people'?". `app` is the whole
/// program after the parse that failed. What the parser says that is not known here is passed on as it is.
[[nodiscard]] std::string call_fault(const CLI::App& app, const CLI::ParseError& error);

}  // namespace dryfit::cli
