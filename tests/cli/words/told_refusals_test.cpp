/// Why a step cannot be done, as the judge of orders says it, told in the language that is spoken.
#include <doctest/doctest.h>

#include <cstddef>
#include <nlohmann/json.hpp>
#include <regex>
#include <set>
#include <string>
#include <vector>

#include "cli/words/say.hpp"
#include "tests/support/program/one_letter.hpp"
#include "tests/support/program/program.hpp"

using namespace dryfit;
using tests::OneLetter;
using tests::run;
using tests::ScratchFolder;

namespace {

/// Two posts that a shelf goes over: round the one, and with a notch at the other.
constexpr const char* kPosts = R"(dryfit: 1
name: R
units: in
pipe: {standard: npt, size: 3/4}
surfaces:
  floor: {normal: up, at: 0}
  wall: {normal: front, at: 3}
runs:
  left:
    from: floor
    at: [0, 0]
    parts:
      - F1: flange
      - P1: {pipe: 6}
      - T1: {tee: right}
      - P2: {pipe: 8}
      - C1: coupling
      - P3: {pipe: 10}
      - K1: cap
  arm:
    from: T1.right
    parts:
      - P4: {pipe: 6}
      - E1: {elbow: up}
      - P5: {pipe: 20}
      - K2: cap
boards:
  S1:
    size: {x: 16, y: 4, z: 3/4}
    through: [P3]
    notch: {P5: right}
    rests-on: [C1]
    reach: {left: 2, front: 2}
)";

struct Written {
  std::string action;
  std::vector<std::string> contacts;
};

/// An order that works.
const std::vector<Written> kOrder = {
    {"screw", {"P4/T1.right"}}, {"screw", {"P4/E1.left"}},      {"screw", {"P5/E1.up"}},
    {"slide", {"S1/P3", "S1/P5"}}, {"screw", {"P2/T1.up"}},     {"screw", {"P2/C1.down"}},
    {"screw", {"P3/C1.up"}},    {"screw", {"P1/T1.down"}},      {"screw", {"P1/F1.up"}},
    {"screw", {"P5/K2.down"}},  {"screw", {"P3/K1.down"}},      {"fasten", {"F1/floor"}},
};

/// kOrder with the step of that number put at the place of another.
std::vector<Written> with_moved(std::size_t from, std::size_t to) {
  std::vector<Written> steps = kOrder;
  const Written step = steps[from - 1];
  steps.erase(steps.begin() + static_cast<std::ptrdiff_t>(from) - 1);
  steps.insert(steps.begin() + static_cast<std::ptrdiff_t>(to) - 1, step);
  return steps;
}

class Replays {
 public:
  /// What is said below the line that the order does not work.
  std::string operator()(const std::vector<Written>& steps, const std::vector<std::string>& more) const {
    nlohmann::json written = nlohmann::json::array();
    for (const Written& step : steps) written.push_back({{"action", step.action}, {"contacts", step.contacts}});
    std::vector<std::string> call = {"replay", frame_,
                                     folder_.file("steps.json", nlohmann::json{{"steps", written}}.dump())};
    call.insert(call.end(), more.begin(), more.end());
    const std::string out = run(call).out;
    const std::size_t first = out.find('\n');
    return first == std::string::npos ? out : out.substr(first + 1);
  }

 private:
  ScratchFolder folder_;
  std::string frame_ = folder_.file("frame.yaml", kPosts);
};

}  // namespace

TEST_CASE("why a step can't be done is told in German") {
  const Replays replayed;
  const auto told = [&](const std::vector<Written>& steps, const std::vector<std::string>& more = {}) {
    std::vector<std::string> call = {"--language", "de"};
    call.insert(call.end(), more.begin(), more.end());
    return replayed(steps, call);
  };
  CHECK(told(with_moved(1, 7)) ==
        "Schritt 7: P4 lässt sich nicht in T1 schrauben: keine Seite von P4/T1.right kann sich drehen, beide hängen über "
        "E1, P5, S1, P3, C1 und P2 zusammen\n");
  CHECK(told(with_moved(1, 6)) ==
        "Schritt 6: P4 lässt sich nicht in T1 schrauben: beim Drehen von P4 stieße P3 gegen C1; beim Drehen von T1 stieße "
        "C1 gegen P3\n");
  CHECK(told(with_moved(9, 12)) ==
        "Schritt 12: P1 lässt sich nicht in F1 schrauben: beim Drehen von P1 stieße P4 gegen die Wand; F1 kann sich nicht "
        "drehen, F1/floor hält es\n");
  CHECK(told(with_moved(4, 10)) ==
        "Schritt 10: S1 lässt sich nicht über P3 schieben: von oben nicht, denn K2 auf derselben Linie ist breiter als der "
        "Schlitz (1-29/64 Zoll gegen 1-1/8 Zoll); von unten nicht, denn T1 auf derselben Linie ist breiter als das Loch "
        "(1-29/64 Zoll gegen 1-1/8 Zoll)\n");
  // 1-1/8 in is 28.6 mm.
  CHECK(told(with_moved(4, 12), {"--units", "mm"}).find("als das Loch (37 mm gegen 28,6 mm)") != std::string::npos);
  std::vector<Written> steps(kOrder.begin() + 1, kOrder.end());
  CHECK(told(steps) == "in keinem Schritt kommt zusammen: P4/T1.right\n");
  steps = kOrder;
  steps.push_back(kOrder.front());
  CHECK(told(steps) == "Schritt 13: P4/T1.right kommt schon in Schritt 1 zusammen\n");
  steps = kOrder;
  steps.front().action = "lay";
  CHECK(told(steps) == "Schritt 1: lay verlangt eine Auflage, und P4/T1.right ist ein Gewinde\n");
  cli::speak("en");
}

TEST_CASE("whatever a step is refused for is told through the catalogues") {
  const OneLetter one_letter;
  const Replays replayed;
  static const std::regex kContact("[A-Z][0-9]/[A-Z]?[A-Za-z0-9]+(\\.[a-z]+)?"), kWord("[A-Za-z]{2,}");
  std::set<std::string> reasons;
  for (std::size_t from = 1; from <= kOrder.size(); ++from) {
    for (std::size_t to = 1; to <= kOrder.size(); ++to) {
      const std::string told = replayed(with_moved(from, to), {});
      CAPTURE(told);
      std::smatch word;
      const std::string rest = std::regex_replace(told, kContact, "");
      CHECK_FALSE(std::regex_search(rest, word, kWord));
      reasons.insert(told.substr(told.find(':') + 1));
    }
  }
  CHECK(reasons.size() > 5);  // a floor set by hand
}
