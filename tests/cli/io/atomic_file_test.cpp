#include "cli/io/atomic_file.hpp"

#include <doctest/doctest.h>
#include <sys/resource.h>
#include <sys/stat.h>
#include <unistd.h>

#include <csignal>
#include <utility>
#include <vector>

#include "cli/io/usage_error.hpp"
#include "tests/support/program/program.hpp"

using dryfit::cli::UsageError;
using dryfit::cli::write_file;
using dryfit::tests::ScratchFolder;
using dryfit::tests::slurp;

namespace {

/// Lets no file grow past `bytes`, as a full disk would, until the end of the scope.
class SmallDisk {
 public:
  explicit SmallDisk(rlim_t bytes) : on_excess_(std::signal(SIGXFSZ, SIG_IGN)) {
    getrlimit(RLIMIT_FSIZE, &before_);
    rlimit small = before_;
    small.rlim_cur = bytes;
    setrlimit(RLIMIT_FSIZE, &small);
  }
  ~SmallDisk() {
    setrlimit(RLIMIT_FSIZE, &before_);
    std::signal(SIGXFSZ, on_excess_);
  }
  SmallDisk(const SmallDisk&) = delete;
  SmallDisk& operator=(const SmallDisk&) = delete;

 private:
  rlimit before_{};
  void (*on_excess_)(int);
};

}  // namespace

TEST_CASE("a file is written whole, with the usual rights, and nothing is left beside it") {
  const ScratchFolder folder;
  write_file(folder.path("a.svg"), "one");
  CHECK(slurp(folder.path("a.svg")) == "one");
  struct stat facts {};
  REQUIRE(::stat(folder.path("a.svg").c_str(), &facts) == 0);
  const mode_t mask = ::umask(0);
  ::umask(mask);
  CHECK((facts.st_mode & 07777U) == (0666U & ~mask));
  CHECK(folder.entries() == std::vector<std::string>{"a.svg"});
}

TEST_CASE("a file that was there keeps its rights and gets the new bytes") {
  const ScratchFolder folder;
  const std::string path = folder.file("a.svg", "old and longer");
  REQUIRE(::chmod(path.c_str(), 0640) == 0);
  write_file(path, "new");
  CHECK(slurp(path) == "new");
  struct stat facts {};
  REQUIRE(::stat(path.c_str(), &facts) == 0);
  CHECK((facts.st_mode & 07777U) == 0640U);
}

TEST_CASE("a link is followed, not replaced") {
  const ScratchFolder folder;
  const std::string real = folder.file("real.svg", "old");
  REQUIRE(::symlink("real.svg", folder.path("link.svg").c_str()) == 0);
  write_file(folder.path("link.svg"), "new");
  CHECK(slurp(real) == "new");
  struct stat facts {};
  REQUIRE(::lstat(folder.path("link.svg").c_str(), &facts) == 0);
  CHECK(S_ISLNK(facts.st_mode));
}

TEST_CASE("when the disk is full the old file stays whole and nothing is left beside it") {
  const ScratchFolder folder;
  const std::string path = folder.file("a.svg", "old");
  std::string reason;
  {
    const SmallDisk disk(4096);
    try {
      write_file(path, std::string(100000, 'x'));
    } catch (const UsageError& error) {
      reason = error.what();
    }
  }
  CHECK(reason == "cannot write '" + path + "': File too large");
  CHECK(slurp(path) == "old");
  CHECK(folder.entries() == std::vector<std::string>{"a.svg"});
}

TEST_CASE("a target that cannot be written is refused by name") {
  const ScratchFolder folder;
  CHECK_THROWS_WITH_AS(write_file("/nowhere/a.svg", "x"), "cannot write '/nowhere/a.svg': No such file or directory",
                       UsageError);
  CHECK_THROWS_WITH_AS(write_file("/", "x"), "cannot write '/': Is a directory", UsageError);
  CHECK_THROWS_WITH_AS(write_file("/dev/full", "x"), "cannot write '/dev/full': No space left on device", UsageError);
}

TEST_CASE("a link stays, and what it leads to is replaced or made") {
  const ScratchFolder folder;
  const std::string target = folder.file("target.svg", "old");
  REQUIRE(::symlink("target.svg", folder.path("link.svg").c_str()) == 0);
  REQUIRE(::symlink("link.svg", folder.path("second.svg").c_str()) == 0);
  REQUIRE(::symlink("not-yet.svg", folder.path("early.svg").c_str()) == 0);
  write_file(folder.path("second.svg"), "new");
  CHECK(slurp(target) == "new");
  write_file(folder.path("early.svg"), "first");
  CHECK(slurp(folder.path("not-yet.svg")) == "first");
  struct stat facts {};
  for (const char* link : {"link.svg", "second.svg", "early.svg"}) {
    REQUIRE(::lstat(folder.path(link).c_str(), &facts) == 0);
    CHECK(S_ISLNK(facts.st_mode));
  }
  REQUIRE(::symlink("ring.svg", folder.path("ring.svg").c_str()) == 0);
  CHECK_THROWS_WITH_AS(write_file(folder.path("ring.svg"), "x"),
                       ("cannot write '" + folder.path("ring.svg") + "': Too many levels of symbolic links").c_str(),
                       UsageError);
}

TEST_CASE("no command writes over a file that it has read, by whatever name") {
  const ScratchFolder folder;
  const std::string text = slurp(dryfit::tests::scenario("pot-rail"));
  for (const auto& [command, ending] : std::vector<std::pair<std::string, std::string>>{
           {"show", ".svg"}, {"cards", ".html"}, {"buy", ".pdf"}, {"drill", ".pdf"}, {"cards", ".pdf"}}) {
    CAPTURE(command);
    const std::string frame = folder.file("frame" + ending, text);
    const std::string link = folder.path("link-to" + ending);
    ::unlink(link.c_str());
    REQUIRE(::symlink(("frame" + ending).c_str(), link.c_str()) == 0);
    for (const std::string& file : {frame, folder.path("./frame" + ending), link}) {
      // A frame without boards has no drilling sheet to write, and says so.
      const auto ran = dryfit::tests::run({command, frame, "-o", file});
      CHECK(ran.code == (command == "drill" ? 1 : 2));
      if (command != "drill") {
        CHECK(ran.err == "dryfit: '" + file + "' is not written over: it is a file that this answer was read from\n");
      }
      CHECK(slurp(frame) == text);
    }
  }
  const std::string other = folder.file("other.yaml", text);
  CHECK(dryfit::tests::run({"show", other, "-o", folder.path("frame.svg")}).code == 0);
}
