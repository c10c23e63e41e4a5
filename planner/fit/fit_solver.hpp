#pragma once
/// A thin, silent, repeatable door to the mixed-integer solver. Nothing of the solver's own headers gets past it.
#include <limits>
#include <utility>
#include <vector>

#include "planner/base/foreman.hpp"

namespace dryfit::planner {

struct MixedProgram {
  struct Column {
    double low = 0.0;
    double high = 0.0;
    bool integer = false;
  };
  struct Row {
    double low = 0.0;
    double high = 0.0;
    std::vector<std::pair<int, double>> terms;  ///< (column, coefficient), each column once
  };
  std::vector<Column> columns;
  std::vector<Row> rows;

  int add_column(double low, double high, bool integer) {
    columns.push_back({low, high, integer});
    return static_cast<int>(columns.size()) - 1;
  }
};

struct MixedAnswer {
  enum class Status { optimal, infeasible, limit };
  Status status =
      Status::infeasible;      ///< limit: nodes ran out, or the foreman ended it; `values` may hold the best so far
  std::vector<double> values;  ///< per column; empty when nothing was found
  long long nodes = 0;
};

/// A bound that stands for "none".
inline constexpr double kNoBound = std::numeric_limits<double>::max();

struct MixedWish {
  long long node_limit = 20000;
  bool relaxed = false;     ///< integers may take any value between
  bool whole_cost = false;  ///< the cost of every answer is a whole number: what is less than one better is no better
  Foreman* foreman = nullptr;  ///< asked now and then, told of nodes
};

/// Minimises the sum of cost times value. Single thread, no clock, so the same program gives the same answer unless the
/// foreman ends it.
[[nodiscard]] MixedAnswer minimise(const MixedProgram& program, const std::vector<double>& cost, const MixedWish& wish);

}  // namespace dryfit::planner
