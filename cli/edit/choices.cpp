#include "cli/edit/choices.hpp"

#include <array>
#include <nlohmann/json.hpp>
#include <stdexcept>

#include "cli/io/usage_error.hpp"
#include "cli/words/lengths.hpp"
#include "cli/words/say.hpp"
#include "cli/words/words.hpp"
#include "model/editing/edit.hpp"
#include "model/editing/outline.hpp"

namespace dryfit::cli {
namespace {

bool reads_with(const std::string& text, const std::string& name, const std::string& target, const std::string& value) {
  try {
    return read_if_sound(model::with_value(text, target, value), name).has_value();
  } catch (const std::invalid_argument&) {
    return false;
  }
}

/// The option that says the size of another opening; nullptr where a part has none.
const char* other_size_of(const std::string& kind) {
  if (kind == "tee") return "branch-size";
  return kind == "coupling" || kind == "elbow" ? "to-size" : nullptr;
}

/// The kind that the file says, and its value there.
std::pair<std::string, std::string> kind_written(const model::Written& part) {
  if (part.items.empty()) return {part.text, ""};
  return {part.items.front().key, part.items.front().text};
}
std::string said_of_part(const model::Written& part, const char* key) {
  const model::Written* said = part.find(key);
  return said == nullptr ? "" : said->text;
}

/// Where the pipe is screwed in; nullopt where it is nowhere.
std::optional<PartEnd> socket_of(const model::Frame& frame, model::PartId pipe) {
  for (const model::Port& port : frame.part(pipe).ports) {
    if (port.joint == model::kNone) continue;
    const model::Joint& joint = frame.joint(port.joint);
    return PartEnd{joint.female, at(joint.female_port)};
  }
  return std::nullopt;
}

/// A thread is made up in an opening that the size is said of: what is in there would no longer fit.
bool held_to_its_size(const model::Frame& frame, const std::string& label, const model::Written& written,
                      const std::string& key) {
  const char* other = other_size_of(kind_written(written).first);
  for (const model::Part& part : frame.parts) {
    if (part.label != label) continue;
    for (std::size_t i = 0; i < part.ports.size(); ++i) {
      // Of a tee the third is the outlet, of the others the second the far end.
      const bool is_other = other != nullptr && i == (std::string(other) == "branch-size" ? 2U : 1U);
      const bool meant = key == "size" ? !is_other || written.find(other) == nullptr : is_other;
      if (meant && part.ports[i].joint != model::kNone) return true;
    }
  }
  return false;
}

Choice directions_of(const std::string& text, const std::string& name, const std::string& part, const std::string& kind,
                     const std::string& value) {
  Choice choice{part + "." + kind, value, {}};
  const bool straight = model::direction_named(value)->along_axis();
  for (const model::Direction direction : model::all_directions()) {
    if (direction.along_axis() != straight) continue;
    if (direction.name() != value && reads_with(text, name, choice.target, direction.name())) {
      choice.others.push_back(direction.name());
    }
  }
  return choice;
}

Choice sizes_of(const std::string& text, const std::string& name, const std::string& target, const std::string& value,
                int own) {
  constexpr int kNear = 3;  // more steps of size than that no table has in one fitting
  Choice choice{target, value, {}};
  const auto& sizes = model::nominal_sizes();
  for (int i = std::max(0, own - kNear); i <= own + kNear && i < static_cast<int>(sizes.size()); ++i) {
    const std::string& size = sizes[at(i)];
    if (size != value && i != own && reads_with(text, name, target, size)) choice.others.push_back(size);
  }
  return choice;
}

}  // namespace

Choices choices_of(const LoadedFrame& loaded, const std::string& name, const std::string& label) {
  const model::Frame& frame = loaded.frame;
  const std::string& text = loaded.text;
  const model::PartId id = frame.find(label);
  if (id == model::kNone) {
    throw UsageError("--offers " + label + ": there is no part of that name, and an end is PART.end or PART.right");
  }
  Choices choices;
  choices.part = label;
  if (frame.part(id).board != model::kNone) {
    choices.kind = "board";
    return choices;
  }
  const model::Written root = model::outline_of(text);
  const model::Written& part = *model::part_written(root, frame.part(id).label).part;
  const auto [kind, value] = kind_written(part);
  choices.kind = kind;
  if (kind == "pipe") {
    choices.length = value;
    if (const auto socket = socket_of(frame, id)) choices.lengths = lengths_from(frame, *socket, id);
  } else if (model::direction_named(value)) {
    Choice directions = directions_of(text, name, label, kind, value);
    if (!directions.others.empty()) choices.directions.push_back(std::move(directions));
  }
  const int own = frame.part(id).size;
  const auto offer_size = [&](const char* key) {
    if (held_to_its_size(frame, label, part, key)) return;
    Choice sizes = sizes_of(text, name, label + "." + key, said_of_part(part, key), own);
    if (!sizes.others.empty()) choices.sizes.push_back(std::move(sizes));
  };
  offer_size("size");
  if (const char* other = other_size_of(kind)) offer_size(other);
  return choices;
}

namespace {

Json choice_json(const Choice& choice) {
  return {{"set", choice.target}, {"value", choice.value}, {"others", choice.others}};
}

}  // namespace

Json choices_json(const Choices& choices) {
  Json made{{"part", choices.part}, {"kind", choices.kind}};
  if (!choices.length.empty()) made["length"] = choices.length;
  made["lengths"] = lengths_json(choices.lengths);
  made["directions"] = Json::array();
  for (const Choice& choice : choices.directions) made["directions"].push_back(choice_json(choice));
  made["sizes"] = Json::array();
  for (const Choice& choice : choices.sizes) made["sizes"].push_back(choice_json(choice));
  return made;
}

std::string choices_text(const Choices& choices, model::Units units) {
  std::string lines = say("What {} could be instead:", choices.part) + "\n";
  const auto line = [&](const std::string& text) { lines += "  " + wrapped(text, 4) + "\n"; };
  for (const std::string& text : lengths_lines(choices.lengths, units)) line(text);
  for (const auto* list : {&choices.directions, &choices.sizes}) {
    for (const Choice& choice : *list) line("--set " + choice.target + "=" + listed_or(choice.others));
  }
  if (choices.lengths.empty() && choices.directions.empty() && choices.sizes.empty()) line(say("Nothing else."));
  return lines;
}

}  // namespace dryfit::cli
