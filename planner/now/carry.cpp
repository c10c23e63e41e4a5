#include "planner/now/carry.hpp"

#include <algorithm>
#include <stdexcept>
#include <utility>

#include "model/geometry/at.hpp"
#include "planner/change/completion.hpp"
#include "planner/now/apart.hpp"
#include "planner/now/until_judged.hpp"
#include "planner/now/with_itself.hpp"
#include "planner/order/steps.hpp"

namespace dryfit::planner {
namespace {

/// What a question about an opening is answered with.
struct Tools {
  Undoer undoer;
  UndoCost cost;
  Effort effort;
  Links links;
  std::optional<Doorway> door;
  Tools(const model::Frame& frame, const ContactList& list, const std::optional<Opening>& opening, int people)
      : undoer(frame, list), cost(undoer, people), effort(undoer, people), links(frame, list) {
    if (opening) door.emplace(frame, *opening);
  }
  [[nodiscard]] PieceBox box(const std::vector<PartId>& parts) const {
    return door ? door->box_of(parts) : PieceBox{};
  }
  std::vector<CarriedPiece> pieces(const std::vector<char>& made) {
    std::vector<CarriedPiece> carried;
    for (LoosePiece& piece : loose_pieces(undoer, effort, links, State(undoer.list(), made))) {
      PieceBox size = box(piece.parts);
      carried.push_back({std::move(piece), size});
    }
    return carried;
  }
  [[nodiscard]] std::vector<CarriedPiece> alone(const std::vector<PartId>& parts) const {
    std::vector<CarriedPiece> carried;
    for (const PartId p : parts) {
      LoosePiece piece;
      piece.parts = {p};
      piece.lift = effort.lift_of(piece.parts);
      carried.push_back({std::move(piece), box({p})});
    }
    return carried;
  }
};

/// What is made up before the door as the order of the whole frame has it, whose poses and props were weighed, unless
/// another way saves a tenth of the work.
WayBetween made_up(Tools& tools, const std::vector<char>& standing, const std::vector<char>& made,
                   const NowOptions& options) {
  constexpr double kWorthAnother = 0.9;
  WayBetween easy =
      way_between(tools.undoer, tools.cost, standing, made, options.order, options.weighing, options.foreman);
  WayBetween usual = way_between(tools.undoer, tools.cost, standing, made, options.order, 0, options.foreman);
  if (!easy.possible) throw std::logic_error("what is carried cannot be made up");
  if (easy.effort.at_most < kWorthAnother * usual.effort.at_most) return easy;
  usual.effort.at_least = std::min(easy.effort.at_least, usual.effort.at_most);
  usual.states = easy.states;
  return usual;
}

/// Takes off what stands in the way, and says what is left.
std::vector<char> take_off(Carry& plan, Tools& tools, const TooLarge& too_large, const std::vector<char>& built,
                           const NowOptions& options) {
  const Matching same = with_itself(tools.undoer.frame(), tools.undoer.list(), {});
  Completion completion(tools.undoer, same);
  Apart off = apart_for(tools.undoer, tools.cost, too_large,
                        {built, {}, [&](const State& state) { return completion.unmet(state); }}, options);
  plan.undo = std::move(off.moves);
  plan.undo_moves = off.fewest;
  plan.states += off.states;
  return std::move(off.made);
}

Carry search_carry(const model::Frame& frame, const ContactList& list, const std::vector<char>& built,
                   const Opening& opening, const NowOptions& options) {
  Carry plan;
  Tools tools(frame, list, opening, options.people);
  const TooLarge too_large(list, tools.links, *tools.door);
  plan.too_large = tools.alone(too_large.parts());
  if (!plan.too_large.empty()) return plan;
  const bool bare = std::none_of(built.begin(), built.end(), [](char c) { return c != 0; });
  const std::vector<char> standing = bare ? built : take_off(plan, tools, too_large, built, options);
  for (std::size_t c = 0; c < standing.size(); ++c) {
    if (standing[c] != 0) plan.kept.push_back(static_cast<ContactId>(c));
  }
  const std::vector<char> whole(list.contacts.size(), 1);
  const Apart apart = apart_for(tools.undoer, tools.cost, too_large, {whole, standing, {}}, options);
  const WayBetween before = made_up(tools, standing, apart.made, options);
  plan.pieces = tools.pieces(apart.made);
  plan.before = steps_of(frame, list, before.moves);
  plan.on_spot = steps_of(frame, list, apart.moves);
  for (Step& step : plan.on_spot) step.number += static_cast<int>(plan.before.size());
  plan.spot_moves = apart.fewest;
  if (!plan.undo.empty()) {
    // Something else could come off: what holds then holds whatever stays made.
    const Apart any = apart_for(tools.undoer, tools.cost, too_large, {whole, {}, {}}, options);
    plan.spot_moves.at_least = std::min(any.fewest.at_least, plan.spot_moves.at_most);
    plan.states += any.states;
  }
  plan.effort = {before.effort.at_least + apart.effort.at_least, before.effort.at_most + apart.effort.at_most};
  plan.states += apart.states + before.states;
  return plan;
}

TakeDown search_down(const model::Frame& frame, const ContactList& list, const std::vector<char>& built,
                     const std::optional<Opening>& opening, const NowOptions& options) {
  TakeDown plan;
  Tools tools(frame, list, opening, options.people);
  std::vector<char> left(built.size(), 0);
  if (opening) {
    const TooLarge too_large(list, tools.links, *tools.door);
    plan.too_large = tools.alone(too_large.parts());
    if (!plan.too_large.empty()) return plan;
    Apart apart = apart_for(tools.undoer, tools.cost, too_large, {built, {}, {}}, options);
    plan.undo = std::move(apart.moves);
    plan.undo_moves = apart.fewest;
    plan.effort = apart.effort;
    plan.states = apart.states;
    left = std::move(apart.made);
  } else {
    WayBetween way = way_between(tools.undoer, tools.cost, left, built, options.order, options.weighing,
                                 options.foreman);
    if (!way.possible) throw std::logic_error("what stands does not come apart");
    plan.undo = std::move(way.moves);
    const auto own = std::count_if(list.contacts.begin(), list.contacts.end(), [&](const Contact& contact) {
      return built[at(&contact - list.contacts.data())] != 0 && takes_own_move(contact.kind);
    });
    plan.undo_moves = {static_cast<double>(own), static_cast<double>(plan.undo.size())};
    plan.effort = way.effort;
    plan.states = way.states;
  }
  plan.pieces = tools.pieces(left);
  return plan;
}

}  // namespace

Carry carry(const model::Frame& frame, const ContactList& list, const Opening& opening, const NowOptions& options) {
  return carry(frame, list, std::vector<char>(list.contacts.size(), 0), opening, options);
}

Carry carry(const model::Frame& frame, const ContactList& list, const std::vector<char>& built, const Opening& opening,
            const NowOptions& options) {
  return until_judged(
      list, "an order",
      [&](const ContactList& open) { return search_carry(frame, open, built, opening, options); },
      [&](const Carry& plan, std::string& why) -> std::optional<StruckOut> {
        if (!plan.too_large.empty()) return std::nullopt;
        std::vector<Step> steps = plan.before;
        steps.insert(steps.end(), plan.on_spot.begin(), plan.on_spot.end());
        std::vector<char> made = built;
        return judged(frame, list, made, plan.undo, steps, &why);
      });
}

TakeDown take_down(const model::Frame& frame, const ContactList& list, const std::vector<char>& built,
                   const std::optional<Opening>& opening, const NowOptions& options) {
  return until_judged(
      list, "a way down", [&](const ContactList& open) { return search_down(frame, open, built, opening, options); },
      [&](const TakeDown& plan, std::string& why) -> std::optional<StruckOut> {
        std::vector<char> made = built;
        return judged(frame, list, made, plan.undo, {}, &why);
      });
}

}  // namespace dryfit::planner
