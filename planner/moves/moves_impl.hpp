#pragma once
/// Shared inside of Undoer: membership of pieces and the pairwise tests that all moves use. Private to planner/.
#include <algorithm>
#include <functional>
#include <optional>
#include <unordered_map>
#include <utility>

#include "model/geometry/at.hpp"
#include "model/geometry/convex.hpp"
#include "model/geometry/turn.hpp"
#include "planner/moves/enters_surface.hpp"
#include "planner/moves/gaps_along.hpp"
#include "planner/moves/known_sides.hpp"
#include "planner/moves/legal_turns.hpp"
#include "planner/moves/moves.hpp"
#include "planner/moves/parting.hpp"
#include "planner/moves/reach.hpp"
#include "planner/moves/swept_hits.hpp"
#include "planner/moves/turn_hits.hpp"
#include "planner/moves/wide_on_line.hpp"

namespace dryfit::planner {

struct Undoer::Impl {
  Impl(const model::Frame& frame_, const ContactList& list_)
      : frame(frame_),
        list(list_),
        index(frame_, list_),
        explorer(list_),
        turn_hits(frame_, list_, index),
        gaps(frame_, list_, index),
        swept_hits(frame_, list_, index, turn_hits.remembers()),
        wide_on_line(frame_, list_, index, turn_hits.remembers()),
        known_sides(turn_hits.remembers() ? list_.contacts.size() : 0),
        known_slides(turn_hits.remembers() ? 2 * list_.contacts.size() : 0),
        legal_turns(list_.contacts.size()),
        mark_(list_.at.size(), 0) {
    fastenings_of_board.resize(frame_.parts.size());
    for (std::size_t c = 0; c < list_.contacts.size(); ++c) {
      const Contact& contact = list_.contacts[c];
      if (contact.kind != ContactKind::fastening) continue;
      for (const PartId p : {contact.a, contact.b}) {
        if (p != model::kRoom && is_board(p)) {
          fastenings_of_board[at(p)].push_back(static_cast<ContactId>(c));
        }
      }
    }
  }

  const model::Frame& frame;
  const ContactList& list;
  BodyIndex index;
  Explorer explorer;
  TurnHits turn_hits;
  GapsAlong gaps;
  SweptHits swept_hits;
  WideOnLine wide_on_line;
  KnownSides known_sides;   ///< of threads, as they turn; empty where turn_hits does not remember
  KnownSides known_slides;  ///< two a contact: of the ends of holes and notches, as they slide; empty as well
  LegalTurns legal_turns;   ///< asked where `brief`
  Work work;
  bool both_sides = false;  ///< unscrew: also look whether the other side may turn, whatever its size
  bool brief = false;       ///< unscrew: whether it is legal is enough, however it is done
  /// Per part that is a board: contacts that fasten it (fix, strap, flange screwed to it).
  std::vector<std::vector<ContactId>> fastenings_of_board;

  // --- the ways to undo one contact (unscrew.cpp, slide.cpp, sideways.cpp, board_moves.cpp) ---
  void unscrew(const State& state, ContactId c, std::size_t cap, Attempt& attempt);
  /// Example: a shelf hangs in holes of 28 mm on two posts, and on top of each post a coupling of 36 mm joins the next
  /// pipe. Upward the couplings would have to pass the holes: too wide. Downward the same couplings are no matter, but
  /// the post stands in a flange. Once one upper pipe and its coupling are off, that post is free upward and the other
  /// is not, so the shelf stays. Once both are off, K is the shelf alone, R the two posts, d up, and the way as long as
  /// the longer post is above the shelf, and the shelf is thick: both hole contacts go in one move.
  /// With `every_way` all legal ways are added there: they may take different contacts off with c.
  void slide(const State& state, ContactId c, std::size_t cap, const std::vector<char>* frozen, Attempt& attempt,
             std::vector<Move>* every_way = nullptr);
  void sideways(const State& state, ContactId c, std::size_t cap, const std::vector<char>* frozen, Attempt& attempt,
                std::vector<Move>* every_way = nullptr);
  void swing(const State& state, ContactId c, const std::vector<char>* frozen, Attempt& attempt);
  void take_away(const State& state, ContactId c, const std::vector<char>* frozen, Attempt& attempt);
  void unfasten(const State& state, ContactId c, Attempt& attempt);

  /// What is over the screws of a fastening in the finished frame; worked out when it is first asked for.
  const ScrewReach& reach_of_screws(ContactId c);

