#include "cli/words/catalogue.hpp"

#include <cstdint>
#include <cstring>
#include <string>

namespace dryfit::cli {
namespace {

/// The format is that of "The Format of GNU MO Files" in the manual of gettext: numbers of 32 bits in the order of the
/// machine that wrote it, two tables of (length, offset), the keys sorted as bytes.
class CompiledCatalogue {
 public:
  explicit CompiledCatalogue(std::string_view bytes) : bytes_(bytes) {}

  [[nodiscard]] std::size_t count() const { return number(8); }
  /// With a plural: the message for one, a zero byte, that for many.
  [[nodiscard]] std::string_view key(std::size_t i) const { return text(number(12) + 8 * i); }
  [[nodiscard]] std::string_view translation(std::size_t i) const { return text(number(16) + 8 * i); }

 private:
  [[nodiscard]] std::size_t number(std::size_t offset) const {
    std::uint32_t out = 0;
    std::memcpy(&out, bytes_.substr(offset, 4).data(), sizeof out);
    return out;
  }
  [[nodiscard]] std::string_view text(std::size_t entry) const {
    return bytes_.substr(number(entry + 4), number(entry));
  }
  std::string_view bytes_;
};

std::string_view until_zero(std::string_view text) { return text.substr(0, text.find('\0')); }

std::optional<std::string_view> all_forms(const Catalogue& catalogue, std::string_view key) {
  const CompiledCatalogue compiled(catalogue.compiled);
  std::size_t from = 0;
  std::size_t to = compiled.count();
  while (from < to) {
    const std::size_t middle = from + (to - from) / 2;
    const int order = until_zero(compiled.key(middle)).compare(key);
    if (order == 0) return compiled.translation(middle);
    if (order < 0) {
      from = middle + 1;
    } else {
      to = middle;
    }
  }
  return std::nullopt;
}

}  // namespace

std::optional<std::string_view> found_in(const Catalogue& catalogue, std::string_view context,
                                         std::string_view message) {
  if (message.empty()) return std::nullopt;  // the empty message is the catalogue's own head
  constexpr char kBetween = '\4';
  const auto forms = context.empty() ? all_forms(catalogue, message)
                                     : all_forms(catalogue, std::string(context) + kBetween + std::string(message));
  if (!forms) return std::nullopt;
  return until_zero(*forms);
}

std::optional<std::string_view> counted_in(const Catalogue& catalogue, std::string_view message, unsigned long count) {
  const auto forms = all_forms(catalogue, message);
  if (!forms) return std::nullopt;
  std::string_view rest = *forms;
  for (unsigned long form = catalogue.form_for(count); form > 0; --form) {
    const std::size_t end = rest.find('\0');
    if (end == std::string_view::npos) return std::nullopt;
    rest.remove_prefix(end + 1);
  }
  return until_zero(rest);
}

}  // namespace dryfit::cli
