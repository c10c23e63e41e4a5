#pragma once
/// The judge's own view of a frame: bodies with their bounds, found by place, and holes by line.
#include <span>
#include <vector>

#include "model/geometry/at.hpp"
#include "model/geometry/convex.hpp"
#include "planner/state/contacts.hpp"

namespace dryfit::planner::judge {

/// One flag per contact: 1 while it is made.
using Made = std::vector<char>;

/// Overlap between the two halves of one union that is no hit, mm: with the nut off their seats spring apart.
inline constexpr double kUnionTouch = 3.0;
/// Bodies on an axis line lie no farther off it than this, mm.
inline constexpr double kCoaxial = 0.05;

/// A board is one body: its box, and the wood that is in it.
struct Body {
  PartId part = model::kNone;
  model::Solid solid;
  model::Bounds bounds;
  const model::Wood* wood = nullptr;  ///< boards; owned by the scene
  /// For the hit tests: a board's holes and slots are open.
  [[nodiscard]] model::Thing thing() const { return {solid, wood}; }
};

[[nodiscard]] bool hole_like(const Contact& contact);
/// True for a cylinder on the line through `point` along `axis`.
[[nodiscard]] bool coaxial(const model::Solid& solid, model::Vec3 point, model::Direction axis);
/// The board's box less its slots: one box, and up to three for each slot. A slot is a rectangle from the open edge
/// to half its width beyond the pipe's centre. Round holes are not cut out.
[[nodiscard]] std::vector<model::Solid> board_bodies(const model::Board& board);
[[nodiscard]] model::Bounds swept(model::Bounds bounds, model::Vec3 by);
/// How far behind the surface the point with support value `reach` along -normal lies, mm; negative: in the room.
[[nodiscard]] double depth_behind(const model::Surface& surface, double reach);

class Scene {
 public:
  /// O(n log n). Keeps references to both.
  Scene(const model::Frame& frame, const ContactList& list);

  [[nodiscard]] const model::Frame& frame() const { return *frame_; }
  [[nodiscard]] const ContactList& list() const { return *list_; }
  [[nodiscard]] const Contact& contact(ContactId id) const { return list_->contact(id); }
  [[nodiscard]] const std::vector<ContactId>& at(int vertex) const { return list_->at[dryfit::at(vertex)]; }
  [[nodiscard]] const model::Part& part(PartId id) const { return frame_->part(id); }
  /// The board that the part is, or null.
  [[nodiscard]] const model::Board* board(PartId id) const;
  [[nodiscard]] const model::Hole& hole(const Contact& contact) const;
  /// A round thing so many mm across goes through the hole: it is narrower by the play that is asked for, give or take
  /// the rounding of a sum.
  [[nodiscard]] bool slips_through(double across, const model::Hole& hole) const {
    return hole.diameter - across >= list_->passing - 1e-6;
  }
  [[nodiscard]] int vertices() const { return static_cast<int>(list_->at.size()); }

  [[nodiscard]] const Body& body(int index) const { return bodies_[dryfit::at(index)]; }
  [[nodiscard]] std::span<const Body> bodies_of(PartId part) const;
  /// Indices of the bodies whose bounds meet `place`, ascending, each once.
  [[nodiscard]] std::vector<int> near(const model::Bounds& place) const;

  /// Hole and notch contacts on a line.
  [[nodiscard]] const std::vector<ContactId>& holes_on(int line) const;
  /// Laid boards that the frame fastens to nothing.
  [[nodiscard]] const std::vector<PartId>& loose_boards() const { return loose_boards_; }

  /// Lengths in reasons in inches and in metric units too, not only in the frame's own.
  void tell_both_units() { both_units_ = true; }
  [[nodiscard]] bool both_units() const { return both_units_; }

 private:
  struct InCell {
    unsigned long long cell = 0;
    int body = 0;
    friend auto operator<=>(const InCell&, const InCell&) = default;
  };
  const model::Frame* frame_;
  const ContactList* list_;
  std::vector<Body> bodies_;
  std::vector<model::Wood> woods_;       ///< per board
  std::vector<std::size_t> first_body_;  ///< per part, and one past the last
  std::vector<InCell> cells_;            ///< sorted
  std::vector<int> wide_;                ///< bodies that cover too many cells to be listed in each
  std::vector<std::vector<ContactId>> holes_on_;
  std::vector<PartId> loose_boards_;
  bool both_units_ = false;
};

}  // namespace dryfit::planner::judge
