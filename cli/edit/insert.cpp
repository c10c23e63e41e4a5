#include "cli/edit/insert.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <stdexcept>

#include "cli/edit/end_alone.hpp"
#include "cli/io/usage_error.hpp"
#include "cli/words/said.hpp"
#include "cli/words/say.hpp"
#include "model/editing/copy.hpp"
#include "model/editing/grow.hpp"
#include "model/editing/take_off.hpp"
#include "model/frame/input_error.hpp"
#include "model/text/length.hpp"
#include "model/text/length_fault.hpp"
#include "model/text/typed_length.hpp"
#include "planner/base/stock.hpp"

namespace dryfit::cli {
namespace {

constexpr double kStays = 0.01;  ///< mm

struct InsertionAsked {
  std::string pipe, kind, value;
  std::vector<double> pieces;  ///< mm, from the start on: none, the first, or all
};

/// "24+12": mm.
std::vector<double> pieces_asked(const model::Frame& frame, const std::string& given, const std::string& list) {
  std::vector<double> pieces;
  for (std::size_t from = 0; from <= list.size();) {
    const std::size_t end = std::min(list.find('+', from), list.size());
    model::Message why;
    const auto piece = model::parse_length(list.substr(from, end - from), frame.units, why);
    if (!piece) throw UsageError(fmt::format("--insert {}: {}", given, said(why)));
    pieces.push_back(*piece);
    from = end + 1;
  }
  return pieces;
}

InsertionAsked insertion_asked(const model::Frame& frame, const std::string& given) {
  const auto [place, what] = two_sides("--insert", given);
  InsertionAsked asked;
  const std::size_t sign = place.find('@');
  asked.pipe = place.substr(0, sign);
  if (sign != std::string::npos) asked.pieces = pieces_asked(frame, given, place.substr(sign + 1));
  asked.kind = what.substr(0, what.find_first_of(": "));
  asked.value = what.find(':') == std::string::npos || what.front() == '{' ? what : "{" + what + "}";
  const model::PartId id = frame.find(asked.pipe);
  if (id == model::kNone || frame.part(id).kind != model::PartKind::pipe) {
    throw UsageError(say("--insert {}: there is no pipe '{}'", given, asked.pipe));
  }
  return asked;
}

/// What a fitting takes between two pipes of that kind and way, end to end: less than nothing where their ends overlap.
double taken_by(const model::Frame& frame, const model::Part& pipe, const std::string& fitting) {
  constexpr double kPiece = 200.0;
  const std::vector<std::string> parts{fmt::format("A: {{pipe: {}}}", kPiece), "F: " + fitting,
                                       fmt::format("B: {{pipe: {}}}", kPiece)};
  const LoadedFrame loaded = loaded_from(one_run(frame, pipe.size, pipe.ports[1].facing, parts), "the fitting");
  const model::Part& one = loaded.frame.part(loaded.frame.find("A"));
  const model::Part& two = loaded.frame.part(loaded.frame.find("B"));
  return norm(two.ports[1].at - one.ports[0].at) - 2.0 * kPiece;
}

/// Two stock lengths that add up to `both` as nearly as they can, and as evenly; the first as asked.
std::pair<double, double> pieces_for(const model::Frame& frame, const model::Part& pipe, const InsertionAsked& asked,
                                     double both) {
  std::vector<double> stock = planner::stock_lengths(frame.standard, pipe.size);
  if (!asked.pieces.empty()) {
    return {asked.pieces.front(), asked.pieces.size() > 1 ? asked.pieces[1] : both - asked.pieces.front()};
  }
  std::pair<double, double> best{both / 2.0, both / 2.0};
  double least = 1e9;
  for (const double first : stock) {
    for (const double second : stock) {
      if (first < second) continue;
      // A hundredth of the unevenness: only among those that come out alike.
      const double off = std::abs(first + second - both) + 0.01 * (first - second);
      if (off < least - 1e-6) {
        least = off;
        best = {first, second};
      }
    }
  }
  // No two pieces of stock come near: cut and threaded.
  if (std::abs(best.first + best.second - both) > both / 4.0) return {both / 2.0, both / 2.0};
  return best;
}

/// Boards whose hole for the pipe is past what the first piece reaches.
std::vector<std::string> boards_past(const model::Frame& frame, const model::Part& pipe, double first) {
  std::vector<std::string> past;
  const model::Vec3 way = pipe.ports[1].facing.unit();
  for (const model::Board& board : frame.boards) {
    for (const model::Hole& hole : board.holes) {
      if (frame.part(hole.pipe).label != pipe.label) continue;
      if (dot(hole.centre - pipe.ports[0].at, way) > first) past.push_back(frame.part(board.part).label);
    }
  }
  return past;
}

/// A run that only gone parts placed says from now on where it stands on its surface.
std::string with_place_kept(const std::string& text, const model::Frame& frame, const model::Run& run) {
  const model::Part& first = frame.part(run.parts.front());
  const std::string from = model::said_of_run(text, run.id, "from");
  for (const model::Surface& surface : frame.surfaces) {
    if (surface.id != from) continue;
    std::string spot;
    for (int axis = 0; axis < 3; ++axis) {
      if (axis == surface.normal.axis()) continue;
      spot += (spot.empty() ? "" : ", ") + model::typed_length(first.centre[axis], frame.units);
    }
    try {
      return model::with_run_at(text, run.id, "[" + spot + "]");
    } catch (const std::invalid_argument&) {
      return text;  // it says where it stands
    }
  }
  return text;
}

/// One fitting, between the first two of the pieces asked for.
EditMade put_in_once(const std::string& text, const LoadedFrame& loaded, const InsertionAsked& asked,
                     const std::string& given) {
  const model::Frame& frame = loaded.frame;
  const model::Part& pipe = frame.part(frame.find(asked.pipe));
  const std::string all = size_of_all(text);
  std::set<std::string> taken = names_taken(frame);
  model::Insertion insertion;
  insertion.pipe = asked.pipe;
  insertion.fitting = {new_name(taken, beginning_for(asked.kind)), with_own_size(asked.value, pipe.size, all)};
  insertion.second.id = name_like(taken, asked.pipe);
  const double takes = taken_by(frame, pipe, asked.value);
  const auto [first, second] = pieces_for(frame, pipe, asked, pipe.length - takes);
  if (first <= 0.0 || second <= 0.0) throw UsageError(say("--insert {}: {} is too short for it", given, asked.pipe));
  insertion.first = model::typed_length(first, frame.units);
  insertion.second.value = with_own_size("{pipe: " + model::typed_length(second, frame.units) + "}", pipe.size, all);
  insertion.on_second = boards_past(frame, pipe, first);
  return {model::with_insertion(text, insertion), {insertion.fitting.id, insertion.second.id}, {}};
}

}  // namespace

EditMade fitting_put_in(const std::string& text, const std::string& name, const std::string& given) {
  const LoadedFrame loaded = loaded_from(text, name);
  InsertionAsked asked = insertion_asked(loaded.frame, given);
  try {
    EditMade made = put_in_once(text, loaded, asked, given);
    while (asked.pieces.size() > 2) {
      // The second piece is parted in turn.
      asked.pieces.erase(asked.pieces.begin());
      asked.pipe = made.added.back();
      const EditMade more = put_in_once(made.text, loaded_from(made.text, name), asked, given);
      made.text = more.text;
      made.added.insert(made.added.end(), more.added.begin(), more.added.end());
    }
    return made;
  } catch (const std::invalid_argument& error) {
    throw UsageError(fmt::format("--insert {}: {}", given, said(error)));
  }
}

EditMade taken_off_with_all(const std::string& text, const std::string& name, const std::string& label) {
  model::TakenOff taken = model::without_what_hangs_on(text, label);
  EditMade made{taken.text, {}, taken.off};
  const auto before = read_if_sound(text, name);
  if (!before) return made;
  auto after = read_if_sound(made.text, name);
  for (const model::Run& run : before->frame.runs) {
    const model::Part& first = before->frame.part(run.parts.front());
    if (std::find(made.off.begin(), made.off.end(), first.label) != made.off.end()) continue;
    const model::PartId there = after ? after->frame.find(first.id) : model::kNone;
    if (there != model::kNone && norm(after->frame.part(there).centre - first.centre) < kStays) continue;
    made.text = with_place_kept(made.text, before->frame, run);
    after = read_if_sound(made.text, name);
  }
  return made;
}

}  // namespace dryfit::cli
