/// Runs: where they start and end, and their list of parts.
#include <fmt/format.h>

#include <array>

#include "model/frame/plain_text.hpp"
#include "model/reading/reading.hpp"
#include "model/text/messages.hpp"

namespace dryfit::model {
namespace {

std::optional<DraftLink> link_of(Reading& in, const YamlNode& node, const Subject& subject, std::string_view name) {
  if (!node.is_scalar() || node.text.empty()) {
    in.wrong(node.where, subject,
             message("{}: expected a surface (floor), an opening of a fitting (T1.right), the end of a pipe (P3.end) "
                     "or a board's face (TOP.down), got {}",
                     name, node.described()));
    return std::nullopt;
  }
  const std::size_t dot = node.text.rfind('.');
  DraftLink link{node.text.substr(0, dot), {}, node.where};
  if (dot != std::string::npos) link.suffix = node.text.substr(dot + 1);
  if (dot != std::string::npos && (link.target.empty() || link.suffix.empty())) {
    in.wrong(node.where, subject,
             message("{}: expected a name, a dot and a direction or end, got '{}'", name, shown(node.text)));
    return std::nullopt;
  }
  return link;
}

void read_run(Reading& in, const YamlNode& key, const YamlNode& value) {
  static constexpr std::array<std::string_view, 5> kKeys{"from", "at", "go", "parts", "to"};
  const Subject subject{"run", key.text};
  DraftRun run;
  run.id = key.text;
  run.where = key.where;
  if (!value.is_map()) {
    in.wrong(value.where, subject,
             message("expected from, at, go, parts and to, each on its line, got {}", value.described()));
    return;
  }
  check_keys(in, value, subject, kKeys);
  if (const YamlNode* from = value.find("from")) {
    run.from = link_of(in, *from, subject, "from");
    run.broken |= !run.from;
  }
  if (const YamlNode* to = value.find("to")) run.to = link_of(in, *to, subject, "to");
  if (const YamlNode* go = value.find("go")) {
    run.go = direction_of(in, *go, subject, "go");
    run.go_where = go->where;
    run.broken |= !run.go;
  }
  if (const YamlNode* at = value.find("at")) {
    run.at_where = at->where;
    const bool three = !run.from;
    if (value.find("from") != nullptr && !run.from) {
      // What `at` means hangs on `from`, which is wrong already.
    } else {
      run.at = coordinates_of(
          in, *at, subject, "at",
          three ? message("three coordinates [x, y, z]") : message("two coordinates [a, b] on the surface or face"),
          three ? 3 : 2, three ? 3 : 2);
    }
  }
  const YamlNode* parts = value.find("parts");
  if (parts == nullptr || !parts->is_sequence() || parts->items.empty()) {
    in.wrong(parts == nullptr ? value.where : parts->where, subject,
             message("parts: expected a line with a dash for each part, such as '{}', got {}", "- P1: {pipe: 6}",
                     parts == nullptr       ? message("nothing")
                     : parts->is_sequence() ? message("an empty list")
                     : parts->is_map()      ? message("lines without a dash")
                                            : parts->described()));
    return;
  }
  run.parts.reserve(parts->items.size());
  for (const YamlNode* item : parts->items) read_part(in, *item, run);
  in.draft.runs.push_back(std::move(run));
}

}  // namespace

void read_runs(Reading& in, const YamlNode& node) {
  if (!node.is_map() || node.pairs() == 0) {
    in.wrong(node.where, {"runs", {}},
             message("expected runs, each under its name and with its parts, got {}",
                     node.is_map() ? message("an empty map") : node.described()));
    return;
  }
  in.draft.runs.reserve(node.pairs());
  for (std::size_t i = 0; i < node.pairs(); ++i) {
    const YamlNode& key = node.key(i);
    if (key.is_map() || key.is_sequence()) continue;
    if (key.text.empty()) {
      in.wrong(key.where, {"runs", {}}, message("a run has no name: write it like '{}'", "left post:"));
      continue;
    }
    read_run(in, key, node.value(i));
  }
}

}  // namespace dryfit::model
