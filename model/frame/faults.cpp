#include "model/frame/faults.hpp"

#include <algorithm>
#include <tuple>

#include "model/frame/fault_lines.hpp"
#include "model/frame/plain_text.hpp"

namespace dryfit::model {

Message Subject::said() const {
  const std::string name = shown(id);
  if (id.empty() && what == "part") return message("part");
  if (id.empty() && what == "run") return message("run");
  if (id.empty() && what == "board") return message("board");
  if (id.empty() && what == "surface") return message("surface");
  if (what == "part") return message("part '{}'", name);
  if (what == "run") return message("run '{}'", name);
  if (what == "board") return message("board '{}'", name);
  if (what == "surface") return message("surface '{}'", name);
  if (what == "frame") return message("frame");
  if (what == "file") return message("file");
  // A section of the file by its key.
  return Message::as_it_is(id.empty() ? std::string(what) : std::string(what) + " '" + name + "'");
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

std::vector<InputFault> put_into(const Translate& translate, const std::vector<Fault>& faults) {
  std::vector<InputFault> out;
  out.reserve(faults.size());
  for (const Fault& fault : faults) {
    const std::string subject = fault.subject.empty() ? "" : fault.subject.in(translate) + ": ";
    out.push_back({fault.where, subject + with_short_words(fault.text.in(translate))});
  }
  return out;
}

}  // namespace

FaultsError::FaultsError(const std::string& file, std::vector<Fault> faults)
    : InputError(file, put_into(in_english, faults)), said_(std::move(faults)) {}

std::string FaultsError::lines_in(const Translate& translate) const {
  return fault_lines(file(), put_into(translate, said_), translate);
}

void Faults::add(SourcePos where, const Subject& subject, const Message& text) {
  faults_.push_back({where, subject.said(), text});
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
  struct Keyed {
    InputFault english;
    Fault fault;
  };
  std::vector<InputFault> english = put_into(in_english, faults_);
  std::vector<Keyed> all;
  for (std::size_t i = 0; i < faults_.size(); ++i) all.push_back({std::move(english[i]), std::move(faults_[i])});
  const auto key = [](const Keyed& f) { return std::tie(f.english.where, f.english.text); };
  std::sort(all.begin(), all.end(), [&](const auto& a, const auto& b) { return key(a) < key(b); });
  // What stands behind a YAML anchor is read once per alias; its mistakes are told once.
  const auto same = [&](const Keyed& a, const Keyed& b) { return key(a) == key(b); };
  all.erase(std::unique(all.begin(), all.end(), same), all.end());
  faults_.clear();
  for (Keyed& one : all) faults_.push_back(std::move(one.fault));
  throw FaultsError(file, std::move(faults_));
}

}  // namespace dryfit::model
