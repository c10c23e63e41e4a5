#pragma once
/// Rings that hold each other, as two links of a chain do: nobody takes them apart or brings them together while both
/// are closed.
///
/// A ring is a closed loop of threads, nuts, screws, straps and the holes of boards; it may run through a board or
/// through the room. What only lies on something closes none. Loops are followed along the axes of the parts. One goes
/// through another when their linking number is not 0: the signed crossings in which one lies over the other, seen from
/// one side (Gauss). The number adds up over loops, so a basis of loops is enough to find them; of up to five loops the
/// sums are followed too, for what goes through two meshes is held while either of them is open.
#include <vector>

#include "planner/state/state.hpp"

namespace dryfit::planner {

/// A closed curve through parts: corner after corner, the last joined to the first.
struct Loop {
  std::vector<model::Vec3> corners;  ///< mm
  std::vector<PartId> of;            ///< per corner: the part that the curve runs in from there to the next; or kRoom
  std::vector<ContactId> contacts;   ///< those that it runs through, ascending
};

/// Times that one loop goes round the other; its sign says which way. 0: they can be drawn apart, but for rare knots.
/// O(corners of one * corners of the other).
[[nodiscard]] int linking_number(const Loop& one, const Loop& other);

/// A part of `through` that goes through the surface which `ring` spans, or kNone. O(corners of one * corners of the
/// other).
[[nodiscard]] PartId part_through(const Loop& ring, const Loop& through);

/// A part of the finished frame that goes through a ring of it. Whoever closes the ring while the part is made up at
/// both ends, or makes up the second end while the ring is closed, has to have the part in the ring.
struct Threading {
  std::vector<ContactId> ring;  ///< ascending
  PartId of_ring = model::kNone;
  PartId through = model::kNone;
  ContactId ends[2] = {model::kNone, model::kNone};  ///< of the part, in its own ring
};

/// Finds out for one frame what goes through what.
class Links {
 public:
  /// O(loops^2) times the product of their corners, where their bounds meet. Of more than 2,000 contacts nothing is
  /// looked at.
  Links(const model::Frame& frame, const ContactList& list);

  /// What goes through what in the finished frame; empty for nearly all frames.
  [[nodiscard]] const std::vector<Threading>& threadings() const { return threadings_; }
  /// Ring closed, part made up at both ends, and nothing made between the two: whatever is done with one is done with
  /// the other, where the finished frame has them.
  [[nodiscard]] bool is_loose(const Threading& threading, const State& made) const;
  /// The clusters that hold the one of `vertex` loosely, through others too, without it: a vertex of each.
  [[nodiscard]] std::vector<int> linked_with(const State& made, int vertex) const;

 private:
  void add_threading(const Loop& ring, const Loop& through);

  const ContactList& list_;
  std::vector<Threading> threadings_;
};

}  // namespace dryfit::planner
