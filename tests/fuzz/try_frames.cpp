#include <fmt/format.h>

#include <algorithm>
#include <cstdint>
#include <numeric>

#include "model/placing/reader.hpp"
#include "planner/moves/moves.hpp"
#include "tests/fuzz/sound.hpp"
#include "tests/fuzz/targets.hpp"
#include "tests/support/frames/random_frames.hpp"

namespace dryfit::fuzz {
namespace {

using model::Direction;
using test::FrameSpec;

/// A change of the frame in three bytes: what, which, how much.
struct Change {
  unsigned what = 0, which = 0, much = 0;
};

constexpr Direction kSix[] = {model::kRight, model::kLeft, model::kBack, model::kFront, model::kUp, model::kDown};

template <typename T>
T* pick(std::vector<T>& items, unsigned which) {
  return items.empty() ? nullptr : &items[which % items.size()];
}

/// Parts of all runs are numbered through.
test::PartSpec* pick_part(FrameSpec& spec, unsigned which) {
  std::vector<test::PartSpec*> all;
  for (auto& run : spec.runs) {
    for (auto& part : run.parts) all.push_back(&part);
  }
  test::PartSpec** found = pick(all, which);
  return found == nullptr ? nullptr : *found;
}

void change_part(test::PartSpec& part, const Change& c, FrameSpec& spec) {
  static constexpr const char* kKinds[] = {"coupling", "union", "elbow", "tee", "cap", "plug", "flange", "pipe"};
  switch (c.what % 6U) {
    case 0:
      if (part.length) *part.length += 5.0 * (static_cast<double>(c.much) - 100.0);
      break;
    case 1:
      if (part.length) part.length = 1.0 + 2.0 * static_cast<double>(c.much);
      break;
    case 2:
      if (part.toward) part.toward = kSix[c.much % 6U];
      break;
    case 3: part.kind = kKinds[c.much % 8U]; break;
    case 4:
      if (part.side) part.side = kSix[c.much % 6U];
      break;
    default:
      if (const auto* other = pick_part(spec, c.much)) part.id = other->id;
      break;
  }
}

void change_board(test::BoardSpec& board, const Change& c, FrameSpec& spec) {
  const Direction d = kSix[c.much % 6U];
  switch (c.what % 8U) {
    case 0: (c.much % 2U == 0U ? board.size.x : board.size.y) += static_cast<double>(c.much) - 100.0; break;
    case 1:
      if (!board.through.empty()) {
        board.notches.emplace_back(board.through.back(), d);
        board.through.pop_back();
      }
      break;
    case 2:
      if (!board.notches.empty()) board.notches.back().second = d;
      break;
    case 3:
      if (!board.rests_on.empty()) board.rests_on.pop_back();
      break;
    case 4:
      if (const auto* part = pick_part(spec, c.much)) board.rests_on.push_back(part->id);
      break;
    case 5:
      if (const auto* part = pick_part(spec, c.much)) board.strap.emplace_back(part->id, 1);
      break;
    case 6: board.hole = 10.0 + static_cast<double>(c.much); break;
    default:
      if (const auto* surface = pick(spec.surfaces, c.much)) board.fix.push_back(surface->id);
      break;
  }
}

void apply(FrameSpec& spec, const Change& c) {
  if (c.what < 120U) {
    if (auto* part = pick_part(spec, c.which)) change_part(*part, c, spec);
  } else if (c.what < 200U) {
    if (auto* board = pick(spec.boards, c.which)) change_board(*board, c, spec);
  } else if (c.what < 220U) {
    if (auto* run = pick(spec.runs, c.which); run != nullptr && !run->parts.empty()) {
      run->parts.erase(run->parts.begin() + static_cast<long>(c.much % run->parts.size()));
    }
  } else if (c.what < 230U) {
    if (auto* run = pick(spec.runs, c.which)) run->to.reset();
  } else if (c.what < 240U) {
    if (auto* run = pick(spec.runs, c.which); run != nullptr && run->from && run->from->facing) {
      run->from->facing = kSix[c.much % 6U];
    }
  } else if (auto* surface = pick(spec.surfaces, c.which)) {
    surface->at += static_cast<double>(c.much) - 128.0;
  }
}

/// What is left when contacts are tried again and again in an order of chance.
std::set<std::string> peeled_by_chance(const model::Frame& frame, std::mt19937& rng) {
  const planner::ContactList list = planner::contacts_of(frame);
  planner::Undoer undoer(frame, list);
  planner::State state(list);
  std::vector<planner::ContactId> order(list.contacts.size());
  std::iota(order.begin(), order.end(), 0);
  for (bool more = true; more;) {
    more = false;
    for (std::size_t i = order.size(); i > 1; --i) std::swap(order[i - 1], order[rng() % i]);
    for (const planner::ContactId c : order) {
      const planner::Attempt attempt = undoer.try_undo(state, c);
      if (!attempt.legal) continue;
      state.undo(attempt.move.contacts);
      more = true;
    }
  }
  std::set<std::string> left;
  for (const planner::ContactId c : order) {
    if (state.made(c)) left.insert(list.contact(c).id);
  }
  return left;
}

std::string agrees(const FrameSpec& changed, const char* how, const Answer& expected, const test::Axes& axes,
                   const std::map<std::string, std::string>& names) {
  Answer found;
  if (std::string broken = frame_is_sound(model::read_frame(test::yaml_of(changed), "changed.yaml"), found);
      !broken.empty()) {
    return fmt::format("{}: {}", how, broken);
  }
  std::set<std::string> knot;
  for (const std::string& id : expected.knot) knot.insert(test::contact_after(id, axes, names));
  if (found.overlaps != expected.overlaps) return fmt::format("{} it overlaps or no longer does", how);
  if (!expected.overlaps && (found.buildable != expected.buildable || found.knot != knot)) {
    return fmt::format("{} the verdict or the knot is another one", how);
  }
  return {};
}

std::string frame_holds(const FrameSpec& spec, const model::Frame& frame, std::mt19937& rng) {
  Answer answer;
  if (std::string broken = frame_is_sound(frame, answer); !broken.empty()) return broken;
  if (!answer.overlaps && peeled_by_chance(frame, rng) != answer.knot) return "another order of undoing, another knot";
  for (const auto& [how, axes] : {std::pair{"in the mirror", test::kMirror}, {"turned", test::kQuarterTurn}}) {
    if (std::string broken = agrees(test::turned(spec, axes), how, answer, axes, {}); !broken.empty()) return broken;
  }
  std::map<std::string, std::string> names;
  const FrameSpec renamed = test::renamed(spec, rng, names);
  return agrees(renamed, "renamed", answer, {}, names);
}

}  // namespace

std::string try_frames(std::string_view bytes) {
  constexpr std::size_t kSeedBytes = 4, kChangeBytes = 3, kMostChanges = 12;
  if (bytes.size() < kSeedBytes) return {};
  const auto byte = [&](std::size_t i) { return static_cast<unsigned>(static_cast<unsigned char>(bytes[i])); };
  std::uint32_t seed = 0;
  for (std::size_t i = 0; i < kSeedBytes; ++i) seed = seed * 256U + byte(i);
  FrameSpec spec = test::random_frame(seed, {3, 24}).spec;
  for (std::size_t i = kSeedBytes; i + kChangeBytes <= bytes.size() && i < kSeedBytes + kChangeBytes * kMostChanges;
       i += kChangeBytes) {
    apply(spec, {byte(i), byte(i + 1), byte(i + 2)});
  }
  const std::string text = test::yaml_of(spec);
  std::mt19937 rng(seed);
  try {
    const model::Frame frame = model::read_frame(text, "fuzz.yaml");
    const std::string broken = frame_holds(spec, frame, rng);
    return broken.empty() ? "" : broken + "\n" + text;
  } catch (const model::InputError& error) {
    return faults_are_sound(error, text);
  }
}

}  // namespace dryfit::fuzz
