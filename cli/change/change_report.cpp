#include "cli/change/change_report.hpp"

#include <fmt/ostream.h>

#include <algorithm>
#include <nlohmann/json.hpp>
#include <ostream>

#include "cli/change/board_work_text.hpp"
#include "cli/change/turns_left.hpp"
#include "cli/check/evidence.hpp"
#include "cli/check/fit_report.hpp"
#include "cli/io/exit_code.hpp"
#include "cli/order/now_words.hpp"
#include "cli/order/place_text.hpp"
#include "cli/order/step_json.hpp"
#include "cli/sentences/safety_text.hpp"
#include "cli/sentences/undo_text.hpp"
#include "cli/words/lengths.hpp"
#include "cli/words/say.hpp"
#include "cli/words/words.hpp"
#include "model/geometry/at.hpp"

namespace dryfit::cli {
namespace {

using planner::ChangePlan;

const std::string& id_of(const model::Frame& frame, model::PartId part) { return frame.part(part).id; }

/// Old and new ids of parts that are the same piece under another name.
std::vector<std::pair<std::string, std::string>> renamed(const ChangeAnswer& a) {
  std::vector<std::pair<std::string, std::string>> pairs;
  for (std::size_t p = 0; p < a.matching.new_of_old.size(); ++p) {
    const model::PartId q = a.matching.new_of_old[p];
    if (q == model::kNone) continue;
    const std::string& before = a.old_design.frame.parts[p].label;
    const std::string& after = a.new_design.frame.part(q).label;
    if (before != after && (pairs.empty() || pairs.back().first != before)) pairs.emplace_back(before, after);
  }
  return pairs;
}

/// "between" of the closures that stay open.
std::vector<std::vector<std::string>> open_closures(const ChangeAnswer& a) {
  std::vector<std::vector<std::string>> open;
  for (const planner::ClosureFit& closure : a.found.fit.closures) {
    if (closure.state != planner::FitState::open) continue;
    open.push_back(a.new_design.frame.closure(closure.closure).between);
  }
  return open;
}

void add_price(Json& document, const ChangeAnswer& a) {
  document["undo_moves"] = a.plan.undo.size();
  if (a.by_effort) {
    document["effort"] = {{"value", rounded(a.plan.price.at_most)},
                          {"lower_bound", rounded(a.plan.price.at_least)},
                          {"proven", a.plan.price.proven()},
                          {"states", a.plan.states}};
    return;
  }
  document["undo_moves_at_least"] = a.plan.price.at_least;
  document["proven"] = a.plan.price.proven();
}

Json curve_json(const ChangeAnswer& a) {
  Json curve = Json::array();
  for (const planner::PriceAt& p : a.curve) {
    Json point = {{"built", p.built}, {"undo_moves", p.moves}};
    if (a.by_effort) {
      point["effort"] = rounded(p.price.at_most);
      if (!p.price.proven()) point["effort_at_least"] = rounded(p.price.at_least);
    } else if (!p.price.proven()) {
      point["undo_moves_at_least"] = p.price.at_least;
    }
    curve.push_back(std::move(point));
  }
  return curve;
}

/// "Buy: P3 (8 in) and C7.": a pipe has its length with it, for the old one and the new one share a name.
std::string pieces_text(const std::string& what, const model::Frame& frame, const std::vector<model::PartId>& parts,
                        const Lengths& lengths) {
  if (parts.empty()) return "";
  std::vector<std::string> names;
  for (const model::PartId id : parts) {
    const model::Part& part = frame.part(id);
    std::string name =
        part.kind == model::PartKind::pipe ? fmt::format("{} ({})", part.label, lengths(part.length)) : part.label;
    if (std::find(names.begin(), names.end(), name) == names.end()) names.push_back(std::move(name));
  }
  return fmt::format("{}: {}.\n", what, wrapped(listed(names), 2));
}

/// "12 in to the right and 1/2 in up".
std::string shift_text(model::Vec3 by, const Lengths& lengths) {
  std::vector<std::string> ways;
  for (int axis = 0; axis < 3; ++axis) {
    if (std::abs(by[axis]) < 0.05) continue;
    model::Vec3 along;
    along[axis] = by[axis];
    ways.push_back(fmt::format("{} {}", lengths(std::abs(by[axis])), going(nearest_direction(along))));
  }
  return listed(ways);
}

/// What the two designs are to each other, piece by piece.
void print_pieces(const ChangeAnswer& a, std::ostream& out) {
  const model::Frame& of = a.old_design.frame;
  const model::Frame& nf = a.new_design.frame;
  const Lengths lengths(of.units);
  std::string text;
  for (const planner::MovedPiece& piece : a.moved) {
    const std::string parts = listed_briefly(labels_of(of, piece.parts), 12);
    text +=
        piece.turned
            ? wrapped(say("These stay together and are turned as one piece: {}.", parts), 2)
            : wrapped(say("These stay together and move {1} as one piece: {0}.", parts, shift_text(piece.by, lengths)),
                      2);
    text += "\n";
  }
  for (const planner::BoardWork& work : a.pieces.boards) {
    text += wrapped(board_work_text(of, nf, work, lengths), 2) + "\n";
  }
  text += pieces_text(say("Buy"), nf, a.pieces.buy, lengths);
  for (const auto& [from, to] : a.pieces.reused) {
    text += say("Use {0} again as {1}.", id_of(of, from), id_of(nf, to)) + "\n";
  }
  text += pieces_text(say("Left over"), of, a.pieces.spare, lengths) +
          pieces_text(say("Scrap"), of, a.pieces.scrap, lengths);
  std::vector<std::string> names;
  for (const auto& [before, after] : renamed(a)) names.push_back(say("{0} is now {1}", before, after));
  if (!names.empty()) text += wrapped(say("Same pieces, other names: {}.", listed(names)), 2) + "\n";
  if (!text.empty()) out << "\n" << text;
}

/// "Free until step 6 ... decide before step 7", and where the price jumps.
void print_curve(const ChangeAnswer& a, std::ostream& out) {
  const std::vector<planner::PriceAt>& curve = a.curve;
  if (curve.size() < 2) return;
  const int last_free = last_free_step(curve);
  out << "\n";
  if (last_free == curve.back().built) {
    out << say("You can make this change at any step: nothing has to come off.") << '\n';
    return;
  }
  const std::string when =
      last_free > 0
          ? say("When to decide: up to step {0} of the old build order nothing has to be undone, from step {1} on it "
                "does.",
                last_free, last_free + 1)
          : say("When to decide: before you start. Even step 1 of the old build order would have to be undone.");
  fmt::print(out, "{}\n", wrapped(when, 0));
  std::vector<std::string> jumps;
  for (const PriceJump& jump : jumps_of(curve, a.by_effort)) {
    jumps.push_back(say("step {0} (from {1} to {2})", jump.step, price_text(jump.from, a.by_effort),
                        price_text(jump.to, a.by_effort)));
  }
  if (!jumps.empty()) fmt::print(out, "{}\n", wrapped(say("More has to come off from {}.", listed(jumps)), 2));
}

void print_steps(const model::Frame& frame, const std::vector<StepWords>& words, std::ostream& out) {
  print_some(frame, words, 0, words.size(), out);
}

/// What of the new frame is made without a step: it stays from the old one.
std::vector<planner::ContactId> staying(const planner::ContactList& list, const std::vector<planner::Step>& then) {
  std::vector<char> again(list.contacts.size(), 0);
  for (const planner::Step& step : then) {
    for (const planner::ContactId id : step.contacts) again[at(id)] = 1;
  }
  std::vector<planner::ContactId> stay;
  for (std::size_t c = 0; c < again.size(); ++c) {
    if (again[c] == 0) stay.push_back(static_cast<planner::ContactId>(c));
  }
  return stay;
}

/// The steps to the new frame, flanges with their places: screwed down anew, most need other holes. They are measured
/// from a flange that stays, where there is one.
std::vector<StepWords> building_words(const ChangeAnswer& a) {
  const model::Frame& nf = a.new_design.frame;
  const planner::ContactList& list = a.new_design.contacts;
  const std::vector<planner::ContactId> stay = staying(list, a.plan.then);
  std::vector<StepWords> words = words_for(nf, list, a.plan.then, {}, stay);
  std::vector<planner::Step> screwed;
  for (const planner::ContactId c : stay) {
    if (list.contact(c).kind != planner::ContactKind::fastening) continue;
    planner::Step& step = screwed.emplace_back();
    step.action = planner::Action::fasten;
    step.contacts = {c};
  }
  const std::size_t before = screwed.size();
  screwed.insert(screwed.end(), a.plan.then.begin(), a.plan.then.end());
  for (std::size_t i = 0; i < words.size(); ++i) {
    const std::string place = place_text(a.found.as_made(nf), list, screwed, before + i);
    if (!place.empty()) words[i].text += " " + place;
  }
  return words;
}

std::string total_text(const ChangeAnswer& a) {
  const std::string text = say_n(static_cast<long long>(a.plan.undo.size()), "{} joint to undo", "{} joints to undo");
  const planner::Bounded& price = a.plan.price;
  if (a.by_effort) {
    const std::string work = price_text(price.at_most, true);
    if (price.proven()) return say("{0}, effort score {1}, and no other way scores lower", text, work);
    return say("{0}, effort score {1} at most and {2} at least", text, work, price_text(price.at_least, true));
  }
  return price.proven() ? text : say("{0} at most, at least {1}", text, fmt::format("{:g}", price.at_least));
}

}  // namespace

std::string price_text(double price, bool by_effort) {
  if (!by_effort) return say_n(static_cast<long long>(price), "{} joint", "{} joints");
  return decimal(price, price < 10.0 ? 1 : 0);
}

std::vector<PriceJump> jumps_of(const std::vector<planner::PriceAt>& curve, bool by_effort) {
  const double least = by_effort ? 30.0 : 2.0;
  std::vector<PriceJump> jumps;
  for (std::size_t k = 1; k < curve.size(); ++k) {
    // Only what is proven: the least that it costs then is so much above the most that it cost before.
    const double from = curve[k - 1].price.at_most, to = curve[k].price.at_least;
    if (to - from >= least) jumps.push_back({curve[k].built, from, to});
  }
  return jumps;
}

void add_never_stood(Json& document, const LoadedFrame& design, const Finding& found) {
  Json old = {{"verdict", word_for(found.verdict)}};
  add_evidence(old, found, design.frame, design.contacts);
  document["old_frame"] = std::move(old);
}

void print_never_stood(const LoadedFrame& design, const Finding& found, std::ostream& out) {
  out << (found.verdict == Verdict::locked
              ? say("{}: the old frame is LOCKED, no order builds it, so it cannot stand there built.",
                    design.frame.name)
              : say("{}: the old frame DOES NOT FIT, so it cannot stand there built.", design.frame.name))
      << '\n'
      << evidence_text(found, design.frame, design.contacts);
}

namespace {

/// What is bought, drilled again, used again, left over, and called otherwise.
void add_pieces_of_change(Json& document, const ChangeAnswer& a) {
  const model::Frame& of = a.old_design.frame;
  const model::Frame& nf = a.new_design.frame;
  Json moved = Json::array();
  for (const planner::MovedPiece& piece : a.moved) {
    Json entry = {{"parts", part_ids(of, piece.parts)}, {"turned", piece.turned}};
    entry["by_mm"] = Json::array({rounded(piece.by.x), rounded(piece.by.y), rounded(piece.by.z)});
    moved.push_back(std::move(entry));
  }
  document["moved"] = std::move(moved);
  Json replaced = Json::array();
  for (const auto& [before, after] : a.pieces.replaced) replaced.push_back(id_of(of, before));
  document["replaced"] = std::move(replaced);
  Json redrill = Json::array();
  for (const planner::BoardWork& work : a.pieces.boards) redrill.push_back(board_work_json(of, nf, work));
  document["redrill"] = std::move(redrill);
  document["scrap"] = part_ids(of, a.pieces.scrap);
  document["spare"] = part_ids(of, a.pieces.spare);
  document["buy"] = part_ids(nf, a.pieces.buy);
  Json reused = Json::array();
  for (const auto& [from, to] : a.pieces.reused) reused.push_back({{"from", id_of(of, from)}, {"as", id_of(nf, to)}});
  document["used_again"] = std::move(reused);
  Json names = Json::array();
  for (const auto& [before, after] : renamed(a)) names.push_back({{"old", before}, {"new", after}});
  document["renamed"] = std::move(names);
}

}  // namespace

Json change_json(const ChangeAnswer& a) {
  const model::Frame& of = a.old_design.frame;
  const model::Frame& nf = a.new_design.frame;
  const bool nothing = never_stood(a.built);
  Json document = envelope("change", of, nothing ? "impossible" : verdict_word(a.plan));
  document["to"] = nf.name;
  document["fits"] = a.fits;
  document["by"] = a.by_effort ? "effort" : "moves";
  if (nothing) {
    add_never_stood(document, a.old_design, *a.built.never_stood);
    add_evidence(document, a.found, nf, a.new_design.contacts);
    return document;
  }
  add_price(document, a);
  document["ended_by"] = word_for(a.ended);
  Json undo = Json::array(), then = Json::array();
  const auto off = undo_words(of, a.old_design.contacts, a.plan.undo, a.built.made);
  for (std::size_t i = 0; i < off.size(); ++i) {
    const planner::Step step = undo_step(of, a.plan.undo[i], static_cast<int>(i) + 1);
    undo.push_back(step_json(of, a.old_design.contacts, step, off[i]));
  }
  const auto words = words_for(nf, a.new_design.contacts, a.plan.then, {}, staying(a.new_design.contacts, a.plan.then));
  for (std::size_t i = 0; i < words.size(); ++i) {
    then.push_back(step_json(nf, a.new_design.contacts, a.plan.then[i], words[i]));
  }
  document["undo"] = std::move(undo);
  document["then"] = std::move(then);
  document["stays"] = contact_ids(a.old_design.contacts, a.plan.kept);
  document["remake"] = contact_ids(a.old_design.contacts, a.plan.remake);
  add_pieces_of_change(document, a);
  document["price_by_step"] = curve_json(a);
  document["free_until_step"] = a.curve.empty() ? Json(nullptr) : Json(last_free_step(a.curve));
  Json jumps = Json::array();
  for (const PriceJump& jump : jumps_of(a.curve, a.by_effort)) jumps.push_back(jump.step);
  document["price_jumps"] = std::move(jumps);
  document["open_closures"] = open_closures(a);
  document["turns"] = turns_json(nf, a.found.fit.turns);
  document["turns_left"] = turns_json(nf, a.fits ? turns_left(a) : std::vector<planner::JointTurn>{});
  add_evidence(document, a.found, nf, a.new_design.contacts);
  return document;
}

namespace {

/// What does not fit is not built, so nothing is said of how.
void print_misfit(const ChangeAnswer& a, const std::string& title, std::ostream& out) {
  out << (a.found.overlaps.empty() ? say("{}: the new frame DOESN'T LINE UP.", title)
                                   : say("{}: the new frame DOES NOT FIT.", title))
      << '\n';
  if (!a.found.overlaps.empty()) out << evidence_text(a.found, a.new_design.frame, a.new_design.contacts);
  for (const auto& between : open_closures(a)) {
    out << "  " << say("{} don't line up (`dryfit fit` says what would help).", listed(between)) << '\n';
  }
  if (a.plan.verdict == ChangePlan::Verdict::locked) return;  // said next
  out << (a.plan.undo.empty() ? say("To get there, nothing would have to come off.")
                              : say("To get there: {}.", total_text(a)))
      << '\n';
}

}  // namespace

void print_change(const ChangeAnswer& a, std::ostream& out) {
  const model::Frame& of = a.old_design.frame;
  const model::Frame& nf = a.new_design.frame;
  if (never_stood(a.built)) {
    print_never_stood(a.old_design, *a.built.never_stood, out);
    return;
  }
  const std::string title = of.name == nf.name ? of.name : say("{0} into {1}", of.name, nf.name);
  if (!a.fits) {
    print_misfit(a, title, out);
    // What is in one place with something else is never asked for an order.
    if (a.plan.verdict != ChangePlan::Verdict::locked || !a.found.overlaps.empty()) return;
  }
  if (a.plan.verdict == ChangePlan::Verdict::locked) {
    out << say("{}: the new frame is LOCKED. There is no order in which it can be put together.", title) << '\n';
    out << evidence_text(a.found, nf, a.new_design.contacts);
    return;
  }
  if (a.plan.undo.empty()) {
    out << say("{}: FREE. Nothing has to come off.", title) << '\n';
  } else {
    fmt::print(out, "{}: {}.\n\n", title, total_text(a));
    out << wrapped(as_finished_text(), 0) << "\n\n";
    print_steps(of, undo_words(of, a.old_design.contacts, a.plan.undo, a.built.made), out);
  }
  if (!a.plan.then.empty()) {
    out << '\n' << say("Then build the new frame:") << "\n\n";
    if (a.plan.undo.empty()) out << wrapped(as_finished_text(), 0) << "\n\n";
    print_steps(nf, building_words(a), out);
  }
  // Joints that stay made have to be turned as well, so all are told in one place.
  if (a.fits) {
    const std::string turns = turns_text(nf, turns_left(a));
    if (!turns.empty()) fmt::print(out, "\n{}.\n", wrapped(say("To make the whole frame line up, turn {}", turns), 2));
  }
  print_pieces(a, out);
  print_curve(a, out);
  if (const std::string end = end_sentence(a.ended, a.budget, marked("states")); !end.empty())
    fmt::print(out, "{}\n", end);
}

}  // namespace dryfit::cli