  // --- small lookups ---
  [[nodiscard]] const Contact& contact(ContactId c) const { return list.contact(c); }
  [[nodiscard]] const model::Part& part(PartId p) const { return frame.part(p); }
  [[nodiscard]] bool is_board(PartId p) const { return part(p).board != model::kNone; }
  [[nodiscard]] const model::Board& board(PartId p) const { return frame.board(part(p).board); }
  /// The slot of a notch contact.
  [[nodiscard]] const model::Hole& slot(const Contact& notch) const {
    return board(notch.a).holes[dryfit::at(notch.hole)];
  }
  [[nodiscard]] int other_vertex(ContactId c, int vertex) const { return list.other_vertex(c, vertex); }
  [[nodiscard]] const std::vector<ContactId>& contacts_at(int vertex) const { return list.at[at(vertex)]; }
  /// A made contact that fastens the board, or kNone.
  [[nodiscard]] ContactId made_fastening(const State& state, PartId board_part) const;
  /// A made rest of another board laid on this one, or kNone.
  [[nodiscard]] ContactId laid_on(const State& state, PartId board_part) const;
  /// How much overlap two parts may have without a hit, mm: union halves spring apart.
  [[nodiscard]] double touch(PartId a, PartId b) const { return touch_between(frame, list, a, b); }
  /// `board_part`, moved by `sweep`, is lifted off its carrier or slides over it.
  [[nodiscard]] bool leaves_carrier(PartId board_part, PartId carrier, model::Vec3 sweep) const;
  /// How deep in a surface something is that reaches so far along the direction into it, mm.
  [[nodiscard]] static double depth_in(const model::Surface& surface, double reach) {
    return planner::depth_in(surface, reach);
  }
  /// How far a body that is moved by `sweep` reaches along `in` on its way.
  [[nodiscard]] static double swept_reach(const model::Solid& solid, model::Vec3 sweep, model::Vec3 in) {
    return planner::swept_reach(solid, sweep, in);
  }
  /// The first part of the vertices that would get into a surface, and which; `reach(solid, in)` is how far a body
  /// gets along the direction into it.
  template <typename Reach>
  [[nodiscard]] std::optional<std::pair<PartId, int>> first_in_surface(const std::vector<int>& vertices,
                                                                       const Reach& reach) const {
    for (const int v : vertices) {
      if (v == list.room()) continue;
      for (int i = index.first(v); i < index.last(v); ++i) {
        const model::Solid& solid = index.bodies()[at(i)].solid;
        for (std::size_t s = 0; s < frame.surfaces.size(); ++s) {
          const model::Surface& surface = frame.surfaces[s];
          if (depth_in(surface, reach(solid, -surface.normal.unit())) < list.touch) continue;
          return std::pair(v, static_cast<int>(s));
        }
      }
    }
    return std::nullopt;
  }
  /// Refusal of a way that would also undo a contact which is to stay: it stands as long as that one is made.
  [[nodiscard]] static Refusal keeps(ContactId kept) {
    Refusal refusal;
    refusal.held_by = {kept};
    return refusal;
  }
  void finish(const State& state, Move& move, const std::vector<int>& vertices) const;

  /// Leaves each contact in at its first place only: ways that meet share much, and what is kept is compared often.
  void once_each(std::vector<ContactId>& contacts) {
    told_.resize(list.contacts.size(), 0);
    ++telling_;
    std::erase_if(contacts, [&](ContactId c) { return std::exchange(told_[at(c)], telling_) == telling_; });
  }

  // --- marks of one piece ---
  void mark(const std::vector<int>& vertices) {
    ++stamp_;
    for (const int v : vertices) mark_[at(v)] = stamp_;
  }
  [[nodiscard]] bool marked(int vertex) const { return mark_[at(vertex)] == stamp_; }
  /// Marks beside those, of the ends of contacts; they stand until the next are marked.
  int mark_ends(const std::vector<int>& vertices) {
    end_mark_.resize(list.at.size(), 0);
    ++end_stamp_;
    for (const int v : vertices) end_mark_[at(v)] = end_stamp_;
    return end_stamp_;
  }
  [[nodiscard]] bool is_end(int vertex, int stamp) const { return stamp != 0 && end_mark_[at(vertex)] == stamp; }
  /// A way inside `without` between two vertices, appended.
  void way(const State& state, int from, int to, const Without& without, std::vector<ContactId>& contacts);

  std::unordered_map<ContactId, ScrewReach> reach_;
  std::vector<int> mark_;
  int stamp_ = 0;
  std::vector<int> end_mark_;
  int end_stamp_ = 0;
  std::vector<int> told_;  ///< per contact
  int telling_ = 0;
};

}  // namespace dryfit::planner
