#include "model/frame/faults.hpp"

#include <algorithm>
#include <tuple>

#include "model/frame/plain_text.hpp"

namespace dryfit::model {

std::string Subject::text() const {
  std::string out(what);
  if (!id.empty()) out.append(" '").append(shown(id)).append("'");
  return out;
}

namespace {

/// The text with every word of it cut that is longer than any of ours: names out of the file may be of any length.
std::string with_short_words(std::string_view text) {
  constexpr std::size_t kLongest = 120;  // bytes
  std::string out;
  while (!text.empty()) {
    const std::size_t end = std::min(text.find(' '), text.size() - 1) + 1;
    const std::string_view word = text.substr(0, end);
    if (word.size() <= kLongest) {
      out += word;
    } else {
      // What stands behind the name, a quote or a full stop, goes with it.
      out.append(shown(word));
      if (word.back() == ' ') out += ' ';
    }
    text.remove_prefix(end);
  }
  return out;
}

}  // namespace

void Faults::add(SourcePos where, const Subject& subject, std::string_view text) {
  faults_.push_back({where, subject.text().append(": ").append(with_short_words(text))});
  subjects_.emplace(subject.what, subject.id);
}

bool Faults::tells_of(const Subject& subject) const {
  return subjects_.contains(std::pair<std::string, std::string>(subject.what, subject.id));
}

void Faults::add_all(const Faults& others) {
  faults_.insert(faults_.end(), others.faults_.begin(), others.faults_.end());
  subjects_.insert(others.subjects_.begin(), others.subjects_.end());
}

void Faults::throw_if_any(const std::string& file) {
  if (faults_.empty()) return;
  const auto key = [](const InputFault& f) { return std::tie(f.where, f.text); };
  std::sort(faults_.begin(), faults_.end(), [&](const auto& a, const auto& b) { return key(a) < key(b); });
  // What stands behind a YAML anchor is read once per alias; its mistakes are told once.
  const auto same = [&](const InputFault& a, const InputFault& b) { return key(a) == key(b); };
  faults_.erase(std::unique(faults_.begin(), faults_.end(), same), faults_.end());
  throw InputError(file, std::move(faults_));
}

}  // namespace dryfit::model
