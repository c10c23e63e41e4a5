#include "tests/support/every/order_graph.hpp"

#include <algorithm>
#include <cmath>
#include <compare>
#include <limits>
#include <map>
#include <set>
#include <utility>

#include "tests/support/naive/naive_effort.hpp"
#include "tests/support/naive/naive_handling.hpp"
#include "tests/support/naive/naive_heavy.hpp"
#include "tests/support/naive/naive_links.hpp"
#include "tests/support/naive/naive_pieces.hpp"

namespace dryfit::test {
namespace {

using planner::Contact;
using planner::ContactId;
using planner::ContactList;
using planner::Move;
using planner::Pose;

constexpr Pose kPoses[] = {Pose::standing, Pose::laid, Pose::over};

/// What is made, and per part the pose of its piece; 0 for a part on its own, 1 to 3 for the poses.
struct Situation {
  std::vector<char> made;
  std::vector<char> pose;
  auto operator<=>(const Situation&) const = default;
};

/// A move that takes something off.
struct Done {
  Move move;
  std::vector<NaiveWay> ways;
  NaivePiece piece;
  double weighs = 0.0;  ///< against it: what is laid on loose things, what is moved in rings, what is heavy too early
  std::vector<char> rest;
};

/// The piece of a part, the room left out, and whether it is screwed to the room.
std::set<int> piece_of(const ContactList& list, const std::vector<char>& made, int part, bool& fastened) {
  const auto inside = [](const Contact& c) { return c.b != model::kRoom; };
  const std::set<int> piece = together(list, made, part, inside);
  fastened = false;
  for (std::size_t c = 0; c < made.size(); ++c) {
    if (made[c] != 0 && list.contacts[c].b == model::kRoom) fastened |= piece.count(list.contacts[c].a) != 0;
  }
  return piece;
}

/// The piece with what rings hold it with.
NaivePiece with_rings(const NaiveLinks& links, const ContactList& list, const std::vector<char>& made,
                      const NaivePiece& piece, const Move& move) {
  const std::set<int> own = together(list, made, *piece.parts.begin());
  const std::set<int> all = links.held_with(made, own);
  NaivePiece whole = piece;
  for (const NaiveThreading& threading : links.threadings()) {
    if (!links.holds(threading, made)) continue;
    for (const int end : {threading.of_ring, threading.through}) {
      if (own.count(end) != 0 || all.count(end) == 0) continue;
      whole.parts.merge(together(list, made, end, [](const Contact& c) { return c.b != model::kRoom; }));
    }
  }
  for (ContactId c = 0; c < static_cast<ContactId>(made.size()); ++c) {
    const Contact& k = contact(list, c);
    if (made[dryfit::at(c)] == 0 || k.b != model::kRoom || whole.parts.count(k.a) == 0) continue;
    whole.fastened = true;
    if (c != move.contacts.front()) whole.held = true;
  }
  return whole;
}

/// Every move from what is made.
std::vector<Done> moves_from(planner::Undoer& undoer, const NaiveLinks& links, const NaiveHeavy& heavy,
                             const std::vector<char>& made, int people) {
  const model::Frame& frame = undoer.frame();
  const ContactList& list = undoer.list();
  const planner::State state(list, made);
  std::vector<Done> all;
  for (ContactId c = 0; c < static_cast<ContactId>(made.size()); ++c) {
    for (const Move& move : undoer.ways(state, c)) {
      Done done;
      done.move = move;
      done.ways = naive_ways(frame, list, made, move, people);
      done.piece = with_rings(links, list, made, naive_piece(list, made, move), move);
      done.weighs = naive_on_loose(frame, list, made, move) + links.against(made, move) + heavy.too_early(made, move);
      done.rest = made;
      for (const ContactId gone : move.contacts) done.rest[dryfit::at(gone)] = 0;
      all.push_back(std::move(done));
    }
  }
  return all;
}

/// A board lies loose on the piece.
bool stays(planner::Undoer& undoer, const std::vector<char>& made, const NaivePiece& piece) {
  const planner::State state(undoer.list(), made);
  return naive_keeps_pose(undoer.frame(), undoer.list(), made, piece,
                          [&](ContactId rest) { return undoer.try_undo(state, rest).legal; });
}

/// What holding a piece up costs, worked out once for each.
class Props {
 public:
  explicit Props(const model::Frame& frame) : frame_(frame) {}
  double cost(const NaivePiece& piece, Pose pose) {
    const auto [at, is_new] = known_.try_emplace({piece, pose});
    if (is_new) at->second = naive_propped(frame_, piece, pose) ? rate("prop") : 0.0;
    return at->second;
  }

