#pragma once
/// Where every body of the finished frame is: a spatial index for clearance candidates, and per axis line the
/// bodies that lie on it. Built once per frame, never changed.
#include <memory>
#include <vector>

#include "model/geometry/at.hpp"
#include "model/geometry/wood.hpp"
#include "planner/state/contacts.hpp"

namespace dryfit::planner {

/// A body together with the part it belongs to. A board is one body: its box, and the wood that is in it.
struct Body {
  PartId part = model::kNone;
  model::Solid solid;
  const model::Wood* wood = nullptr;  ///< boards; owned by the index
  /// For the hit tests: a board's holes and slots are open.
  [[nodiscard]] model::Thing thing() const { return {solid, wood}; }
};

/// A hole or slot of a board that some axis line passes through.
struct HoleOnLine {
  PartId board = model::kNone;
  int board_index = model::kNone;  ///< into Frame::boards
  int hole = model::kNone;         ///< into Board::holes
  ContactId contact = model::kNone;
};

class BodyIndex {
 public:
  BodyIndex(const model::Frame& frame, const ContactList& list);
  ~BodyIndex();
  BodyIndex(const BodyIndex&) = delete;
  BodyIndex& operator=(const BodyIndex&) = delete;

  [[nodiscard]] const std::vector<Body>& bodies() const { return bodies_; }
  /// Bodies of a part: indices first..last-1 into bodies().
  [[nodiscard]] int first(PartId part) const { return first_[at(part)]; }
  [[nodiscard]] int last(PartId part) const { return first_[at(part) + 1]; }
  /// Indices of bodies whose bounds meet the box, ascending. O(log n + found).
  void find(const model::Bounds& box, std::vector<int>& found) const;
  /// Cylinders that lie on the line, ordered along it.
  [[nodiscard]] const std::vector<int>& on_line(int line) const { return on_line_[at(line)]; }
  [[nodiscard]] bool is_on_line(int body, int line) const { return line_of_[at(body)] == line; }
  [[nodiscard]] int line_of(int body) const { return line_of_[at(body)]; }
  /// The body lies on the line, and so does a hole or notch of the board.
  [[nodiscard]] bool on_hole_line(PartId board, int body, int line) const;
  /// Holes and notches on the line.
  [[nodiscard]] const std::vector<HoleOnLine>& holes_on(int line) const { return holes_on_[at(line)]; }

 private:
  struct Tree;
  std::vector<Body> bodies_;
  std::vector<model::Wood> woods_;  ///< per board
  std::vector<int> first_;
  std::vector<int> line_of_;  ///< number of the line with contacts on it that a cylinder lies on, or kNone
  std::vector<std::vector<int>> on_line_;
  std::vector<std::vector<HoleOnLine>> holes_on_;
  std::unique_ptr<Tree> tree_;
};

/// The board's box less its slots: a slot is cut as a rectangle, from the open edge to half its width beyond the
/// pipe's axis. Round holes are not cut: what lies on a hole's line is judged by diameter.
[[nodiscard]] std::vector<model::Solid> boxes_of(const model::Board& board);

}  // namespace dryfit::planner
