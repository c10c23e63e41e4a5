#pragma once
/// A stream buffer over a file descriptor that remembers why a write failed, which std::cout does not.
#include <cstddef>
#include <streambuf>
#include <string>

namespace dryfit::cli {

/// Collects output and writes it in blocks. After a failed write nothing more is written.
class DescriptorBuffer : public std::streambuf {
 public:
  explicit DescriptorBuffer(int descriptor) : descriptor_(descriptor) {}
  ~DescriptorBuffer() override;
  DescriptorBuffer(const DescriptorBuffer&) = delete;
  DescriptorBuffer& operator=(const DescriptorBuffer&) = delete;
  /// errno of the write that failed; 0 when none has.
  [[nodiscard]] const int& error() const { return error_; }

 protected:
  int_type overflow(int_type c) override;
  std::streamsize xsputn(const char* bytes, std::streamsize count) override;
  int sync() override;

 private:
  static constexpr std::size_t kBlock = 65536;
  int descriptor_;
  int error_ = 0;
  std::string pending_;
};

}  // namespace dryfit::cli
