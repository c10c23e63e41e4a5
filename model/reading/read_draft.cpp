/// The head of a frame file, its surfaces and clips.
#include "model/reading/read_draft.hpp"

#include <fmt/format.h>

#include <array>

#include "model/frame/plain_text.hpp"
#include "model/reading/reading.hpp"

namespace dryfit::model {
namespace {

constexpr Subject kFrame{"frame", {}};

constexpr std::array<std::string_view, 10> kTopKeys{"dryfit", "name",     "units", "pipe",   "make-up",
                                                    "driver", "surfaces", "runs",  "boards", "clips"};

void read_head(Reading& in, const YamlNode& root) {
  if (const YamlNode* format = root.find("dryfit")) {
    if (!format->is_scalar() || format->text != "1") {
      in.wrong(format->where, kFrame, message("dryfit: expected 1, the format's number, got {}", format->described()));
    }
  } else {
    in.wrong(root.where, kFrame, message("'dryfit: 1' is missing: the number of the format comes first"));
  }
  if (const YamlNode* name = root.find("name")) in.draft.name = text_of(in, *name, kFrame, "name").value_or("");
  if (const YamlNode* units = root.find("units")) {
    static constexpr std::array<std::string_view, 3> kWords{"in", "mm", "cm"};
    if (const auto i = word_of(in, *units, kFrame, "units", kWords)) in.draft.units = static_cast<Units>(*i);
  }
  if (const YamlNode* make_up = root.find("make-up")) {
    static constexpr std::array<std::string_view, 2> kWords{"hand", "wrench"};
    if (const auto i = word_of(in, *make_up, kFrame, "make-up", kWords)) in.draft.make_up = static_cast<MakeUp>(*i);
  }
  if (const YamlNode* driver = root.find("driver")) {
    in.draft.driver = length_of(in, *driver, kFrame, "driver", Sign::positive).value_or(kDriver);
  }
}

void read_pipe(Reading& in, const YamlNode& root) {
  static constexpr Subject kPipe{"pipe", {}};
  static constexpr std::array<std::string_view, 2> kKeys{"standard", "size"};
  const YamlNode* pipe = root.find("pipe");
  in.size_told = pipe == nullptr || !pipe->is_map();
  if (pipe == nullptr) {
    in.wrong(root.where, kFrame, message("'pipe' is missing: write it like '{}'", "pipe: {standard: npt, size: 3/4}"));
    return;
  }
  if (!pipe->is_map()) {
    in.wrong(pipe->where, kPipe, message("write it like {}, got {}", "{standard: npt, size: 3/4}", pipe->described()));
    return;
  }
  check_keys(in, *pipe, kPipe, kKeys);
  if (const YamlNode* standard = pipe->find("standard")) {
    static constexpr std::array<std::string_view, 2> kWords{"npt", "iso7"};
    if (const auto i = word_of(in, *standard, kPipe, "standard", kWords)) in.draft.standard = static_cast<Standard>(*i);
  } else {
    in.wrong(pipe->where, kPipe, message("'standard' is missing, expected npt or iso7"));
  }
  if (const YamlNode* size = pipe->find("size")) {
    in.draft.size = size_of(in, *size, kPipe, "size").value_or(kNone);
    in.size_told = in.draft.size == kNone;
  }
}

}  // namespace

void read_surfaces(Reading& in, const YamlNode& node) {
  if (!node.is_map()) {
    in.wrong(node.where, {"surfaces", {}},
             message("write it like {}, got {}", "{floor: {normal: up, at: 0}}", node.described()));
    return;
  }
  static constexpr std::array<std::string_view, 2> kKeys{"normal", "at"};
  for (std::size_t i = 0; i < node.pairs(); ++i) {
    const YamlNode& key = node.key(i);
    const YamlNode& value = node.value(i);
    const Subject subject{"surface", key.text};
    if (!enter_id(in, key, subject)) continue;
    Surface surface{key.text, kUp, 0.0, key.where};
    if (!value.is_map()) {
      in.wrong(value.where, subject, message("write it like {}, got {}", "{normal: up, at: 0}", value.described()));
    } else {
      check_keys(in, value, subject, kKeys);
      if (const YamlNode* normal = value.find("normal")) {
        surface.normal = direction_of(in, *normal, subject, "normal", true).value_or(kUp);
      } else {
        in.wrong(value.where, subject, message("'normal' is missing: which way does the surface face? (a floor: up)"));
      }
      if (const YamlNode* at = value.find("at")) {
        surface.at = length_of(in, *at, subject, "at", Sign::any).value_or(0.0);
      } else {
        in.wrong(value.where, subject, message("'at' is missing: where is the surface? (a floor: 0)"));
      }
    }
    in.draft.surfaces.push_back(std::move(surface));
  }
}

void read_clips(Reading& in, const YamlNode& node) {
  static constexpr Subject kClips{"clips", {}};
  if (!node.is_map()) {
    in.wrong(node.where, kClips, message("write it like {}, got {}", "{P4: wall}", node.described()));
    return;
  }
  for (std::size_t i = 0; i < node.pairs(); ++i) {
    const YamlNode& value = node.value(i);
    if (!value.is_scalar()) {
      in.wrong(value.where, kClips,
               message("'{}': expected the name of a surface, got {}", shown(node.key(i).text), value.described()));
      continue;
    }
    in.draft.clips.push_back({{node.key(i).text, node.key(i).where}, {value.text, value.where}});
  }
}

Draft read_draft(const YamlNode& root, Faults& faults) {
  Reading in{{}, faults, {}, 0, false};
  check_keys(in, root, kFrame, kTopKeys);
  read_head(in, root);
  read_pipe(in, root);
  if (const YamlNode* surfaces = root.find("surfaces")) read_surfaces(in, *surfaces);
  if (const YamlNode* runs = root.find("runs")) {
    read_runs(in, *runs);
  } else {
    in.wrong(root.where, kFrame, message("'runs' is missing: a frame has at least one run of parts"));
  }
  if (const YamlNode* boards = root.find("boards")) read_boards(in, *boards);
  if (const YamlNode* clips = root.find("clips")) read_clips(in, *clips);
  return std::move(in.draft);
}

}  // namespace dryfit::model
