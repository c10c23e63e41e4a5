#pragma once
/// Runs Debian's answer-set solver, gringo and clasp, on facts and rule files of tests/rules.
#include <set>
#include <string>
#include <vector>

namespace dryfit::test {

struct AnswerSet {
  bool satisfiable = false;
  std::set<std::string> atoms;  ///< of all answers found, as printed: "remains(3,1)"
};

/// `rules`: names in tests/rules. `grounder` and `solver` are further options of gringo and clasp. Fails the test when
/// a program is missing or refuses its input.
[[nodiscard]] AnswerSet solve_answer_set(const std::string& facts, const std::vector<std::string>& rules,
                                         const std::string& grounder, const std::string& solver);

/// The numbers or words between the parentheses: "remains(3,none)" -> {"3", "none"}.
[[nodiscard]] std::vector<std::string> arguments_of(const std::string& atom);

}  // namespace dryfit::test
