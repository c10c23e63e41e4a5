#pragma once
/// Runs the whole program inside the test, with strings for its three streams.
#include <string>
#include <vector>

namespace dryfit::tests {

struct Ran {
  int code = 0;
  std::string out;
  std::string err;
};

/// `dryfit ARGS...` with `input` on standard input. Messages come without colour.
[[nodiscard]] Ran run(const std::vector<std::string>& args, const std::string& input = "");

/// scenarios/NAME.yaml in the source tree.
[[nodiscard]] std::string scenario(const std::string& name);
/// The paths of all of them, sorted; the side files that say what must come out are left out.
[[nodiscard]] std::vector<std::string> scenario_files();

/// The bytes of a file; fails the test when it cannot be read.
[[nodiscard]] std::string slurp(const std::string& path);

/// A folder of this test's own, made empty; removed with everything in it at the end.
class ScratchFolder {
 public:
  ScratchFolder();
  ~ScratchFolder();
  ScratchFolder(const ScratchFolder&) = delete;
  ScratchFolder& operator=(const ScratchFolder&) = delete;
  [[nodiscard]] std::string path(const std::string& name) const { return folder_ + "/" + name; }
  /// Writes a file into the folder and returns its path.
  std::string file(const std::string& name, const std::string& text) const;
  /// Names of all entries, sorted.
  [[nodiscard]] std::vector<std::string> entries() const;

 private:
  std::string folder_;
};

}  // namespace dryfit::tests
