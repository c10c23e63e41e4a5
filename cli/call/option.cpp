#include "cli/call/option.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <charconv>
#include <limits>
#include <type_traits>

#include "cli/io/usage_error.hpp"
#include "cli/words/said.hpp"
#include "cli/words/say.hpp"
#include "cli/words/words.hpp"
#include "model/frame/plain_text.hpp"
#include "model/geometry/at.hpp"
#include "model/text/decimal.hpp"
#include "model/text/nearest.hpp"

namespace dryfit::cli {
namespace {

/// The whole text as a number, or nothing.
template <typename Number>
std::optional<Number> number_in(const std::string& text) {
  if constexpr (std::is_floating_point_v<Number>) {
    return model::decimal_number(text);
  } else {
    Number value{};
    const char* end = text.data() + text.size();
    const auto [stop, error] = std::from_chars(text.data(), end, value);
    if (error != std::errc() || stop != end) return std::nullopt;
    return value;
  }
}

template <typename Number>
std::function<void(const std::vector<std::string>&)> store(Number& into) {
  return [&into](const std::vector<std::string>& values) { into = number_in<Number>(values.front()).value(); };
}

std::vector<std::string> split(const std::string& text, char by) {
  std::vector<std::string> parts;
  for (std::size_t begin = 0; begin <= text.size();) {
    const std::size_t end = std::min(text.find(by, begin), text.size());
    parts.push_back(text.substr(begin, end - begin));
    begin = end + 1;
  }
  return parts;
}

std::string expected_range(const Option& option) {
  if (option.above_zero) return say("a number above 0");
  const auto [least, most] = *option.within;
  if (most == std::numeric_limits<double>::max()) return say("{} or more", fmt::format("{:.10g}", least));
  return say("{} to {}", fmt::format("{:.10g}", least), fmt::format("{:.10g}", most));
}

void test_number(const Option& option, const std::string& value) {
  const std::optional<double> number = number_in<double>(value);
  if (!number) throw UsageError(say("{}: '{}' is not a number", option.told(), model::shown(value)));
  const bool inside = (!option.above_zero || *number > 0) &&
                      (!option.within || (*number >= option.within->first && *number <= option.within->second));
  const bool whole = option.kind != Option::Kind::whole || number_in<long long>(value);
  if (!inside)
    throw UsageError(say("{}: expected {}, got '{}'", option.told(), expected_range(option), model::shown(value)));
  if (!whole) throw UsageError(say("{}: '{}' is not a whole number", option.told(), model::shown(value)));
}

void test_word(const Option& option, const std::string& value) {
  if (std::find(option.words.begin(), option.words.end(), value) != option.words.end()) return;
  const auto near = model::nearest_word(value, option.words);
  throw UsageError(say("{}: expected {}, got '{}'{}", option.told(), listed_or(option.words), model::shown(value),
                       near ? say("; did you mean '{}'?", *near) : ""));
}

/// The single values of what was given; throws where there are too many or too few.
std::vector<std::string> single_values(const Option& option, const std::vector<std::string>& given) {
  if (option.kind == Option::Kind::flag) {
    // The parser hands over what stands behind '=', and "true" for a flag by itself.
    for (const std::string& value : given) {
      if (value != "true") throw UsageError(say("{} takes no value, got '{}'", option.told(), model::shown(value)));
    }
    return given;
  }
  if (!option.is_many && given.size() > 1) throw UsageError(say("{} is given more than once", option.told()));
  if (option.parts == 0) return given;
  std::vector<std::string> values;
  for (const std::string& list : given) {
    for (std::string& value : split(list, ',')) values.push_back(std::move(value));
  }
  if (option.parts > 0 && values.size() != at(option.parts)) {
    throw UsageError(say("{}: expected {} values, got {}", option.told(), option.parts, values.size()));
  }
  return values;
}

std::vector<std::string> tested(const Option& option, const std::vector<std::string>& given) {
  for (const std::string& value : given) {
    if (const auto unfit = model::first_unfit_in_line(value)) {
      throw UsageError(say("{}: {}, got '{}'", option.told(), said(unfit->what), model::shown(value)));
    }
  }
  std::vector<std::string> values = single_values(option, given);
  for (const std::string& value : values) {
    if (option.kind == Option::Kind::whole || option.kind == Option::Kind::number) test_number(option, value);
    if (!option.words.empty() && !option.words_judged_elsewhere) test_word(option, value);
  }
  return values;
}

bool is_given(const OptionList& options, const Given& given, const std::string& name) {
  for (std::size_t i = 0; i < given.size(); ++i) {
    if (options.all()[i].told() == name) return given[i].has_value();
  }
  return false;
}

void test_company(const OptionList& options, const Given& given, const Option& option) {
  for (const std::string& other : option.needed) {
    if (!is_given(options, given, other)) throw UsageError(say("{} needs {}", option.told(), other));
  }
  for (const std::string& other : option.excluded) {
    if (is_given(options, given, other)) {
      throw UsageError(say("{} and {} cannot go together", other, option.told()));
    }
  }
}

}  // namespace

std::vector<std::string> Option::all_names() const { return split(names, ','); }

std::string Option::told() const { return all_names().back(); }

Option& Option::required() {
  is_required = true;
  return *this;
}

Option& Option::many() {
  is_many = true;
  return *this;
}

Option& Option::list(int count) {
  parts = count;
  return *this;
}

Option& Option::one_of(std::vector<std::string> these) {
  words = std::move(these);
  return *this;
}

Option& Option::such_as(std::vector<std::string> these) {
  words_judged_elsewhere = true;
  return one_of(std::move(these));
}

Option& Option::for_example(std::string value) {
  example = std::move(value);
  return *this;
}

Option& Option::range(double least, double most) {
  within = {least, most};
  return *this;
}

Option& Option::positive() {
  above_zero = true;
  return *this;
}

Option& Option::not_negative() { return range(0.0, std::numeric_limits<double>::max()); }

Option& Option::needs(const Option& other) {
  needed.push_back(other.told());
  return *this;
}

Option& Option::excludes(const Option& other) {
  excluded.push_back(other.told());
  return *this;
}

Option& Option::show_default() {
  standard = value_now;
  return *this;
}

Option& OptionList::add(std::string names, std::string text, Option::Kind kind) {
  Option& option = options_.emplace_back();
  option.names = std::move(names);
  option.text = std::move(text);
  option.kind = kind;
  return option;
}

Option& OptionList::flag(std::string names, bool& into, std::string text) {
  Option& option = add(std::move(names), std::move(text), Option::Kind::flag);
  option.take = [&into](const std::vector<std::string>&) { into = true; };
  return option;
}

Option& OptionList::value(std::string names, std::string& into, std::string text) {
  Option& option = add(std::move(names), std::move(text), Option::Kind::text);
  option.value_now = into;
  option.take = [&into](const std::vector<std::string>& values) { into = values.front(); };
  return option;
}

Option& OptionList::value(std::string names, int& into, std::string text) {
  Option& option = add(std::move(names), std::move(text), Option::Kind::whole);
  option.range(std::numeric_limits<int>::min(), std::numeric_limits<int>::max());
  option.value_now = fmt::format("{}", into);
  option.take = store(into);
  return option;
}

Option& OptionList::value(std::string names, long long& into, std::string text) {
  Option& option = add(std::move(names), std::move(text), Option::Kind::whole);
  option.value_now = fmt::format("{}", into);
  option.take = store(into);
  return option;
}

Option& OptionList::value(std::string names, double& into, std::string text) {
  Option& option = add(std::move(names), std::move(text), Option::Kind::number);
  option.value_now = fmt::format("{:g}", into);
  option.take = store(into);
  return option;
}

Option& OptionList::value(std::string names, std::vector<std::string>& into, std::string text) {
  Option& option = add(std::move(names), std::move(text), Option::Kind::text).many();
  option.take = [&into](const std::vector<std::string>& values) { into = values; };
  return option;
}

Option& OptionList::value(std::string names, std::vector<double>& into, std::string text) {
  Option& option = add(std::move(names), std::move(text), Option::Kind::number);
  option.take = [&into](const std::vector<std::string>& values) {
    for (const std::string& value : values) into.push_back(number_in<double>(value).value());
  };
  return option;
}

Option& OptionList::value(std::string names, std::function<void(const std::string&)> to, std::string text) {
  Option& option = add(std::move(names), std::move(text), Option::Kind::text);
  option.take = [to = std::move(to)](const std::vector<std::string>& values) { to(values.front()); };
  return option;
}

void take_options(const OptionList& options, const Given& given) {
  std::vector<std::vector<std::string>> values;
  for (std::size_t i = 0; i < given.size(); ++i) {
    values.push_back(given[i] ? tested(options.all()[i], *given[i]) : std::vector<std::string>());
  }
  for (std::size_t i = 0; i < given.size(); ++i) {
    const Option& option = options.all()[i];
    if (option.is_required && !given[i]) throw UsageError(say("{} is needed", option.told()));
    if (given[i]) test_company(options, given, option);
  }
  for (std::size_t i = 0; i < given.size(); ++i) {
    if (given[i]) options.all()[i].take(values[i]);
  }
}

}  // namespace dryfit::cli
