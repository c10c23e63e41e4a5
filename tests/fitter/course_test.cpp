/// The page that teaches by frames of this folder: cli/docs/course.md. It shows each of them as a picture and as its
/// text. After a change that is meant, run once with DRYFIT_RENEW_EXPECTED=1, and read the difference.
#include <doctest/doctest.h>

#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <set>
#include <sstream>
#include <string>

#include "tests/support/program/program.hpp"

namespace dryfit::test {
namespace {

constexpr const char* kCourse = DRYFIT_SOURCE_DIR "/cli/docs/";
constexpr const char* kBook = DRYFIT_SOURCE_DIR "/tests/fitter/";

bool renewing() { return std::getenv("DRYFIT_RENEW_EXPECTED") != nullptr; }

/// "walls/arm" out of "![walls/arm](pictures/course/arm.svg)"; empty for any other line.
std::string frame_shown(const std::string& line) {
  if (!line.starts_with("![")) return "";
  return line.substr(2, line.find(']') - 2);
}

/// The picture is what `show` draws of the frame now.
void check_picture_of(const std::string& frame, const std::string& line, const tests::ScratchFolder& folder) {
  const std::string name = frame.substr(frame.find('/') + 1) + ".svg";
  CHECK(line == "![" + frame + "](pictures/course/" + name + ")");
  const std::string drawn = folder.path(name), kept = std::string(kCourse) + "pictures/course/" + name;
  CHECK(tests::run({"show", kBook + frame + ".yaml", "-o", drawn, "--no-title", "--width", "120"}).code == 0);
  if (renewing()) {
    std::filesystem::copy_file(drawn, kept, std::filesystem::copy_options::overwrite_existing);
  }
  const bool same = tests::slurp(kept) == tests::slurp(drawn);
  CHECK_MESSAGE(same, kept, " is drawn otherwise now: renew it and look at it");
}

}  // namespace

TEST_CASE("the course shows its thirty frames and their pictures exactly as expected") {
  const tests::ScratchFolder folder;
  const std::string page = tests::slurp(std::string(kCourse) + "course.md");
  std::istringstream in(page);
  std::ostringstream now;
  std::set<std::string> shown;
  std::string frame;
  bool inside = false;
  for (std::string line; std::getline(in, line);) {
    if (inside && line != "```") continue;
    now << line << '\n';
    inside = line == "```yaml";
    if (const std::string next = frame_shown(line); !next.empty()) {
      frame = next;
      CAPTURE(frame);
      CHECK(shown.insert(frame).second);
      CHECK(std::filesystem::exists(kBook + frame + ".truth.yaml"));
      check_picture_of(frame, line, folder);
    }
    if (inside) now << tests::slurp(kBook + frame + ".yaml");
  }
  if (renewing()) std::ofstream(std::string(kCourse) + "course.md", std::ios::binary) << now.str();
  CHECK(tests::slurp(std::string(kCourse) + "course.md") == now.str());
  CHECK(shown.size() == 30);
  for (const auto& entry : std::filesystem::directory_iterator(std::string(kCourse) + "pictures/course")) {
    const std::string name = entry.path().stem().string();
    CAPTURE(name);
    CHECK(page.find("(pictures/course/" + name + ".svg)") != std::string::npos);
  }
}

}  // namespace dryfit::test
