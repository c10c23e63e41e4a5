#include "cli/io/descriptor_buffer.hpp"

#include <unistd.h>

#include <cerrno>
#include <string_view>

#include "model/geometry/at.hpp"

namespace dryfit::cli {

DescriptorBuffer::~DescriptorBuffer() { DescriptorBuffer::sync(); }

DescriptorBuffer::int_type DescriptorBuffer::overflow(int_type c) {
  if (traits_type::eq_int_type(c, traits_type::eof())) return traits_type::not_eof(c);
  const char byte = traits_type::to_char_type(c);
  return xsputn(&byte, 1) == 1 ? c : traits_type::eof();
}

std::streamsize DescriptorBuffer::xsputn(const char* bytes, std::streamsize count) {
  if (error_ != 0) return 0;
  pending_.append(bytes, at(count));
  if (pending_.size() >= kBlock && sync() != 0) return 0;
  return count;
}

int DescriptorBuffer::sync() {
  std::string_view rest = pending_;
  while (error_ == 0 && !rest.empty()) {
    const ssize_t done = ::write(descriptor_, rest.data(), rest.size());
    if (done >= 0) {
      rest.remove_prefix(at(done));
    } else if (errno != EINTR) {
      error_ = errno;
    }
  }
  pending_.clear();
  return error_ == 0 ? 0 : -1;
}

}  // namespace dryfit::cli
