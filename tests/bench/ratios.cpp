#include "tests/bench/ratios.hpp"

#include <fmt/ostream.h>

#include <cmath>
#include <ostream>
#include <utility>

namespace dryfit::bench {
namespace {

/// rack: 10^3 and 10^5 parts as asked for; what counts for the exponent is the ratio of the sizes.
constexpr double kDecades = 2.0;

double time_of(const Times& times, const std::string& name) {
  const auto found = times.find(name);
  return found == times.end() ? std::nan("") : found->second;
}

void row(std::ostream& out, const std::string& what, double value, const std::string& wanted) {
  if (!std::isnan(value)) fmt::print(out, "| {} | {:.3g} | {} |\n", what, value, wanted);
}

}  // namespace

const std::vector<Looked>& looked_at() {
  static const std::vector<Looked> kAll{{"tower", 60, 60},   {"ladder", 56, 60},   {"grid", 57, 60},
                                        {"tower", 300, 300}, {"ladder", 264, 300}, {"grid", 276, 300}};
  return kAll;
}

void print_ratios(const Times& times, std::ostream& out) {
  const auto time = [&](const std::string& name) { return time_of(times, name); };
  fmt::print(out, "\n| measured in this run | ratio | wanted |\n| --- | --- | --- |\n");
  const double order = time("order/rack/100000");
  row(out, "rack of 100,000 parts: contacts and order, to yaml-cpp's parse of its file",
      order / time("yaml_cpp/rack/100000"), "at most 1");
  row(out, "the same: reading and placing, to yaml-cpp's parse",
      time("read/rack/100000") / time("yaml_cpp/rack/100000"), "");
  row(out, "rack: exponent of the order's growth from 1,000 to 100,000 parts",
      std::log10(order / time("order/rack/1000")) / kDecades, "at most 1.2");
  for (const char* shape : {"tower", "ladder", "grid"}) {
    row(out, std::string(shape) + ": exponent of the order's growth from 1,000 to 100,000 parts",
        std::log10(time(std::string("order/") + shape + "/100000") / time(std::string("order/") + shape + "/1000")) /
            kDecades,
        "");
  }
  row(out, "rack of 2,000 parts: the relation, to yaml-cpp's parse of the 100,000",
      time("relation/rack/2000") / time("yaml_cpp/rack/100000"), "at most 100");
  row(out, "rack of 2,000 parts: the relation, to its order", time("relation/rack/2000") / time("order/rack/2000"), "");
  for (const char* shape : {"rack", "ladder", "grid"}) {
    for (const auto& [parts, seconds] : {std::pair{"60", 2.0}, std::pair{"300", 10.0}}) {
      double slowest = 0.0;
      for (const char* what : {"now_built/", "now_without/", "now_carry/", "now_down/"}) {
        slowest = std::fmax(slowest, time(std::string(what) + shape + "/" + parts));
      }
      if (slowest == 0.0) continue;  // none of them was run
      row(out,
          fmt::format("{} of {} parts: the slowest of four questions of what now, to {:.0f} s", shape, parts, seconds),
          slowest / seconds, "at most 1");
      row(out,
          fmt::format("{} of {} parts: an order with two stops and all prices, to {:.0f} s", shape, parts, seconds),
          time(std::string("now_stops/") + shape + "/" + parts) / seconds, "at most 1");
    }
  }
  for (const char* parts : {"60", "300"}) {
    row(out, fmt::format("wall of {} parts, lengths mistaken: fit and cures, to 1 s", parts),
        time(std::string("fit/mistaken/") + parts), "at most 1");
  }
  for (const char* shape : {"rack", "ladder", "locked"}) {
    row(out, std::string(shape) + " of 30 parts: verdict by gringo and clasp, to ours",
        time(std::string("logic_program/") + shape + "/30") / time(std::string("order/") + shape + "/30"),
        "at least 100");
  }
  for (const char* what : {"best", "early"}) {
    for (const Looked& looked : looked_at()) {
      row(out,
          fmt::format("{} of {} contacts: {}, to yaml-cpp's parse of the 100,000", looked.shape, looked.contacts,
                      what == std::string("best") ? "the best order" : "what must go on early, all parts"),
          time(fmt::format("{}/{}/{}", what, looked.shape, looked.parts)) / time("yaml_cpp/rack/100000"), "");
    }
  }
}

}  // namespace dryfit::bench
