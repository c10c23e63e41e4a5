#include "cli/input/given_steps.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <nlohmann/json.hpp>
#include <optional>

#include "model/frame/faults.hpp"
#include "model/frame/plain_text.hpp"
#include "model/text/nearest.hpp"

namespace dryfit::cli {
namespace {

using model::Message;
using model::message;
using nlohmann::json;

constexpr planner::Action kActions[] = {planner::Action::screw, planner::Action::slide, planner::Action::pass,
                                        planner::Action::lay,   planner::Action::join,  planner::Action::fasten};

/// Walks through a text and keeps nothing but the place of the first thing that is no JSON, or no number that a
/// computer can hold; of the latter, the parser's exception does not tell the place.
class Finder : public nlohmann::json_sax<json> {
 public:
  [[nodiscard]] std::size_t byte() const { return byte_; }

  bool null() override { return true; }
  bool boolean(bool) override { return true; }
  bool number_integer(number_integer_t) override { return true; }
  bool number_unsigned(number_unsigned_t) override { return true; }
  bool number_float(number_float_t, const string_t&) override { return true; }
  bool string(string_t&) override { return true; }
  bool binary(binary_t&) override { return true; }
  bool start_object(std::size_t) override { return true; }
  bool key(string_t&) override { return true; }
  bool end_object() override { return true; }
  bool start_array(std::size_t) override { return true; }
  bool end_array() override { return true; }
  bool parse_error(std::size_t byte, const std::string&, const nlohmann::detail::exception&) override {
    byte_ = byte > 0 ? byte - 1 : 0;
    return false;
  }

 private:
  std::size_t byte_ = 0;
};

json parsed(std::string_view text, const std::string& file) {
  try {
    return json::parse(text);
  } catch (const json::exception& error) {
    Finder finder;
    json::sax_parse(text, &finder);
    const bool number = dynamic_cast<const json::out_of_range*>(&error) != nullptr;
    throw model::FaultsError(file,
                             {{model::place_of(text, finder.byte()),
                               {},
                               message("{}; expected a list of steps as 'dryfit order --json' prints it",
                                       number ? message("this number is too large") : message("this is not JSON"))}});
  }
}

/// Collects the steps and, where the text is wrong, every fault.
class StepReader {
 public:
  StepReader(const model::Frame& frame, const planner::ContactList& list) : frame_(frame), list_(list) {}

  std::vector<planner::GivenStep> read(const json& steps) {
    std::vector<planner::GivenStep> result;
    for (const json& entry : steps) {
      ++number_;
      result.push_back(step(entry));
    }
    return result;
  }
  [[nodiscard]] const std::vector<model::Fault>& faults() const { return faults_; }

 private:
  void fault(const Message& text) { faults_.push_back({{}, {}, message("step {}: {}", number_, text)}); }

  planner::GivenStep step(const json& entry) {
    planner::GivenStep given;
    if (!entry.is_object()) {
      fault(message("expected an object with \"action\" and \"contacts\""));
      return given;
    }
    if (const auto action = text_at(entry, "action")) read_action(*action, given);
    for (const std::string& id : texts_at(entry, "contacts", true)) {
      const planner::ContactId contact = list_.find(id);
      if (contact == model::kNone) {
        fault(message("the frame has no contact '{}'{}", model::shown(id), suggestion(id, contact_names())));
      } else {
        given.contacts.push_back(contact);
      }
    }
    for (const std::string& id : texts_at(entry, "moving", false)) read_moving(id, given);
    std::sort(given.moving.begin(), given.moving.end());
    return given;
  }

  void read_action(const std::string& word, planner::GivenStep& given) {
    std::vector<std::string> words;
    for (const planner::Action action : kActions) {
      words.emplace_back(planner::word_for(action));
      if (words.back() == word) {
        given.action = action;
        return;
      }
    }
    fault(message("unknown action '{}', expected screw, slide, pass, lay, join or fasten{}", model::shown(word),
                  suggestion(word, words)));
  }

  /// A union's own id stands for both its halves.
  void read_moving(const std::string& id, planner::GivenStep& given) {
    const model::PartId part = frame_.find(id);
    if (part != model::kNone) {
      given.moving.push_back(part);
      return;
    }
    const model::PartId half = frame_.find(id + "~a");
    if (half != model::kNone) {
      given.moving.push_back(half);
      given.moving.push_back(frame_.part(half).union_mate);
      return;
    }
    std::vector<std::string> names;
    for (const model::Part& known : frame_.parts) names.push_back(known.id);
    fault(message("the frame has no part '{}'{}", model::shown(id), suggestion(id, names)));
  }

  std::optional<std::string> text_at(const json& entry, const char* key) {
    const auto found = entry.find(key);
    if (found != entry.end() && found->is_string()) return found->get<std::string>();
    fault(message("expected a text at \"{}\"", key));
    return std::nullopt;
  }

  std::vector<std::string> texts_at(const json& entry, const char* key, bool required) {
    std::vector<std::string> texts;
    const auto found = entry.find(key);
    if (found == entry.end() && !required) return texts;
    const bool good = found != entry.end() && found->is_array() && (!required || !found->empty()) &&
                      std::all_of(found->begin(), found->end(), [](const json& item) { return item.is_string(); });
    if (!good) {
      fault(message("expected a list of ids at \"{}\"", key));
      return texts;
    }
    for (const json& item : *found) texts.push_back(item.get<std::string>());
    return texts;
  }

  static Message suggestion(const std::string& word, const std::vector<std::string>& known) {
    const auto near = model::nearest_word(word, known);
    return near ? message("; did you mean '{}'?", *near) : Message();
  }

  [[nodiscard]] std::vector<std::string> contact_names() const {
    std::vector<std::string> names;
    for (const planner::Contact& contact : list_.contacts) names.push_back(contact.id);
    return names;
  }

  const model::Frame& frame_;
  const planner::ContactList& list_;
  int number_ = 0;
  std::vector<model::Fault> faults_;
};

}  // namespace

std::vector<planner::GivenStep> read_steps(std::string_view bytes, const std::string& file, const model::Frame& frame,
                                           const planner::ContactList& list) {
  const std::string text = model::with_plain_lines(std::string(bytes));
  if (const auto unfit = model::first_unfit(text)) {
    throw model::FaultsError(file, {{model::place_of(text, unfit->at), {}, unfit->what}});
  }
  const json document = parsed(text, file);
  const json* steps = &document;
  if (document.is_object()) {
    const auto found = document.find("steps");
    if (found != document.end()) steps = &*found;
  }
  if (!steps->is_array()) {
    throw model::FaultsError(file, {{{}, {}, message("expected a list of steps, or an object with \"steps\"")}});
  }
  StepReader reader(frame, list);
  std::vector<planner::GivenStep> result = reader.read(*steps);
  if (!reader.faults().empty()) throw model::FaultsError(file, reader.faults());
  return result;
}

std::vector<planner::GivenStep> as_given(const std::vector<planner::Step>& steps) {
  std::vector<planner::GivenStep> result;
  result.reserve(steps.size());
  for (const planner::Step& step : steps) result.push_back({step.action, step.contacts, step.moving});
  return result;
}

}  // namespace dryfit::cli