 private:
  const model::Frame& frame_;
  std::map<std::pair<NaivePiece, Pose>, double> known_;
};

class GraphBuilder {
 public:
  GraphBuilder(const model::Frame& frame, const ContactList& list, int people)
      : frame_(frame),
        list_(list),
        people_(people),
        undoer_(frame, list),
        links_(frame, list),
        heavy_(undoer_),
        props_(frame) {}

  StateGraph build(int most_states) {
    ++graph_.states;
    const std::vector<char> all(list_.contacts.size(), 1);
    for (const char q : frame_.surfaces.empty() ? std::vector<char>{1, 2, 3} : std::vector<char>{1}) {
      const std::vector<char> pose(frame_.parts.size(), q);
      graph_.passages.push_back({0, number_of({all, poses_of_pieces(all, pose)}), 0.0});
    }
    for (std::size_t i = 0; i < open_.size(); ++i) {
      graph_.whole = graph_.states <= most_states;
      if (!graph_.whole) break;
      const Situation now = open_[i];
      if (std::count(now.made.begin(), now.made.end(), 0) == static_cast<std::ptrdiff_t>(now.made.size())) {
        graph_.bare = static_cast<int>(i) + 1;
      }
      leave(static_cast<int>(i) + 1, now);
    }
    return std::move(graph_);
  }

 private:
  int number_of(const Situation& situation) {
    const auto [at, is_new] = number_.emplace(situation, graph_.states);
    if (is_new) {
      ++graph_.states;
      open_.push_back(situation);
    }
    return at->second;
  }

  /// Parts on their own lose their pose.
  std::vector<char> poses_of_pieces(const std::vector<char>& made, std::vector<char> pose) const {
    for (std::size_t p = 0; p < pose.size(); ++p) {
      bool fastened = false;
      if (piece_of(list_, made, static_cast<int>(p), fastened).size() == 1 && !fastened) pose[p] = 0;
    }
    return pose;
  }

  void leave(int from, const Situation& now) {
    const auto [known, is_new] = moves_.try_emplace(now.made);
    if (is_new) known->second = moves_from(undoer_, links_, heavy_, now.made, people_);
    std::set<std::set<int>> turned;
    for (const Done& done : known->second) {
      const auto first = dryfit::at(*done.piece.parts.begin());
      const Pose pose = kPoses[now.pose[first] - 1];
      if (turned.insert(done.piece.parts).second) {
        const bool in_place = stays(undoer_, now.made, done.piece);
        const double turn = in_place ? kNoOrder : naive_turn(frame_, done.piece);
        for (char q = 1; q <= 3 && std::isfinite(turn); ++q) {
          std::vector<char> other = now.pose;
          for (const int p : done.piece.parts) other[dryfit::at(p)] = q;
          if (other != now.pose) graph_.passages.push_back({from, number_of({now.made, std::move(other)}), turn});
        }
      }
      const double prop = props_.cost(done.piece, pose);
      for (const NaiveWay& way : done.ways) {
        const double trouble = naive_trouble(frame_, list_, done.piece, done.move, way.on, pose);
        if (!std::isfinite(trouble)) continue;
        graph_.passages.push_back({from, number_of({done.rest, poses_of_pieces(done.rest, now.pose)}),
                                   way.extra + trouble + prop + done.weighs});
      }
    }
  }

  const model::Frame& frame_;
  const ContactList& list_;
  int people_;
  planner::Undoer undoer_;
  NaiveLinks links_;
  NaiveHeavy heavy_;
  StateGraph graph_;
  std::map<Situation, int> number_;
  std::vector<Situation> open_;
  std::map<std::vector<char>, std::vector<Done>> moves_;
  Props props_;
};

/// Least costs of taking a piece apart that is in each pose when its last move is made.
class PieceByPiece {
 public:
  PieceByPiece(const model::Frame& frame, const ContactList& list, int people)
      : frame_(frame),
        list_(list),
        people_(people),
        undoer_(frame, list),
        links_(frame, list),
        heavy_(undoer_),
        props_(frame) {}

  double whole() {
    double sum = 0.0;
    for (const std::vector<char>& piece : pieces_of(std::vector<char>(list_.contacts.size(), 1))) {
      double least = std::numeric_limits<double>::infinity();
      for (const Pose pose : kPoses) {
        if (frame_.surfaces.empty() || pose == Pose::standing) least = std::min(least, ends_in(piece, pose));
      }
      sum += least;
    }
    return sum;
  }

 private:
  struct Known {
    double in[3] = {};
    double turn = 0.0;
  };

