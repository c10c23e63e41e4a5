#pragma once
/// A frame file as what is written where: every key and value with its bytes, so that a change touches no others.
#include <string>
#include <string_view>
#include <vector>

#include "model/editing/lines.hpp"

namespace dryfit::model {

/// A value of the file, and its key where it stands in a map.
struct Written {
  enum class Kind { nothing, scalar, list, map, other };  ///< other: an alias, or a scalar over several lines
  Kind kind = Kind::nothing;
  bool flow = false;  ///< a list or map in brackets
  std::string key;
  std::string text;  ///< of a scalar, without quotes
  Bytes key_at;      ///< quotes taken in
  Bytes at;          ///< of the value; empty, behind the colon, where nothing is written
  std::vector<Written> items;

  /// The entry of a map, or nullptr. O(entries).
  [[nodiscard]] const Written* find(std::string_view wanted) const;
};

/// Throws std::invalid_argument when the text is no YAML. Of an empty text, or of comments alone, it is nothing.
/// O(length of the text); of the last texts asked about less, they are kept.
[[nodiscard]] Written outline_of(std::string_view text);

/// Where a part is written: an item of the `parts` of a run. Pointers into the outline.
struct PartSpot {
  const Written* run = nullptr;    ///< entry of `runs`
  const Written* parts = nullptr;  ///< the list
  const Written* part = nullptr;   ///< entry {ID: value}
  std::size_t index = 0;
};
/// All parts of all runs, in file order.
[[nodiscard]] std::vector<PartSpot> parts_written(const Written& root);
/// Throws std::invalid_argument when there is no such part.
[[nodiscard]] PartSpot part_written(const Written& root, std::string_view id);
/// Throws std::invalid_argument when there is no such run with parts.
[[nodiscard]] const Written& run_written(const Written& root, std::string_view id);

/// One more item of a list, in its own form: behind the one at `index`. The list must not be empty.
[[nodiscard]] std::string with_item_behind(std::string_view text, const Written& list, std::size_t index,
                                           const std::string& item);
/// The same before the first item.
[[nodiscard]] std::string with_item_first(std::string_view text, const Written& list, const std::string& item);
/// Without the items [from, to) of a list, of which others are left.
[[nodiscard]] std::string without_items(std::string_view text, const Written& list, std::size_t from, std::size_t to);
/// One more entry at the end of a map that is not empty, in its own form; `value` may be of several lines, each but the
/// first indented as if the key stood at the left. Throws where those would have to stand within brackets.
[[nodiscard]] std::string with_entry(std::string_view text, const Written& map, const std::string& key,
                                     const std::string& value);
/// Without one entry of a map, of which others are left.
[[nodiscard]] std::string without_entry(std::string_view text, const Written& map, std::string_view key);
/// One more entry of a section at the top of the file ("surfaces", "boards"), which is begun where it is missing, in
/// the order that the format's page has.
[[nodiscard]] std::string with_section_entry(std::string_view text, const std::string& section, const std::string& key,
                                             const std::string& value);
/// One more value at the top of the file ("driver"), in the order that the format's page has.
[[nodiscard]] std::string with_top_value(std::string_view text, const std::string& key, const std::string& value);
/// Without one entry of a section, which goes too when it was its only one.
[[nodiscard]] std::string without_section_entry(std::string_view text, const std::string& section,
                                                std::string_view key);

}  // namespace dryfit::model
