#pragma once
/// Stock pieces and couplings that make a length.
/// The cut-length rules of the Army plumbing lessons: end to end is what is cut; face to face, cut = F + e1 + e2;
/// centre to centre, cut = C - d1 - d2 + e1 + e2 (e: thread inside the fitting, d: its centre to its face).
#include <array>
#include <map>
#include <optional>
#include <string>
#include <string_view>
#include <tuple>
#include <vector>

#include "model/frame/frame.hpp"

namespace dryfit::model {
class Message;
}

namespace dryfit::planner {

/// What a given length is measured between.
enum class Measure { centre, face, end };

/// One end of the span.
struct SpanEnd {
  std::string kind;       ///< "elbow", "tee", "flange", ..., or "end" for a bare pipe end
  double take_off = 0.0;  ///< from the measuring point to the pipe's end, mm; below zero when the pipe is longer
  bool threaded = false;  ///< a joint is made there
  bool counts = false;    ///< that joint makes the measured length longer or shorter; between pipe ends none does
  bool clocked = false;   ///< it points somewhere, see fit_clock
  bool from_memory = false;
};

/// Words for --between, in the order of the part table.
[[nodiscard]] const std::vector<std::string>& span_end_words();

/// The end for a word of span_end_words(). nullopt with `why` when the word is unknown or the tables lack the size.
[[nodiscard]] std::optional<SpanEnd> span_end(model::Standard standard, model::MakeUp make_up, int size,
                                              std::string_view word, Measure measure, model::Message* why);

/// Prices by nominal size, item word ("pipe" or a kind of the part table) and length in tenths of a mm (0: none).
struct PriceList {
  std::map<std::tuple<int, std::string, long>, double> prices;
  [[nodiscard]] std::optional<double> of(int size, const std::string& item, double length = 0.0) const;
};

struct SpanQuery {
  model::Standard standard = model::Standard::npt;
  model::MakeUp make_up = model::MakeUp::hand;
  int size = 0;
  double length = 0.0;  ///< between the measuring points, mm
  std::array<SpanEnd, 2> ends;
  int max_pieces = 4;
  bool from_memory = false;  ///< the length was taken from a frame whose fittings no published source confirms
  const PriceList* prices = nullptr;
};

/// One way to make the length.
struct SpanWay {
  std::vector<double> pieces;  ///< stock lengths, longest first, a coupling between each two
  int joints = 0;              ///< that can give or take a turn of the length
  double end_to_end = 0.0;     ///< mm, couplings' gaps in
  double length = 0.0;         ///< between the measuring points as made up, mm
  double off = 0.0;            ///< length less what was asked, mm; above zero: screw deeper
  double turns = 0.0;          ///< to screw deeper in all, quarters; whole between two ends that point
  double left = 0.0;  ///< off after those turns, mm; within kExact, or half of one where only whole ones can be taken
  std::optional<double> cost;  ///< pieces and couplings; nothing when a price is missing
  bool from_memory = false;    ///< rests on a dimension that no published source confirms
};

/// Every bag of up to max_pieces stock pieces that comes within one turn at each of its threads, fewest
/// joints first, then fewest pieces, cheapest (when every price is known), least off, longest pieces. Exhaustive.
[[nodiscard]] std::vector<SpanWay> span(const SpanQuery& query);

/// The length and the ends of an existing run, or of the straight chain round a pipe: `name` is a run's or a pipe's id.
/// nullopt with `why` when there is no such run, or it bends (the bend is named).
[[nodiscard]] std::optional<SpanQuery> span_of(const model::Frame& frame, std::string_view name, model::Message* why);

}  // namespace dryfit::planner
