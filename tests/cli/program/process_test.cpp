/// The program as a process: exit codes, closed pipes, full disks.
#include <doctest/doctest.h>
#include <sys/wait.h>

#include <cstdlib>

#include "tests/support/program/program.hpp"
#include "tests/support/program/shell.hpp"

using dryfit::tests::exit_code_of;
using dryfit::tests::kProgram;
using dryfit::tests::scenario;
using dryfit::tests::ScratchFolder;
using dryfit::tests::slurp;

namespace {}  // namespace

TEST_CASE("the process tells the shell yes, no or unusable") {
  CHECK(exit_code_of(kProgram + " check " + scenario("pot-rail") + " >/dev/null") == 0);
  CHECK(exit_code_of(kProgram + " check " + scenario("cellar-rail-ring") + " >/dev/null") == 1);
  CHECK(exit_code_of(kProgram + " check /nowhere.yaml >/dev/null 2>&1") == 2);
  CHECK(exit_code_of(kProgram + " check >/dev/null 2>&1") == 2);
}

TEST_CASE("a reader that leaves early does not kill the program and needs no message") {
  const ScratchFolder folder;
  const std::string line = "( " + kProgram + " order " + scenario("seed-store") + " --json 2>" + folder.path("err") +
                           "; echo $? >" + folder.path("code") + " ) | true";
  // The pipe's reader may be slower than the program; what counts is a clean end either way.
  CHECK(exit_code_of(line) == 0);
  const std::string code = slurp(folder.path("code"));
  CHECK((code == "0\n" || code == "2\n"));
  CHECK(slurp(folder.path("err")) == "");
  CHECK(exit_code_of(kProgram + " order " + scenario("pot-rail") + " >&- 2>/dev/null") == 2);
}

TEST_CASE("a full disk under standard output is told, exit code 2") {
  const ScratchFolder folder;
  CHECK(exit_code_of(kProgram + " order " + scenario("pot-rail") + " >/dev/full 2>" + folder.path("err")) == 2);
  CHECK(slurp(folder.path("err")) == "dryfit: cannot write to standard output: No space left on device\n");
}

TEST_CASE("messages carry no colour into a file") {
  const ScratchFolder folder;
  CHECK(exit_code_of(kProgram + " nonsense 2>" + folder.path("err")) == 2);
  CHECK(slurp(folder.path("err")).find('\x1b') == std::string::npos);
}
