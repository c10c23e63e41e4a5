#pragma once
/// What can go on an open end: kinds with their directions, lengths with what each comes to, ends and runs that it
/// could meet.
#include <nlohmann/json_fwd.hpp>
#include <string>
#include <vector>

#include "cli/edit/ends.hpp"
#include "cli/json/json_answer.hpp"

namespace dryfit::cli {

struct KindOffered {
  std::string kind;
  std::vector<std::string> directions;  ///< that it can be given; empty where it takes none
  std::string value;                    ///< to put it on with, where that is more than the kind and a direction; or ""
};

struct LengthOffered {
  double length = 0.0;     ///< mm, a stock length
  std::string text;        ///< as the file holds it
  std::string closes;      ///< the open end ahead that it meets by turning alone, or ""
  double off = 0.0;        ///< mm: longer (above zero) or shorter than to the nearest open end ahead
  double turns = 0.0;      ///< to screw deeper, where it closes
  std::string level_with;  ///< another open end, as far along as this pipe's own would be; or ""
};

/// Stock pieces and couplings that reach an open end ahead.
struct WayOffered {
  std::string to;
  std::vector<std::string> pieces;  ///< as the file holds them, longest first
  double off = 0.0, turns = 0.0;
};

struct Offers {
  std::string end;
  model::Direction facing;
  bool male = false;
  std::vector<KindOffered> kinds;
  std::vector<LengthOffered> lengths;  ///< those that close first, then those that come level, then the rest, ascending
  std::vector<WayOffered> ways;
  std::vector<std::string> joins;      ///< open ends that this end meets as it is
  std::vector<std::string> copies;     ///< runs of which a copy could take this end, or begin at it
  std::vector<std::string> branching;  ///< those of them that others branch off
};

/// Every kind is tried on an end like this one: what the tables lack is not offered. Every copy is tried in the text.
/// `name` is what the frame's file is called. Throws UsageError when the end is not open. O(runs that could be copied
/// times the reading of the frame).
[[nodiscard]] Offers offers_at(const LoadedFrame& loaded, const std::string& name, const std::string& end);
/// Stock lengths of a pipe that is screwed into `from`, which is open or holds the pipe `own` now; those that close or
/// come level first.
[[nodiscard]] std::vector<LengthOffered> lengths_from(const model::Frame& frame, PartEnd from, model::PartId own);
[[nodiscard]] Json lengths_json(const std::vector<LengthOffered>& lengths);
[[nodiscard]] std::vector<std::string> lengths_lines(const std::vector<LengthOffered>& lengths, model::Units units);
[[nodiscard]] Json offers_json(const Offers& offers);
/// For a terminal.
[[nodiscard]] std::string offers_text(const Offers& offers, model::Units units);

}  // namespace dryfit::cli
