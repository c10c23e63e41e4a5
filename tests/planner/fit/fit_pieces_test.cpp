/// A frame with other pieces against the same frame written out and read: every part stands where the reader puts it.
#include "planner/fit/fit_pieces.hpp"

#include <doctest/doctest.h>
#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <map>
#include <optional>
#include <string>
#include <vector>

#include "model/editing/edit.hpp"
#include "model/geometry/at.hpp"
#include "model/placing/reader.hpp"
#include "model/text/length.hpp"
#include "tests/support/answers/plain_fit.hpp"
#include "tests/support/program/program.hpp"

using namespace dryfit;
using tests::read_frame_text;

namespace {

/// The pieces of each pipe, inches; a coupling between each two.
using Pieces = std::map<std::string, std::vector<int>>;

std::string chain_of(const Pieces& pieces, const std::string& name) {
  std::string out;
  const std::vector<int>& lengths = pieces.at(name);
  for (std::size_t i = 0; i < lengths.size(); ++i) {
    const std::string number = std::to_string(i + 1);
    if (i > 0) out += name + "-C" + std::to_string(i) + ": coupling, ";
    out += i == 0 ? name : name + "-" + number;
    out += ": {pipe: " + std::to_string(lengths[i]) + "}, ";
  }
  return out;
}

/// Two posts with a rail between them: the right one is placed from the rail, down to the floor and up.
std::string gate(const Pieces& p) {
  return "dryfit: 1\nname: Garden gate\nunits: in\npipe: {standard: npt, size: 3/4}\n"
         "surfaces: {floor: {normal: up, at: 0}}\nruns:\n  left: {from: floor, at: [0, 0], parts: [F1: flange, " +
         chain_of(p, "A") + "T1: {tee: right}, " + chain_of(p, "B") + "E1: {elbow: right}, " + chain_of(p, "TOP") +
         "E2: {elbow: down}, " + chain_of(p, "D") + "T2: {tee: left}, " + chain_of(p, "C") +
         "F2: flange], to: floor}\n  rail: {from: T1.right, parts: [" + chain_of(p, "RAIL") + "], to: T2.left}\n";
}

/// The same with the right post told from the floor up: its lower pipe is placed from its far end.
std::string stile(const Pieces& p) {
  return "dryfit: 1\nname: Stile\nunits: in\npipe: {standard: npt, size: 3/4}\n"
         "surfaces: {floor: {normal: up, at: 0}}\nruns:\n  left: {from: floor, at: [0, 0], parts: [F1: flange, " +
         chain_of(p, "A") + "T1: {tee: right}, " + chain_of(p, "B") + "K1: cap]}\n  rail: {from: T1.right, parts: [" +
         chain_of(p, "RAIL") + "], to: T2.left}\n  right: {from: floor, parts: [F2: flange, " + chain_of(p, "C") +
         "T2: {tee: left}, " + chain_of(p, "D") + "K2: cap]}\n";
}

/// An arch whose right leg stands on the floor with its bare end.
std::string arch(const Pieces& p) {
  return "dryfit: 1\nname: Bean arch\nunits: in\npipe: {standard: npt, size: 3/4}\n"
         "surfaces: {floor: {normal: up, at: 0}}\nruns:\n  arch: {from: floor, at: [0, 0], parts: [F1: flange, " +
         chain_of(p, "A") + "E1: {elbow: right}, " + chain_of(p, "TOP") + "E2: {elbow: down}, " + chain_of(p, "D") +
         "], to: floor}\n";
}

/// Where the part stands: by its ports, for a pipe of another length has its middle elsewhere.
model::Vec3 place_of(const model::Part& part) { return part.ports.empty() ? part.centre : part.ports.front().at; }

/// The part of the name; of one that was added, with the mark that no name of a file has.
model::PartId find(const model::Frame& frame, std::string name) {
  const model::PartId found = frame.find(name);
  if (found != model::kNone || name.find('-') == std::string::npos) return found;
  name[name.find('-')] = '~';
  return frame.find(name);
}

/// How many parts the two have in one place, those of the same name.
int check_same(const model::Frame& made, const model::Frame& written) {
  int same = 0;
  for (const model::Part& part : written.parts) {
    const model::PartId other = find(made, part.id);
    if (other == model::kNone) continue;
    CAPTURE(part.id);
    CHECK(norm(place_of(made.part(other)) - place_of(part)) < 1e-6);
    ++same;
  }
  REQUIRE(made.closures.size() == written.closures.size());
  for (std::size_t c = 0; c < made.closures.size(); ++c) {
    for (int axis = 0; axis < 3; ++axis) {
      if (!written.closures[c].binds[at(axis)]) continue;
      CAPTURE(c);
      CAPTURE(axis);
      CHECK(std::abs(made.closures[c].gap[axis] - written.closures[c].gap[axis]) < 1e-6);
    }
  }
  return same;
}

void check_every_pipe(std::string (*draw)(const Pieces&), const Pieces& pieces) {
  const model::Frame frame = read_frame_text(draw(pieces));
  for (const auto& [name, was] : pieces) {
    for (const std::vector<int>& lengths : {std::vector<int>{9}, {5, 3}, {4, 3, 6}}) {
      CAPTURE(name);
      CAPTURE(lengths.size());
      Pieces changed = pieces;
      changed[name] = lengths;
      std::vector<double> mm;
      for (const int inches : lengths) mm.push_back(inches * model::kMmPerInch);
      const model::Frame written = read_frame_text(draw(changed));
      const model::Frame made = planner::with_pieces(frame, frame.find(name), mm);
      CHECK(check_same(made, written) == static_cast<int>(written.parts.size()));
    }
  }
}

}  // namespace

