/// Ten thousand random edits, as a restless finger makes them, with undo and redo: every text reads back, what undoes a
/// change gives the old bytes, what was undone and is made again gives the same bytes, and no part changes that was not
/// named.
#include <doctest/doctest.h>

#include <functional>
#include <map>
#include <optional>
#include <random>
#include <sstream>

#include "cli/edit/connect.hpp"
#include "cli/edit/copy_all.hpp"
#include "cli/edit/insert.hpp"
#include "cli/edit/put_board.hpp"
#include "cli/edit/put_on.hpp"
#include "cli/io/usage_error.hpp"
#include "model/editing/edit.hpp"
#include "model/editing/grow.hpp"
#include "model/editing/take_off.hpp"
#include "tests/support/program/program.hpp"

using namespace dryfit;
using dryfit::tests::scenario;
using dryfit::tests::slurp;

namespace {

constexpr int kEdits = 10000;
constexpr std::size_t kMostParts = 24;  ///< then the next frame is begun

/// A change as it was asked for: made of any text, it can be made again.
using Change = std::function<std::string(const std::string&)>;

/// What was asked for: the text that came of it, and the parts that it named.
struct RandomEdit {
  std::string text;
  std::set<std::string> named;
  /// What takes it back, byte for byte; nullopt where a change cannot be taken back but by history.
  std::optional<std::string> undone;
  Change again;
};

/// A part as it is, but for where it is: what another part's edit must leave alone.
std::string told_of(const model::Part& part) {
  std::ostringstream told;
  told << model::word_for(part.kind) << ' ' << part.size << ' ' << part.length << ' ' << part.mass;
  for (const model::Port& port : part.ports) told << ' ' << port.facing.name() << (port.male ? 'm' : 'f') << port.size;
  return told.str();
}
std::map<std::string, std::string> told_of_all(const model::Frame& frame) {
  std::map<std::string, std::string> all;
  for (const model::Part& part : frame.parts) all[part.id] = told_of(part);
  return all;
}

class Finger {
 public:
  explicit Finger(std::uint32_t seed) : rng_(seed) {}

  template <typename List>
  const auto& one_of(const List& list) {
    return list[rng_() % list.size()];
  }
  std::optional<RandomEdit> edit(const std::string& text, const model::Frame& frame) {
    switch (rng_() % 10) {
      case 0:
      case 1:
      case 2: return add(text, frame);
      case 3: return rename(text, frame);
      case 4: return lengthen(text, frame);
      case 5: return swap(text, frame);
      case 6: return copy(text, frame);
      case 7: return insert(text, frame);
      case 8: return board(text, frame);
      default: return take_off(text, frame);
    }
  }

