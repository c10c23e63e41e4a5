#include "cli/edit/put_on.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <optional>
#include <set>
#include <stdexcept>
#include <string_view>

#include "cli/io/usage_error.hpp"
#include "cli/words/words.hpp"
#include "model/editing/grow.hpp"
#include "model/frame/input_error.hpp"
#include "model/text/nearest.hpp"

namespace dryfit::cli {
namespace {

/// "coupling" stays, "pipe: 12" becomes "{pipe: 12}".
std::string as_value(const std::string& what) {
  return what.find(':') == std::string::npos || what.front() == '{' ? what : "{" + what + "}";
}

/// The first word of what is put on: its kind.
std::string kind_word(const std::string& what) {
  const std::size_t begin = what.find_first_not_of(" {");
  const std::size_t end = what.find_first_of(" :,}", begin);
  return begin == std::string::npos ? "" : what.substr(begin, end - begin);
}

/// The letter that names of a kind begin with.
char letter_for(const std::string& kind) {
  if (kind == "pipe") return 'P';
  if (kind == "cap" || kind == "plug") return 'K';
  if (kind == "cross") return 'X';
  if (kind.find("elbow") != std::string::npos) return 'E';
  if (kind.find("tee") != std::string::npos) return 'T';
  const char first = kind.empty() ? 'A' : kind.front();
  return static_cast<char>(first >= 'a' && first <= 'z' ? first - 'a' + 'A' : 'A');
}

std::string free_name(const std::set<std::string>& taken, char letter) {
  for (int number = 1;; ++number) {
    std::string name = letter + std::to_string(number);
    if (!taken.contains(name)) return name;
  }
}

std::optional<LoadedFrame> read_if_sound(const std::string& text, const std::string& name) {
  try {
    return loaded_from(text, name);
  } catch (const model::InputError&) {
    return std::nullopt;
  }
}

/// "P5.end", "T1.right".
std::string end_name(const model::Part& part, std::size_t port) {
  if (part.kind == model::PartKind::pipe) return part.label + (port == 0 ? ".start" : ".end");
  return part.label + "." + part.ports[port].facing.name();
}

/// All ends that are free.
std::vector<std::string> free_ends(const model::Frame& frame) {
  std::vector<std::string> ends;
  for (const model::Part& part : frame.parts) {
    for (std::size_t port = 0; port < part.ports.size(); ++port) {
      if (part.ports[port].joint == model::kNone && part.ports[port].threaded) ends.push_back(end_name(part, port));
    }
  }
  return ends;
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

/// What hangs on an end: behind the run that ends there, or a run of its own where that cannot be.
std::string grown_from(const LoadedFrame& loaded, const std::string& text, const std::string& name,
                       const std::string& place, const std::string& id, const std::string& value) {
  const model::Frame& frame = loaded.frame;
  for (std::size_t i = 0; i < frame.parts.size(); ++i) {
    const model::Part& part = frame.parts[i];
    for (std::size_t port = 0; port < part.ports.size(); ++port) {
      if (end_name(part, port) != place || part.ports[port].joint != model::kNone) continue;
      const bool last = part.run != model::kNone && port == 1 &&
                        frame.runs[at(part.run)].parts.back() == static_cast<model::PartId>(i);
      if (last) {
        std::string longer = model::with_part_behind(text, frame.runs[at(part.run)].id, id, value);
        if (read_if_sound(longer, name)) return longer;
      }
      std::string wanted = place;
      std::replace(wanted.begin(), wanted.end(), '.', ' ');
      return model::with_run(text, run_named(&frame, wanted), place, "", id, value);
    }
  }
  const std::vector<std::string> ends = free_ends(frame);
  const auto near = model::nearest_word(place, ends);
  throw UsageError(fmt::format("'{}' is no free end; {}{}", place,
                               ends.empty() ? "no end is free" : "free are " + listed_briefly(ends, 12),
                               near ? fmt::format("; did you mean '{}'?", *near) : std::string()));
}

}  // namespace

PutOn put_on(const std::string& text, const std::string& name, const std::string& place, const std::string& what) {
  const std::optional<LoadedFrame> loaded = read_if_sound(text, name);
  std::set<std::string> taken;
  if (loaded) {
    for (const model::Part& part : loaded->frame.parts) taken.insert(part.label);
    for (const model::Surface& surface : loaded->frame.surfaces) taken.insert(surface.id);
  }
  PutOn result;
  result.id = free_name(taken, letter_for(kind_word(what)));
  const std::string value = as_value(what);
  try {
    if (place.find('.') == std::string::npos) {
      const std::size_t spot = place.find('@');
      const std::string surface = place.substr(0, spot);
      const std::string at_text = spot == std::string::npos ? "" : "[" + place.substr(spot + 1) + "]";
      result.text = model::with_run(text, run_named(loaded ? &loaded->frame : nullptr, "from " + surface), surface,
                                    at_text, result.id, value);
    } else if (loaded) {
      result.text = grown_from(*loaded, text, name, place, result.id, value);
    } else {
      static_cast<void>(loaded_from(text, name));  // says what is wrong with it
    }
  } catch (const std::invalid_argument& error) {
    throw UsageError(fmt::format("--add {}={}: {}", place, what, error.what()));
  }
  return result;
}

}  // namespace dryfit::cli
