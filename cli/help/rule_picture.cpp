#include "cli/help/rule_picture.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <optional>
#include <span>
#include <stdexcept>
#include <string_view>
#include <vector>

#include "cli/draw/picture/step_picture.hpp"
#include "cli/input/frame_file.hpp"
#include "cli/words/say.hpp"
#include "model/standards/tables.hpp"
#include "planner/order/steps.hpp"
#include "planner/peel/peel.hpp"

namespace dryfit::cli {

/// cli/docs/rules/*.yaml. Defined in a source that the build writes (see model/data/embed.cmake).
std::span<const model::BuiltInFile> rule_frames();

namespace {

/// The move that makes a contact last of all, and what moves in it; or parts of the whole frame that are pointed out.
struct Scene {
  const char* rule;
  const char* contact;               ///< "": the whole frame
  planner::MoveKind kind;            ///< of its undo move
  std::vector<const char*> pointed;  ///< labels: what moves, or what stands out in the whole frame
};

std::span<const Scene> scenes() {
  using planner::MoveKind;
  static const std::vector<Scene> kScenes = {
      {"screw", "P2/T1.right", MoveKind::unscrew, {"P2"}},
      {"float", "P2/C1.up", MoveKind::unscrew, {"P2", "K1"}},
      {"slide", "S1/P2", MoveKind::slide, {"S1"}},
      {"pass", "S1/P1", MoveKind::slide, {"P1", "T1", "P2", "K1", "P3"}},
      {"sideways", "S1/P2", MoveKind::sideways, {"S1"}},
      {"swing", "S1/P4", MoveKind::swing, {"S1"}},
      {"lay", "TOP/E1", MoveKind::take_away, {"TOP"}},
      {"join", "U1", MoveKind::undo_nut, {}},
      {"ring", "", MoveKind::undo_nut, {"P"}},
      {"fasten", "FL/floor", MoveKind::unfasten, {}},
      {"reach", "", MoveKind::unfasten, {"FL", "S1"}},
      {"knot", "", MoveKind::unscrew, {"P1", "P2", "P3", "P4", "E1", "E2", "E3", "E4"}},
      {"trap", "", MoveKind::slide, {"S1"}},
      {"overlap", "", MoveKind::slide, {"S1"}},
      {"closure", "", MoveKind::unscrew, {"P7"}},
  };
  return kScenes;
}

std::vector<model::PartId> parts_labelled(const model::Frame& frame, const std::vector<const char*>& labels) {
  std::vector<model::PartId> parts;
  for (std::size_t p = 0; p < frame.parts.size(); ++p) {
    const std::string& label = frame.parts[p].label;
    if (std::find(labels.begin(), labels.end(), label) != labels.end()) parts.push_back(static_cast<model::PartId>(p));
  }
  return parts;
}

/// Steps of an order whose last one is the scene's move.
std::vector<planner::Step> steps_to(const LoadedFrame& loaded, const Scene& scene) {
  planner::Undoer undoer(loaded.frame, loaded.contacts);
  planner::State state(loaded.contacts);
  const planner::ContactId contact = loaded.contacts.find(scene.contact);
  const std::vector<model::PartId> moving = parts_labelled(loaded.frame, scene.pointed);
  // What is fastened or strapped to the piece that moves is undone before it, as it is made after it.
  for (bool more = true; more;) {
    for (const planner::Move& way : undoer.ways(state, contact)) {
      if (way.kind != scene.kind || (!moving.empty() && way.moving != moving)) continue;
      std::vector<planner::Move> undo{way};
      state.undo(way.contacts);
      const planner::Peeling rest = planner::peel(undoer, state);
      undo.insert(undo.end(), rest.moves.begin(), rest.moves.end());
      return planner::steps_of(loaded.frame, loaded.contacts, undo);
    }
    more = false;
    for (planner::ContactId c = 0; c < static_cast<planner::ContactId>(loaded.contacts.contacts.size()); ++c) {
      if (!state.made(c) || loaded.contacts.contact(c).kind != planner::ContactKind::fastening) continue;
      if (c == contact) continue;
      state.undo({c});
      more = true;
      break;
    }
  }
  throw std::logic_error(fmt::format("the picture of the rule '{}' shows no such move", scene.rule));
}

}  // namespace

std::string rule_picture(const std::string& rule, PictureFormat format) {
  const std::span<const Scene> all = scenes();
  const auto scene = std::find_if(all.begin(), all.end(), [&](const Scene& s) { return s.rule == rule; });
  const std::string file = rule + ".yaml";
  for (const model::BuiltInFile& frame_file : rule_frames()) {
    if (frame_file.name != file || scene == all.end()) continue;
    const LoadedFrame loaded = loaded_from(std::string(frame_file.text), file);
    PictureOptions picture;
    if (*scene->contact == '\0') {
      picture.emphasised = parts_labelled(loaded.frame, scene->pointed);
    } else {
      const std::vector<planner::Step> steps = steps_to(loaded, *scene);
      picture = step_picture(loaded.frame, loaded.contacts, steps, static_cast<int>(steps.size()));
      picture.labelled.clear();
    }
    constexpr std::string_view kComment = "# ";
    const std::string_view caption =
        frame_file.text.substr(kComment.size(), frame_file.text.find('\n') - kComment.size());
    picture.title = fmt::format("{}: {}", rule, loaded.frame.name);
    picture.caption = caption;
    picture.width_mm = 120.0;
    return picture_bytes(format, loaded.frame, picture);
  }
  throw UsageError(say("there is no picture of the rule '{}'", rule));
}

}  // namespace dryfit::cli
