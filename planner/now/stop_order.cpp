#include "planner/now/stop_order.hpp"

#include <algorithm>
#include <optional>
#include <set>
#include <utility>

#include "model/geometry/at.hpp"
#include "planner/now/sorted_contacts.hpp"
#include "planner/now/stops.hpp"
#include "planner/order/steps.hpp"

namespace dryfit::planner {
namespace {

constexpr long long kCompared = 400;       // orders
constexpr std::size_t kMostMoves = 300;    // longer orders keep their places
constexpr double kDearer = 1.05;           // so much effort may better stops cost
constexpr double kUneven = 1.5;            // as Stops::best
constexpr double kEqual = 1e-9;
constexpr std::size_t kSingleSteps = 40;   // of orders longer than that only pieces and boards are moved

/// What each move undoes, first undone first.
using Undos = std::vector<std::vector<ContactId>>;

struct Rating {
  int missing = 0;       ///< stops that are wanted and not there
  int lying = 0;         ///< pieces and loose boards at all stops
  double weight = 0.0;   ///< of the order, wishes included
  double longest = 0.0;  ///< stretch between stops, seconds of easy work
};

bool is_better(const Rating& a, const Rating& b) {
  if (a.missing != b.missing) return a.missing < b.missing;
  if (a.lying != b.lying) return a.lying < b.lying;
  return a.weight < b.weight - kEqual;
}

class StopSearch {
 public:
  StopSearch(const model::Frame& frame, const ContactList& list, int count, const BestOptions& options)
      : frame_(frame),
        list_(list),
        undoer_(frame, list),
        effort_(undoer_, options.people),
        handling_(undoer_, effort_, options.pose),
        count_(count),
        options_(options) {}

  StopOrder run(const BestOrder& given) {
    StopOrder found{given, 0.0, 0};
    rating_ = rated(given, stops_);
    first_ = rating_;
    dearest_ = kDearer * given.effort.value + kEqual;
    unwanted_ = given.effort.unwanted + kEqual;
    bound_ = given.effort.lower_bound + given.effort.unwanted;
    while (goes_on() && improve(found.best)) continue;
    found.more = std::max(0.0, found.best.effort.value - given.effort.value);
    found.compared = compared_;
    return found;
  }

 private:
  [[nodiscard]] bool goes_on() const {
    return compared_ < kCompared && may_go_on(options_.foreman, compared_, kCompared);
  }

  /// Takes the first order that is better; false when none is.
  bool improve(BestOrder& best) {
    Undos undos;
    for (const Move& move : best.undo_moves) undos.push_back(move.contacts);
    for (const Stop& stop : stops_) {
      for (const LeftPiece& left : stop.pieces) {
        if (try_piece(best, undos, stop, left)) return true;
      }
    }
    if (undos.size() > kSingleSteps) return false;
    for (std::size_t i = 0; i < undos.size(); ++i) {
      for (std::size_t j = 0; j < undos.size(); ++j) {
        if (i == j || !goes_on()) continue;
        Undos other = undos;
        other.erase(other.begin() + static_cast<std::ptrdiff_t>(i));
        other.insert(other.begin() + static_cast<std::ptrdiff_t>(j), undos[i]);
        if (take_if_better(best, other)) return true;
      }
    }
    return false;
  }

  /// The piece begun only after the stop, its boards put on only then, or what comes next to it made before.
  bool try_piece(BestOrder& best, const Undos& undos, const Stop& stop, const LeftPiece& left) {
    // Moves from `before` on, counted from the last, are made before the stop.
    const std::size_t before = undos.size() - at(stop.after_step);
    std::set<PartId> parts(left.piece.parts.begin(), left.piece.parts.end());
    std::set<PartId> slack(left.piece.slack.begin(), left.piece.slack.end());
    const auto touches = [&](std::size_t k, const std::set<PartId>& some) {
      return std::any_of(undos[k].begin(), undos[k].end(), [&](ContactId c) {
        return some.contains(list_.contact(c).a) || some.contains(list_.contact(c).b);
      });
    };
    for (const auto* some : {&slack, &parts}) {
      std::vector<std::size_t> later, sooner;
      for (std::size_t k = before; k < undos.size(); ++k) {
        if (touches(k, *some)) later.push_back(k);
      }
      for (std::size_t k = before; k-- > 0 && sooner.empty();) {
        if (touches(k, parts)) sooner.push_back(k);
      }
      if (!later.empty() && goes_on() && take_if_better(best, moved(undos, later, before))) return true;
      if (!sooner.empty() && goes_on() && take_if_better(best, moved(undos, sooner, before))) return true;
    }
    return false;
  }

