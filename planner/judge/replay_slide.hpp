#pragma once
/// A piece about to be moved straight, and what it leaves. Private to the judge.
#include <algorithm>
#include <unordered_set>
#include <utility>
#include <vector>

#include "model/geometry/at.hpp"
#include "planner/judge/replay_judge.hpp"

namespace dryfit::planner::judge {

/// One piece K and what holds it in its holes or slots.
struct Judge::Slide {
  Pieces pieces;  ///< G
  Cluster cluster;
  const Made* made = nullptr;         ///< along holes: what is made, else null
  bool out_of_slots = false;          ///< the contacts are slots, left through their open sides
  std::vector<int> k{};               ///< K, ascending
  std::vector<ContactId> left_out{};  ///< made contacts between K and R that let go, ascending
  std::vector<int> against{};         ///< the ends of `left_out` in R
  bool k_holds_room = false;
  std::unordered_set<int> linked{};  ///< K holds the room: what hangs together, without K, with what moves
  bool others_on_k = false;          ///< and something else hangs on K
  PartId named_board = model::kNone;  ///< the board that the refusal speaks of

  [[nodiscard]] bool in_k(int vertex) const { return std::binary_search(k.begin(), k.end(), vertex); }
  /// True when q is judged against K: it belongs to R.
  [[nodiscard]] bool in_r(int q, int room) {
    if (in_k(q)) return false;
    for (const int end : against) {
      if (pieces.same(q, end)) return true;
    }
    return pieces.same(q, room) && cluster.holds_room();
  }
  /// It is on K's side when the others move.
  [[nodiscard]] bool stays_with_k(int vertex) const { return k_holds_room && !linked.contains(vertex); }
  /// K holds the room, so that the others move: of them only what hangs together without K with the vertex `end`.
  void keep_linked(const Scene& scene, const Made& joined, int end) {
    std::vector<int> found{end};
    std::unordered_set<int> known{end};
    const auto ends_of = [&](ContactId id) {
      return std::pair(scene.list().vertex(scene.contact(id).a), scene.list().vertex(scene.contact(id).b));
    };
    for (std::size_t i = 0; i < found.size(); ++i) {
      for (const ContactId id : scene.at(found[i])) {
        const auto [a, b] = ends_of(id);
        const int next = a == found[i] ? b : a;
        if (joined[dryfit::at(id)] != 0 && !in_k(next) && known.insert(next).second) found.push_back(next);
      }
    }
    std::erase_if(left_out, [&](ContactId id) {
      return !known.contains(ends_of(id).first) && !known.contains(ends_of(id).second);
    });
    others_on_k = std::erase_if(against, [&](int vertex) { return !known.contains(vertex); }) > 0;
    linked = std::move(known);
  }
  /// Takes the vertices for K, and the made contacts out of K that `lets_go` for what leads out of it.
  template <typename LetsGo>
  void take(std::vector<int> vertices, const Scene& scene, const Made& joined, const LetsGo& lets_go) {
    k = std::move(vertices);
    left_out.clear();
    against.clear();
    linked.clear();
    others_on_k = false;
    for (const int vertex : k) {
      for (const ContactId id : scene.at(vertex)) {
        const Contact& c = scene.contact(id);
        if (joined[dryfit::at(id)] == 0 || !lets_go(id)) continue;
        const int a = scene.list().vertex(c.a), b = scene.list().vertex(c.b);
        const int end = a == vertex ? b : a;
        if (in_k(end)) continue;
        left_out.push_back(id);
        against.push_back(end);
      }
    }
    std::sort(left_out.begin(), left_out.end());
    std::sort(against.begin(), against.end());
    against.erase(std::unique(against.begin(), against.end()), against.end());
  }
};

}  // namespace dryfit::planner::judge
