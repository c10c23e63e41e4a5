#include "cli/io/text_file.hpp"

#include <fcntl.h>
#include <fmt/format.h>
#include <sys/stat.h>
#include <unistd.h>

#include <array>
#include <cerrno>
#include <cstring>
#include <istream>

#include "cli/io/inputs.hpp"
#include "cli/io/usage_error.hpp"
#include "cli/words/say.hpp"
#include "model/geometry/at.hpp"

namespace dryfit::cli {
namespace {

[[noreturn]] void too_large(const std::string& name) {
  throw UsageError(say("{} is larger than 16 MiB, the most that is read", shown_name(name)));
}

[[noreturn]] void cannot_read(const std::string& name, int error) {
  throw UsageError(say("cannot read '{}': {}", name, std::strerror(error)));
}

/// Closes on every way out.
class Descriptor {
 public:
  explicit Descriptor(int number) : number_(number) {}
  ~Descriptor() { ::close(number_); }
  Descriptor(const Descriptor&) = delete;
  Descriptor& operator=(const Descriptor&) = delete;
  [[nodiscard]] int get() const { return number_; }

 private:
  int number_;
};

std::string read_stream(const std::string& name, std::istream& in) {
  std::string text;
  std::array<char, 65536> block{};
  while (in.read(block.data(), static_cast<std::streamsize>(block.size())), in.gcount() > 0) {
    text.append(block.data(), at(in.gcount()));
    if (text.size() > kLargestInput) too_large(name);
  }
  return text;
}

}  // namespace

std::string plain_name(const std::string& name) { return name == "-" ? "standard input" : name; }

std::string shown_name(const std::string& name) { return name == "-" ? plain_name(name) : "'" + name + "'"; }

std::string read_text(const std::string& name, std::istream& in) {
  if (name == "-") return read_stream(name, in);
  const int number = ::open(name.c_str(), O_RDONLY | O_CLOEXEC);
  if (number < 0) cannot_read(name, errno);
  const Descriptor file(number);
  struct stat facts {};
  if (::fstat(file.get(), &facts) != 0) cannot_read(name, errno);
  if (S_ISDIR(facts.st_mode)) cannot_read(name, EISDIR);
  note_input(name);
  std::string text;
  std::array<char, 65536> block{};
  for (;;) {
    const ssize_t got = ::read(file.get(), block.data(), block.size());
    if (got < 0 && errno == EINTR) continue;
    if (got < 0) cannot_read(name, errno);
    if (got == 0) return text;
    text.append(block.data(), at(got));
    if (text.size() > kLargestInput) too_large(name);
  }
}

}  // namespace dryfit::cli
