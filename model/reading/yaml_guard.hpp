#pragma once
/// YAML text as a plain tree, with everything refused by name that could hang, blow up or mislead a reader.
/// Scalars stay text: what a number or a word is, the frame format decides, not YAML.
#include <cstddef>
#include <deque>
#include <string>
#include <string_view>
#include <vector>

#include "model/frame/faults.hpp"

namespace dryfit::model {

inline constexpr std::size_t kMaxFileBytes = std::size_t{16} << 20;
inline constexpr int kMaxNesting = 64;
inline constexpr std::size_t kMaxAliasNodes = 100'000;
/// 200,000 parts need about 1.2 million values; more than this is not a frame. Also the most brackets and commas.
inline constexpr std::size_t kMaxYamlNodes = 2'000'000;

struct YamlNode {
  enum class Kind { null, scalar, sequence, map };
  Kind kind = Kind::null;
  bool quoted = false;
  SourcePos where;
  std::string text;                    ///< scalar; of a null that was written out, its word ("null", "~")
  std::vector<const YamlNode*> items;  ///< sequence: elements; map: key, value, key, value, ...

  [[nodiscard]] bool is_map() const { return kind == Kind::map; }
  [[nodiscard]] bool is_sequence() const { return kind == Kind::sequence; }
  [[nodiscard]] bool is_scalar() const { return kind == Kind::scalar; }
  [[nodiscard]] bool is_null() const { return kind == Kind::null; }
  /// Map: number of pairs.
  [[nodiscard]] std::size_t pairs() const { return items.size() / 2; }
  [[nodiscard]] const YamlNode& key(std::size_t i) const { return *items[2 * i]; }
  [[nodiscard]] const YamlNode& value(std::size_t i) const { return *items[2 * i + 1]; }
  /// Map: value of the first pair with that key, or nullptr. O(pairs).
  [[nodiscard]] const YamlNode* find(std::string_view key_text) const;
  /// For "got ...": the text in quotes, "nothing", "a list" or "a map".
  [[nodiscard]] Message described() const;
};

/// Owns the nodes. An alias is the same node in two places, so a tree may be a shared one, but never a ring.
struct YamlTree {
  std::deque<YamlNode> nodes;
  const YamlNode* root = nullptr;
};

/// Reads exactly one YAML document whose root is a map. Throws InputError at once for what makes the rest unreadable:
/// more than 16 MiB, what is no plain text (model/frame/plain_text.hpp), also as an escape, bad syntax, no document or
/// several, nesting over 64, an alias of a node inside itself, alias expansion over 100,000 nodes, tags. Adds to
/// `faults` and goes on after duplicate keys, merge keys and keys that are not plain words. Lines may end in \n, \r\n
/// or \r, and a byte order mark may stand in front. O(n log n).
[[nodiscard]] YamlTree read_yaml(std::string_view bytes, const std::string& file, Faults& faults);

}  // namespace dryfit::model
