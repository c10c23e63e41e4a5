#pragma once
/// `dryfit order` asked about one frame in a folder of its own.
#include <doctest/doctest.h>

#include <nlohmann/json.hpp>
#include <string>
#include <utility>
#include <vector>

#include "tests/support/program/program.hpp"

namespace dryfit::tests {

struct OrderCalls {
  ScratchFolder folder;
  std::string frame;
  explicit OrderCalls(const std::string& text) : frame(folder.file("frame.yaml", text)) {}

  [[nodiscard]] Ran order(std::vector<std::string> more) const {
    more.insert(more.begin(), {"order", frame});
    return run(more);
  }
  /// The document, with that exit code and nothing on standard error.
  [[nodiscard]] nlohmann::json answer(std::vector<std::string> more, int code) const {
    more.emplace_back("--json");
    const Ran ran = order(std::move(more));
    CHECK(ran.code == code);
    CHECK(ran.err == "");
    return nlohmann::json::parse(ran.out);
  }
  /// What is refused is refused by name, with nothing on standard output.
  void refused(std::vector<std::string> more, const std::string& with) const {
    CAPTURE(with);
    const Ran ran = order(std::move(more));
    CHECK(ran.code == 2);
    CHECK(ran.out == "");
    CHECK_MESSAGE(ran.err.find(with) != std::string::npos, ran.err);
  }
};

}  // namespace dryfit::tests
