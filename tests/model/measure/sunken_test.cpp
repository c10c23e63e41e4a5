/// What is drawn in a board although no hands would put it there. Heights by hand: 3/4 in npt, a thread 8.6 mm deep.
#include "model/measure/sunken.hpp"

#include <doctest/doctest.h>

#include <string>
#include <vector>

#include "model/placing/reader.hpp"

namespace dryfit::model {
namespace {

std::vector<std::string> sunken_in(const std::string& board, const std::string& text) {
  const Frame frame = read_frame(
      "dryfit: 1\nunits: mm\npipe: {standard: npt, size: 3/4}\nsurfaces:\n  floor: {normal: up, at: 0}\n" + text,
      "sunken.yaml");
  std::vector<std::string> ids;
  for (const PartId p : frame.board_of(frame.find(board)).sunken) ids.push_back(frame.part(p).id);
  return ids;
}

TEST_CASE("under a carrier that stands too high, what reaches into the board as drawn is sunken") {
  // The second post is 25 mm longer: its cap, 16 mm over the pipe, carries the board; the pipe ends 9 mm in the wood.
  const auto posts = [](int length) {
    return "runs:\n  one: {from: floor, at: [0, 0], parts: [F1: flange, A1: {pipe: 300}, K1: cap]}\n"
           "  two: {from: floor, at: [400, 0], parts: [F2: flange, A2: {pipe: " +
           std::to_string(length) +
           "}, K2: cap]}\nboards:\n"
           "  TOP: {rests-on: [K1, K2], size: {x: 600, y: 200, z: 19}, reach: {left: 100, front: 100}}\n";
  };
  CHECK(sunken_in("TOP", posts(325)) == std::vector<std::string>{"A2"});
  CHECK(sunken_in("TOP", posts(310)).empty());  // the cap alone
  CHECK(sunken_in("TOP", posts(300)).empty());
  CHECK(sunken_in("TOP", posts(280)).empty());  // too low: the board lies on the first
}

TEST_CASE("an arm out of the high post is sunken with it; a rail that nothing joins to it is not") {
  const std::string text =
      "runs:\n  one: {from: floor, at: [0, 0], parts: [F1: flange, A1: {pipe: 300}, K1: cap]}\n"
      "  two: {from: floor, at: [400, 0], parts: [F2: flange, A2: {pipe: 300}, T2: {tee: right}, B2: {pipe: 40}, K2: cap]}\n"
      "  arm: {from: T2.right, parts: [D: {pipe: 100}, K3: cap]}\n"
      "  other: {at: [200, -300, 336], go: back, parts: [K4: cap, R: {pipe: 600}, K5: cap]}\n"
      "boards:\n  TOP: {rests-on: [K1, K2], size: {x: 800, y: 200, z: 19}, reach: {left: 100, front: 100}}\n";
  CHECK(sunken_in("TOP", text) == std::vector<std::string>{"T2", "D", "K3"});
}

TEST_CASE("a leg that is too long under a top on flanges is sunken") {
  // 25 mm too long: the flange, 10 mm over the pipe's end, is screwed to the top; the pipe ends 15 mm in the wood.
  CHECK(sunken_in(
            "TOP",
            "runs:\n  one: {from: floor, at: [0, 0], parts: [S1: foot, A1: {pipe: 300}, F1: flange], to: TOP.down}\n"
            "  two: {from: floor, at: [400, 0], parts: [S2: foot, A2: {pipe: 325}, F2: flange], to: TOP.down}\n"
            "boards:\n  TOP: {at: [-100, -100], size: {x: 600, y: 200, z: 19}}\n") == std::vector<std::string>{"A2"});
}

}  // namespace
}  // namespace dryfit::model
