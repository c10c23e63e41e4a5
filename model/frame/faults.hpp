#pragma once
/// Collects every mistake of a frame file, so that all are told in one go.
#include <functional>
#include <set>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "model/frame/input_error.hpp"
#include "model/frame/message.hpp"

namespace dryfit::model {

/// What a message is about: "part 'T1'", "run 'left post'", or just "frame". Made into text only when needed.
/// Views: whoever is named must outlive the subject.
struct Subject {
  std::string_view what;
  std::string_view id;
  [[nodiscard]] Message said() const;
};

/// One mistake that is in no language yet. `subject`: what it is about, or nothing.
struct Fault {
  SourcePos where;
  Message subject, text;
};

/// The faults of a file, in English as any InputError has them, and in any other language.
class FaultsError : public InputError {
 public:
  /// `faults`: in the order in which they are told.
  FaultsError(const std::string& file, std::vector<Fault> faults);
  /// what() in the language of `translate`.
  [[nodiscard]] std::string lines_in(const Translate& translate) const;

 private:
  std::vector<Fault> said_;
};

class Faults {
 public:
  void add(SourcePos where, const Subject& subject, const Message& text);
  [[nodiscard]] bool any() const { return !faults_.empty(); }
  /// Some fault is about that.
  [[nodiscard]] bool tells_of(const Subject& subject) const;
  /// `holds` is true of the id of everything of that sort that some fault is about.
  template <class Holds>
  [[nodiscard]] bool all_of(std::string_view what, const Holds& holds) const {
    for (const auto& [sort, id] : subjects_) {
      if (sort == what && !holds(std::string_view(id))) return false;
    }
    return true;
  }
  /// Takes over all of `others`.
  void add_all(const Faults& others);
  /// Throws FaultsError with all faults, sorted by position and each told once, when there are any.
  void throw_if_any(const std::string& file);

 private:
  std::vector<Fault> faults_;
  std::set<std::pair<std::string, std::string>, std::less<>> subjects_;
};

}  // namespace dryfit::model