 private:
  std::optional<RandomEdit> add(const std::string& text, const model::Frame& frame) {
    static const std::vector<std::string> kMale{"coupling", "elbow: back", "tee: right", "union",
                                                "cap",      "flange",      "elbow: up"};
    static const std::vector<std::string> kFemale{"pipe: 6", "pipe: 10", "plug", "{pipe: 150 mm}"};
    const auto ends = cli::open_ends(frame);
    if (ends.empty()) return std::nullopt;
    const cli::PartEnd end = one_of(ends);
    const std::string place = cli::end_name(frame, end);
    const std::string what = one_of(cli::port_of(frame, end).male ? kMale : kFemale);
    const cli::PutOn on = cli::put_on(text, "f", place, what);
    return RandomEdit{on.text, {on.id}, model::without_last_part(on.text, on.id), [place, what](const std::string& t) {
                        return cli::put_on(t, "f", place, what).text;
                      }};
  }
  std::optional<RandomEdit> rename(const std::string& text, const model::Frame& frame) {
    const std::string was = one_of(frame.parts).label;
    const std::string now = "n" + std::to_string(rng_() % 1000);
    const std::string made = model::with_name(text, was, now);
    return RandomEdit{made, {was, now}, model::with_name(made, now, was), [was, now](const std::string& t) {
                        return model::with_name(t, was, now);
                      }};
  }
  std::optional<RandomEdit> lengthen(const std::string& text, const model::Frame& frame) {
    const model::Part& part = one_of(frame.parts);
    if (part.kind != model::PartKind::pipe) return std::nullopt;
    static const std::vector<std::string> kLengths{"8", "12", "4-1/2", "200 mm"};
    return changed(text, {part.label},
                   [target = part.label + ".length", length = one_of(kLengths)](const std::string& t) {
                     return model::with_value(t, target, length);
                   });
  }
  std::optional<RandomEdit> swap(const std::string& text, const model::Frame& frame) {
    const model::Part& part = one_of(frame.parts);
    const bool straight = part.kind == model::PartKind::coupling || part.kind == model::PartKind::union_half;
    if (!straight) return std::nullopt;
    const std::string kind = part.kind == model::PartKind::coupling ? "union" : "coupling";
    return changed(text, {part.label}, [label = part.label, kind](const std::string& t) {
      return model::with_part_swapped(t, label, kind);
    });
  }
  std::optional<RandomEdit> copy(const std::string& text, const model::Frame& frame) {
    const auto ends = cli::open_ends(frame);
    const std::string spot = "floor@" + std::to_string(rng_() % 60) + "," + std::to_string(rng_() % 60);
    const std::string place = ends.empty() || rng_() % 3 == 0 ? spot : cli::end_name(frame, one_of(ends));
    const std::string run = one_of(frame.runs).id;
    const bool mirror = rng_() % 3 == 0, all = rng_() % 3 == 0;
    const auto make = [=](const std::string& t) {
      return all ? cli::run_copied_with_all(t, "f", run, place, mirror)
                 : cli::run_copied_to(t, "f", run, place, mirror);
    };
    const cli::EditMade made = make(text);
    if (!cli::read_if_sound(made.text, "f")) return std::nullopt;
    return RandomEdit{made.text,
                      {made.added.begin(), made.added.end()},
                      model::without_what_hangs_on(made.text, made.added.front()).text,
                      [make](const std::string& t) { return make(t).text; }};
  }
  std::optional<RandomEdit> insert(const std::string& text, const model::Frame& frame) {
    static const std::vector<std::string> kFittings{"=coupling", "=union", "=tee: right", "@4+6+2=coupling"};
    const std::string pipe = one_of(frame.parts).label;
    const std::string asked = pipe + one_of(kFittings);
    const cli::EditMade made = cli::fitting_put_in(text, "f", asked);
    std::set<std::string> named{made.added.begin(), made.added.end()};
    named.insert(pipe);
    return RandomEdit{made.text, std::move(named), std::nullopt,
                      [asked](const std::string& t) { return cli::fitting_put_in(t, "f", asked).text; }};
  }
  std::optional<RandomEdit> board(const std::string& text, const model::Frame& frame) {
    const std::string asked = rng_() % 4 == 0
                                  ? std::string("floor@12,30, stock: oak")
                                  : (rng_() % 2 == 0 ? "through: [" : "rests-on: [") + one_of(frame.parts).label + "]";
    const cli::EditMade made = cli::board_put_in(text, "f", asked);
    return RandomEdit{made.text,
                      {made.added.front()},
                      model::without_what_hangs_on(made.text, made.added.front()).text,
                      [asked](const std::string& t) { return cli::board_put_in(t, "f", asked).text; }};
  }
  std::optional<RandomEdit> take_off(const std::string& text, const model::Frame& frame) {
    const std::string label = one_of(frame.parts).label;
    const cli::EditMade made = cli::taken_off_with_all(text, "f", label);
    return RandomEdit{made.text, {made.off.begin(), made.off.end()}, std::nullopt, [label](const std::string& t) {
                        return cli::taken_off_with_all(t, "f", label).text;
                      }};
  }
  static RandomEdit changed(const std::string& text, std::set<std::string> named, Change change) {
    return RandomEdit{change(text), std::move(named), std::nullopt, std::move(change)};
  }

