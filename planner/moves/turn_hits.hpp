#pragma once
/// What a turn about a thread would run into, and how far it swings, whatever is made. Private to planner/moves.
/// Many states of one frame are asked about; the geometry of a pair is the same in all of them.
#include <deque>
#include <vector>

#include "planner/state/body_index.hpp"

namespace dryfit::planner {

class TurnHits {
 public:
  /// All must outlive this.
  TurnHits(const model::Frame& frame, const ContactList& list, const BodyIndex& index);

  /// Frames up to this size are remembered; it takes up to a few bytes for each thread and body. Larger ones are only
  /// ever peeled, where a pair is hardly asked about twice.
  static constexpr std::size_t kMostContacts = 2000;
  [[nodiscard]] bool remembers() const { return remembers_; }

  /// How far the side that leaves along `way` moves along the thread's axis, mm, signed as in model/geometry/turn.hpp.
  [[nodiscard]] double shift(const Contact& thread, model::Direction way) const;

  /// `body`, turned out of the thread along `way` (its axis or the opposite), hits the other. Never of pairs that no
  /// turn counts: the joint's own two parts, and a board with a hole on the axis against what lies there.
  [[nodiscard]] bool hit(const Contact& thread, model::Direction way, int body, int other);
  /// The same of a body that is taken round where it is, not moved along the axis.
  [[nodiscard]] bool hit_in_place(const Contact& thread, int body, int other);
  /// Bodies of other parts that `body` hits so, ascending. Only where remembers(). O(1) when it was asked before.
  [[nodiscard]] const std::vector<int>& of(ContactId thread, model::Direction way, int body);
  /// The same of a body that is taken round where it is.
  [[nodiscard]] const std::vector<int>& in_place(ContactId thread, int body);
  /// The first surface that the part gets into, turned out of the thread along `way`, or kNone. O(1) when it was asked
  /// before.
  [[nodiscard]] int surface(ContactId thread, model::Direction way, PartId part);
  /// Farthest distance of the part from the thread's axis, mm. O(1) when it was asked before.
  [[nodiscard]] double swing(ContactId thread, PartId part);

  long long tests = 0;  ///< work counter: pairs whose turn was looked at

 private:
  static constexpr int kNotAsked = -2;
  static constexpr int kNothing = -1;
  [[nodiscard]] const std::vector<int>& kept(std::vector<int>& known, const Contact& thread, double shift, int body);
  [[nodiscard]] std::vector<int> found(const Contact& thread, double shift, int body);
  [[nodiscard]] bool hit_shifted(const Contact& thread, double shift, int body, int other);
  [[nodiscard]] bool exempt(const Contact& thread, int body, int other) const;
  [[nodiscard]] double swing_of(const Contact& thread, PartId part) const;
  [[nodiscard]] int surface_of(const Contact& thread, double shift, PartId part) const;

  const model::Frame& frame_;
  const ContactList& list_;
  const BodyIndex& index_;
  bool remembers_;
  /// Three a thread (along its axis, against it, in place), empty until asked; per body: place in hits_, or why none.
  std::vector<std::vector<int>> known_;
  std::deque<std::vector<int>> hits_;  ///< never moved
  /// Two a thread (along its axis, against it), empty until asked; per part: the surface, kNone, or kNotAsked.
  std::vector<std::vector<int>> surfaces_;
  std::vector<std::vector<double>> swing_;  ///< per thread, empty until asked, per part; below nought: not known yet
};

}  // namespace dryfit::planner
