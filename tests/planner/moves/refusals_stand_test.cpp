/// A refusal names the contacts that it rests on: as long as these are made it stands, whatever else has gone. The
/// memory of refusals and all holds rely on that. Against every state of the small frames of the fitter's book; and of
/// each kind of move by itself, for what one kind forgets to name another may name by chance.
#include <doctest/doctest.h>

#include <algorithm>
#include <array>
#include <cstdint>
#include <filesystem>
#include <string>
#include <vector>

#include "model/geometry/at.hpp"
#include "planner/moves/moves.hpp"
#include "tests/support/frames/design.hpp"
#include "tests/support/frames/random_frames.hpp"
#include "tests/support/program/program.hpp"

using namespace dryfit;
using planner::ContactId;

namespace {

using Mask = std::uint32_t;

constexpr std::size_t kKinds = 7;

/// What is answered of one contact.
struct Told {
  Mask rests_on = 0;                   ///< of all its refusals; 0: it goes, or has gone
  std::array<Mask, kKinds> of_kind{};  ///< of those of one kind of move
  std::array<bool, kKinds> refused{};  ///< that kind was asked for, and is no way out
  std::array<bool, kKinds> legal{};    ///< it goes by that kind of move
};

struct Answered {
  Mask made = 0;
  Mask legal = 0;
  std::vector<Told> told;  ///< per contact
};

Mask bit(ContactId c) { return Mask{1} << static_cast<unsigned>(c); }

/// What is in the way of something is so only as long as the two hang together: by what the refusal names, and by the
/// contact that was asked for.
void check_hangs_together(const planner::ContactList& list, ContactId c, const planner::Refusal& refusal) {
  if (refusal.why != planner::Refusal::Why::hits_part) return;
  std::vector<char> made(list.contacts.size(), 0);
  made[at(c)] = 1;
  for (const ContactId d : refusal.held_by) made[at(d)] = 1;
  const planner::State held(list, made);
  CAPTURE(list.contact(c).id);
  CAPTURE(refusal.moving);
  CAPTURE(refusal.blocking);
  CHECK(held.cluster(refusal.moving) == held.cluster(refusal.blocking));
}

Told told_of(planner::Undoer& undoer, const planner::State& state, ContactId c, const planner::Attempt& attempt) {
  Told told;
  for (const planner::Refusal& refusal : attempt.refusals) {
    check_hangs_together(undoer.list(), c, refusal);
    Mask& of_kind = told.of_kind[static_cast<std::size_t>(refusal.kind)];
    told.refused[static_cast<std::size_t>(refusal.kind)] = !attempt.legal;
    for (const ContactId d : refusal.held_by) of_kind |= bit(d);
    if (!attempt.legal) told.rests_on |= of_kind;
  }
  if (!attempt.legal) return told;
  for (const planner::Move& move : undoer.ways(state, c)) told.legal[static_cast<std::size_t>(move.kind)] = true;
  return told;
}

Mask mask_of(const std::vector<char>& made) {
  Mask mask = 0;
  for (std::size_t c = 0; c < made.size(); ++c) mask |= made[c] != 0 ? bit(static_cast<ContactId>(c)) : 0;
  return mask;
}

/// Every state that single moves reach, with what is answered of each contact; empty beyond `most` states.
std::vector<Answered> all_answers(planner::Undoer& undoer, std::size_t most) {
  const auto n = static_cast<ContactId>(undoer.list().contacts.size());
  std::vector<std::vector<char>> states{std::vector<char>(at(n), 1)};
  std::vector<Mask> known{mask_of(states.front())};
  std::vector<Answered> all;
  for (std::size_t i = 0; i < states.size(); ++i) {
    if (states.size() > most) return {};
    const planner::State state(undoer.list(), states[i]);
    Answered here{mask_of(states[i]), 0, std::vector<Told>(at(n))};
    for (ContactId c = 0; c < n; ++c) {
      if (!state.made(c)) continue;
      const planner::Attempt attempt = undoer.try_undo(state, c);
      here.told[at(c)] = told_of(undoer, state, c, attempt);
      if (!attempt.legal) continue;
      here.legal |= bit(c);
      std::vector<char> next = states[i];
      for (const ContactId d : attempt.move.contacts) next[at(d)] = 0;
      if (std::find(known.begin(), known.end(), mask_of(next)) != known.end()) continue;
      known.push_back(mask_of(next));
      states.push_back(std::move(next));
    }
    all.push_back(std::move(here));
  }
  return all;
}

/// Refusals that were held against a later state in which all that they rest on is made.
int check_refusals(const planner::ContactList& list, const std::vector<Answered>& all) {
  int held = 0;
  for (const Answered& then : all) {
    for (ContactId c = 0; c < static_cast<ContactId>(list.contacts.size()); ++c) {
      if ((then.made & bit(c)) == 0 || (then.legal & bit(c)) != 0) continue;
      const Told& told = then.told[at(c)];
      const Mask needs = told.rests_on | bit(c);
      CAPTURE(list.contact(c).id);
      CHECK((needs & ~then.made) == 0);
      for (const Answered& now : all) {
        if ((now.made & ~then.made) != 0 || (now.made & bit(c)) == 0) continue;
        if ((now.made & needs) == needs) {
          ++held;
          CHECK((now.legal & bit(c)) == 0);
        }
        for (std::size_t kind = 0; kind < kKinds; ++kind) {
          if (!told.refused[kind] || (now.made & told.of_kind[kind]) != told.of_kind[kind]) continue;
          CAPTURE(kind);
          CHECK(!now.told[at(c)].legal[kind]);
        }
      }
    }
  }
  return held;
}

/// 1 when it had refusals to be held against later states.
int check_frame(const tests::Design& design, std::size_t most) {
  if (design.list.contacts.size() > 24) return 0;
  planner::Undoer undoer(design.frame, design.list);
  return check_refusals(design.list, all_answers(undoer, most)) > 0 ? 1 : 0;
}

int check_book(std::size_t most) {
  std::vector<std::string> paths;
  for (const auto& entry : std::filesystem::recursive_directory_iterator(DRYFIT_SOURCE_DIR "/tests/fitter")) {
    const std::string name = entry.path().string();
    if (name.ends_with(".yaml") && !name.ends_with(".truth.yaml")) paths.push_back(name);
  }
  std::sort(paths.begin(), paths.end());
  int frames = 0;
  for (const std::string& path : paths) {
    CAPTURE(path);
    frames += check_frame(tests::Design(tests::slurp(path)), most);
  }
  return frames;
}

int check_random(std::uint32_t first, std::uint32_t last, std::size_t most) {
  int frames = 0;
  for (std::uint32_t seed = first; seed <= last; ++seed) {
    CAPTURE(seed);
    frames += check_frame(tests::Design(test::random_frame(seed, {4, 12}).frame), most);
  }
  return frames;
}

}  // namespace

TEST_CASE("a refusal in a frame of the book stands as long as what it rests on is made") {
  CHECK(check_book(150) >= 80);
}

TEST_CASE("a refusal in a random frame stands as long as what it rests on is made") {
  CHECK(check_random(1, 200, 100) >= 60);
}

TEST_SUITE("slow") {
  TEST_CASE("a refusal in a larger frame of the book stands as long as what it rests on is made") {
    CHECK(check_book(1500) >= 120);
  }

  TEST_CASE("refusals in thousands of random frames stand as long as what they rest on is made") {
    CHECK(check_random(10000, 13000, 400) >= 1200);
  }
}