  std::mt19937 rng_;
};

/// All lines of the one are in the other, in their order.
bool keeps_lines(const std::string& longer, const std::string& shorter) {
  std::istringstream more(longer), less(shorter);
  std::string line, wanted;
  while (std::getline(less, wanted)) {
    do {
      if (!std::getline(more, line)) return false;
    } while (line != wanted);
  }
  return true;
}

/// Lines that are comments alone.
std::string comments_of(const std::string& text) {
  std::istringstream lines(text);
  std::string all, line;
  while (std::getline(lines, line)) {
    const std::size_t first = line.find_first_not_of(' ');
    if (first != std::string::npos && line[first] == '#') all += line + "\n";
  }
  return all;
}

/// All that was done since a frame was begun, to go back and forth in.
class Done {
 public:
  void add(std::string before, Change change) { steps_.push_back({std::move(before), std::move(change)}); }
  [[nodiscard]] std::size_t size() const { return steps_.size(); }
  /// Goes back some steps and makes them once more, each of the text that the one before gave. The number of steps.
  int back_and_forth(std::size_t steps, const std::string& now) const {
    const std::size_t from = steps_.size() - std::min(steps, steps_.size());
    std::string text = from < steps_.size() ? steps_[from].before : now;
    for (std::size_t i = from; i < steps_.size(); ++i) {
      text = steps_[i].change(text);
      const std::string& wanted = i + 1 < steps_.size() ? steps_[i + 1].before : now;
      REQUIRE(text == wanted);
    }
    return static_cast<int>(steps_.size() - from);
  }
  /// To where it began.
  void undo_all(std::string& text) {
    while (!steps_.empty()) {
      text = steps_.back().before;
      steps_.pop_back();
    }
  }

 private:
  struct Step {
    std::string before;
    Change change;
  };
  std::vector<Step> steps_;
};

constexpr const char* kBare =
    "# What a finger makes of it.\n"
    "dryfit: 1\n"
    "pipe: {standard: npt, size: 3/4}   # all of it\n"
    "\n"
    "surfaces: {floor: {normal: up, at: 0}}\n"
    "\n"
    "runs:\n"
    "  # The first post.\n"
    "  post:\n"
    "    from: floor\n"
    "    at: [0, 0]\n"
    "    parts:\n"
    "      - F1: flange       # four screws\n"
    "      - P1: {pipe: 10}\n"
    "\n"
    "# The end.\n";

}  // namespace

TEST_SUITE_BEGIN("slow");

TEST_CASE("ten thousand random edits read back, can be undone and redone, and leave alone what they do not name") {
  Finger finger(20);
  const std::vector<std::string> beginnings{kBare, slurp(scenario("pot-rail")), kBare};
  std::string text = kBare;
  Done done;
  std::mt19937 whim(21);
  int made = 0, taken_back = 0, redone = 0, tries = 0;
  while (made < kEdits && ++tries < 20 * kEdits) {
    const auto before = cli::read_if_sound(text, "f");
    REQUIRE(before);
    if (before->frame.parts.size() > kMostParts || before->frame.runs.empty()) {
      const std::string last = text;
      redone += done.back_and_forth(done.size(), last);
      done.undo_all(text);
      text = beginnings[static_cast<std::size_t>(made) % beginnings.size()];
      continue;
    }
    std::optional<RandomEdit> edit;
    try {
      edit = finger.edit(text, before->frame);
    } catch (const cli::UsageError&) {
    } catch (const std::invalid_argument&) {
    } catch (const model::InputError&) {
    }
    if (!edit) continue;
    const auto after = cli::read_if_sound(edit->text, "f");
    if (!after) continue;  // the command refuses it with the reader's words
    CAPTURE(text);
    CAPTURE(edit->text);
    ++made;
    if (edit->undone) {
      ++taken_back;
      REQUIRE(*edit->undone == text);
    }
    REQUIRE(keeps_lines(edit->text, comments_of(text)));
    const auto was = told_of_all(before->frame), now = told_of_all(after->frame);
    for (const auto& [id, told] : was) {
      if (edit->named.contains(id.substr(0, id.find('~')))) continue;
      REQUIRE(now.contains(id));
      REQUIRE(now.at(id) == told);
    }
    for (const auto& [id, told] : now) {
      REQUIRE_MESSAGE((was.contains(id) || edit->named.contains(id.substr(0, id.find('~')))), id);
    }
    done.add(text, edit->again);
    text = edit->text;
    if (whim() % 8 == 0) redone += done.back_and_forth(1 + whim() % 5, text);
  }
  CHECK(made == kEdits);
  CHECK(taken_back > kEdits / 3);
  CHECK(redone > kEdits);
  MESSAGE(redone << " edits undone and made again; " << made << " edits of " << tries << " tries, " << taken_back
                 << " taken back by their own undoing");
}

TEST_SUITE_END();
