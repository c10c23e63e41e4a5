#include "model/editing/grow.hpp"

#include <yaml-cpp/yaml.h>

#include <stdexcept>

#include "model/geometry/at.hpp"

namespace dryfit::model {
namespace {

YAML::Node loaded_tree(std::string_view text) {
  try {
    return YAML::Load(std::string(text));
  } catch (const YAML::Exception& e) {
    throw std::invalid_argument(std::string("the file cannot be read as YAML: ") + e.what());
  }
}

/// A run of the tree: where its name stands, its parts, and what stands behind it.
struct RunFound {
  std::string name;
  std::size_t key = 0;  ///< place of its name in the text
  YAML::Node parts;
};

std::vector<RunFound> runs_found(const YAML::Node& root) {
  std::vector<RunFound> found;
  if (!root.IsMap()) return found;
  for (const auto& entry : root) {
    if (!entry.first.IsScalar() || entry.first.Scalar() != "runs" || !entry.second.IsMap()) continue;
    for (const auto& run : entry.second) {
      RunFound one{run.first.Scalar(), at(run.first.Mark().pos), YAML::Node(YAML::NodeType::Undefined)};
      if (run.second.IsMap()) {
        for (const auto& key : run.second) {
          if (key.first.IsScalar() && key.first.Scalar() == "parts" && key.second.IsSequence()) {
            one.parts.reset(key.second);
          }
        }
      }
      found.push_back(std::move(one));
    }
  }
  return found;
}

std::size_t line_begin(std::string_view text, std::size_t place) {
  const std::size_t before = place == 0 ? std::string_view::npos : text.rfind('\n', place - 1);
  return before == std::string_view::npos ? 0 : before + 1;
}
/// The place behind the line, its newline taken in.
std::size_t line_end(std::string_view text, std::size_t place) {
  const std::size_t end = text.find('\n', place);
  return end == std::string_view::npos ? text.size() : end + 1;
}
std::size_t indent_at(std::string_view text, std::size_t line) {
  std::size_t indent = 0;
  while (line + indent < text.size() && text[line + indent] == ' ') ++indent;
  return indent;
}
bool holds_nothing(std::string_view text, std::size_t line) {
  const std::size_t first = line + indent_at(text, line);
  return first >= text.size() || text[first] == '\n' || text[first] == '\r' || text[first] == '#';
}

/// Behind all lines that belong to what begins in the line at `line` with that indent: blank lines and comments at the
/// end belong to what follows.
std::size_t block_end(std::string_view text, std::size_t line, std::size_t indent) {
  std::size_t end = line_end(text, line);
  for (std::size_t next = end; next < text.size(); next = line_end(text, next)) {
    if (holds_nothing(text, next)) continue;
    if (indent_at(text, next) <= indent) break;
    end = line_end(text, next);
  }
  return end;
}

/// The place of the bracket that closes the one at `open`; quotes and comments are passed over.
std::size_t closing_bracket(std::string_view text, std::size_t open) {
  int depth = 0;
  char quote = '\0';
  for (std::size_t i = open; i < text.size(); ++i) {
    const char c = text[i];
    if (quote != '\0') {
      if (c == quote) quote = '\0';
    } else if (c == '"' || c == '\'') {
      quote = c;
    } else if (c == '#' && i > 0 && (text[i - 1] == ' ' || text[i - 1] == '\n')) {
      i = line_end(text, i) - 1;
    } else if (c == '[' || c == '{') {
      ++depth;
    } else if ((c == ']' || c == '}') && --depth == 0) {
      return i;
    }
  }
  throw std::invalid_argument("a bracket is not closed");
}

std::string put_in(std::string_view text, std::size_t place, std::string_view more) {
  return std::string(text.substr(0, place)).append(more).append(text.substr(place));
}

bool is_flow(std::string_view text, const YAML::Node& list) {
  const auto begin = at(list.Mark().pos);
  return begin < text.size() && text[begin] == '[';
}

/// "- " and what is before it, of the line that holds an entry of a list.
std::string dash_of(std::string_view text, const YAML::Node& entry) {
  const std::size_t line = line_begin(text, at(entry.Mark().pos));
  const std::size_t indent = indent_at(text, line);
  return std::string(indent, ' ') + "- ";
}

const YAML::Node last_of(const YAML::Node& list) { return list[list.size() - 1]; }

}  // namespace

std::string with_part_behind(std::string_view text, const std::string& run, const std::string& id,
                             const std::string& value) {
  for (const RunFound& found : runs_found(loaded_tree(text))) {
    if (found.name != run || !found.parts.IsDefined() || found.parts.size() == 0) continue;
    const std::string entry = id + ": " + value;
    if (is_flow(text, found.parts)) {
      std::size_t end = closing_bracket(text, at(found.parts.Mark().pos));
      while (end > 0 && (text[end - 1] == ' ' || text[end - 1] == '\n')) --end;
      return put_in(text, end, ", " + entry);
    }
    const YAML::Node last = last_of(found.parts);
    const std::size_t line = line_begin(text, at(last.Mark().pos));
    const std::size_t end = block_end(text, line, indent_at(text, line));
    const bool unfinished = end > 0 && text[end - 1] != '\n';
    return put_in(text, end, (unfinished ? "\n" : "") + dash_of(text, last) + entry + (unfinished ? "" : "\n"));
  }
  throw std::invalid_argument("there is no run '" + run + "' with parts in the file");
}

std::string with_run(std::string_view text, const std::string& run, const std::string& from, const std::string& at_text,
                     const std::string& id, const std::string& value) {
  const std::vector<RunFound> runs = runs_found(loaded_tree(text));
  const std::string place = at_text.empty() ? "" : "at: " + at_text;
  if (runs.empty()) {
    const bool open = text.empty() || text.back() == '\n';
    std::string more = std::string(open ? "" : "\n") + "\nruns:\n  " + run + ":\n    from: " + from + "\n";
    if (!place.empty()) more += "    " + place + "\n";
    return put_in(text, text.size(), more + "    parts:\n      - " + id + ": " + value + "\n");
  }
  const RunFound& last = runs.back();
  const std::size_t line = line_begin(text, last.key);
  const std::size_t indent = indent_at(text, line);
  if (line + indent != last.key) throw std::invalid_argument("runs that stand in one line cannot be added to");
  const std::string step(indent, ' ');
  const std::size_t end = block_end(text, line, indent);
  std::string more = text[end - 1] == '\n' ? "" : "\n";
  more += step + run + ":\n" + step + "  from: " + from + "\n";
  if (!place.empty()) more += step + "  " + place + "\n";
  more += step + "  parts:\n" + step + "    - " + id + ": " + value + "\n";
  return put_in(text, end, more);
}

std::string without_last_part(std::string_view text, const std::string& id) {
  for (const RunFound& found : runs_found(loaded_tree(text))) {
    if (!found.parts.IsDefined()) continue;
    for (std::size_t i = 0; i < found.parts.size(); ++i) {
      const YAML::Node part = found.parts[i];
      if (!part.IsMap() || part.begin()->first.Scalar() != id) continue;
      if (i + 1 < found.parts.size()) {
        throw std::invalid_argument("'" + id + "' is not the last part of run '" + found.name + "'");
      }
      if (found.parts.size() == 1) {
        const std::size_t line = line_begin(text, found.key);
        if (line + indent_at(text, line) != found.key) {
          throw std::invalid_argument("runs that stand in one line cannot be taken off");
        }
        const std::size_t end = block_end(text, line, indent_at(text, line));
        return std::string(text.substr(0, line)).append(text.substr(end));
      }
      const auto begin = at(part.Mark().pos);
      if (is_flow(text, found.parts)) {
        const std::size_t comma = text.rfind(',', begin);
        std::size_t end = closing_bracket(text, at(found.parts.Mark().pos));
        while (text[end - 1] == ' ' || text[end - 1] == '\n') --end;
        return std::string(text.substr(0, comma)).append(text.substr(end));
      }
      const std::size_t line = line_begin(text, begin);
      const std::size_t end = block_end(text, line, indent_at(text, line));
      return std::string(text.substr(0, line)).append(text.substr(end));
    }
  }
  throw std::invalid_argument("there is no part '" + id + "' in a run of the file");
}

}  // namespace dryfit::model
