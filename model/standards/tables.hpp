#pragma once
/// The files of model/data as text inside the program, and the reader of their few rules.
#include <span>
#include <string_view>
#include <vector>

namespace dryfit::model {

/// One file of model/data, whole. Static storage.
struct BuiltInFile {
  std::string_view name;  ///< "threads.csv"
  std::string_view text;
};
/// All of them, by name. Defined in a source that the build writes (see model/data/embed.cmake).
[[nodiscard]] std::span<const BuiltInFile> built_in_files();

/// A table: '#' lines are comments, the first other line is the head, fields are split at commas, a field with a comma
/// stands in double quotes and holds none itself. All views point into the text.
class Table {
 public:
  /// Throws std::logic_error when the text breaks the rules or a row has another number of fields than the head.
  explicit Table(std::string_view text);
  /// The built-in file of that name. Throws std::logic_error when there is none.
  [[nodiscard]] static Table built_in(std::string_view name);

  [[nodiscard]] std::size_t rows() const { return cells_.size(); }
  /// Field of a row by the head's word. Throws std::logic_error for a word that is not in the head. O(columns).
  [[nodiscard]] std::string_view at(std::size_t row, std::string_view column) const;
  /// The same as a number, plain decimals. Throws std::logic_error when it is none.
  [[nodiscard]] double number(std::size_t row, std::string_view column) const;

 private:
  std::vector<std::string_view> head_;
  std::vector<std::vector<std::string_view>> cells_;
};

}  // namespace dryfit::model