  /// Those moves taken out and put in just before the one at `place`, or just behind it where they come from before it.
  static Undos moved(const Undos& undos, const std::vector<std::size_t>& which, std::size_t place) {
    Undos out, block;
    for (const std::size_t k : which) block.push_back(undos[k]);
    for (std::size_t k = 0; k <= undos.size(); ++k) {
      if (k == place) out.insert(out.end(), block.begin(), block.end());
      if (k < undos.size() && std::find(which.begin(), which.end(), k) == which.end()) out.push_back(undos[k]);
    }
    return out;
  }

  bool take_if_better(BestOrder& best, const Undos& undos) {
    ++compared_;
    std::optional<BestOrder> other = as_order(best, undos);
    if (!other || other->effort.value > dearest_ || other->effort.unwanted > unwanted_) return false;
    std::vector<Stop> stops;
    const Rating rating = rated(*other, stops);
    const double allowed = std::max(kUneven * work_ / (count_ + 1.0), first_.longest);
    if (rating.missing == 0 && first_.missing == 0 && rating.longest > allowed + kEqual) return false;
    if (!is_better(rating, rating_)) return false;
    best = *std::move(other);
    rating_ = rating;
    stops_ = std::move(stops);
    return true;
  }

  /// The moves in that order, each by its cheapest way; nothing where one of them is not legal there.
  std::optional<BestOrder> as_order(const BestOrder& like, const Undos& undos) {
    BestOrder order = like;
    order.undo_moves.clear();
    order.choices.clear();
    State state(list_);
    double extra = 0.0;
    for (const auto& contacts : undos) {
      std::optional<PricedMove> cheapest;
      const std::vector<ContactId> wanted = sorted_contacts(contacts);
      for (Move& way : undoer_.ways(state, contacts.front())) {
        if (sorted_contacts(way.contacts) != wanted) continue;
        PricedMove priced = effort_.price(state, std::move(way));
        if (!cheapest || priced.extra.total() < cheapest->extra.total() - kEqual) cheapest = std::move(priced);
      }
      if (!cheapest) return std::nullopt;
      state.undo(contacts);
      extra += cheapest->extra.total();
      StepChoice choice;
      choice.extra = cheapest->extra;
      order.choices.push_back(choice);
      order.undo_moves.push_back(std::move(cheapest->move));
    }
    order.poses = plan_poses(handling_, list_, order.undo_moves);
    EffortReport& effort = order.effort;
    effort.handling = order.poses.handling;
    effort.unwanted = order.poses.unwanted;
    effort.value = effort.base + effort.handling + extra;
    const double weight = effort.value + effort.unwanted;
    effort.lower_bound = std::min(bound_, weight) - effort.unwanted;
    effort.proven = weight <= bound_ + kEqual;
    order.order.steps = steps_of(frame_, list_, order.undo_moves, order.poses.of_move);
    return order;
  }

  /// `stops`: the best ones, or all places where there are too few.
  Rating rated(const BestOrder& order, std::vector<Stop>& stops) {
    const std::vector<Step>& steps = order.order.steps;
    std::vector<Pose> poses(order.poses.of_move.rbegin(), order.poses.of_move.rend());
    Stops places(undoer_, steps, std::move(poses), options_.people);
    Rating rating;
    rating.weight = order.effort.value + order.effort.unwanted;
    auto best = places.best(count_);
    rating.missing = best ? 0 : count_ - static_cast<int>(places.places().size());
    stops = best ? *std::move(best) : places.places();
    if (rating.missing > 0) return rating;
    work_ = places.work();
    double left = work_;
    for (const Stop& stop : stops) {
      rating.lying += stop.lying_about();
      rating.longest = std::max(rating.longest, stop.work_before);
      left -= stop.work_before;
    }
    rating.longest = std::max(rating.longest, left);
    return rating;
  }

  const model::Frame& frame_;
  const ContactList& list_;
  Undoer undoer_;
  Effort effort_;
  Handling handling_;
  int count_;
  const BestOptions& options_;
  Rating rating_, first_;
  std::vector<Stop> stops_;  ///< of the best order so far
  double work_ = 0.0, dearest_ = 0.0, unwanted_ = 0.0, bound_ = 0.0;
  long long compared_ = 0;
};

}  // namespace

StopOrder order_for_stops(const model::Frame& frame, const ContactList& list, const BestOrder& best, int count,
                          const BestOptions& options) {
  if (best.undo_moves.size() > kMostMoves || best.undo_moves.size() != best.order.steps.size()) return {best, 0.0, 0};
  return StopSearch(frame, list, count, options).run(best);
}

}  // namespace dryfit::planner
