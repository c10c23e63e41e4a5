#include "cli/order/given_state.hpp"

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>
#include <charconv>
#include <optional>
#include <set>

#include "cli/input/given_steps.hpp"
#include "cli/io/text_file.hpp"
#include "cli/io/usage_error.hpp"
#include "cli/sentences/closed_out_text.hpp"
#include "cli/words/say.hpp"
#include "cli/words/words.hpp"
#include "model/geometry/at.hpp"
#include "model/text/nearest.hpp"
#include "planner/now/way_on.hpp"

namespace dryfit::cli {
namespace {

using planner::Contact;
using planner::ContactId;
using planner::ContactKind;
using planner::NamedPart;

std::vector<std::string> split(const std::string& text, char at) {
  std::vector<std::string> pieces(1);
  for (const char letter : text) {
    if (letter == at) {
      pieces.emplace_back();
    } else {
      pieces.back() += letter;
    }
  }
  return pieces;
}

std::vector<std::string> words_of(const std::string& text) {
  std::vector<std::string> words;
  for (std::string& word : split(text, ' ')) {
    if (!word.empty()) words.push_back(std::move(word));
  }
  return words;
}

bool rests_on(ContactKind kind) {
  return kind == ContactKind::hole || kind == ContactKind::notch || kind == ContactKind::rest;
}

/// The part of this name; null, and a fault more, when the frame has none.
const NamedPart* part_named(const std::vector<NamedPart>& parts, const std::string& label, const std::string& frame,
                            std::vector<std::string>& faults) {
  std::vector<std::string> labels;
  for (const NamedPart& part : parts) {
    if (part.label == label) return &part;
    labels.push_back(part.label);
  }
  const auto near = model::nearest_word(label, labels);
  faults.push_back(
      say("there is no part '{}' in {}{}", label, frame, near ? say("; did you mean '{}'?", *near) : std::string()));
  return nullptr;
}

/// Reads what is said by name, one thing after the other, and keeps every fault.
class Names {
 public:
  explicit Names(const LoadedFrame& loaded)
      : loaded_(loaded),
        list_(loaded.contacts),
        parts_(planner::named_parts(loaded.frame, loaded.contacts)),
        made_(list_.contacts.size(), 0) {}

  std::vector<char> read(const std::string& said) {
    std::vector<const NamedPart*> boards_on;
    for (const std::string& item : split(said, ',')) {
      const std::vector<std::string> words = words_of(item);
      if (!words.empty()) read_one(words, boards_on);
    }
    for (const NamedPart* board : boards_on) put_on(*board);
    ask_back();
    if (!faults_.empty()) throw UsageError(fmt::format("--built: {}", fmt::join(faults_, "; ")));
    return made_;
  }

 private:
  void read_one(const std::vector<std::string>& words, std::vector<const NamedPart*>& boards_on) {
    static const std::set<std::string> kBetween{"in", "into", "on", "to", "at"};
    if (words.size() == 1) {
      take_id(words[0]);
    } else if (words.size() == 2 && words[1] == "on") {
      const NamedPart* part = find(words[0]);
      if (part == nullptr) return;
      if (part->board) {
        boards_on.push_back(part);
      } else {
        take_only(*part);
      }
    } else if (words.size() == 3 && kBetween.contains(words[1])) {
      take_between(words[0], words[2]);
    } else {
      faults_.push_back(
          say("'{}' is not understood; say 'P3 in C2' for a joint or 'S1 on' for a board", fmt::join(words, " ")));
    }
  }

  void take_id(const std::string& id) {
    const ContactId contact = list_.find(id);
    if (contact != model::kNone) {
      made_[at(contact)] = 1;
      return;
    }
    const bool is_part = std::any_of(parts_.begin(), parts_.end(), [&](const NamedPart& p) { return p.label == id; });
    faults_.push_back(is_part ? say("'{0}': say what it is in, such as '{0} in ...' or '{0} on'", id)
                              : say("there is no contact '{}' in {}", id, loaded_.frame.name));
  }

  const NamedPart* find(const std::string& label) { return part_named(parts_, label, loaded_.frame.name, faults_); }

  /// A cap, a flange on its pipe: what has one joint needs no other name for it.
  void take_only(const NamedPart& part) {
    std::vector<ContactId> own;
    for (const ContactId c : part.contacts) {
      if (!rests_on(list_.contact(c).kind) && list_.contact(c).kind != ContactKind::fastening) own.push_back(c);
    }
    if (own.size() == 1) {
      made_[at(own.front())] = 1;
      return;
    }
    std::vector<std::string> joints;
    for (const ContactId c : own) joints.push_back(list_.contact(c).id);
    faults_.push_back(say("'{} on' leaves open which of its joints are made: {}", part.label, fmt::join(joints, ", ")));
  }

  void take_between(const std::string& first, const std::string& second) {
    const bool to_surface = list_.find(first + "/" + second) != model::kNone;
    if (to_surface) {
      made_[at(list_.find(first + "/" + second))] = 1;
      return;
    }
    const NamedPart* a = find(first);
    const NamedPart* b = find(second);
    if (a == nullptr || b == nullptr) return;
    std::vector<ContactId> both;
    std::set_intersection(a->contacts.begin(), a->contacts.end(), b->contacts.begin(), b->contacts.end(),
                          std::back_inserter(both));
    // Straps and screws hold what lies there already: they are named by themselves.
    const auto lies = [&](ContactId c) { return list_.contact(c).kind != ContactKind::fastening; };
    const bool other = std::any_of(both.begin(), both.end(), lies);
    if (both.empty()) faults_.push_back(say("{} and {} are not joined in {}", first, second, loaded_.frame.name));
    for (const ContactId c : both) {
      if (!other || lies(c)) made_[at(c)] = 1;
    }
  }

