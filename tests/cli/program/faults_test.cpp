/// What the disk, the system and the person at the keyboard can do to a file that is being written.
#include <dirent.h>
#include <doctest/doctest.h>
#include <sys/stat.h>
#include <sys/wait.h>
#include <unistd.h>

#include <algorithm>
#include <csignal>
#include <cstdlib>

#include "cli/io/atomic_file.hpp"
#include "cli/io/usage_error.hpp"
#include "tests/support/frames/generated_frames.hpp"
#include "tests/support/program/program.hpp"
#include "tests/support/program/shell.hpp"

namespace {

using namespace dryfit::tests;

constexpr std::size_t kLong = 32U << 20U;

bool half_written(const ScratchFolder& folder) {
  for (const std::string& name : folder.entries()) {
    struct stat facts {};
    if (name.starts_with(".dryfit-") && ::stat(folder.path(name).c_str(), &facts) == 0 && facts.st_size > 0)
      return true;
  }
  return false;
}

struct Struck {
  bool in_the_middle = false;  ///< the signal was sent while a part of the new file was on the disk
  int status = 0;              ///< of the process that wrote
};

/// Writes a long file in a process of its own and sends it `signal` as soon as some of it is written.
Struck strike_while_writing(const ScratchFolder& folder, const std::string& path, int signal) {
  const std::string text(kLong, 'n');
  const pid_t child = ::fork();
  REQUIRE(child >= 0);
  if (child == 0) {
    for (const int s : {SIGINT, SIGTERM, SIGHUP}) std::signal(s, SIG_DFL);
    try {
      dryfit::cli::write_file(path, text);
    } catch (...) {
      ::_exit(3);
    }
    ::_exit(0);
  }
  Struck struck;
  while (::waitpid(child, &struck.status, WNOHANG) == 0) {
    if (struck.in_the_middle || !half_written(folder)) continue;
    struck.in_the_middle = true;
    ::kill(child, signal);
  }
  return struck;
}

}  // namespace

TEST_CASE("a process killed while it writes leaves the old file whole") {
  int in_the_middle = 0;
  for (int round = 0; round < 5; ++round) {
    const ScratchFolder folder;
    const std::string path = folder.file("cards.pdf", "old");
    const Struck struck = strike_while_writing(folder, path, SIGKILL);
    const std::string after = slurp(path);
    const bool whole = after == "old" || (after.size() == kLong && after.front() == 'n');
    CHECK(whole);
    if (!struck.in_the_middle) continue;
    ++in_the_middle;
  }
  CHECK(in_the_middle >= 1);
}

TEST_CASE("an interrupt or a polite request to end waits until the file is whole, and then ends the program") {
  for (const int signal : {SIGINT, SIGTERM, SIGHUP}) {
    CAPTURE(signal);
    const ScratchFolder folder;
    const std::string path = folder.file("cards.pdf", "old");
    const Struck struck = strike_while_writing(folder, path, signal);
    const std::string after = slurp(path);
    CHECK(after.size() == kLong);
    CHECK(folder.entries() == std::vector<std::string>{"cards.pdf"});
    if (!struck.in_the_middle) continue;
    CHECK(WIFSIGNALED(struck.status));
    CHECK(WTERMSIG(struck.status) == signal);
  }
}

TEST_CASE("a folder that may not be written is refused by name, and what is in it stays") {
  const ScratchFolder folder;
  const std::string path = folder.file("cards.pdf", "old");
  REQUIRE(::chmod(folder.path(".").c_str(), 0555) == 0);
  const pid_t child = ::fork();
  REQUIRE(child >= 0);
  if (child == 0) {
    // The administrator may write anywhere; nobody may not.
    if (::geteuid() == 0 && (::setgid(65534) != 0 || ::setuid(65534) != 0)) ::_exit(4);
    int code = 1;
    for (const std::string& target : {folder.path("new.pdf"), path}) {
      code = 1;
      try {
        dryfit::cli::write_file(target, "new");
      } catch (const dryfit::cli::UsageError& error) {
        code = error.what() == "cannot write '" + target + "': Permission denied" ? 0 : 2;
      }
      if (code != 0) break;
    }
    ::_exit(code);
  }
  int status = 0;
  REQUIRE(::waitpid(child, &status, 0) == child);
  REQUIRE(::chmod(folder.path(".").c_str(), 0755) == 0);
  CHECK(WIFEXITED(status));
  CHECK(WEXITSTATUS(status) == 0);
  CHECK(slurp(path) == "old");
  CHECK(folder.entries() == std::vector<std::string>{"cards.pdf"});
}

TEST_CASE("each command that writes a file leaves the old one whole when the disk is full") {
  const std::string frame = scenario("plant-rack");
  for (const std::string& call : {"show " + frame + " -o ", "cards " + frame + " -o ", "drill " + frame + " -o "}) {
    CAPTURE(call);
    const ScratchFolder folder;
    const std::string path = folder.file("sheet.pdf", "old");
    // ulimit -f counts blocks of 512 bytes: the file may grow to one of them.
    const int code = exit_code_of("( ulimit -f 1; exec " + kProgram + " " + call + path + " >/dev/null 2>/dev/full )");
    CHECK(code == 2);
    CHECK(slurp(path) == "old");
    CHECK(folder.entries() == std::vector<std::string>{"sheet.pdf"});
  }
}

// The address sanitizer reserves more address space than any limit would leave it.
#if !defined(__SANITIZE_ADDRESS__)
TEST_CASE("a limit on memory is told by name, with exit code 3 and no half answer") {
  const std::string ran_out =
      "dryfit: memory ran out before there was an answer: 'ulimit -v' or the machine allows no more\n";
  const ScratchFolder folder;
  const std::string frame = folder.file("rack.yaml", rack_text(300, 8));
  int refused = 0;
  for (const int kilobytes : {60000, 80000, 100000, 400000}) {
    CAPTURE(kilobytes);
    const int code = exit_code_of("( ulimit -v " + std::to_string(kilobytes) + "; exec " + kProgram + " check --json " +
                                  frame + " >" + folder.path("out") + " 2>" + folder.path("err") + " )");
    const std::string told = slurp(folder.path("err"));
    // Below what the program's own libraries need, the system's loader refuses before there is a program.
    if (code == 127 || told.find("shared librar") != std::string::npos) continue;
    CAPTURE(told);
    const bool sound = (code == 0 && told.empty()) || (code == 3 && told == ran_out);
    CHECK(sound);
    if (code != 3) continue;
    CHECK(slurp(folder.path("out")) == "");
    ++refused;
  }
  CHECK(refused >= 1);
}
#endif
