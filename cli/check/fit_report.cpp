#include "cli/check/fit_report.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <map>
#include <nlohmann/json.hpp>
#include <set>
#include <utility>

#include "cli/check/cure_calls.hpp"
#include "cli/sentences/safety_text.hpp"
#include "cli/words/say.hpp"
#include "cli/words/trade_words.hpp"
#include "cli/words/words.hpp"
#include "model/geometry/at.hpp"
#include "planner/fit/confidence.hpp"

namespace dryfit::cli {
namespace {

constexpr std::size_t kTurnsTold = 6;  ///< per closure or level; the whole frame's turns are told in full

Json vector_json(model::Vec3 v) { return {rounded(v.x), rounded(v.y), rounded(v.z)}; }

const model::Closure& closure_of(const model::Frame& frame, const planner::ClosureFit& fit) {
  return frame.closure(fit.closure);
}

/// What should meet, by name: parts and surfaces.
std::vector<std::string> meeting(const model::Frame& frame, const planner::ClosureFit& fit) {
  std::vector<std::string> names = closure_of(frame, fit).between;
  for (std::string& name : names) {
    const bool surface = std::any_of(frame.surfaces.begin(), frame.surfaces.end(),
                                     [&](const model::Surface& one) { return one.id == name; });
    if (surface) name = surface_word(name);
  }
  return names;
}

/// A gap as a person says it: "0.25 in to the right and 0.1 in up"; "" for none.
std::string gap_text(model::Vec3 gap, const Lengths& lengths) {
  std::vector<std::string> words;
  const std::pair<double, std::pair<model::Direction, model::Direction>> axes[] = {
      {gap.x, {model::kRight, model::kLeft}},
      {gap.y, {model::kBack, model::kFront}},
      {gap.z, {model::kUp, model::kDown}}};
  for (const auto& [size, ways] : axes) {
    if (std::abs(size) < 0.05) continue;
    words.push_back(fmt::format("{} {}", lengths.fine(std::abs(size)), going(size > 0.0 ? ways.first : ways.second)));
  }
  return listed(words);
}

/// "12 in and 6 in with a coupling between".
std::string pieces_text(const std::vector<double>& pieces, const Lengths& lengths) {
  std::vector<std::string> words;
  for (const double piece : pieces) words.push_back(lengths(piece));
  if (pieces.size() == 1) return words.front();
  return say_n(static_cast<long long>(pieces.size()) - 1, "{1} with a coupling between",
               "{1} with {0} couplings between", listed(words));
}

/// A cure as a line of a list, with what comes of it.
std::string with_outcome(std::string text, planner::FitState state, double turning, int still_open) {
  text = say("{0}; then it {1}", text, closes_in_words(state));
  if (state != planner::FitState::exact) text = say("{0}, {1} in all", text, turns_in_words(turning));
  if (still_open > 0) {
    text = say_n(still_open, "{1}; {0} other place still doesn't line up", "{1}; {0} other places still don't line up",
                 text);
  }
  return fmt::format("    - {}.\n", wrapped(text, 6, 90));
}

std::string cure_text(const model::Frame& frame, const planner::Cure& cure, const Lengths& lengths) {
  std::vector<std::string> changes;
  for (std::size_t i = 0; i < cure.changes.size(); ++i) {
    const planner::PipeChange& change = cure.changes[i];
    const std::string pieces = pieces_text(change.pieces, lengths);
    const std::string was = lengths(frame.part(change.pipe).length);
    const auto alike = [&](const planner::PipeChange& other) {
      return pieces_text(other.pieces, lengths) == pieces && lengths(frame.part(other.pipe).length) == was;
    };
    const auto here = cure.changes.begin() + static_cast<std::ptrdiff_t>(i);
    if (std::any_of(cure.changes.begin(), here, alike)) continue;  // told with the first of them
    std::vector<std::string> names;
    for (const planner::PipeChange& other : cure.changes) {
      if (alike(other)) names.push_back(name_of(frame, other.pipe));
    }
    const std::string pipe = listed(names);
    changes.push_back(change.pieces.size() > 1 ? say("{0} of {1}, instead of {2}", pipe, pieces, was)
                                               : say("{0} of {1} instead of {2}", pipe, pieces, was));
  }
  std::string text = listed(changes);
  if (cure.cut) text = say("no stock length does it; cut and threaded: {}", text);
  return with_outcome(std::move(text), cure.state, cure.turning, cure.still_open);
}

std::string cure_text(const planner::ClosureCure& cure, const Lengths& lengths) {
  const std::string was = lengths(cure.was), now = lengths(cure.now);
  std::string text;
  switch (cure.kind) {
    case planner::ClosureCure::Kind::reach:
      text = say("{0} with a reach of {1} to the {2} instead of {3}", cure.name, now,
                 edge(model::direction_named(cure.side).value_or(model::kFront)), was);
      break;
    case planner::ClosureCure::Kind::size:
      text = say("{0} of {1} along {2} instead of {3}", cure.name, now, cure.side, was);
      break;
    case planner::ClosureCure::Kind::surface:
      text = say("{0} at {1} instead of {2}", the_surface(cure.name), now, was);
      break;
    case planner::ClosureCure::Kind::let_go:
      text = say("leave out the `at` of {0}, so that the rest of the frame places it", cure.name);
      break;
  }
  return with_outcome(std::move(text), cure.state, cure.turning, cure.still_open);
}

}  // namespace

Json turns_json(const model::Frame& frame, const std::vector<planner::JointTurn>& turns) {
  Json list = Json::array();
  for (const planner::JointTurn& turn : turns) {
    list.push_back({{"contact", model::joint_name(frame, turn.joint)}, {"turns", rounded(turn.turns)}});
  }
  return list;
}

namespace {

/// Names of the fields that rest on table rows from memory.
Json memory_fields(bool from_memory, std::vector<std::string> fields) {
  return from_memory ? Json(std::move(fields)) : Json::array();
}

Json cure_json(const model::Frame& frame, const planner::Cure& cure) {
  Json changes = Json::array();
  for (const planner::PipeChange& change : cure.changes) {
    Json pieces = Json::array();
    for (const double piece : change.pieces) pieces.push_back(rounded(piece));
    changes.push_back({{"instead_of", frame.part(change.pipe).id},
                       {"pieces_mm", std::move(pieces)},
                       {"made_up_mm", rounded(change.made_up)}});
  }
  return {{"changes", std::move(changes)},          {"pieces", cure.pieces()},
          {"couplings", cure.couplings()},          {"cut", cure.cut},
          {"state", planner::word_for(cure.state)}, {"turns", rounded(cure.turning)},
          {"still_open", cure.still_open},          {"left_mm", rounded(cure.left)},
          {"edit", call_for(frame, cure)}};
}

}  // namespace

Json closures_json(const model::Frame& frame, const planner::Fit& fit) {
  Json list = Json::array();
  for (const planner::ClosureFit& closure : fit.closures) {
    Json stock = Json::array();
    for (const planner::Cure& cure : closure.cures) stock.push_back(cure_json(frame, cure));
    Json in_the_way = Json::array();
    for (const planner::Overlap& overlap : closure.in_the_way) {
      in_the_way.push_back({{"between", Json::array({frame.part(overlap.a).id, overlap.surface != model::kNone
                                                                                   ? frame.surface(overlap.surface).id
                                                                                   : frame.part(overlap.b).id})}});
    }
    list.push_back(
        {{"between", closure_of(frame, closure).between},
         {"gap_mm", vector_json(closure.gap)},
         {"state", planner::word_for(closure.state)},
         {"turns", turns_json(frame, closure.turns)},
         {"left_mm", vector_json(closure.left)},
         {"worst_mm",
          {rounded(closure.spread[0].worst), rounded(closure.spread[1].worst), rounded(closure.spread[2].worst)}},
         {"likely_mm",
          {rounded(closure.spread[0].likely), rounded(closure.spread[1].likely), rounded(closure.spread[2].likely)}},
         {"rests_on_memory", memory_fields(closure.from_memory, {"gap_mm", "left_mm"})},
         {"stock", std::move(stock)}});
    if (!in_the_way.empty()) list.back()["in_the_way"] = std::move(in_the_way);
  }
  return list;
}

Json levels_json(const model::Frame& frame, const planner::Fit& fit) {
  Json list = Json::array();
  for (const planner::LevelFit& level : fit.levels) {
    list.push_back({{"between", level.between},
                    {"gap_mm", rounded(level.gap)},
                    {"state", planner::word_for(level.state)},
                    {"turns", turns_json(frame, level.turns)},
                    {"left_mm", rounded(level.left)},
                    {"slope_mm_per_m", rounded(level.slope)},
                    {"slope_left_mm_per_m", rounded(level.slope_left)},
                    {"rock_mm", rounded(level.rock)},
                    {"rock_left_mm", rounded(level.rock_left)},
                    {"worst_mm", rounded(level.spread.worst)},
                    {"likely_mm", rounded(level.spread.likely)},
                    {"slope_worst_mm_per_m", rounded(level.slope_worst)},
                    {"slope_likely_mm_per_m", rounded(level.slope_likely)},
                    {"rests_on_memory", memory_fields(level.from_memory, {"gap_mm", "left_mm", "slope_mm_per_m",
                                                                          "slope_left_mm_per_m"})}});
  }
  return list;
}

std::string closes_in_words(planner::FitState state) {
  switch (state) {
    case planner::FitState::exact: return say("lines up exactly");
    case planner::FitState::by_turning: return say("lines up by turning");
    case planner::FitState::by_wrenching: return say("lines up only with extra turns of the wrench");
    case planner::FitState::open: break;
  }
  return say("doesn't line up");
}

namespace {

/// `moving`: what a step turns, ascending. Where that is the female side, it is turned and not the pipe, which would
/// come loose at its other end.
std::string turn_text(const model::Frame& frame, const planner::JointTurn& turn,
                      const std::vector<model::PartId>& moving) {
  const model::Joint& joint = frame.joint(turn.joint);
  const std::string male = name_of(frame, joint.male), female = name_of(frame, joint.female);
  const std::string by = turns_in_words(std::abs(turn.turns));
  const auto moves = [&](model::PartId part) { return std::binary_search(moving.begin(), moving.end(), part); };
  const bool one_turn = std::llround(turn.turns * 4.0) == 4;  // "another 1 turn" is nobody's English
  if (moves(joint.female) && !moves(joint.male)) {
    if (one_turn) return say("{0} another turn onto {1}", female, male);
    return turn.turns > 0.0 ? say("{0} another {1} onto {2}", female, by, male)
                            : say("{0} {1} back off {2}", female, by, male);
  }
  if (one_turn) return say("{0} another turn into {1}", male, female);
  return turn.turns > 0.0 ? say("{0} another {1} into {2}", male, by, female)
                          : say("{0} {1} back out of {2}", male, by, female);
}

std::vector<std::string> turn_texts(const model::Frame& frame, const std::vector<planner::JointTurn>& turns,
                                    const std::vector<model::PartId>& moving) {
  std::vector<std::string> words;
  for (const planner::JointTurn& turn : turns) {
    if (turn.turns != 0.0) words.push_back(turn_text(frame, turn, moving));
  }
  return words;
}

}  // namespace

std::string turns_text(const model::Frame& frame, const std::vector<planner::JointTurn>& turns, std::size_t most) {
  const std::vector<std::string> words = turn_texts(frame, turns, {});
  return most == 0 ? listed(words) : listed_briefly(words, most);
}

std::vector<StepWords> words_with_turns(const model::Frame& frame, const planner::ContactList& list,
                                        const planner::Fit& fit, const std::vector<planner::Step>& steps,
                                        const std::vector<model::Attitude>& lies) {
  std::vector<StepWords> words = words_for(frame, list, steps, lies);
  for (std::size_t i = 0; i < steps.size(); ++i) {
    std::vector<planner::JointTurn> made;
    for (const planner::JointTurn& turn : fit.turns) {
      const bool here = std::any_of(steps[i].contacts.begin(), steps[i].contacts.end(),
                                    [&](planner::ContactId c) { return list.contact(c).joint == turn.joint; });
      if (here && turn.turns != 0.0) made.push_back(turn);
    }
    if (made.empty()) continue;
    words[i].cautions.push_back(
        say("Now turn {}, so that the frame lines up.", listed(turn_texts(frame, made, steps[i].moving))));
    const bool loosened = std::any_of(made.begin(), made.end(), [](const auto& turn) { return turn.turns < 0.0; });
    if (loosened) words[i].cautions.push_back(loose_text());
  }
  return words;
}

const char* memory_mark(bool from_memory) { return from_memory ? "*" : ""; }

namespace {

std::vector<std::string> measure_texts(const std::vector<planner::WorthMeasuring>& all) {
  std::vector<std::string> out;
  for (const planner::WorthMeasuring& worth : all) {
    out.push_back(
        say("{0} in {1}: {2}", worth.size, kind_word(model::word_for(worth.kind)), translated({}, worth.what)));
  }
  return out;
}

}  // namespace

std::vector<std::string> measure_texts(const model::Frame& frame) {
  return measure_texts(planner::worth_measuring(frame));
}

std::string memory_footnote(const model::Frame& frame) {
  const std::vector<planner::WorthMeasuring> worth = planner::worth_measuring_for_fit(frame);
  return memory_footnote(worth.empty() ? planner::worth_measuring(frame) : worth);
}

std::string memory_footnote(const std::vector<planner::WorthMeasuring>& worth) {
  const std::vector<std::string> measure = measure_texts(worth);
  if (measure.empty()) return "";
  constexpr std::size_t kMost = 12;
  return wrapped(say("* Unverified dimensions. Measure your own fittings and enter them under `measured`: {}.",
                     listed_briefly(measure, kMost)),
                 2) +
         "\n";
}

std::vector<std::string> fit_remarks(const model::Frame& frame, const planner::Fit& fit) {
  std::vector<std::string> out;
  if (std::any_of(fit.turns.begin(), fit.turns.end(), [](const auto& turn) { return turn.turns < 0.0; })) {
    out.push_back(loose_text());
  }
  if (!fit.decided) {
    out.push_back(say("Not every way to turn the joints was tried: what is told as off may still line up."));
  } else if (!fit.proven) {
    out.push_back(say("Fewer turns may do as well: the frame has too many joints to try them all."));
  }
  if (!fit.rechecked) {
    out.push_back(say("A second calculation did not confirm these turns. Don't rely on them, and report this frame."));
  }
  if (fit.spare_leg != model::kNone) {
    const planner::LevelFit& leg = fit.levels[at(fit.spare_leg)];
    out.push_back(say("If you buy one spare nipple, buy it for the leg on {0}: its {1} threads vary most.",
                      name_of(frame, leg.part), leg.spread.threads));
  }
  return out;
}

namespace {

constexpr double kGross = 10.0;       ///< mm: what is open by more is likely a mistake, not a matter of stock
constexpr std::size_t kSuspects = 3;  ///< more are no help

/// "Likely wrong: P7 (8 in instead of 18 in). With that alone everything closes."
std::string suspects_text(const model::Frame& frame, const planner::Fit& fit, const Lengths& lengths) {
  double widest = 0.0;
  for (const planner::ClosureFit& closure : fit.closures) {
    if (closure.state == planner::FitState::open) widest = std::max(widest, norm(closure.gap));
  }
  if (widest < kGross || fit.suspects.empty() || fit.suspects.size() > kSuspects) return "";
  std::vector<std::string> words;
  for (const planner::Suspect& suspect : fit.suspects) {
    words.push_back(say("{0} ({1} instead of {2})", name_of(frame, suspect.pipe), lengths(suspect.length),
                        lengths(frame.part(suspect.pipe).length)));
  }
  return "  " + wrapped(say("Probably wrong: {}. With that alone everything lines up.", listed_or(words)), 4) + "\n";
}

/// "EL reaches behind the ceiling", without a full stop.
std::string in_the_way_text(const model::Frame& frame, const planner::ClosureFit& closure) {
  constexpr std::size_t kMost = 3;
  std::vector<std::string> words;
  for (const planner::Overlap& overlap : closure.in_the_way) {
    words.push_back(
        overlap.surface != model::kNone
            ? say("{0} reaches behind {1}", name_of(frame, overlap.a), the_surface(frame.surface(overlap.surface).id))
            : say("{0} and {1} are in the same place", name_of(frame, overlap.a), name_of(frame, overlap.b)));
  }
  return listed_briefly(words, kMost);
}

}  // namespace

namespace {

/// Where the tree of places that a part hangs in begins.
model::PartId root_of_place(const model::Frame& frame, model::PartId part) {
  while (frame.placed_by[at(part)].parent != model::kNone) part = frame.placed_by[at(part)].parent;
  return part;
}

/// Two runs with an `at` each that pipes join: one `at` is one too many.
std::string two_places_text(const model::Frame& frame, const planner::ClosureFit& fit) {
  const model::Closure& closure = closure_of(frame, fit);
  if (closure.kind != model::Closure::Kind::joint || fit.state == planner::FitState::exact) return "";
  std::array<const model::Run*, 2> runs{};
  std::size_t n = 0;
  for (const model::PartId part : {closure.part, closure.other}) {
    const model::PartId root = root_of_place(frame, part);
    const auto& loose = frame.placed_by[at(root)].loose;
    const int run = frame.part(root).run;
    if (run == model::kNone || loose[0] || loose[1] || loose[2]) return "";
    runs[n++] = &frame.runs[at(run)];
  }
  if (runs[0] == runs[1]) return "";
  if (runs[1]->where < runs[0]->where) std::swap(runs[0], runs[1]);
  return "    " +
         wrapped(say("'{0}' and '{1}' both have an `at`. Leave it out of '{1}': the pipes between them place it.",
                     runs[0]->id, runs[1]->id),
                 6) +
         "\n";
}

}  // namespace

namespace {

/// What to try where nothing was found that makes it line up.
std::string without_cure_text(const model::Frame& frame, const planner::ClosureFit& fit) {
  const model::Closure& closure = closure_of(frame, fit);
  switch (closure.kind) {
    case model::Closure::Kind::board_fix:
      return say(
          "Move {0} or make it larger, so that it touches {1}. Or leave out its `fix`: straps or what it rests "
          "on can hold it.",
          name_of(frame, closure.part), the_surface(frame.surface(closure.surface).id));
    case model::Closure::Kind::carrier:
      return say(
          "{0} lies only on what is equally high. Leave {1} out of its `rests-on`, or change the lengths "
          "underneath.",
          name_of(frame, closure.part), name_of(frame, closure.other));
    default:
      return say(
          "No stock lengths were found that make it line up. Try other lengths, another fitting, or a union "
          "with play.");
  }
}

}  // namespace

std::string closures_text(const model::Frame& frame, const planner::Fit& fit,
                          const std::vector<planner::ClosureCure>& design, const Lengths& lengths) {
  std::string out;
  // Nothing is looked for in a frame that is too large to be planned again and again.
  const bool sought = planner::contacts_of(frame).contacts.size() <= planner::ClosureCureLimits().largest;
  std::map<std::string, std::string> told;  // what closes it, and the closure where that was told
  std::set<std::string> placed_twice;       // said of the same two runs before: once is enough
  for (const planner::ClosureFit& closure : fit.closures) {
    if (closure.state == planner::FitState::exact) continue;
    std::string cures;
    for (const planner::Cure& cure : closure.cures) cures += cure_text(frame, cure, lengths);
    for (const planner::ClosureCure& cure : design) {
      const bool closes = std::find(cure.closes.begin(), cure.closes.end(), closure.closure) != cure.closes.end();
      if (closes) cures += cure_text(cure, lengths);
    }
    const std::string where = listed(meeting(frame, closure));
    out += closure_text(frame, closure, lengths);
    const std::string two_places = two_places_text(frame, closure);
    if (placed_twice.insert(two_places).second) out += two_places;
    if (closure.state != planner::FitState::open) continue;
    if (cures.empty() && !sought) continue;
    if (cures.empty()) {
      out += "    " + wrapped(without_cure_text(frame, closure), 6) + "\n";
      continue;
    }
    const auto [earlier, first] = told.emplace(cures, where);
    out += first ? "    " + say("What would make it line up:") + "\n" + cures
                 : "    " + wrapped(say("What makes {} line up does it for this too.", earlier->second), 6) + "\n";
  }
  return out + suspects_text(frame, fit, lengths);
}

void add_closing(Json& document, const model::Frame& frame, const planner::Fit& fit,
                 const std::vector<planner::ClosureCure>& cures) {
  if (!cures.empty()) {
    Json list = Json::array();
    for (const planner::ClosureCure& cure : cures) {
      Json closes = Json::array();
      for (const int c : cure.closes) closes.push_back(frame.closures[at(c)].between);
      Json entry = {{"change", planner::word_for(cure.kind)},
                    {"name", cure.name},
                    {"closes", std::move(closes)},
                    {"state", planner::word_for(cure.state)},
                    {"turns", rounded(cure.turning)},
                    {"still_open", cure.still_open},
                    {"steps", cure.steps},
                    {"edit", call_for(frame, cure)}};
      if (!cure.side.empty()) entry["side"] = cure.side;
      if (cure.kind != planner::ClosureCure::Kind::let_go) {
        entry["was_mm"] = rounded(cure.was);
        entry["now_mm"] = rounded(cure.now);
      }
      list.push_back(std::move(entry));
    }
    document["closure_cures"] = std::move(list);
  }
  if (!fit.suspects.empty()) {
    Json list = Json::array();
    for (const planner::Suspect& suspect : fit.suspects) {
      list.push_back({{"pipe", frame.part(suspect.pipe).id},
                      {"length_mm", rounded(suspect.length)},
                      {"instead_of_mm", rounded(frame.part(suspect.pipe).length)}});
    }
    document["likely_wrong"] = std::move(list);
  }
}

namespace {

/// "SHELF stops 1-13/16 in short of the wall, so it can't be screwed to it."; what else is open, by its gap.
std::string open_text(const model::Frame& frame, const planner::ClosureFit& fit, const std::string& gap,
                      const Lengths& lengths) {
  const model::Closure& closure = closure_of(frame, fit);
  const char* mark = memory_mark(fit.from_memory);
  const bool screwed = closure.kind == model::Closure::Kind::board_fix;
  if (!screwed && closure.kind != model::Closure::Kind::surface) {
    return say("Between {0}: OFF by {1}{2}.", listed(meeting(frame, fit)), gap, mark);
  }
  const model::Surface& surface = frame.surface(closure.surface);
  const double beyond = dot(fit.gap, surface.normal.unit());
  const std::string name = name_of(frame, closure.part), by = lengths.fine(std::abs(beyond));
  if (beyond > 0.0) return say("{0} is OFF by {1}{2}: it reaches into {3}.", name, by, mark, the_surface(surface.id));
  return screwed ? say("{0} is OFF by {1}{2}: it stops short of {3}, so it can't be screwed to it.", name, by, mark,
                       the_surface(surface.id))
                 : say("{0} is OFF by {1}{2}: it stops short of {3}.", name, by, mark, the_surface(surface.id));
}

}  // namespace

std::string closure_text(const model::Frame& frame, const planner::ClosureFit& closure, const Lengths& lengths) {
  const std::string where = listed(meeting(frame, closure));
  const char* mark = memory_mark(closure.from_memory);
  std::string gap = gap_text(closure.gap, lengths);
  if (gap.empty()) gap = say("nothing");
  if (closure.state == planner::FitState::open) {
    std::string text = open_text(frame, closure, gap, lengths);
    if (!closure.in_the_way.empty()) {
      text += " " + say("Turning would make it line up, but then {}.", in_the_way_text(frame, closure));
    }
    return "  " + wrapped(text, 4) + "\n";
  }
  const std::string turns = turns_text(frame, closure.turns, kTurnsTold);
  std::string text = say("Between {0}: off by {1}{2}; {3}", where, gap, mark, closes_in_words(closure.state));
  if (!turns.empty()) text += ": " + turns;
  if (const std::string left = gap_text(closure.left, lengths);
      !left.empty() && closure.state != planner::FitState::exact) {
    text = say("{0}; {1} is left over", text, left);
  }
  return "  " + wrapped(text + ".", 4) + "\n";
}

std::string level_text(const model::Frame& frame, const planner::LevelFit& level, const Lengths& lengths) {
  const std::string& name = frame.part(level.part).label;
  std::vector<std::string> on(level.between.begin() + 1, level.between.end());
  if (level.surface != model::kNone) {
    for (std::string& id : on) id = surface_word(id);
  }
  std::string text = say("{0} on {1}", name, listed(on)) + ": ";
  if (planner::meets(level.gap) && level.state == planner::FitState::exact) {
    text += say("level as drawn");
  } else {
    const std::string by = lengths.fine(std::abs(level.gap)) + memory_mark(level.from_memory);
    const std::string slope = lengths.slope(level.slope);
    text += level.surface == model::kNone ? say("out by {0}, {1}", by, slope)
            : level.gap > 0.0             ? say("too long by {0}, {1}", by, slope)
                                          : say("too short by {0}, {1}", by, slope);
    if (level.rock > planner::kExact) text = say("{0}, and it rocks by {1}", text, lengths.fine(level.rock));
    const std::string turns = turns_text(frame, level.turns, kTurnsTold);
    const std::string left = lengths.fine(std::abs(level.left)), slope_left = lengths.slope(level.slope_left);
    if (level.state == planner::FitState::open) {
      text = say("{}; turning doesn't cure it", text);
    } else if (!turns.empty()) {
      text = level.state == planner::FitState::by_wrenching
                 ? say("{0}; can be levelled only with extra turns of the wrench: {1}, leaving {2} ({3})", text, turns,
                       left, slope_left)
             : level.state == planner::FitState::by_turning
                 ? say("{0}; can be levelled by turning: {1}, leaving {2} ({3})", text, turns, left, slope_left)
                 : say("{0}; comes out exactly: {1}, leaving {2} ({3})", text, turns, left, slope_left);
    }
  }
  if (level.spread.threads > 0) {
    text = say("{0}; one turn of thread tolerance could put it out by {1} at worst (typically {2})", text,
               lengths(level.spread.worst), lengths(level.spread.likely));
  }
  text += ".";
  return "  " + wrapped(text, 4) + "\n";
}

std::string levels_text(const model::Frame& frame, const std::vector<planner::LevelFit>& levels,
                        const Lengths& lengths) {
  std::vector<std::string> level_as_drawn;
  const planner::LevelFit *worst = nullptr, *worst_leg = nullptr;
  std::string others;
  for (const planner::LevelFit& level : levels) {
    if (!planner::meets(level.gap) || level.state != planner::FitState::exact) {
      others += level_text(frame, level, lengths);
      continue;
    }
    level_as_drawn.push_back(frame.part(level.part).label);
    const bool leg = level.surface != model::kNone;
    const planner::LevelFit*& most = leg ? worst_leg : worst;
    if (level.spread.threads > 0 && (most == nullptr || level.spread.worst > most->spread.worst)) most = &level;
  }
  if (level_as_drawn.empty()) return others;
  std::string text = say("{}: level as drawn.", listed(level_as_drawn));
  if (worst != nullptr) {
    text += " " +
            (level_as_drawn.size() > 1
                 ? say("If every joint is a turn off, {0}, the worst of them, can be {1} out of level (typically {2}).",
                       frame.part(worst->part).label, lengths(worst->spread.worst), lengths(worst->spread.likely))
                 : say("If every joint is a turn off, it can be {0} out of level (typically {1}).",
                       lengths(worst->spread.worst), lengths(worst->spread.likely)));
  }
  if (worst_leg != nullptr) {
    // Of its own threads alone: two legs that are off against each other differ by the sum.
    text += " " + say("If every joint of one leg is a turn off, the leg on {0} can be {1} too long or too short "
                      "(typically {2}).",
                      frame.part(worst_leg->part).label, lengths(worst_leg->spread.worst),
                      lengths(worst_leg->spread.likely));
  }
  return "  " + wrapped(text, 4) + "\n" + others;
}

}  // namespace dryfit::cli
