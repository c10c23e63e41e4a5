#pragma once
/// What is told to people, before it is in any language: an English sentence with fields, and what goes into them. The
/// model makes messages and knows no language; whoever prints them puts them into one.
#include <fmt/core.h>

#include <concepts>
#include <functional>
#include <string>
#include <string_view>
#include <vector>

namespace dryfit::model {

/// The sentence in the language wanted, with the same fields; itself where there is none.
using Translate = std::function<std::string(std::string_view english)>;
[[nodiscard]] inline std::string in_english(std::string_view english) { return std::string(english); }

class Message {
 public:
  Message() = default;
  /// Names, numbers and words of the format: the same in every language.
  [[nodiscard]] static Message as_it_is(std::string text);
  /// `english`: with "{}", or "{0}", for each field; a message of the catalogues. Throws fmt::format_error when it is
  /// put into words, where a field is missing.
  [[nodiscard]] static Message of(std::string_view english, std::vector<Message> fields);

  [[nodiscard]] bool empty() const { return pieces_.empty(); }
  [[nodiscard]] std::string english() const;
  [[nodiscard]] std::string in(const Translate& translate) const;
  Message& operator+=(const Message& more);
  friend Message operator+(Message a, const Message& b) { return a += b; }

 private:
  struct Piece {
    std::string text;
    bool as_it_is = false;
    std::vector<Message> fields;
  };
  std::vector<Piece> pieces_;
};

[[nodiscard]] inline Message message_field(const Message& field) { return field; }
[[nodiscard]] inline Message message_field(std::string_view field) { return Message::as_it_is(std::string(field)); }
[[nodiscard]] inline Message message_field(char field) { return Message::as_it_is(std::string(1, field)); }
template <std::integral Number>
[[nodiscard]] Message message_field(Number field) {
  return Message::as_it_is(std::to_string(field));
}

template <class>
using MessageFieldText = std::string;

/// A message of the catalogues with its fields: texts and numbers, which stay as they are, and messages, which are put
/// into the same language.
template <class... Fields>
[[nodiscard]] Message message(fmt::format_string<MessageFieldText<Fields>...> english, const Fields&... fields) {
  const fmt::string_view text = english;
  return Message::of({text.data(), text.size()}, {message_field(fields)...});
}

}  // namespace dryfit::model
