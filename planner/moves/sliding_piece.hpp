#pragma once
/// A piece that is moved straight out of the contacts that join it to what stays. Private to planner/moves.
#include <functional>
#include <optional>
#include <unordered_map>
#include <vector>

#include "planner/moves/moves_impl.hpp"

namespace dryfit::planner {

/// A board beyond K and R that hangs on a pipe which a board of the move has to leave.
struct Hanging {
  ContactId by = model::kNone;  ///< none: no such piece
  int end = model::kNone;       ///< the board
};

/// What a walk came to, and how many vertices it took.
struct WalkedTies {
  std::vector<ContactId> contacts;
  long long visited = 0;
};
struct WalkedToR {
  bool yes = false;
  long long visited = 0;
};

/// What is found out about K and what it leaves by walks that are the same whichever of two opposite ways K goes. Told
/// again it counts as walked again, so that the work counted does not depend on it.
struct BothWays {
  std::optional<WalkedTies> ties;             ///< why all that lets go does so with K: see SlidingPiece::refuse
  std::unordered_map<int, WalkedToR> to_r{};  ///< by vertex
};

/// The graph G leaves out: for a slide the holes and slots along d, sideways the slots that open along d, either way.
/// Piece K going along d: off pipes and out of boards (`kind` slide), or out of slots (`kind` sideways).
struct SlidingPiece {
  Undoer::Impl& impl;
  const State& state;
  const MoveKind kind;
  const model::Direction d;
  std::vector<int> k;  ///< vertices of K; marked in `impl`
  bool k_has_room = false;
  bool cluster_has_room = false;
  std::vector<ContactId> left_out{};                ///< between K and R, ascending
  std::vector<int> r_ends{};                        ///< their vertices on R's side
  double travel = 1e-3;                             ///< mm; at least a hair, so that the way has a direction
  std::unordered_map<int, ContactId> reached_by{};  ///< sideways: how each vertex of K came to be pushed along
  std::unordered_map<int, ContactId> linked_by{};   ///< slide, K with the room: how what moves hangs together
  std::vector<ContactId> run_on{};                  ///< slide: threads by which pipes go on along the way
  std::unordered_map<int, bool> in_r_known{};
  BothWays* both_ways = nullptr;               ///< slide: of the same K and contact asked for, or null
  int ends_stamp = 0;                          ///< of r_ends
  bool others_hang_on_k = false;               ///< K with the room: something hangs on it that does not move
  std::unordered_map<int, Hanging> hanging{};  ///< what is known of pieces beyond, by vertex

  [[nodiscard]] bool in_cluster(int v) const { return state.cluster(v) == state.cluster(k.front()); }
  /// R: the pieces joined to K by the left-out contacts, and the room's.
  [[nodiscard]] bool in_r(int v);

  /// Beyond K and R there may be pieces that hang on either by holes along d. They are moved aside or along, but for a
  /// board on the very pipe that a board leaves: that one never gets past it (hanging.cpp). `with_k`: asked of what
  /// hangs on K and stays with it, else of what hangs on R.
  [[nodiscard]] bool in_the_way_beyond(int v, bool with_k);
  /// A pipe drawn out of a board toward another one that hangs loose on the same line, in a board that stays: end to
  /// end with it that one can be turned, but not off the line.
  [[nodiscard]] std::optional<Refusal> meets_end_to_end();
  /// Why v is such a piece, appended.
  void hold_beyond(int v, std::vector<ContactId>& held);

  /// Finds what lets go between K and R: the contacts of K for which `lets_go(contact, vertex of K)` holds and that
  /// lead out of K. Returns why not when the one asked for is not among them, or one of them is frozen.
  [[nodiscard]] std::optional<Refusal> gather(ContactId asked, const std::vector<char>* frozen,
                                              const std::function<bool(const Contact&, int)>& lets_go);
  /// Until the board of every left-out contact is past that pipe's own end or side, and past what is screwed to the
  /// pipe there on its line and passes the hole as the pipe does.
  void find_travel();

  /// Bodies on the line of a left-out hole that have to pass it must be narrower than it.
  [[nodiscard]] std::optional<Refusal> too_wide();
  /// A pipe that has less play in a slot that lets go than it takes, whichever way it is to come out.
  [[nodiscard]] std::optional<Refusal> tight_in_slot();
  /// The first pair of K and R, or of one of them and what hangs in the way, that would hit.
  [[nodiscard]] std::optional<Refusal> first_hit();
  /// The first of the vertices that would get into a surface when moved by `sweep`.
  [[nodiscard]] std::optional<Refusal> first_surface(const std::vector<int>& vertices, model::Vec3 sweep);

  [[nodiscard]] Refusal refuse(Refusal::Why why, PartId moving, PartId blocking);
  /// Why v is in K or R: the way to the end that was asked for, or to an end of a left-out contact or the room.
  void hold(int v, std::vector<ContactId>& held);
  void hold_cluster(std::vector<ContactId>& held);
  /// The way from v, a vertex of K, back to where K was started from.
  void hold_in_k(int v, std::vector<ContactId>& held);

 private:
  /// Where a hole's pipe, with what it goes on in, ends along the unit vector; the threads go to `run_on`.
  double end_of_run(const Contact& hole, model::Vec3 unit);
  /// Farthest point of a part along the unit vector.
  [[nodiscard]] double reach_of(PartId part, model::Vec3 unit) const;
  /// Width of the widest body of the part on the line, mm.
  [[nodiscard]] double widest_on_line(PartId part, int line) const;
  /// With the room in K the others move: of them only what hangs together, without K, with the contact asked for.
  void keep_linked(ContactId asked);
  /// Why the left-out contacts lie between K and what it leaves.
  void hold_ties(std::vector<ContactId>& held);
  /// Why the end of a left-out contact moves along with that of the one asked for.
  void hold_link(int end, std::vector<ContactId>& held);
  /// A way in G from v to an end of R, appended to `held` if given; false when there is none.
  bool way_to_r(int v, std::vector<ContactId>* held);
  [[nodiscard]] bool in_g(ContactId c) const;
  [[nodiscard]] bool is_r_end(int v) const;
  [[nodiscard]] bool exempt(PartId board_part, int body) const;
  /// The first of `vertices` that hits what `against` holds for when it is moved along `way` by the travel.
  [[nodiscard]] std::optional<Refusal> first_hit_of(const std::vector<int>& vertices, model::Direction way,
                                                    const std::function<bool(int)>& against);
  /// By which contact a board in the piece of v hangs on a pipe that a board leaves.
  [[nodiscard]] Hanging hangs_by(int v, bool with_k);
  /// The hole on the line by which the piece of v hangs in a board that stays, or kNone.
  [[nodiscard]] ContactId hung_on_line(int v, int line);
  /// The vertices of R.
  [[nodiscard]] std::vector<int> all_of_r();
};

/// What a piece's side does when there is a choice of sides: the asked contact first, the others ascending.
void put_first(std::vector<ContactId>& contacts, ContactId asked);

}  // namespace dryfit::planner