  /// Made contacts that hang together or are held together by rings; all that is screwed to the room does.
  std::vector<std::vector<char>> pieces_of(const std::vector<char>& made) const {
    std::vector<std::vector<char>> pieces;
    std::vector<char> left = made;
    for (std::size_t c = 0; c < left.size(); ++c) {
      if (left[c] == 0) continue;
      const std::set<int> vertices = links_.held_with(made, together(list_, made, list_.contacts[c].a));
      std::vector<char> piece(made.size(), 0);
      for (std::size_t k = c; k < left.size(); ++k) {
        if (left[k] != 0 && vertices.count(list_.contacts[k].a) != 0) std::swap(piece[k], left[k]);
      }
      pieces.push_back(std::move(piece));
    }
    return pieces;
  }

  double ends_in(const std::vector<char>& piece, Pose pose) {
    const Known& known = costs_of(piece);
    double least = std::numeric_limits<double>::infinity();
    for (const Pose last : kPoses) {
      const double turn = last == pose ? 0.0 : known.turn;
      least = std::min(least, known.in[dryfit::at(last)] + turn);
    }
    return least;
  }

  const Known& costs_of(const std::vector<char>& piece) {
    if (const auto at = known_.find(piece); at != known_.end()) return at->second;
    Known costs;
    for (double& cost : costs.in) cost = std::numeric_limits<double>::infinity();
    for (const Done& done : moves_from(undoer_, links_, heavy_, piece, people_)) {
      costs.turn = stays(undoer_, piece, done.piece) ? kNoOrder : naive_turn(frame_, done.piece);
      const std::vector<std::vector<char>> rest = pieces_of(done.rest);
      for (const Pose pose : kPoses) {
        if (done.piece.fastened && pose != Pose::standing) continue;
        const double prop = props_.cost(done.piece, pose);
        double after = prop + done.weighs;
        for (const std::vector<char>& other : rest) after += ends_in(other, pose);
        for (const NaiveWay& way : done.ways) {
          const double cost = way.extra + naive_trouble(frame_, list_, done.piece, done.move, way.on, pose) + after;
          costs.in[dryfit::at(pose)] = std::min(costs.in[dryfit::at(pose)], cost);
        }
      }
    }
    return known_.emplace(piece, costs).first->second;
  }

  const model::Frame& frame_;
  const ContactList& list_;
  int people_;
  planner::Undoer undoer_;
  NaiveLinks links_;
  NaiveHeavy heavy_;
  std::map<std::vector<char>, Known> known_;
  Props props_;
};

}  // namespace

StateGraph state_graph(const model::Frame& frame, const ContactList& list, int people, int most_states) {
  return GraphBuilder(frame, list, people).build(most_states);
}

double least_cost_by_pieces(const model::Frame& frame, const ContactList& list, int people) {
  return PieceByPiece(frame, list, people).whole();
}

double least_cost(const StateGraph& graph) {
  // The cheapest state that is not settled yet is settled next.
  std::vector<std::vector<const Passage*>> from(dryfit::at(graph.states));
  for (const Passage& p : graph.passages) from[dryfit::at(p.from)].push_back(&p);
  std::vector<char> settled(from.size(), 0);
  std::set<std::pair<double, int>> open{{0.0, 0}};
  while (!open.empty()) {
    const auto [cost, state] = *open.begin();
    open.erase(open.begin());
    if (state == graph.bare) return cost;
    if (std::exchange(settled[dryfit::at(state)], 1) != 0) continue;
    for (const Passage* p : from[dryfit::at(state)]) open.emplace(cost + p->cost, p->to);
  }
  return std::numeric_limits<double>::infinity();
}

std::string answer_set_program(const StateGraph& graph) {
  std::string text = "at(0).\ngoal(" + std::to_string(graph.bare) + ").\n";
  std::map<std::pair<int, int>, long long> cheapest;
  for (const Passage& p : graph.passages) {
    const long long cost = std::llround(p.cost * 1000.0);
    const auto [at, is_new] = cheapest.emplace(std::pair{p.from, p.to}, cost);
    if (!is_new) at->second = std::min(at->second, cost);
  }
  for (const auto& [ends, cost] : cheapest) {
    text +=
        "undo(" + std::to_string(ends.first) + "," + std::to_string(ends.second) + "," + std::to_string(cost) + ").\n";
  }
  return text +
         "{take(S,T) : undo(S,T,_)} = 1 :- at(S), not goal(S).\n"
         "at(T) :- take(S,T).\n"
         ":- goal(S), not at(S).\n"
         "#minimize {C,S,T : take(S,T), undo(S,T,C)}.\n"
         "#show take/2.\n";
}

}  // namespace dryfit::test
