/// Values set, kinds swapped and names changed in the text of a frame file.
#include <doctest/doctest.h>

#include <stdexcept>

#include "model/editing/edit.hpp"

using namespace dryfit::model;

namespace {

constexpr const char* kShelf =
    "dryfit: 1\n"
    "name: Shelf\n"
    "pipe: {standard: npt, size: 3/4}\n"
    "surfaces: {wall: {normal: front, at: 8}}\n"
    "runs:\n"
    "  post:\n"
    "    from: wall\n"
    "    parts:\n"
    "      - P1: {pipe: 10}   # P1 is sawn\n"
    "      - U1: union\n"
    "      - P10: {pipe: 4}\n"
    "    to: \"T1.left\"\n"
    "  rail: {from: P1.end, parts: [T1: {tee: up}], to: U1~a.up}\n"
    "boards:\n"
    "  S1:\n"
    "    through: [P1, P10]\n"
    "    notch: {P1: front}\n"
    "    rests-on: [T1, U1]\n"
    "    size: {x: 36, y: 9, z: 3/4}\n"
    "    strap: {P1: 2}\n"
    "    fix: [wall]\n"
    "clips: {P1: wall}\n";

std::string with_each(std::string text, const std::string& from, const std::string& to) {
  for (std::size_t place = text.find(from); place != std::string::npos; place = text.find(from, place + to.size())) {
    text.replace(place, from.size(), to);
  }
  return text;
}

}  // namespace

TEST_CASE("a name is changed wherever the file says it, and nowhere else") {
  // P10 and the comment are none of P1's.
  std::string upright = with_each(kShelf, "- P1:", "- upright:");
  upright = with_each(upright, "from: P1.end", "from: upright.end");
  upright = with_each(upright, "[P1, ", "[upright, ");
  upright = with_each(upright, "{P1: ", "{upright: ");
  CHECK(with_name(kShelf, "P1", "upright") == upright);
  CHECK(with_name(upright, "upright", "P1") == kShelf);
  CHECK(with_name(kShelf, "T1", "branch") == with_each(kShelf, "T1", "branch"));
  CHECK(with_name(kShelf, "U1", "U7") == with_each(kShelf, "U1", "U7"));
  CHECK(with_name(kShelf, "wall", "studs") == with_each(kShelf, "wall", "studs"));
  CHECK(with_name(kShelf, "S1", "top") == with_each(kShelf, "S1", "top"));
  CHECK(with_name(kShelf, "post", "left post") == with_each(kShelf, "post", "left post"));
}

TEST_CASE("a name that is taken, or that nothing has, is refused") {
  for (const char* taken : {"P10", "S1", "wall"}) {
    CAPTURE(taken);
    CHECK_THROWS_AS(static_cast<void>(with_name(kShelf, "P1", taken)), std::invalid_argument);
  }
  CHECK_THROWS_AS(static_cast<void>(with_name(kShelf, "P2", "P3")), std::invalid_argument);
  CHECK_THROWS_AS(static_cast<void>(with_name(kShelf, "post", "rail")), std::invalid_argument);
}

TEST_CASE("a value is set in its place, and what a part or board may have besides is put in") {
  CHECK(with_value(kShelf, "P1.length", "12") == with_each(kShelf, "{pipe: 10}", "{pipe: 12}"));
  CHECK(with_value(kShelf, "P1.size", "1/2") == with_each(kShelf, "{pipe: 10}", "{pipe: 10, size: 1/2}"));
  CHECK(with_value(kShelf, "U1.size", "1/2") == with_each(kShelf, "U1: union", "U1: {union: , size: 1/2}"));
  CHECK(with_value(kShelf, "pipe.size", "1") == with_each(kShelf, "npt, size: 3/4", "npt, size: 1"));
  CHECK(with_value(kShelf, "name", "Bench") == with_each(kShelf, "name: Shelf", "name: Bench"));
  CHECK(with_value(kShelf, "wall.at", "9") == with_each(kShelf, "at: 8", "at: 9"));
  CHECK(with_value(kShelf, "S1.size.x", "40") == with_each(kShelf, "x: 36", "x: 40"));
  CHECK(with_value(kShelf, "S1.stock", "oak") == with_each(kShelf, "fix: [wall]\n", "fix: [wall]\n    stock: oak\n"));
  CHECK(with_value(kShelf, "S1.fix", "[]") == with_each(kShelf, "fix: [wall]", "fix: []"));
  for (const char* target : {"P1.weight", "T1.length", "S1.colour", "X.length", "pipe.colour", "T1"}) {
    CAPTURE(target);
    CHECK_THROWS_AS(static_cast<void>(with_value(kShelf, target, "1")), std::invalid_argument);
  }
}

TEST_CASE("a value is given to several at once, and a plus in a name is a part of it") {
  const std::string two = with_each(kShelf, "U1: union", "A+B: coupling");
  const std::string both = with_each(with_each(two, "{pipe: 10}", "{pipe: 12}"), "{pipe: 4}", "{pipe: 12}");
  CHECK(with_values(two, "P1+P10.length", "12") == both);
  CHECK(with_values(two, "P1.length", "12") == with_value(two, "P1.length", "12"));
  CHECK(with_values(two, "A+B.size", "1/2") == with_value(two, "A+B.size", "1/2"));
  CHECK_THROWS_AS(static_cast<void>(with_values(two, "P1+X.length", "12")), std::invalid_argument);
  CHECK_THROWS_AS(static_cast<void>(with_values(two, "P1+.length", "12")), std::invalid_argument);
}

TEST_CASE("another kind takes the place of one, with nothing else moved") {
  CHECK(with_part_swapped(kShelf, "U1", "coupling") == with_each(kShelf, "U1: union", "U1: coupling"));
  CHECK(with_part_swapped(kShelf, "T1", "{elbow: up}") == with_each(kShelf, "{tee: up}", "{elbow: up}"));
  CHECK_THROWS_AS(static_cast<void>(with_part_swapped(kShelf, "S1", "cap")), std::invalid_argument);
}
