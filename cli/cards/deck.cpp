#include "cli/cards/deck.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <sstream>

#include "cli/cards/asides.hpp"
#include "cli/cards/swap_rows.hpp"
#include "cli/check/fit_report.hpp"
#include "cli/draw/picture/choose_view.hpp"
#include "cli/draw/picture/step_picture.hpp"
#include "cli/early/early_in_order.hpp"
#include "cli/early/early_report.hpp"
#include "cli/order/plan_text.hpp"
#include "cli/sentences/buy_text.hpp"
#include "cli/sentences/safety_text.hpp"
#include "cli/words/say.hpp"
#include "cli/words/told.hpp"
#include "cli/words/trade_words.hpp"
#include "cli/words/words.hpp"
#include "model/geometry/at.hpp"
#include "model/measure/over_all.hpp"
#include "planner/shop/buy.hpp"
#include "planner/shop/drill.hpp"
#include "planner/shop/screws.hpp"

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
constexpr const char* kShortScrews = marked("screws shorter than {}");
constexpr const char* kMeasureHere = marked("Measured (drawn):");
constexpr const char* kMeasure = marked("{0} to {1}: ________ ({2})");
constexpr const char* kMeasured = marked("{0} to {1}: {2} as measured.");
constexpr const char* kHelper = marked("a helper or a prop holds it");
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
    "joints to undo to swap the piece for another length or another hole. Empty: it isn't on yet, and "
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

/// How many screws of which size the step takes, and how short those into a board have to be.
std::vector<std::string> screw_facts(const LoadedFrame& loaded, const Step& step) {
  const Frame& frame = loaded.frame;
  std::vector<std::pair<std::string, int>> sizes;
  std::string shorter;
  for (const planner::ContactId id : step.contacts) {
    const int index = loaded.contacts.contact(id).fastening;
    if (index == model::kNone) continue;
    const model::Fastening& f = frame.fastening(index);
    if (const auto size = planner::screw_size(frame, f)) {
      const std::string text = screw_text(size->gauge(), size->length, Lengths(frame.units));
      const auto known = std::find_if(sizes.begin(), sizes.end(), [&](const auto& one) { return one.first == text; });
      const int count = planner::screw_count(frame, f);
      if (known == sizes.end()) {
        sizes.emplace_back(text, count);
      } else {
        known->second += count;
      }
    }
    if (f.kind != model::Fastening::Kind::flange_to_board) continue;
    const model::Board& board = frame.board_of(f.other);
    shorter = say(deck_says::kShortScrews, length_text(board.hi[board.normal] - board.lo[board.normal], frame.units));
  }
  std::vector<std::string> facts;
  for (const auto& [text, count] : sizes) facts.push_back(say_n(count, "{0} screw {1}", "{0} screws {1}", text));
  if (!shorter.empty()) facts.push_back(std::move(shorter));
  return facts;
}

