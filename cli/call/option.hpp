#pragma once
/// What a command can be told, as plain data. The parser, the help, the manual pages and the completions are all made
/// from it; the option library itself is known to one unit alone, cli/program/parser.cpp.
#include <deque>
#include <functional>
#include <optional>
#include <string>
#include <utility>
#include <vector>

namespace dryfit::cli {

/// An option, a flag, or what stands by its place ("FRAME").
struct Option {
  enum class Kind { flag, text, whole, number };

  std::string names;  ///< "--json", "-o,--output"; by its place: "FRAME"
  std::string text;   ///< one line of help
  Kind kind = Kind::text;
  bool is_required = false;
  bool is_many = false;                 ///< any number of values
  int parts = 0;                        ///< a value is a list parted by commas: of so many, or of any number when -1
  std::string example;                  ///< of a value, for whoever left it out
  std::vector<std::string> words;       ///< the values that there are; empty: any
  bool words_judged_elsewhere = false;  ///< `words` are for help and completions; the command refuses others itself
  std::optional<std::pair<double, double>> within;  ///< numbers: the least and the most
  bool above_zero = false;                          ///< numbers: more than 0
  std::string standard;                             ///< what holds when it is not given, where help shows that
  std::vector<std::string> needed, excluded;        ///< names of other options, as told(): "--output"
  /// Hands over what was given, converted; the values have passed all the tests above.
  std::function<void(const std::vector<std::string>&)> take;

  [[nodiscard]] bool positional() const { return names.front() != '-'; }
  /// What messages call it: its long name where it has one, "--output", "FRAME".
  [[nodiscard]] std::string told() const;
  /// "-o" and "--output".
  [[nodiscard]] std::vector<std::string> all_names() const;

  Option& required();
  Option& many();
  Option& list(int count = -1);
  Option& one_of(std::vector<std::string> these);
  Option& such_as(std::vector<std::string> these);
  Option& for_example(std::string value);
  Option& range(double least, double most);
  Option& positive();
  Option& not_negative();
  Option& needs(const Option& other);
  Option& excludes(const Option& other);
  /// Help shows the value that is there now as the one that holds when none is given.
  Option& show_default();

  std::string value_now;  ///< for show_default()
};

/// The options of one command, in the order in which help lists them. References to them stay good.
class OptionList {
 public:
  Option& flag(std::string names, bool& into, std::string text);
  Option& value(std::string names, std::string& into, std::string text);
  Option& value(std::string names, int& into, std::string text);
  Option& value(std::string names, long long& into, std::string text);
  Option& value(std::string names, double& into, std::string text);
  Option& value(std::string names, std::vector<std::string>& into, std::string text);
  Option& value(std::string names, std::vector<double>& into, std::string text);
  /// Hands the value to a function instead.
  Option& value(std::string names, std::function<void(const std::string&)> to, std::string text);

  [[nodiscard]] const std::deque<Option>& all() const { return options_; }

 private:
  Option& add(std::string names, std::string text, Option::Kind kind);
  std::deque<Option> options_;
};

/// What a call gave to each option of a list, in its order; nothing where it was not given.
using Given = std::vector<std::optional<std::vector<std::string>>>;

/// Tests what was given and hands it over. Throws UsageError with the first fault, in the program's own words.
void take_options(const OptionList& options, const Given& given);

}  // namespace dryfit::cli
