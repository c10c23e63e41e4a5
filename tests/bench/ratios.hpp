#pragma once
/// From the times of one run to the table of ratios that says whether the speed is as wanted.
#include <iosfwd>
#include <map>
#include <string>
#include <vector>

namespace dryfit::bench {

/// Seconds of processor time by name of the benchmark: "order/rack/100000".
using Times = std::map<std::string, double>;

/// A frame for which a builder waits while he looks.
struct Looked {
  const char* shape;
  int parts;
  int contacts;  ///< about
};
[[nodiscard]] const std::vector<Looked>& looked_at();

/// Writes a Markdown table: what, ratio, wanted. Rows whose times are missing are left out.
void print_ratios(const Times& times, std::ostream& out);

}  // namespace dryfit::bench