TEST_CASE("a pipe made of pieces stands as in the frame written out, whichever end it is placed from") {
  SUBCASE("a ring told in one go") {
    check_every_pipe(gate, {{"A", {10}}, {"B", {12}}, {"TOP", {24}}, {"D", {12}}, {"C", {10}}, {"RAIL", {24}}});
  }
  SUBCASE("a post told from the floor that hangs on the rail") {
    check_every_pipe(stile, {{"A", {10}}, {"B", {12}}, {"D", {12}}, {"C", {10}}, {"RAIL", {24}}});
  }
  SUBCASE("a leg with a bare end on the floor") { check_every_pipe(arch, {{"A", {30}}, {"TOP", {24}}, {"D", {30}}}); }
}

TEST_CASE("every pipe of the scenarios made longer moves the same parts as in the frame written out") {
  int compared = 0;
  for (const std::string& file : tests::scenario_files()) {
    const std::string text = tests::slurp(file);
    const model::Frame frame = model::read_frame(text, file);
    for (model::PartId p = 0; p < static_cast<model::PartId>(frame.parts.size()); ++p) {
      const model::Part& part = frame.part(p);
      // A board that its reach counts from the middle of a pipe goes with that middle only in the file.
      const bool reached_from = std::any_of(frame.boards.begin(), frame.boards.end(), [&](const model::Board& board) {
        return std::find(board.given_by.begin(), board.given_by.end(), p) != board.given_by.end();
      });
      if (part.kind != model::PartKind::pipe || reached_from) continue;
      std::optional<model::Frame> written;
      try {
        const std::string length = fmt::format("{:.6f} mm", part.length + 20.0);
        written = model::read_frame(model::with_value(text, part.id + ".length", length), file);
      } catch (const std::exception&) {
        continue;  // a board would have to be drilled elsewhere
      }
      if (written->closures.size() != frame.closures.size()) continue;
      CAPTURE(file);
      CAPTURE(part.id);
      compared += check_same(planner::with_pieces(frame, p, {part.length + 20.0}), *written);
    }
  }
  CHECK(compared >= 300);
}
