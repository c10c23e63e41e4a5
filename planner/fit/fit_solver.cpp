#include "planner/fit/fit_solver.hpp"

#include <CbcEventHandler.hpp>
#include <CbcModel.hpp>
#include <ClpSolve.hpp>
#include <CoinPackedMatrix.hpp>
#include <OsiClpSolverInterface.hpp>
#include <algorithm>
#include <limits>

namespace dryfit::planner {

namespace {

/// A better answer with a whole cost is better by one; a little less, for the solver's rounding.
constexpr double kNextWhole = 0.999;

CoinPackedMatrix matrix_of(const MixedProgram& program) {
  std::vector<int> rows;
  std::vector<int> columns;
  std::vector<double> values;
  for (std::size_t r = 0; r < program.rows.size(); ++r) {
    for (const auto& [column, value] : program.rows[r].terms) {
      rows.push_back(static_cast<int>(r));
      columns.push_back(column);
      values.push_back(value);
    }
  }
  CoinPackedMatrix matrix(true, rows.data(), columns.data(), values.data(), static_cast<CoinBigIndex>(values.size()));
  matrix.setDimensions(static_cast<int>(program.rows.size()), static_cast<int>(program.columns.size()));
  return matrix;
}

/// Ends the search once the foreman does.
class Watch : public CbcEventHandler {
 public:
  Watch(Foreman* foreman, long long limit) : foreman_(foreman), limit_(limit) {}
  [[nodiscard]] CbcEventHandler* clone() const override { return new Watch(*this); }
  CbcAction event(CbcEvent asked) override {
    if (asked != CbcEventHandler::node || model_ == nullptr) return noAction;
    return may_go_on(foreman_, model_->getNodeCount(), limit_) ? noAction : stop;
  }

 private:
  Foreman* foreman_;
  long long limit_;
};

}  // namespace

MixedAnswer minimise(const MixedProgram& program, const std::vector<double>& cost, const MixedWish& wish) {
  const std::size_t n = program.columns.size();
  std::vector<double> low(n);
  std::vector<double> high(n);
  for (std::size_t c = 0; c < n; ++c) {
    low[c] = program.columns[c].low;
    high[c] = program.columns[c].high;
  }
  std::vector<double> row_low;
  std::vector<double> row_high;
  for (const MixedProgram::Row& row : program.rows) {
    row_low.push_back(row.low);
    row_high.push_back(row.high);
  }
  OsiClpSolverInterface solver;
  solver.messageHandler()->setLogLevel(0);
  solver.getModelPtr()->setLogLevel(0);
  solver.setHintParam(OsiDoReducePrint, true, OsiHintTry);
  // Left alone, Clp takes Ctrl-C for itself while it solves, and the foreman never hears of it.
  ClpSolve without_signals;
  without_signals.setSpecialOption(2, 1);
  solver.setSolveOptions(without_signals);
  solver.loadProblem(matrix_of(program), low.data(), high.data(), cost.data(), row_low.data(), row_high.data());
  bool any_integer = false;
  for (std::size_t c = 0; c < n; ++c) {
    if (!program.columns[c].integer || wish.relaxed) continue;
    solver.setInteger(static_cast<int>(c));
    any_integer = true;
  }
  MixedAnswer answer;
  if (!may_go_on(wish.foreman, 0, wish.node_limit)) {
    answer.status = MixedAnswer::Status::limit;
    return answer;
  }
  solver.initialSolve();
  if (solver.isProvenPrimalInfeasible()) return answer;
  if (!any_integer) {
    if (!solver.isProvenOptimal()) {
      answer.status = MixedAnswer::Status::limit;
      return answer;
    }
    answer.status = MixedAnswer::Status::optimal;
    answer.values.assign(solver.getColSolution(), solver.getColSolution() + n);
    return answer;
  }
  CbcModel model(solver);
  model.setLogLevel(0);
  model.messageHandler()->setLogLevel(0);
  model.solver()->messageHandler()->setLogLevel(0);
  model.setMaximumNodes(static_cast<int>(std::min<long long>(wish.node_limit, std::numeric_limits<int>::max())));
  model.setAllowableGap(0.0);
  if (wish.whole_cost) model.setCutoffIncrement(kNextWhole);
  // Plain branching: the dynamic kind of this release has been seen to crash on programs with equal columns.
  model.setNumberStrong(0);
  model.setNumberBeforeTrust(0);
  if (wish.foreman != nullptr) {
    Watch watch(wish.foreman, wish.node_limit);
    model.passInEventHandler(&watch);
  }
  model.branchAndBound(0);
  answer.nodes = model.getNodeCount();
  if (model.bestSolution() != nullptr) {
    answer.values.assign(model.bestSolution(), model.bestSolution() + n);
    answer.status = model.isProvenOptimal() ? MixedAnswer::Status::optimal : MixedAnswer::Status::limit;
  } else {
    answer.status = model.isProvenInfeasible() ? MixedAnswer::Status::infeasible : MixedAnswer::Status::limit;
  }
  return answer;
}

}  // namespace dryfit::planner
