#include "cli/cards/deck.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <sstream>

#include "cli/cards/swap_rows.hpp"
#include "cli/check/fit_report.hpp"
#include "cli/draw/picture/step_picture.hpp"
#include "cli/early/early_in_order.hpp"
#include "cli/order/plan_text.hpp"
#include "cli/sentences/buy_text.hpp"
#include "cli/sentences/safety_text.hpp"
#include "cli/words/say.hpp"
#include "cli/words/told.hpp"
#include "cli/words/trade_words.hpp"
#include "cli/words/words.hpp"
#include "model/geometry/at.hpp"
#include "planner/shop/buy.hpp"

namespace dryfit::cli {
namespace {

using model::Frame;
using model::PartId;
using planner::Step;

/// All wording of this file.
namespace deck_says {
constexpr const char* kSummary = marked("{0}, {1}, {2} in all");
constexpr const char* kTurnHold = marked("turn {0}, hold {1}");
constexpr const char* kTurnRoom = marked("turn {}");
constexpr const char* kPiece = marked("Piece {}");
constexpr const char* kTwoLift = marked(
    "Two people lift {0}. One person may lift {1} held close to the body, and less if it is wide "
    "({2}).");
constexpr const char* kHasToBeTurned =
    marked("To make it line up, some joints are turned further or back. Their cards say so: {}.");
constexpr const char* kGlovesTool = marked("gloves, eye protection, masking tape, a pen");
constexpr const char* kTape = marked("tape measure and spirit level");
// Common practice, no source: one tool for the side that turns, one for the side that is held.
constexpr const char* kWrenches = marked("two pipe wrenches, one to turn and one to hold");
constexpr const char* kRags = marked("rags and a degreaser for oily pipe");
constexpr const char* kUnionTool = marked("a wrench wide enough for the union nuts");
constexpr const char* kDrillTool = marked("drill, clamps and scrap wood; bits: {}");
constexpr const char* kNoBits = marked("as on the drill sheets");
constexpr const char* kSaw = marked("a saw for the slots");
constexpr const char* kDriver = marked("a driver and screws for what is fastened");
constexpr const char* kSwaps = marked(
    "Each row is a pipe or a board, each column a number of steps done. The number says how many "
    "steps to undo to swap the piece for another length or another hole. Empty: it isn't on yet, and "
    "swapping it costs nothing.");
constexpr const char* kSwapDoubt = marked("A number with a dot is an upper limit: fewer may do.");
constexpr const char* kSwapJump = marked("A thick edge marks a step that adds two or more. Decide before that step.");
constexpr const char* kSwapBeyond =
    marked("A new length also moves everything beyond it: for a whole change of design use `dryfit change`.");
constexpr const char* kAnchors = marked("anchors for wall or floor, and a finder for studs, cables and pipes");
}  // namespace deck_says

/// Text that was wrapped and indented for a terminal, as flowing paragraphs: one begins at an indent of two or after a
/// blank line. Bullets of a terminal ("> ", "! ") go.
std::vector<std::string> paragraphs(const std::string& text) {
  std::vector<std::string> out;
  std::istringstream lines(text);
  std::string line;
  bool fresh = true;
  while (std::getline(lines, line)) {
    const std::size_t indent = line.find_first_not_of(' ');
    if (indent == std::string::npos) {
      fresh = true;
      continue;
    }
    std::string words = line.substr(indent);
    if (indent == 2) fresh = true;
    if (fresh && (words.starts_with("> ") || words.starts_with("! "))) words.erase(0, 2);
    if (fresh) {
      out.push_back(std::move(words));
    } else {
      out.back() += " " + words;
    }
    fresh = false;
  }
  return out;
}

/// Words to type stand in backticks on a terminal; on paper they stand in quotes.
std::string off_terminal(std::string text) {
  std::replace(text.begin(), text.end(), '`', '"');
  return text;
}

bool has_jump(const SwapRow& row) {
  for (std::size_t k = 1; k < row.at_most.size(); ++k) {
    if (jumps_at(row, k)) return true;
  }
  return false;
}

/// `hands`: people that the step asks for.
std::vector<std::string> facts_of(const LoadedFrame& loaded, const Step& step, int hands) {
  std::vector<std::string> facts;
  if (step.action == planner::Action::screw) {
    for (const planner::ContactId id : step.contacts) {
      const planner::Contact& c = loaded.contacts.contact(id);
      if (c.kind != planner::ContactKind::thread) continue;
      const bool male_turns = std::find(step.moving.begin(), step.moving.end(), c.a) != step.moving.end();
      const PartId turning = male_turns ? c.a : c.b;
      const PartId held = male_turns ? c.b : c.a;
      facts.push_back(held < 0
                          ? say(deck_says::kTurnRoom, name_of(loaded.frame, turning))
                          : say(deck_says::kTurnHold, name_of(loaded.frame, turning), name_of(loaded.frame, held)));
      facts.push_back(turns_in_words(step.turns));
      break;
    }
  }
  facts.push_back(say_n(hands, "{} person", "{} people"));
  return facts;
}

std::vector<Chore> chores_of(const std::vector<planner::ChoreLine>& lines, model::Units units) {
  std::vector<Chore> out;
  for (const planner::ChoreLine& line : lines) out.push_back({told(line.text, units), told(line.cautions, units)});
  return out;
}

std::string line_text(const planner::BuyLine& line, const Lengths& lengths) {
  std::string what = fmt::format("{} x {}", line.count, what_text(line, line.count, lengths));
  if (!line.labels.empty()) what += ": " + fmt::format("{}", fmt::join(line.labels, " "));
  return what;
}

std::vector<std::string> tools_for(const Frame& frame, const std::vector<std::string>& bits) {
  using Kind = model::Fastening::Kind;
  std::vector<std::string> tools = {say(deck_says::kGlovesTool), say(deck_says::kTape)};
  if (!frame.joints.empty()) {
    tools.push_back(say(deck_says::kWrenches));
    tools.push_back(say(deck_says::kRags));
  }
  if (std::any_of(frame.parts.begin(), frame.parts.end(),
                  [](const model::Part& p) { return p.kind == model::PartKind::union_half; })) {
    tools.push_back(say(deck_says::kUnionTool));
  }
  bool holes = false;
  bool slots = false;
  for (const model::Board& board : frame.boards) {
    holes = holes || !board.holes.empty();
    for (const model::Hole& hole : board.holes) slots = slots || hole.notch;
  }
  if (holes) tools.push_back(say(deck_says::kDrillTool, bits.empty() ? say(deck_says::kNoBits) : listed(bits)));
  if (slots) tools.push_back(say(deck_says::kSaw));
  if (!frame.fastenings.empty()) tools.push_back(say(deck_says::kDriver));
  if (std::any_of(frame.fastenings.begin(), frame.fastenings.end(), [](const model::Fastening& f) {
        return f.other == model::kRoom || f.kind == Kind::clip || f.kind == Kind::board_to_surface;
      })) {
    tools.push_back(say(deck_says::kAnchors));
  }
  return tools;
}

}  // namespace

Deck deck_of(const LoadedFrame& loaded, const Finding& finding, OrderPlan plan, const Lengths& lengths,
             Working* working) {
  const Frame& frame = loaded.frame;
  const std::vector<Step>& steps = plan.best.order.steps;
  plan.why.clear();
  const planner::Shopping shopping = planner::shopping_of(frame, finding.fit);

  Deck deck;
  deck.name = frame.name;
  for (const model::Part& part : frame.parts) {
    if (std::find(deck.tapes.begin(), deck.tapes.end(), part.label) == deck.tapes.end())
      deck.tapes.push_back(part.label);
  }
  deck.summary =
      say(deck_says::kSummary, say_n(static_cast<long long>(steps.size()), "{} step", "{} steps"),
          say_n(static_cast<long long>(deck.tapes.size()), "{} part", "{} parts"), weight(shopping.mass, frame.units));
  std::vector<std::string> bits;
  for (const planner::BuyLine& line : shopping.lines) {
    if (line.group == planner::BuyGroup::bit) {
      bits.push_back(bit_text(line.note));
    } else {
      deck.lay_out.push_back(line_text(line, lengths));
    }
  }
  deck.tools = tools_for(frame, bits);
  deck.safety = {wear_text(), climb_text(frame)};
  if (!shopping.heavy.empty()) {
    deck.safety.push_back(say(deck_says::kTwoLift, listed(shopping.heavy), weight(shopping.lifting_limit, frame.units),
                              source_text(shopping.lifting_source)));
  }
  deck.safety.push_back(codes_text());
  deck.before = chores_of(plan.chores.before, frame.units);

  const EarlyInOrder early = early_in_order(frame, loaded.contacts, steps, working);
  const std::vector<StepWords> words = words_with_turns(frame, loaded.contacts, finding.fit, steps);
  for (std::size_t i = 0; i < steps.size(); ++i) {
    Card card;
    card.number = steps[i].number;
    if (plan.priced && plan.grouping.of_step[i] >= 0) {
      card.strip = say(deck_says::kPiece, plan.grouping.pieces[at(plan.grouping.of_step[i])].name);
    }
    card.first = paragraphs(before_step_text(frame, plan, i));
    card.text = words[i].text;
    card.facts = facts_of(loaded, steps[i], words[i].hands);
    card.cautions = words[i].cautions;
    card.notes = early_lines(frame, loaded.contacts, early, i);
    for (std::string& note : under_step(frame, loaded.contacts, plan, i)) card.notes.push_back(std::move(note));
    card.picture = step_picture(frame, loaded.contacts, steps, card.number, stands_at(plan, i));
    deck.cards.push_back(std::move(card));
  }

  for (std::string& turning : turnings_at_end(frame, plan)) deck.after.push_back({std::move(turning), {}});
  for (Chore& chore : chores_of(plan.chores.after, frame.units)) deck.after.push_back(std::move(chore));
  if (!finding.fit.turns.empty()) {
    deck.after.push_back({say(deck_says::kHasToBeTurned, turns_text(frame, finding.fit.turns)), {}});
  }
  for (const planner::LevelFit& level : finding.fit.levels) {
    if (level.state == planner::FitState::exact) continue;
    for (std::string& text : paragraphs(level_text(frame, level, lengths))) deck.after.push_back({std::move(text), {}});
  }
  if (const std::string unproven = unproven_text(plan); !unproven.empty()) deck.closing.push_back(unproven);
  for (const std::string& note : finding.notes) deck.closing.push_back(off_terminal(note));
  deck.swaps = swap_rows(loaded, steps, working);
  if (!deck.swaps.empty()) {
    deck.about_swaps = {say(deck_says::kSwaps)};
    if (std::any_of(deck.swaps.begin(), deck.swaps.end(), has_jump))
      deck.about_swaps.push_back(say(deck_says::kSwapJump));
    deck.about_swaps.push_back(off_terminal(say(deck_says::kSwapBeyond)));
    if (std::any_of(deck.swaps.begin(), deck.swaps.end(), [](const SwapRow& r) { return r.at_least != r.at_most; })) {
      deck.about_swaps.push_back(say(deck_says::kSwapDoubt));
    }
  }
  return deck;
}

}  // namespace dryfit::cli