  /// A joint, a nut or screws of its own; `made`: such a one that is made, so that it is more than a loose part.
  [[nodiscard]] bool has_joint(model::PartId part, bool made) const {
    return std::any_of(list_.at[at(list_.vertex(part))].begin(), list_.at[at(list_.vertex(part))].end(),
                       [&](ContactId c) { return (!made || made_[at(c)] != 0) && !rests_on(list_.contact(c).kind); });
  }
  /// It would have to be joined to something to stand, and is not.
  [[nodiscard]] bool is_loose(model::PartId part) const {
    return loaded_.frame.part(part).kind != model::PartKind::board && has_joint(part, false) && !has_joint(part, true);
  }

  void put_on(const NamedPart& board) {
    std::vector<std::string> carriers;
    bool on = false;
    for (const ContactId c : board.contacts) {
      const Contact& contact = list_.contact(c);
      if (!rests_on(contact.kind) || contact.a != board.parts.front()) continue;
      const model::Part& carrier = loaded_.frame.part(contact.b);
      if (is_loose(contact.b)) {
        carriers.push_back(carrier.label);
        continue;
      }
      made_[at(c)] = 1;
      on = true;
    }
    if (!on) {
      const std::string names = listed(carriers);
      faults_.push_back(
          carriers.size() > 1
              ? say("'{} on': {} are joined to nothing yet, so it has nothing to be on; say what they are in",
                    board.label, names)
              : say("'{} on': {} is joined to nothing yet, so it has nothing to be on; say what it is in", board.label,
                    names));
    }
  }

  /// A board on a pipe that is in nothing does not stand: what the pipe is in has been forgotten.
  void ask_back() {
    for (std::size_t c = 0; c < made_.size(); ++c) {
      const Contact& contact = list_.contacts[c];
      if (made_[c] == 0 || !rests_on(contact.kind)) continue;
      const model::Part& carrier = loaded_.frame.part(contact.b);
      if (!is_loose(contact.b)) continue;
      faults_.push_back(say("{} is on {}, and {} is in nothing; say what it is in", loaded_.frame.part(contact.a).label,
                            carrier.label, carrier.label));
    }
  }

  const LoadedFrame& loaded_;
  const planner::ContactList& list_;
  std::vector<NamedPart> parts_;
  std::vector<char> made_;
  std::vector<std::string> faults_;
};

std::vector<char> of_file(const LoadedFrame& loaded, const std::string& file, const Streams& streams) {
  std::vector<char> made(loaded.contacts.contacts.size(), 0);
  for (const planner::GivenStep& step :
       read_steps(read_text(file, streams.in), plain_name(file), loaded.frame, loaded.contacts)) {
    for (const ContactId c : step.contacts) made[at(c)] = 1;
  }
  return made;
}

bool is_steps_file(const std::string& said) {
  return said == "-" || (said.size() > 5 && said.substr(said.size() - 5) == ".json");
}

}  // namespace

std::optional<int> step_count(const std::string& said) {
  int value = 0;
  const char* end = said.data() + said.size();
  const auto [stop, error] = std::from_chars(said.data(), end, value);
  if (error != std::errc() || stop != end) return std::nullopt;
  return value;
}

std::vector<char> after_steps(const std::string& said, int count, const planner::StepsOfContacts& order,
                              std::size_t contacts) {
  if (count < 0 || at(count) > order.size()) {
    throw UsageError(say("--built {}: the order has {} steps", said, order.size()));
  }
  std::vector<char> made(contacts, 0);
  for (std::size_t k = 0; k < at(count); ++k) {
    for (const ContactId c : order[k]) made[at(c)] = 1;
  }
  return made;
}

std::vector<char> given_state(const LoadedFrame& loaded, const std::string& said, const planner::StepsOfContacts& order,
                              const Streams& streams) {
  const std::optional<int> count = step_count(said);
  std::vector<char> made = count                 ? after_steps(said, *count, order, loaded.contacts.contacts.size())
                           : is_steps_file(said) ? of_file(loaded, said, streams)
                                                 : Names(loaded).read(said);
  planner::Undoer undoer(loaded.frame, loaded.contacts);
  if (const auto fault = planner::cannot_stand(undoer, made)) {
    throw UsageError(say("--built: this cannot have been put together so: {}; {}",
                         contacts_text(loaded.frame, loaded.contacts, fault->contacts),
                         closed_out_text(loaded.frame, loaded.contacts, fault->contacts.front(), fault->why)));
  }
  return made;
}

void check_names(const LoadedFrame& loaded, const std::string& said, const Streams& streams) {
  if (said.empty() || said == "-" || step_count(said)) return;
  static_cast<void>(is_steps_file(said) ? of_file(loaded, said, streams) : Names(loaded).read(said));
}

std::vector<NamedPart> parts_named(const LoadedFrame& loaded, const std::vector<std::string>& names,
                                   const char* option) {
  const std::vector<NamedPart> all = planner::named_parts(loaded.frame, loaded.contacts);
  std::vector<NamedPart> found;
  std::vector<std::string> faults;
  for (const std::string& name : names) {
    if (const NamedPart* part = part_named(all, name, loaded.frame.name, faults)) found.push_back(*part);
  }
  if (!faults.empty()) throw UsageError(fmt::format("{}: {}", option, fmt::join(faults, "; ")));
  return found;
}

}  // namespace dryfit::cli
