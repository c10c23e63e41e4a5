#include "cli/edit/put_on.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <stdexcept>
#include <vector>

#include "cli/io/usage_error.hpp"
#include "cli/words/said.hpp"
#include "cli/words/say.hpp"
#include "model/editing/grow.hpp"

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

/// Something stands on that end now.
bool is_made_up(const std::string& text, const std::string& name, const std::string& place) {
  const auto loaded = read_if_sound(text, name);
  if (!loaded) return false;
  const auto end = end_named(loaded->frame, place);
  return end && port_of(loaded->frame, *end).joint != model::kNone;
}

/// What hangs on an end: behind the run that ends there, or a run of its own where that cannot be.
std::string grown_from(const model::Frame& frame, const std::string& text, const std::string& name,
                       const std::string& place, const model::NewPart& given) {
  const PartEnd end = open_end_named(frame, place);
  const model::NewPart part{given.id, with_own_size(given.value, port_of(frame, end).size, size_of_all(text))};
  if (const int run = run_going_on(frame, end); run != model::kNone) {
    std::string longer = model::with_part_behind(text, frame.runs[at(run)].id, part);
    if (is_made_up(longer, name, place)) return longer;
  }
  const std::string wanted = run_word(port_of(frame, end).facing);
  return model::with_run(text, {run_named(&frame, wanted), place, "", "", {part}, ""});
}

std::string normal_of_usual(const std::string& surface) {
  if (surface == "floor") return "up";
  if (surface == "wall") return "front";
  return surface == "ceiling" ? "down" : "";
}

bool has_surface(const LoadedFrame* loaded, const std::string& surface) {
  if (loaded == nullptr) return false;
  for (const model::Surface& one : loaded->frame.surfaces) {
    if (one.id == surface) return true;
  }
  return false;
}

/// A run that begins at a surface; a floor, wall or ceiling that the file lacks comes with the first.
std::string started_at(const LoadedFrame* loaded, const std::string& text, const std::string& place,
                       const model::NewPart& part) {
  const std::size_t spot = place.find('@');
  const std::string surface = place.substr(0, spot);
  const std::string at_text = spot == std::string::npos ? "" : as_spot(place.substr(spot + 1));
  std::string made = text;
  const std::string normal = normal_of_usual(surface);
  if (loaded == nullptr && !normal.empty()) {
    try {
      made = model::with_surface(made, surface, normal, "0");
    } catch (const std::invalid_argument&) {
      // It is there, in a file that cannot be read yet.
    }
  }
  const bool told = loaded == nullptr || has_surface(loaded, surface);
  if (!told && !normal.empty()) {
    throw UsageError(say("there is no '{0}' yet: say where it is first, as --surface {0}=48", surface));
  }
  const std::string wanted = normal == "front" ? "arm" : "post";
  return model::with_run(
      made, {run_named(loaded == nullptr ? nullptr : &loaded->frame, wanted), surface, "", at_text, {part}, ""});
}

}  // namespace

PutOn put_on(const std::string& text, const std::string& name, const std::string& place, const std::string& what) {
  const std::optional<LoadedFrame> loaded = read_if_sound(text, name);
  std::set<std::string> taken = loaded ? names_taken(loaded->frame) : std::set<std::string>{};
  PutOn result;
  result.id = new_name(taken, beginning_for(kind_word(what)));
  const model::NewPart part{result.id, as_value(what)};
  try {
    if (place.find('.') == std::string::npos || place.find('@') != std::string::npos) {
      result.text = started_at(loaded ? &*loaded : nullptr, text, place, part);
    } else if (loaded) {
      result.text = grown_from(loaded->frame, text, name, place, part);
    } else {
      static_cast<void>(loaded_from(text, name));  // says what is wrong with it
    }
  } catch (const std::invalid_argument& error) {
    throw UsageError(fmt::format("--add {}={}: {}", place, what, said(error)));
  }
  return result;
}

std::string with_surface_at(const std::string& text, const std::string& given) {
  const auto [surface, where] = two_sides("--surface", given);
  std::string normal = normal_of_usual(surface), coordinate = where;
  if (const std::size_t blank = where.find(' '); blank != std::string::npos) {
    if (const auto direction = model::direction_named(where.substr(0, blank))) {
      normal = direction->name();
      coordinate = where.substr(blank + 1);
    }
  }
  if (normal.empty()) {
    throw UsageError(say("--surface {}: say which way '{}' faces, as {}=\"front 12\"", given, surface, surface));
  }
  return model::with_surface(text, surface, normal, coordinate);
}

std::string started(const std::string& text, const std::string& given) {
  std::vector<std::string> words;
  for (std::size_t from = 0; from < given.size();) {
    const std::size_t begin = given.find_first_not_of(" ,", from);
    if (begin == std::string::npos) break;
    const std::size_t end = std::min(given.find_first_of(" ,", begin), given.size());
    words.push_back(given.substr(begin, end - begin));
    from = end;
  }
  const bool known = words.size() >= 2 && words.size() <= 3 && (words[0] == "npt" || words[0] == "iso7");
  if (!known) {
    throw UsageError(say("--start {}: expected a thread, a size and units, as \"npt 3/4\" or \"iso7 1/2 cm\"", given));
  }
  const std::string units = words.size() == 3 ? words[2] : words[0] == "npt" ? "in" : "mm";
  return model::with_head(text, "Frame", units, words[0], words[1]);
}

}  // namespace dryfit::cli
