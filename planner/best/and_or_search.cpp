#include "planner/best/and_or_search.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <set>
#include <utility>

#include "model/geometry/at.hpp"
#include "planner/peel/peel.hpp"

namespace dryfit::planner {
namespace {

constexpr double kEps = 1e-9;

bool settled(const TakenApart& best) { return best.upper <= best.lower + kEps; }

}  // namespace

AndOrSearch::AndOrSearch(Undoer& undoer, const Effort& effort, const Handling& handling, const BestOptions& options)
    : undoer_(undoer),
      frame_(undoer.frame()),
      list_(undoer.list()),
      effort_(effort),
      handling_(handling),
      options_(options),
      symmetries_(symmetries_of(frame_, list_)),
      refused_(list_.contacts.size(), RefusalMemory::kMany),
      bound_(undoer, effort, [this] { return spent(); }) {
  for (const Contact& contact : list_.contacts) {
    const model::Vec3 corner = effort_.bounds(contact.a).lo;
    corners_.push_back(
        {std::llround(corner[0] * 10.0), std::llround(corner[1] * 10.0), std::llround(corner[2] * 10.0)});
  }
}

TakenApart AndOrSearch::without_props() { return all(whole_frame(Props::needed_always), {}, kNever); }

TakenApart AndOrSearch::with_props(double limit) { return all(whole_frame(Props::all), {}, limit); }

bool AndOrSearch::stopped() {
  if (!stopped_) stopped_ = !may_go_on(options_.foreman, undoer_.work().attempts, options_.budget);
  return stopped_;
}

bool AndOrSearch::spent() { return stopped() || undoer_.work().attempts > options_.budget; }

std::string AndOrSearch::key_of_state(const std::vector<char>& made, const Met& met) {
  std::string key(made.begin(), made.end());
  key.push_back(static_cast<char>('a' + static_cast<int>(met.pose) + (met.may_change_pose ? 4 : 0)));
  return key;
}

void AndOrSearch::learn_from_images(Node& node, const std::unordered_map<std::string, Node>& nodes,
                                    const std::vector<char>& made, const Met& met) const {
  for (const ContactMap& map : symmetries_) {
    std::vector<char> image(made.size(), 0);
    for (std::size_t c = 0; c < made.size(); ++c) image[at(map[c])] = made[c];
    const auto known = nodes.find(key_of_state(image, met));
    if (known != nodes.end()) node.best.lower = std::max(node.best.lower, known->second.best.lower);
  }
}

/// Made contacts per cluster that still has any, the far right one first, so that the order begins at the front left;
/// clusters that hold each other as links of a chain do count as one.
std::vector<std::vector<char>> AndOrSearch::clusters_of(const State& state) const {
  std::vector<std::pair<int, std::size_t>> number;  // there are few
  std::vector<std::vector<char>> clusters;
  std::vector<std::pair<std::array<long long, 3>, std::size_t>> places;  // least corner
  const auto number_of = [&](int cluster) {
    const auto known = std::find_if(number.begin(), number.end(), [&](const auto& n) { return n.first == cluster; });
    return known == number.end() ? clusters.size() : known->second;
  };
  for (std::size_t c = 0; c < list_.contacts.size(); ++c) {
    if (!state.made(static_cast<ContactId>(c))) continue;
    const int vertex = list_.vertex(list_.contacts[c].a);
    const std::size_t n = number_of(state.cluster(vertex));
    if (n == clusters.size()) {
      number.emplace_back(state.cluster(vertex), n);
      for (const int linked : handling_.linked_with(state, vertex)) {
        const int other = state.cluster(linked);
        if (number_of(other) == clusters.size()) number.emplace_back(other, n);
      }
      clusters.emplace_back(list_.contacts.size(), 0);
      places.emplace_back(corners_[c], n);
    }
    clusters[n][c] = 1;
    std::array<long long, 3>& least = places[n].first;
    for (std::size_t i = 0; i < 3; ++i) least[i] = std::min(least[i], corners_[c][i]);
  }
  std::stable_sort(places.begin(), places.end(), [](const auto& a, const auto& b) { return a.first > b.first; });
  std::vector<std::vector<char>> sorted;
  for (const auto& place : places) sorted.push_back(std::move(clusters[place.second]));
  return sorted;
}

std::vector<AndOrSearch::Task> AndOrSearch::whole_frame(Props props) const {
  std::vector<Task> tasks;
  Met met;
  met.props = props;
  met.any_pose = !handling_.ends_standing();
  for (std::vector<char>& cluster : clusters_of(State(list_))) tasks.push_back({std::move(cluster), met});
  return tasks;
}

/// Everything after a move: the piece that it brought first, so that forward it is made up just before it is needed.
std::vector<AndOrSearch::Task> AndOrSearch::left_by(const State& state, const PricedMove& priced,
                                                    const Met& met) const {
  State rest = state;
  rest.undo(priced.move.contacts);
  const PartId end = handling_.brought_by(rest, priced.move);
  const int brought = end == model::kNone ? model::kNone : rest.cluster(list_.vertex(end));
  std::vector<Task> tasks;
  for (std::vector<char>& cluster : clusters_of(rest)) {
    const auto first = std::find(cluster.begin(), cluster.end(), 1) - cluster.begin();
    const bool moved = rest.cluster(list_.vertex(list_.contacts[at(first)].a)) == brought;
    tasks.insert(moved ? tasks.begin() : tasks.end(), Task{std::move(cluster), {met.pose, false, true, met.props}});
  }
  return tasks;
}

bool AndOrSearch::is_fastened(const std::vector<char>& made) const {
  const std::vector<ContactId>& room = list_.at[at(list_.room())];
  return std::any_of(room.begin(), room.end(), [&](ContactId c) { return made[at(c)] != 0; });
}

/// A cluster after the search has been ended: whatever goes is undone, and nothing is weighed.
TakenApart AndOrSearch::as_it_comes(const std::vector<char>& made) {
  TakenApart rest;
  rest.lower = bound_.of(made, {}, false);
  rest.upper = 0.0;
  State state(list_, made), before = state;
  for (Move& move : peel(undoer_, state).moves) {
    Done done;
    done.priced = std::make_shared<const PricedMove>(effort_.price(before, std::move(move)));
    rest.upper += done.priced->extra.total();
    before.undo(done.priced->move.contacts);
    rest.moves.push_back(std::make_shared<const Done>(std::move(done)));
  }
  rest.lower = std::min(rest.lower, rest.upper);
  return rest;
}

/// What no longer meets, one after the other: `ask` for the answer to one below a limit that leaves the others what
/// they cost at least.
TakenApart AndOrSearch::sum_of(const std::vector<const std::vector<char>*>& pieces, double limit,
                               const std::function<TakenApart(std::size_t, double)>& ask) {
  std::vector<double> lower;
  TakenApart sum;
  sum.upper = 0.0;
  for (const std::vector<char>* made : pieces) {
    lower.push_back(bound_.of(*made, {}, false));
    sum.lower += lower.back();
  }
  for (std::size_t i = 0; i < pieces.size(); ++i) {
    if (sum.lower >= limit - kEps) {
      sum.upper = kNever;
      return sum;
    }
    const TakenApart part = ask(i, limit - (sum.lower - lower[i]));
    sum.lower += std::max(part.lower, lower[i]) - lower[i];
    sum.upper += part.upper;
    sum.moves.insert(sum.moves.end(), part.moves.begin(), part.moves.end());
  }
  return sum;
}

TakenApart AndOrSearch::all(const std::vector<Task>& tasks, const Place& last, double limit) {
  std::vector<const std::vector<char>*> made;
  for (const Task& task : tasks) made.push_back(&task.made);
  return sum_of(made, limit, [&](std::size_t i, double below) { return one(tasks[i], last, below); });
}

/// A piece in the pose that is asked for; where any will do, on the bench if nothing speaks for another.
TakenApart AndOrSearch::one(const Task& task, const Place& last, double limit) {
  const auto in_its_pose = [&](const Task& now, double below) {
    return now.met.props == Props::all ? counted(now, last, below) : apart(now, last, below);
  };
  if (!task.met.any_pose) return in_its_pose(task, limit);
  Task now = task;
  now.met.any_pose = false;
  now.met.pose = Pose::standing;
  if (is_fastened(task.made)) return in_its_pose(now, limit);
  const double least = bound_.of(task.made, {}, false);
  TakenApart best;
  best.lower = kNever;
  for (const Pose pose : {Pose::laid, Pose::standing, Pose::over}) {
    const double below = std::min(limit, best.upper);
    if (least >= below - kEps || (spent() && best.upper < kNever)) {
      best.lower = std::min(best.lower, least);
      break;
    }
    now.met.pose = pose;
    TakenApart other = in_its_pose(now, below);
    const double lower = std::min(best.lower, other.lower);
    if (other.upper < best.upper - kEps) best = std::move(other);
    best.lower = lower;
  }
  best.lower = std::min(best.lower, best.upper);
  return best;
}

/// Free moves first, then what is left.
TakenApart AndOrSearch::apart(const Task& task, const Place& last, double limit) {
  const std::string key = key_of_state(task.made, task.met);
  auto known = peeled_.find(key);
  if (known == peeled_.end()) {
    Peeled peeled;
    peeled.met = task.met;
    peeled.last = last;
    State state(list_, task.made);
    // A board that lies loose was laid with the work standing, and kept it so.
    const auto any = std::find(task.made.begin(), task.made.end(), 1) - task.made.begin();
    peeled.dead = task.met.pose != Pose::standing &&
                  handling_.keeps_its_pose(state, handling_.piece_of(state, static_cast<ContactId>(any)));
    if (peeled.dead) {
      peeled_.emplace(key, std::move(peeled));
      return {kNever, kNever, {}};
    }
    FreeMoves free(undoer_, effort_, handling_, refused_, free_, task.met.pose);
    for (SharedPriced& move : free.peel(state, last)) {
      peeled.last = place_of(list_, effort_, move->move);
      peeled.met.may_change_pose = true;
      peeled.cost += move->extra.total();
      peeled.moves.push_back(std::make_shared<Done>(Done{std::move(move), {}}));
    }
    peeled.clusters = clusters_of(state);
    std::set<int> pieces;
    for (ContactId c = 0; c < static_cast<ContactId>(list_.contacts.size()); ++c) {
      if (state.made(c)) pieces.insert(state.cluster(list_.vertex(list_.contact(c).a)));
    }
    peeled.fell_apart = !peeled.moves.empty() && pieces.size() > 1;
    known = peeled_.emplace(key, std::move(peeled)).first;
  } else {
    ++cache_hits;
  }
  const Peeled& peeled = known->second;
  if (peeled.dead) return {kNever, kNever, {}};
  std::vector<const std::vector<char>*> made;
  for (const std::vector<char>& cluster : peeled.clusters) made.push_back(&cluster);
  TakenApart rest = sum_of(made, limit - peeled.cost, [&](std::size_t i, double below) {
    return peeled.fell_apart ? apart({peeled.clusters[i], peeled.met}, peeled.last, below)
                             : stuck(peeled.clusters[i], peeled.met, peeled.last, below);
  });
  rest.lower += peeled.cost;
  rest.upper += peeled.cost;
  rest.moves.insert(rest.moves.begin(), peeled.moves.begin(), peeled.moves.end());
  return rest;
}

/// A cluster without free moves: what to do next is weighed.
TakenApart AndOrSearch::stuck(const std::vector<char>& made, const Met& met, const Place& last, double limit) {
  Node& node = nodes_[key_of_state(made, met)];
  if (node.known && (settled(node.best) || node.best.lower >= limit - kEps)) {
    ++cache_hits;
    return node.best;
  }
  learn_from_images(node, nodes_, made, met);
  if (node.best.lower >= limit - kEps) {
    ++cache_hits;
    return node.best;
  }
  if (!node.known) {
    ++states;
    node.known = true;
    node.options = options_of(State(list_, made), met, last);
    node.best.lower = std::max(node.best.lower, bound_.of(made, {}, false));
    if (stopped()) return node.best = as_it_comes(made);
  }
  weigh(node, made, met, last, limit);
  return node.best;
}

/// A cluster with all props counted. What is found without them is a bound, and a way whose props can be counted.
TakenApart AndOrSearch::counted(const Task& task, const Place& last, double limit) {
  Node& node = counted_[key_of_state(task.made, task.met)];
  learn_from_images(node, counted_, task.made, task.met);
  if (settled(node.best) || node.best.lower >= limit - kEps) {
    ++cache_hits;
    return node.best;
  }
  Task without_props = task;
  without_props.met.props = Props::needed_always;
  TakenApart bound = apart(without_props, last, limit);
  node.best.lower = std::max(node.best.lower, bound.lower);
  if (bound.upper < kNever) {
    if (!node.way_cost || bound.moves != node.way) {
      node.way_cost = true_cost(task, bound);
      node.way = bound.moves;
    }
    bound.upper = *node.way_cost;
    if (bound.upper < node.best.upper - kEps) {
      node.best.upper = bound.upper;
      node.best.moves = std::move(bound.moves);
      node.chosen = -1;
    }
  }
  if (settled(node.best) || node.best.lower >= limit - kEps || spent()) return node.best;
  if (!node.known) {
    ++states;
    node.known = true;
    node.options = options_of(State(list_, task.made), task.met, last);
  }
  weigh(node, task.made, task.met, last, limit);
  return node.best;
}

/// By what is left after it, once for each kind of bound.
void AndOrSearch::bound(Option& option, const std::vector<char>& made, bool threads) {
  using Bounded = Option::Bounded;
  if (option.bounded == Bounded::fully || (option.bounded == Bounded::cheaply && !threads)) return;
  static const std::vector<ContactId> kNothing;
  const std::vector<ContactId>& undone = option.new_pose ? kNothing : option.move().contacts;
  option.lower = std::max(option.lower, option.total + bound_.of(made, undone, threads));
  option.bounded = threads ? Bounded::fully : Bounded::cheaply;
}

void AndOrSearch::weigh(Node& node, const std::vector<char>& made, const Met& met, const Place& last, double limit) {
  const State state(list_, made);
  bool threads = false;  // counted in the bound only where the cheaper one does not settle it
  double lower = kNever;
  for (std::size_t i = 0; i < node.options.size(); ++i) {
    Option& option = node.options[i];
    const double below = std::min(limit, node.best.upper);
    if (below < kNever && !stopped()) {
      if (!threads && below > node.best.lower + kEps) {
        if (!node.bounded) node.best.lower = std::max(node.best.lower, bound_.of(made, {}, true));
        threads = node.bounded = true;
      }
      bound(option, made, threads);
      option.lower = std::max(option.lower, node.best.lower);
    }
    if (below < kNever && (option.lower >= below - kEps || spent())) {
      lower = std::min(lower, option.lower);
      continue;
    }
    const Met changed{option.to, false, false, met.props};
    const TakenApart rest = option.new_pose ? one({made, changed}, last, below - option.total)
                                            : all(left_by(state, *option.way, met),
                                                  place_of(list_, effort_, option.move()), below - option.total);
    option.lower = std::max(option.lower, option.total + rest.lower);
    lower = std::min(lower, option.lower);
    if (option.total + rest.upper >= node.best.upper - kEps) continue;
    node.chosen = static_cast<int>(i);
    node.best.upper = option.total + rest.upper;
    node.best.moves = rest.moves;
    if (!option.new_pose) {
      node.best.moves.insert(node.best.moves.begin(), std::make_shared<const Done>(Done{option.way, {}}));
    }
  }
  node.best.lower = std::max(node.best.lower, std::min(lower, node.best.upper));
  tell_choice(node);
}

/// Says of the first move what else could have been done, and what that costs more at least.
void AndOrSearch::tell_choice(Node& node) {
  if (node.chosen < 0 || node.options[at(node.chosen)].new_pose) return;
  const Option& chosen = node.options[at(node.chosen)];
  const Option* second = nullptr;
  for (const Option& option : node.options) {
    if (&option == &chosen || option.new_pose || option.move().contacts == chosen.move().contacts) continue;
    if (option.lower >= kNever) continue;  // there is no order with that move here
    if (second == nullptr || option.lower < second->lower - kEps) second = &option;
  }
  StepChoice choice;
  if (second != nullptr && second->lower >= node.best.upper - kEps) {  // else it is undecided
    choice.weighed = true;
    choice.runner_up = std::max(0.0, second->lower - node.best.upper);
    choice.instead = second->move().contacts;
  }
  node.best.moves.front() = std::make_shared<const Done>(Done{chosen.way, std::move(choice)});
}

/// Of a way to take a piece apart, with all props: its extras and what the best poses for it cost.
double AndOrSearch::true_cost(const Task& task, const TakenApart& way) const {
  double sum = 0.0;
  std::vector<const Move*> moves;
  for (const auto& done : way.moves) {
    sum += done->priced->extra.total();
    moves.push_back(&done->priced->move);
  }
  return sum + plan_poses(handling_, State(list_, task.made), moves, task.met.pose).weight();
}

}  // namespace dryfit::planner
