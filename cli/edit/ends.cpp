#include "cli/edit/ends.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cctype>

#include "cli/io/usage_error.hpp"
#include "cli/words/say.hpp"
#include "cli/words/words.hpp"
#include "model/editing/outline.hpp"
#include "model/text/nearest.hpp"

namespace dryfit::cli {

const model::Port& port_of(const model::Frame& frame, PartEnd end) { return frame.part(end.part).ports[end.port]; }

std::string end_name(const model::Frame& frame, PartEnd end) {
  const model::Part& part = frame.part(end.part);
  if (part.kind == model::PartKind::pipe) return part.label + (end.port == 0 ? ".start" : ".end");
  return part.label + "." + part.ports[end.port].facing.name();
}

std::optional<PartEnd> end_named(const model::Frame& frame, const std::string& name) {
  const std::string label = name.substr(0, name.find('.'));
  for (std::size_t i = 0; i < frame.parts.size(); ++i) {
    const model::Part& part = frame.parts[i];
    if (part.label != label) continue;
    for (std::size_t port = 0; port < part.ports.size(); ++port) {
      const PartEnd end{static_cast<model::PartId>(i), port};
      if (end_name(frame, end) == name) return end;
    }
  }
  return std::nullopt;
}

std::vector<PartEnd> open_ends(const model::Frame& frame) {
  std::vector<PartEnd> ends;
  for (std::size_t i = 0; i < frame.parts.size(); ++i) {
    const auto& ports = frame.parts[i].ports;
    for (std::size_t port = 0; port < ports.size(); ++port) {
      if (ports[port].joint == model::kNone && ports[port].threaded)
        ends.push_back({static_cast<model::PartId>(i), port});
    }
  }
  return ends;
}

PartEnd open_end_named(const model::Frame& frame, const std::string& name) {
  const auto found = end_named(frame, name);
  if (found && port_of(frame, *found).joint == model::kNone) return *found;
  std::vector<std::string> ends;
  for (const PartEnd end : open_ends(frame)) ends.push_back(end_name(frame, end));
  const auto near = model::nearest_word(name, ends);
  throw UsageError(say("'{}' is no free end; {}{}", name,
                       ends.empty() ? say("no end is free") : say("free are {}", listed_briefly(ends, 12)),
                       near ? say("; did you mean '{}'?", *near) : std::string()));
}

int run_going_on(const model::Frame& frame, PartEnd end) {
  const model::Part& part = frame.part(end.part);
  const std::size_t out = part.ports.size() == 1 ? 0 : 1;
  if (part.run == model::kNone || end.port != out) return model::kNone;
  return frame.runs[at(part.run)].parts.back() == end.part ? part.run : model::kNone;
}

bool could_meet(const model::Port& one, const model::Port& other) {
  return one.male != other.male && one.size == other.size && one.facing == -other.facing;
}

std::set<std::string> names_taken(const model::Frame& frame) {
  std::set<std::string> taken;
  for (const model::Part& part : frame.parts) taken.insert(part.label);
  for (const model::Surface& surface : frame.surfaces) taken.insert(surface.id);
  return taken;
}

std::string new_name(std::set<std::string>& taken, const std::string& beginning) {
  for (int number = 1;; ++number) {
    std::string name = beginning + std::to_string(number);
    if (taken.insert(name).second) return name;
  }
}

std::string name_like(std::set<std::string>& taken, const std::string& name) {
  std::string beginning = name;
  while (beginning.size() > 1 && std::isdigit(static_cast<unsigned char>(beginning.back())) != 0) beginning.pop_back();
  // Where the first has no number, its twin is the second.
  if (beginning == name) taken.insert(beginning + "1");
  return new_name(taken, beginning);
}

std::string beginning_for(const std::string& kind) {
  if (kind == "pipe") return "P";
  if (kind == "cap" || kind == "plug") return "K";
  if (kind == "cross") return "X";
  if (kind.find("elbow") != std::string::npos) return "E";
  if (kind.find("tee") != std::string::npos) return "T";
  const char first = kind.empty() ? 'A' : kind.front();
  return {static_cast<char>(first >= 'a' && first <= 'z' ? first - 'a' + 'A' : 'A')};
}

std::string run_named(const model::Frame* frame, const std::string& wanted) {
  std::set<std::string> taken;
  if (frame != nullptr) {
    for (const model::Run& run : frame->runs) taken.insert(run.id);
  }
  std::string name = wanted;
  for (int number = 2; taken.contains(name); ++number) name = fmt::format("{} {}", wanted, number);
  return name;
}

std::string run_word(model::Direction going) { return going.axis() == 2 ? "post" : "rail"; }

std::string size_of_all(const std::string& text) {
  const model::Written root = model::outline_of(text);
  const model::Written* pipe = root.find("pipe");
  const model::Written* size = pipe == nullptr ? nullptr : pipe->find("size");
  return size == nullptr ? "" : size->text;
}

std::string with_own_size(const std::string& value, int size, const std::string& all) {
  const auto& sizes = model::nominal_sizes();
  const std::string& own = sizes[at(size)];
  if (all.empty() || own == all || model::outline_of(value).find("size") != nullptr) return value;
  if (value.front() != '{') return fmt::format("{{{}: , size: {}}}", value, own);
  return fmt::format("{}, size: {}}}", value.substr(0, value.rfind('}')), own);
}

std::optional<LoadedFrame> read_if_sound(const std::string& text, const std::string& name) {
  try {
    return loaded_from(text, name);
  } catch (const model::InputError&) {
    return std::nullopt;
  }
}

std::pair<std::string, std::string> two_sides(const std::string& option, const std::string& given) {
  const std::size_t equals = given.find('=');
  if (equals == std::string::npos || equals == 0 || equals + 1 == given.size()) {
    throw UsageError(say("{} {}: expected something on both sides of '='", option, given));
  }
  return {given.substr(0, equals), given.substr(equals + 1)};
}

std::string as_spot(const std::string& given) {
  const std::size_t comma = given.find(',');
  if (comma == std::string::npos) return "[" + given + "]";
  const std::size_t second = given.find_first_not_of(' ', comma + 1);
  if (second == std::string::npos) return "[" + given + "]";
  return "[" + given.substr(0, comma) + ", " + given.substr(second) + "]";
}

}  // namespace dryfit::cli
