#include "model/frame/message.hpp"

#include <fmt/args.h>
#include <fmt/format.h>

#include <utility>

namespace dryfit::model {

Message Message::as_it_is(std::string text) {
  Message out;
  if (!text.empty()) out.pieces_.push_back({std::move(text), true, {}});
  return out;
}

Message Message::of(std::string_view english, std::vector<Message> fields) {
  Message out;
  out.pieces_.push_back({std::string(english), false, std::move(fields)});
  return out;
}

std::string Message::english() const { return in(in_english); }

std::string Message::in(const Translate& translate) const {
  std::string out;
  for (const Piece& piece : pieces_) {
    if (piece.as_it_is) {
      out += piece.text;
      continue;
    }
    fmt::dynamic_format_arg_store<fmt::format_context> fields;
    for (const Message& field : piece.fields) fields.push_back(field.in(translate));
    out += fmt::vformat(translate(piece.text), fields);
  }
  return out;
}

Message& Message::operator+=(const Message& more) {
  pieces_.insert(pieces_.end(), more.pieces_.begin(), more.pieces_.end());
  return *this;
}

}  // namespace dryfit::model