/// `hands`: people that the step asks for.
std::vector<std::string> facts_of(const LoadedFrame& loaded, const Step& step, int hands, const model::Attitude& lies) {
  std::vector<std::string> facts;
  if (step.action == planner::Action::screw) {
    for (const planner::ContactId id : step.contacts) {
      const planner::Contact& c = loaded.contacts.contact(id);
      if (c.kind != planner::ContactKind::thread) continue;
      const bool male_turns = std::find(step.moving.begin(), step.moving.end(), c.a) != step.moving.end();
      const PartId turning = male_turns ? c.a : c.b;
      const PartId held = male_turns ? c.b : c.a;
      facts.push_back(held < 0 ? say(deck_says::kTurnRoom, name_of(loaded.frame, turning, lies))
                               : say(deck_says::kTurnHold, name_of(loaded.frame, turning, lies),
                                     name_of(loaded.frame, held, lies)));
      facts.push_back(turns_in_words(step.turns));
      break;
    }
  }
  for (std::string& fact : screw_facts(loaded, step)) facts.push_back(std::move(fact));
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

/// A part that is easily forgotten at the step that puts it on, and closed out by a later one that does not need it.
void add_traps(const EarlyInOrder& early, std::vector<Card>& cards) {
  // Four legs that one step closes off are asked for in one question, where they cost the same.
  struct Closed {
    int step = 0, most = 0;
    std::string joints;
    std::vector<std::string> labels;
  };
  std::vector<Closed> closed;
  for (std::size_t i = 0; i < early.last_calls.size(); ++i) {
    for (const planner::EarlyPart& facts : early.last_calls[i]) {
      if (!easily_forgotten(facts)) continue;
      const int most = facts.price.at_most();
      const std::string& label = facts.part.label;
      const std::string joints = bounded_text(facts.price.at_least(), most);
      const int closing = facts.last_call.step;
      cards[i].traps.push_back(say_n(most, "Put {1} on now. After step {2} it can't go on: {3} joint to undo.",
                                     "Put {1} on now. After step {2} it can't go on: {3} joints to undo.", label,
                                     closing, joints));
      if (closing < 1 || at(closing) > cards.size()) continue;
      const auto known = std::find_if(closed.begin(), closed.end(), [&](const Closed& other) {
        return other.step == closing && other.joints == joints;
      });
      if (known == closed.end()) {
        closed.push_back({closing, most, joints, {label}});
      } else {
        known->labels.push_back(label);
      }
    }
  }
  for (const Closed& trap : closed) {
    const std::string labels = listed(trap.labels);
    cards[at(trap.step) - 1].traps.push_back(
        trap.labels.size() == 1
            ? say_n(trap.most, "Is {1} on? If not, stop: after this step, {2} joint to undo.",
                    "Is {1} on? If not, stop: after this step, {2} joints to undo.", labels, trap.joints)
            : say_n(trap.most, "Are {1} on? If one is missing, stop: after this step, {2} joint to undo.",
                    "Are {1} on? If one is missing, stop: after this step, {2} joints to undo.", labels, trap.joints));
  }
}

/// The text with blanks at which no line ends.
std::string unbroken(const std::string& text) {
  std::string out;
  for (const char c : text) out += c == ' ' ? std::string("\u00a0") : std::string(1, c);
  return out;
}

/// Where the plan has a board drilled once its posts stand, and their spacing is to be measured, the card of that step
/// gets lines to be filled in.
void add_measuring(const LoadedFrame& loaded, const std::vector<planner::DrillSheet>& sheets, const OrderPlan& plan,
                   const Lengths& lengths, std::vector<Card>& cards) {
  for (const planner::DrillSheet& sheet : sheets) {
    const auto step = std::find_if(plan.chores.at_step.begin(), plan.chores.at_step.end(), [&](const auto& chore) {
      const std::vector<PartId>& boards = chore.second.parts;
      return std::find(boards.begin(), boards.end(), sheet.board) != boards.end();
    });
    if (step == plan.chores.at_step.end()) continue;
    std::string text;
    for (const planner::DrillPair& pair : sheet.pairs) {
      if (pair.drop != planner::Drop::measure_first && !pair.measured) continue;
      if (!text.empty()) text += "; ";
      if (text.empty() && !pair.measured) text = unbroken(say(deck_says::kMeasureHere)) + " ";
      const std::string one = name_of(loaded.frame, sheet.holes[at(pair.first)].pipe);
      const std::string other = name_of(loaded.frame, sheet.holes[at(pair.second)].pipe);
      text += unbroken(pair.measured ? say(deck_says::kMeasured, one, other, lengths(*pair.measured))
                                     : say(deck_says::kMeasure, one, other, lengths(pair.posts)));
    }
    if (!text.empty()) cards[at(step->first) - 1].first.push_back(std::move(text));
  }
}

/// "P3: 3/4 in pipe, 10 in", "S1: 36 in x 12 in x 3/4 in", "C1: 3/4 in coupling"; a fitting of two sizes has both.
std::string size_text(const Frame& frame, PartId id, const Lengths& lengths) {
  const model::Part& part = frame.part(id);
  if (part.kind == model::PartKind::board) {
    const model::Board& board = frame.board_of(id);
    std::vector<double> sizes{board.hi.x - board.lo.x, board.hi.y - board.lo.y, board.hi.z - board.lo.z};
    std::sort(sizes.rbegin(), sizes.rend());
    return say_in("a part and its size", "{0}: {1} x {2} x {3}", part.label, lengths(sizes[0]), lengths(sizes[1]),
                  lengths(sizes[2]));
  }
  std::string size = model::nominal_sizes()[at(part.size)];
  for (const model::Port& port : part.ports) {
    if (port.size == part.size) continue;
    size += " x " + model::nominal_sizes()[at(port.size)];
    break;
  }
  if (part.kind == model::PartKind::pipe)
    return say_in("a part and its size", "{0}: {1} in pipe, {2}", part.label, size, lengths(part.length));
  return say_in("a part and its size", "{0}: {1} in {2}", part.label, size, kind_word(model::word_for(part.kind)));
}

/// Of what the step brings, if that is one or two parts.
std::vector<std::string> sizes_of(const Frame& frame, const PictureOptions& picture, const Lengths& lengths) {
  std::vector<std::string> out;
  for (const PartId id : picture.emphasised) {
    std::string text = size_text(frame, id, lengths);
    if (std::find(out.begin(), out.end(), text) == out.end()) out.push_back(std::move(text));
  }
  if (out.size() > 2) out.clear();
  return out;
}

/// One place to look from as long as it can be, and words where it must change.
void look_at(const Frame& frame, Deck& deck) {
  std::vector<const PictureOptions*> pictures;
  for (const Card& card : deck.cards) pictures.push_back(&card.picture);
  const std::vector<View> views = views_in_a_row(frame, pictures);
  View before;
  for (std::size_t i = 0; i < views.size(); ++i) {
    Card& card = deck.cards[i];
    card.picture.view = views[i];
    if (turn_between(views[i], before) > 0.5) card.seen = describe(views[i]);
    before = views[i];
  }
}

/// What stands before the cards, but for the chores.
void add_cover(const Frame& frame, const planner::Shopping& shopping, std::size_t steps, const Lengths& lengths,
               Deck& deck) {
  deck.name = frame.name;
  for (const model::Part& part : frame.parts) {
    if (std::find(deck.tapes.begin(), deck.tapes.end(), part.label) == deck.tapes.end())
      deck.tapes.push_back(part.label);
  }
  deck.summary =
      say(deck_says::kSummary, say_n(static_cast<long long>(steps), "{} step", "{} steps"),
          say_n(static_cast<long long>(deck.tapes.size()), "{} part", "{} parts"), weight(shopping.mass, frame.units));
  const model::Bounds all = model::over_all(frame);
  const model::Vec3 over = all.hi - all.lo;
  const std::vector<std::string> sizes{lengths(over.x), lengths(over.y), lengths(over.z)};
  deck.size = say("{0} wide, {1} deep, {2} high over all", sizes[0], sizes[1], sizes[2]);
  deck.sizes = dimensions_over_all(all.lo, all.hi, sizes);
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
}

/// What the name of a piece that the step joins goes on: what moves, where that is the piece; else the piece, to which
/// something else comes.
std::vector<PartId> named_as_piece(const PictureOptions& picture, const std::vector<PartId>& piece) {
  if (!picture.start) return piece;
  const std::vector<PartId>& moving = picture.start->parts;
  const auto among = [](const std::vector<PartId>& list, PartId id) {
    return std::find(list.begin(), list.end(), id) != list.end();
  };
  if (std::any_of(piece.begin(), piece.end(), [&](PartId id) { return among(moving, id); })) return moving;
  return piece;
}

/// Step `i` of the plan, counted from 0, with its words.
Card card_of(const LoadedFrame& loaded, const Finding& finding, const OrderPlan& plan, std::size_t i,
             const StepWords& words, const std::vector<model::Attitude>& lies, const Lengths& lengths) {
  const Frame& frame = loaded.frame;
  const std::vector<Step>& steps = plan.best.order.steps;
  Card card;
  card.number = steps[i].number;
  if (plan.priced && plan.grouping.of_step[i] >= 0) {
    card.strip = say(deck_says::kPiece, plan.grouping.pieces[at(plan.grouping.of_step[i])].name);
  }
  card.first = paragraphs(before_step_text(frame, loaded.contacts, plan, i));
  for (std::string& line : card.first) {  // in a band of its own a line leads to nothing
    if (line.ends_with(':')) line.back() = '.';
  }
  card.text = words.text;
  card.cautions = words.cautions;
  card.notes = under_step(frame, finding.as_made(frame), loaded.contacts, plan, i);
  HowItStands how{stands_at(plan, i), {}, !stands_alone(plan, i), words.hands, words.steadied, words.tied};
  if (i < lies.size()) {
    how.lies = lies[i];
    card.pose = pose_words(lies[i]);
  }
  card.picture = step_picture(frame, loaded.contacts, steps, card.number, how);
  for (const planner::Subassembly& piece : plan.grouping.pieces) {
    if (!plan.priced || piece.joined_in != card.number) continue;
    card.picture.piece = say(deck_says::kPiece, piece.name);
    card.picture.piece_parts = named_as_piece(card.picture, piece.parts);
  }
  card.facts = sizes_of(frame, card.picture, lengths);
  for (std::string& fact : facts_of(loaded, steps[i], words.hands, how.lies)) card.facts.push_back(std::move(fact));
  const bool helped = std::any_of(card.picture.help.begin(), card.picture.help.end(),
                                  [](const Help& help) { return help.figure == Figure::person; });
  if (helped && words.hands == 1) card.facts.push_back(say(deck_says::kHelper));
  return card;
}

/// For each label to tape on, the step that brings its part, or that first takes hold of what others are brought to.
void add_tape_steps(const Frame& frame, Deck& deck) {
  for (const std::string& label : deck.tapes) {
    const auto first_with = [&](std::vector<PartId> PictureOptions::*parts) {
      const auto card = std::find_if(deck.cards.begin(), deck.cards.end(), [&](const Card& one) {
        const std::vector<PartId>& among = one.picture.*parts;
        return std::any_of(among.begin(), among.end(), [&](PartId id) { return frame.part(id).label == label; });
      });
      return card == deck.cards.end() ? 0 : card->number;
    };
    const int brings = first_with(&PictureOptions::emphasised);
    deck.tape_steps.push_back(brings > 0 ? brings : first_with(&PictureOptions::labelled));
  }
}

/// What is left to do when the last card is done.
void add_after(const Frame& frame, const Finding& finding, const OrderPlan& plan, const Lengths& lengths, Deck& deck) {
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
}

}  // namespace

