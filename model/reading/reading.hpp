#pragma once
/// Small readers of one value each: every one either returns the value or tells what is wrong with it and returns
/// nothing. Used by the read_*.cpp files only.
#include <initializer_list>
#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <unordered_map>
#include <utility>

#include "model/reading/draft.hpp"
#include "model/reading/yaml_guard.hpp"

namespace dryfit::model {

/// More parts than this are refused.
inline constexpr std::size_t kMaxParts = 200'000;

/// State while one file is read.
struct Reading {
  Draft draft;
  Faults& faults;
  std::unordered_map<std::string, SourcePos> ids;  ///< of parts, boards and surfaces
  std::size_t parts = 0;
  bool size_told = false;  ///< what is wrong with the size of every part was told at the top

  void wrong(SourcePos where, const Subject& subject, const Message& text) { faults.add(where, subject, text); }
};

/// Tells every key of `map` that is not in `allowed`; `meant`: of words that are no keys, what to write instead.
void check_keys(Reading& in, const YamlNode& map, const Subject& subject, std::span<const std::string_view> allowed,
                std::span<const std::pair<std::string_view, Message>> meant = {});

/// Tells a decimal comma that made a pair of its own, as in `{left: 50,5}`: pair `i` and the one before it. False
/// where it is none.
bool tell_comma(Reading& in, const YamlNode& map, std::size_t i, const Subject& subject);

/// The value when it is one of `words`, else told as "unknown NAME 'x', expected a, b or c".
[[nodiscard]] std::optional<std::size_t> word_of(Reading& in, const YamlNode& node, const Subject& subject,
                                                 std::string_view name, std::span<const std::string_view> words);

/// A length in mm, greater than zero; or a coordinate, of any sign; or a distance, zero or more.
enum class Sign { positive, zero_too, any };
[[nodiscard]] std::optional<double> length_of(Reading& in, const YamlNode& node, const Subject& subject,
                                              std::string_view name, Sign sign);
/// A weight in kg, above zero: "0.9 lb", "14 oz", "400 g", "0.4 kg"; a bare number is pounds in a frame in inches, kg
/// in any other.
[[nodiscard]] std::optional<double> mass_of(Reading& in, const YamlNode& node, const Subject& subject,
                                            std::string_view name);
/// A plain positive number such as 4, 4.5 or 4-1/2.
[[nodiscard]] std::optional<double> number_of(Reading& in, const YamlNode& node, const Subject& subject,
                                              std::string_view name);
/// A whole number from 1 to 1000.
[[nodiscard]] std::optional<int> count_of(Reading& in, const YamlNode& node, const Subject& subject,
                                          std::string_view name);
[[nodiscard]] std::optional<Direction> direction_of(Reading& in, const YamlNode& node, const Subject& subject,
                                                    std::string_view name, bool along_axis_only = false);
/// Index of a nominal pipe size.
[[nodiscard]] std::optional<int> size_of(Reading& in, const YamlNode& node, const Subject& subject,
                                         std::string_view name);
/// Any text that is not empty.
[[nodiscard]] std::optional<std::string> text_of(Reading& in, const YamlNode& node, const Subject& subject,
                                                 std::string_view name);
/// A list of names of parts, boards or surfaces, each once.
[[nodiscard]] std::vector<Word> names_of(Reading& in, const YamlNode& node, const Subject& subject,
                                         std::string_view name);
/// Lengths of any sign, as many as `counts` allows.
[[nodiscard]] std::vector<double> coordinates_of(Reading& in, const YamlNode& node, const Subject& subject,
                                                 std::string_view name, const Message& expected, std::size_t least,
                                                 std::size_t most);

/// The name of a value in messages: a key of the file as it is, the others in words.
[[nodiscard]] Message value_name(std::string_view name);

/// Enters a new id; false (and told) when it is no id or taken.
bool enter_id(Reading& in, const YamlNode& key, const Subject& subject);
/// A letter, then letters, digits, '-' or '_', and no word that YAML may read as something else.
[[nodiscard]] bool is_id(std::string_view text);

// One file per section of the format.
void read_surfaces(Reading& in, const YamlNode& node);
void read_runs(Reading& in, const YamlNode& node);
/// One item of `parts`.
void read_part(Reading& in, const YamlNode& item, DraftRun& run);
void read_boards(Reading& in, const YamlNode& node);
void read_clips(Reading& in, const YamlNode& node);

}  // namespace dryfit::model
