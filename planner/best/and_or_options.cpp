// What can be done next with a piece in a pose, and what each of it costs there.
#include <algorithm>
#include <cmath>
#include <utility>

#include "planner/best/and_or_search.hpp"

namespace dryfit::planner {
namespace {

constexpr double kSameTotal = 1e-9;

/// The same contacts by the same side.
bool are_same(const Move& a, const Move& b) {
  if (a.contacts.size() != b.contacts.size() || a.moving.empty() != b.moving.empty()) return false;
  return (a.moving.empty() || a.moving.front() == b.moving.front()) &&
         std::is_permutation(a.contacts.begin(), a.contacts.end(), b.contacts.begin());
}

}  // namespace

/// The piece that every move is made on: all of the cluster, when the room does not hold it and nothing is linked with
/// it.
std::optional<PieceInHand> AndOrSearch::loose_whole(const State& state) const {
  const auto any = std::find(state.all().begin(), state.all().end(), 1);
  if (any == state.all().end()) return std::nullopt;
  const auto c = static_cast<ContactId>(any - state.all().begin());
  PieceInHand piece = handling_.piece_of(state, c);
  if (piece.fastened || !handling_.linked_with(state, list_.vertex(list_.contact(c).a)).empty()) return std::nullopt;
  return piece;
}

/// What the pose adds to the move. `whole`: as loose_whole.
double AndOrSearch::in_pose(const State& state, const Move& move, const Met& met,
                            const std::optional<PieceInHand>& whole) const {
  if (whole) {
    const bool props = met.props == Props::all ? handling_.propped(*whole, met.pose)
                                               : handling_.hangs() && met.pose != Pose::laid && !whole->held;
    const double against = handling_.on_what_is_loose(state, move) + handling_.against_links(state, move);
    return handling_.trouble(*whole, move, met.pose) +
           (against + handling_.without_headroom(*whole, move, met.pose) + handling_.unwanted(*whole, move, met.pose)) +
           (props ? handling_.prop() : 0.0);
  }
  const Contact& first = list_.contact(move.contacts.front());
  const std::vector<int> linked = handling_.linked_with(state, first.a);
  const bool fastened = state.holds_room(first.a) ||
                        std::any_of(linked.begin(), linked.end(), [&](int v) { return state.holds_room(v); });
  if (fastened && met.pose != Pose::standing) return kNever;
  const bool propped = met.props == Props::all ? handling_.propped(handling_.piece_of(state, move), met.pose)
                                               : handling_.always_propped(state, move, met.pose);
  return handling_.trouble(state, move, met.pose) + handling_.unwanted(state, move, met.pose) +
         (propped ? handling_.prop() : 0.0);
}

/// All ways to undo the contact. `asked`: what has been asked in the state before.
const std::vector<SharedPriced>& AndOrSearch::ways_of(const State& state, ContactId c, std::vector<Asked>& asked) {
  auto known =
      std::lower_bound(asked.begin(), asked.end(), c, [](const Asked& a, ContactId b) { return a.contact < b; });
  if (known != asked.end() && known->contact == c) {
    undoer_.count_remembered(known->questions);
  } else {
    Asked now;
    now.contact = c;
    const long long before = undoer_.work().attempts;
    std::vector<Refusal> refusals;
    for (Move& move : undoer_.ways(state, c, &refusals)) {
      for (PricedMove& priced : effort_.price_both_ways(state, std::move(move))) {
        now.ways.push_back(std::make_shared<const PricedMove>(std::move(priced)));
      }
    }
    now.questions = undoer_.work().attempts - before;
    if (now.ways.empty()) now.refusals = std::make_shared<const Refusals>(std::move(refusals));
    answers_ += 1 + now.ways.size();
    known = asked.insert(known, std::move(now));
  }
  if (known->ways.empty()) refused_.keep(c, known->refusals);
  return known->ways;
}

/// What can be done next with a piece in a pose, what takes much off for its cost first.
std::vector<AndOrSearch::Option> AndOrSearch::options_of(const State& state, const Met& met, const Place& last) {
  constexpr std::size_t kMostAnswers = 200'000;
  if (answers_ > kMostAnswers) {
    asked_.clear();
    answers_ = 0;
  }
  std::vector<Asked>& asked = asked_[std::string(state.all().begin(), state.all().end())];
  const std::optional<PieceInHand> whole = loose_whole(state);
  ranked_.clear();
  for (ContactId c = 0; c < static_cast<ContactId>(list_.contacts.size()); ++c) {
    if (!state.made(c) || refused_.find(state, c) != nullptr) continue;
    if (stopped()) break;
    for (const SharedPriced& way : ways_of(state, c, asked)) {
      Ranked one;
      one.option.total = way->extra.total() + in_pose(state, way->move, met, whole);
      if (one.option.total >= kNever) continue;
      one.rate = one.option.total / static_cast<double>(std::max<std::size_t>(1, way->move.moving.size()));
      one.key = key_of(frame_, list_, effort_, state, way->move, last, {});
      one.option.way = way;
      const auto same = std::find_if(ranked_.begin(), ranked_.end(),
                                     [&](const Ranked& other) { return are_same(other.option.move(), way->move); });
      if (same == ranked_.end()) {
        ranked_.push_back(std::move(one));
      } else if (one.option.total < same->option.total - kSameTotal) {
        *same = std::move(one);
      }
    }
  }
  if (met.may_change_pose) add_poses(state, met);
  std::stable_sort(ranked_.begin(), ranked_.end(), [](const Ranked& a, const Ranked& b) {
    if (std::abs(a.rate - b.rate) > kSameTotal) return a.rate < b.rate;
    if (a.option.new_pose != b.option.new_pose) return b.option.new_pose;
    return a.key < b.key;
  });
  std::vector<Option> found;
  found.reserve(ranked_.size());
  for (Ranked& ranked : ranked_) found.push_back(std::move(ranked.option));
  return found;
}

void AndOrSearch::add_poses(const State& state, const Met& met) {
  const auto any = std::find(state.all().begin(), state.all().end(), 1) - state.all().begin();
  const PieceInHand piece = handling_.piece_of(state, static_cast<ContactId>(any));
  const double cost = handling_.turn(piece);
  if (cost >= kNever || handling_.keeps_its_pose(state, piece)) return;
  for (const Pose pose : kAllPoses) {
    if (pose == met.pose) continue;
    Ranked change;
    change.option.new_pose = true;
    change.option.to = pose;
    change.option.total = cost;
    change.rate = cost / static_cast<double>(piece.parts.size());
    ranked_.push_back(std::move(change));
  }
}

}  // namespace dryfit::planner
