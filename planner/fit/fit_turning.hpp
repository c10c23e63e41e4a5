#pragma once
/// The least turning of a frame for which there is room.
#include <memory>
#include <vector>

#include "planner/fit/fit_answer.hpp"
#include "planner/fit/fit_equations.hpp"
#include "planner/fit/turn_program.hpp"

namespace dryfit::planner {

/// Where the file leaves the frame free, it stands so that the first closure along each such axis is nought: how far
/// that is from where it was read.
[[nodiscard]] model::Vec3 standing(const std::vector<Equation>& equations);
/// These gaps, one per equation, once it stands so by them.
[[nodiscard]] std::vector<double> standing_again(const std::vector<Equation>& equations, std::vector<double> gaps);

/// Finds turns that close what can be closed, gives them, places the frame again, and looks what is in one place then
/// or behind a surface. Each such pair becomes a row of the program, and the turning is found again, until it brings
/// nothing together. What cannot be closed without that stays open.
class FitTurning {
 public:
  /// `frame` is `as_read`, moved by `stand` along the axes that the file leaves open. All are kept by reference.
  FitTurning(const model::Frame& as_read, const model::Frame& frame, model::Vec3 stand,
             const std::vector<Equation>& equations, const Lineage& lineage, const FitOptions& options);

  /// Rows come as the equations do; what comes after them is room.
  [[nodiscard]] const TurnAnswer& answer() const { return answer_; }
  /// The frame with its turns given, placed again.
  [[nodiscard]] const model::Frame& after() const { return after_; }
  [[nodiscard]] const std::vector<JointTurn>& turns() const { return turns_; }
  /// How far it stands from where it was read.
  [[nodiscard]] model::Vec3 shift() const { return shift_; }
  /// Turning would have closed it, had there been room.
  [[nodiscard]] bool lacks_room(std::size_t equation) const { return answer_.open[equation] && !first_open_[equation]; }
  /// What the turning that looks at no room brings together.
  [[nodiscard]] const std::vector<Overlap>& in_the_way() const { return in_the_way_; }

 private:
  void give(TurnAnswer answer);
  void make_room();
  [[nodiscard]] bool add_rows();
  void note(const Overlap& overlap);
  [[nodiscard]] bool turned_in(const TurnRow& row) const;
  [[nodiscard]] bool known(const TurnRow& row) const;

  const model::Frame& as_read_;
  const model::Frame& frame_;
  model::Vec3 stand_;
  const std::vector<Equation>& equations_;
  const Lineage& lineage_;
  std::shared_ptr<TurnMemory> memory_;
  TurnProgram program_;
  TurnAnswer answer_;
  std::vector<bool> first_open_;  ///< per equation: open however much room there is
  std::vector<JointTurn> turns_;
  model::Vec3 shift_;
  model::Frame after_;
  std::vector<Overlap> in_the_way_;
};

}  // namespace dryfit::planner