void add_swaps(const LoadedFrame& loaded, const std::vector<Step>& steps, Working* working, Deck& deck) {
  deck.swaps = swap_rows(loaded, steps, working);
  if (deck.swaps.empty()) return;
  deck.about_swaps = {say(deck_says::kSwaps)};
  if (std::any_of(deck.swaps.begin(), deck.swaps.end(), has_jump))
    deck.about_swaps.push_back(say(deck_says::kSwapJump));
  deck.about_swaps.push_back(off_terminal(say(deck_says::kSwapBeyond)));
  if (std::any_of(deck.swaps.begin(), deck.swaps.end(), [](const SwapRow& r) { return r.at_least != r.at_most; })) {
    deck.about_swaps.push_back(say(deck_says::kSwapDoubt));
  }
}

Deck deck_of(const LoadedFrame& loaded, const Finding& finding, const OrderPlan& plan, const Lengths& lengths,
             const std::vector<planner::DrillSheet>& sheets, Working* working) {
  const Frame& frame = loaded.frame;
  const std::vector<Step>& steps = plan.best.order.steps;
  Deck deck;
  add_cover(frame, planner::shopping_of(frame, finding.fit), steps.size(), lengths, deck);
  deck.before = chores_of(plan.chores.before, frame.units);
  const std::vector<model::Attitude> lies = lies_at_steps(plan);
  const std::vector<StepWords> words = words_with_turns(frame, loaded.contacts, finding.fit, steps, lies);
  for (std::size_t i = 0; i < steps.size(); ++i) {
    deck.cards.push_back(card_of(loaded, finding, plan, i, words[i], lies, lengths));
  }
  add_measuring(loaded, sheets, plan, lengths, deck.cards);
  add_tape_steps(frame, deck);
  look_at(frame, deck);
  add_traps(early_in_order(frame, loaded.contacts, steps, working), deck.cards);
  add_asides(loaded, finding, plan, working, deck);
  add_after(frame, finding, plan, lengths, deck);
  return deck;
}

}  // namespace dryfit::cli
