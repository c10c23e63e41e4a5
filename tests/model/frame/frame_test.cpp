#include "model/frame/frame.hpp"
#include "model/geometry/at.hpp"

#include <doctest/doctest.h>

#include <set>
#include <string>

using namespace dryfit::model;

namespace {

Part part(std::string id, std::string label, PartKind kind, std::vector<Port> ports = {}) {
  Part out;
  out.id = std::move(id);
  out.label = std::move(label);
  out.kind = kind;
  out.ports = std::move(ports);
  return out;
}

Port port(Direction facing, bool male) {
  Port out;
  out.facing = facing;
  out.male = male;
  return out;
}

/// Made up: a pipe up through a tee and into a union, a flange under a shelf.
Frame small_frame() {
  Frame frame;
  frame.parts = {part("P1", "P1", PartKind::pipe, {port(kDown, true), port(kUp, true)}),
                 part("T1", "T1", PartKind::tee, {port(kDown, false), port(kUp, false), port(kRight, false)}),
                 part("U1~a", "U1", PartKind::union_half, {port(kDown, false)}),
                 part("U1~b", "U1", PartKind::union_half, {port(kUp, false)}),
                 part("FL", "FL", PartKind::flange, {port(kUp, false)}),
                 part("SHELF", "SHELF", PartKind::board)};
  for (std::size_t n = 0; n < frame.parts.size(); ++n) frame.index[frame.parts[n].id] = static_cast<PartId>(n);
  const auto joint = [](PartId male, int male_port, PartId female, int female_port) {
    Joint out;
    out.male = male;
    out.male_port = male_port;
    out.female = female;
    out.female_port = female_port;
    return out;
  };
  frame.joints = {joint(0, 0, 1, 1), joint(0, 1, 2, 0), joint(0, 0, 1, 2)};
  frame.surfaces = {{"floor", kUp, 0.0, {}}, {"wall", kFront, 100.0, {}}};
  using Kind = Fastening::Kind;
  frame.fastenings = {{Kind::flange_to_surface, 4, kRoom, 0, 1, {}},
                      {Kind::flange_to_board, 4, 5, kNone, 1, {}},
                      {Kind::board_to_surface, 5, kRoom, 1, 1, {}},
                      {Kind::clip, 0, kRoom, 1, 1, {}},
                      {Kind::strap, 5, 0, kNone, 2, {}}};
  return frame;
}

}  // namespace

TEST_CASE("a joint is named by its male part, its female part and the way the port faces") {
  const Frame frame = small_frame();
  CHECK(joint_name(frame, 0) == "P1/T1.up");
  CHECK(joint_name(frame, 2) == "P1/T1.right");
}

TEST_CASE("a joint at half a union is named by the union") {
  const Frame frame = small_frame();
  CHECK(joint_name(frame, 1) == "P1/U1.down");
}

TEST_CASE("a fastening is named by what is fastened and to what") {
  const Frame frame = small_frame();
  CHECK(fastening_name(frame, 0) == "FL/floor");
  CHECK(fastening_name(frame, 1) == "FL/SHELF");
  CHECK(fastening_name(frame, 2) == "SHELF/wall");
  CHECK(fastening_name(frame, 3) == "P1/wall");
  CHECK(fastening_name(frame, 4) == "SHELF/P1 strap");
}

TEST_CASE("a part is found by its id, a union by its halves") {
  const Frame frame = small_frame();
  CHECK(frame.find("T1") == 1);
  CHECK(frame.find("U1~b") == 3);
  CHECK(frame.find("U1") == kNone);
  CHECK(frame.find("") == kNone);
}

TEST_CASE("every kind of part has its own word") {
  std::set<std::string> words;
  for (int kind = 0; kind <= static_cast<int>(PartKind::board); ++kind) {
    words.insert(word_for(static_cast<PartKind>(kind)));
  }
  CHECK(words.size() == dryfit::at(PartKind::board) + 1);  // the board is the last kind
  CHECK(std::string(word_for(PartKind::street_elbow)) == "street-elbow");
  CHECK(std::string(word_for(PartKind::union_half)) == "union");
}

TEST_CASE("an input error lists every fault as file, line, column and text") {
  const InputError error("rack.yaml",
                         {{{14, 9}, "part 'T1': unknown kind 'tea'"}, {{20, 0}, "too long"}, {{}, "empty"}});
  CHECK(std::string(error.what()) ==
        "rack.yaml:14:9: part 'T1': unknown kind 'tea'\nrack.yaml:20: too long\nrack.yaml: empty");
  CHECK(error.file() == "rack.yaml");
  CHECK(error.faults().size() == 3);
}
