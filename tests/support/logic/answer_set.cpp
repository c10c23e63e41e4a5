#include "tests/support/logic/answer_set.hpp"

#include <doctest/doctest.h>

#include <cstdio>
#include <memory>
#include <sstream>

#include "tests/support/program/program.hpp"

namespace dryfit::test {
namespace {

std::string output_of(const std::string& line) {
  const std::unique_ptr<FILE, int (*)(FILE*)> pipe(::popen(line.c_str(), "r"), ::pclose);
  REQUIRE(pipe != nullptr);
  std::string text;
  char block[4096];
  for (std::size_t n = 0; (n = std::fread(block, 1, sizeof block, pipe.get())) > 0;) text.append(block, n);
  return text;
}

}  // namespace

AnswerSet solve_answer_set(const std::string& facts, const std::vector<std::string>& rules, const std::string& grounder,
                           const std::string& solver) {
  const tests::ScratchFolder folder;
  std::string line = "gringo -Wno-atom-undefined " + grounder + " " + folder.file("facts.lp", facts);
  for (const std::string& rule : rules) line += std::string(" ") + DRYFIT_SOURCE_DIR + "/tests/rules/" + rule;
  line += " 2>" + folder.path("err") + " | clasp " + solver + " 2>>" + folder.path("err");
  const std::string out = output_of(line);
  const std::string told = tests::slurp(folder.path("err"));
  REQUIRE_MESSAGE(told.empty(), "this test needs Debian's packages gringo and clasp: " << told);
  AnswerSet result;
  std::istringstream lines(out);
  for (std::string text; std::getline(lines, text);) {
    if (text == "SATISFIABLE" || text == "OPTIMUM FOUND") result.satisfiable = true;
    if (!text.starts_with("Answer:") || !std::getline(lines, text)) continue;
    std::istringstream words(text);
    for (std::string atom; words >> atom;) result.atoms.insert(atom);
  }
  REQUIRE_MESSAGE((result.satisfiable || out.find("UNSATISFIABLE") != std::string::npos), out);
  return result;
}

std::vector<std::string> arguments_of(const std::string& atom) {
  std::vector<std::string> arguments(1);
  for (std::size_t i = atom.find('(') + 1; i < atom.size() && atom[i] != ')'; ++i) {
    if (atom[i] == ',') {
      arguments.emplace_back();
    } else {
      arguments.back() += atom[i];
    }
  }
  return arguments;
}

}  // namespace dryfit::test
