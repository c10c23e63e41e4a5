/// Mistakes in what is given to the program, told in the language that is spoken: frame files, calls, prices, steps.
#include <doctest/doctest.h>

#include <set>
#include <string>
#include <utility>
#include <vector>

#include "cli/words/say.hpp"
#include "tests/support/program/one_letter.hpp"
#include "tests/support/program/program.hpp"

using namespace dryfit;
using tests::OneLetter;
using tests::Ran;
using tests::run;
using tests::ScratchFolder;
using tests::words_of;

namespace {

constexpr const char* kFrame = R"(dryfit: 1
name: R
units: in
pipe: {standard: npt, size: 3/4}
surfaces:
  floor: {normal: up, at: 0}
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
boards:
  S1:
    size: {x: 12, y: 8, z: 3/4}
    through: [P3]
    rests-on: [C1]
    reach: {left: 2, front: 4}
)";

std::string with(const std::string& was, const std::string& now) {
  std::string text = kFrame;
  const std::size_t at = text.find(was);
  REQUIRE(at != std::string::npos);
  return text.replace(at, was.size(), now);
}

struct Mistake {
  std::string was, now;
  std::string german;  ///< what is told behind the file's name
};

const std::vector<Mistake> kMistakes = {
    {"- C1: coupling", "- C1: couplin",
     "16:13: Teil 'C1': unbekannte Art 'couplin', erwartet pipe, coupling, elbow, elbow45, street-elbow, tee, cross, "
     "side-elbow, side-tee, cap, plug, bushing, flange, union, foot oder caster; gemeint 'coupling'?"},
    {"{tee: right}", "{tee: up}",
     "14:9: Teil 'T1': T-Stück: hinein geht es nach 'up', also muss der Abgang zeigen nach right, left, back oder front, "
     "angegeben 'up'"},
    {"{pipe: 8}", "{pipe: 8,5}", "15:20: Teil 'P2': pipe: '8,5': Dezimalkomma: 8.5 schreiben"},
    {"{pipe: 8}", "{pipe: eight}",
     "15:20: Teil 'P2': length: 'eight': das ist keine Länge, so schreiben: 4-1/2, 4 1/2, 3/4, 9.5 in, 114 mm oder 11 cm"},
    {"through: [P3]", "through: [P9]",
     "22:15: Brett 'S1': through: 'P9' gibt es nicht; erwartet den Namen eines Teils, eines Bretts oder einer Fläche; "
     "gemeint 'P1'?"},
    {"through: [P3]", "through: [P1]",
     "22:15: Brett 'S1': 'P1' geht nicht durch das Brett: es endet 11-1/8 Zoll darunter; gemeint 'P3'?"},
    {"      - T1: {tee: right}\n", "",
     "14:9: Teil 'P2': P1.end an P2.start verbindet zwei Rohrenden: dazwischen fehlt ein Fitting"},
    {"reach: {left: 2, front: 4}", "reach: {left: 1/4, front: 4}",
     "22:15: Brett 'S1': Loch für 'P3' bricht durch die linke Kante, um 5/16 Zoll: das Brett dort größer machen oder "
     "verschieben"},
    {"    size: {x: 12", "\tsize: {x: 12",
     "21:1: Datei: ein Tabulator am Zeilenanfang; YAML nimmt nur Leerzeichen: ersetzen"},
};

/// What stands for itself in every language: the words of the format.
constexpr const char* kFormatWords =
    "dryfit name units pipe make driver surfaces runs boards clips standard size npt iso normal at from to go parts "
    "coupling elbow street tee cross side cap plug bushing flange union foot caster facing through notch rests on "
    "height reach hole fix strap stock mass up down left right front back start end plain turns measured branch entry "
    "plane reverse cm mm in lb oz kg yaml xz yz xy true false length LENGTH centre band";

/// Further mistakes, each of another sort: what is found and what stands in its place.
const std::vector<std::pair<std::string, std::string>> kMore = {
    {"dryfit: 1", "dryfit: 2"},
    {"dryfit: 1\n", ""},
    {"name: R", "name: [R]"},
    {"units: in", "units: ft"},
    {"standard: npt", "standard: gas"},
    {"size: 3/4}", "size: 7}"},
    {"pipe: {standard: npt, size: 3/4}\n", ""},
    {"normal: up", "normal: skyward"},
    {", at: 0}", "}"},
    {"  floor: {normal: up, at: 0}", "  yes: {normal: up, at: 0}"},
    {"    from: floor\n", ""},
    {"from: floor", "from: roof"},
    {"from: floor", "from: floor.up"},
    {"at: [0, 0]", "at: 0"},
    {"at: [0, 0]", "at: [0, 0, 0]"},
    {"at: [0, 0]", "go: down"},
    {"- P1: {pipe: 6}", "- P1: {pipe: -6}"},
    {"- P1: {pipe: 6}", "- P1: {pipe: 6, length: 3}"},
    {"- P1: {pipe: 6}", "- pipe: 6"},
    {"- P1: {pipe: 6}", "- P1: pipe"},
    {"- P1: {pipe: 6}", "- P1: {pipe: 6, turns: 4}"},
    {"- P1: {pipe: 6}", "- P1: {pipe: 1/2}"},
    {"- P2: {pipe: 8}", "- P1: {pipe: 8}"},
    {"- P2: {pipe: 8}", "- 2P: {pipe: 8}"},
    {"- T1: {tee: right}", "- T1: {side-tee: right}"},
    {"- T1: {tee: right}", "- T1: cross"},
    {"- T1: {tee: right}", "- T1: {bushing: 1}"},
    {"- T1: {tee: right}", "- T1: {tee: right, measured: 3}"},
    {"- K1: cap", "- K1: cap\n      - P4: {pipe: 3}"},
    {"- K1: cap", "- K1: {cap: 3}"},
    {"- C1: coupling", "- C1: {coupling: , size: 1}"},
    {"size: {x: 12, y: 8, z: 3/4}", "size: [12, 8, 3/4]"},
    {"size: {x: 12, y: 8, z: 3/4}", "size: {x: 12, y: 8}"},
    {"size: {x: 12, y: 8, z: 3/4}", "size: {x: 3/4, y: 8, z: 12}"},
    {"through: [P3]", "through: P3"},
    {"through: [P3]", "through: [C1]"},
    {"through: [P3]", "through: [P3]\n    hole: 1/2"},
    {"rests-on: [C1]", "rests-on: [floor]"},
    {"rests-on: [C1]", "rests-on: [S1]"},
    {"    rests-on: [C1]\n", ""},
    {"reach: {left: 2, front: 4}", "reach: {up: 2, front: 4}"},
    {"reach: {left: 2, front: 4}", "reach: {left: 2}"},
    {"reach: {left: 2, front: 4}", "screw: floor"},
    {"reach: {left: 2, front: 4}", "reach: {left: 2, front: 4}\n    fix: [P3]"},
    {"reach: {left: 2, front: 4}", "reach: {left: 2, front: 4}\n    notch: P1"},
    {"reach: {left: 2, front: 4}", "reach: {left: 2, front: 4}\n    mass: heavy"},
    {"boards:", "boards"},
    {"boards:", "boards:\n  S1: {}"},
};

}  // namespace

TEST_CASE("mistakes in a frame file are told in German") {
  const ScratchFolder folder;
  for (const Mistake& mistake : kMistakes) {
    CAPTURE(mistake.now);
    const std::string file = folder.file("frame.yaml", with(mistake.was, mistake.now));
    const Ran german = run({"check", file, "--language", "de"});
    CHECK(german.code == 2);
    CHECK(german.out == "");
    CHECK(german.err == file + ":" + mistake.german + "\n");
  }
}

TEST_CASE("whatever is wrong in a frame file is told through the catalogues") {
  const OneLetter one_letter;
  const ScratchFolder folder;
  std::set<std::string> known = words_of(kFormatWords);
  for (const std::string& word : words_of(kFrame)) known.insert(word);
  for (const auto& [was, now] : kMore) {
    CAPTURE(now);
    const std::string text = with(was, now), file = folder.file("frame.yaml", text);
    std::set<std::string> allowed = known;
    for (const std::string& word : words_of(now)) allowed.insert(word);
    const Ran ran = run({"check", file});
    CHECK(ran.code == 2);
    CHECK(ran.out == "");
    CAPTURE(ran.err);
    CHECK(ran.err.find("ø") != std::string::npos);
    std::string told = ran.err;
    for (std::size_t at = 0; (at = told.find(file)) != std::string::npos;) told.erase(at, file.size());
    for (const std::string& word : words_of(told)) {
      CAPTURE(word);
      CHECK(allowed.contains(word));
    }
  }
}

TEST_CASE("a wrong call is told in the language that it asks for, wherever that stands in it") {
  const ScratchFolder folder;
  const std::string file = folder.file("frame.yaml", kFrame);
  const auto refused = [&](std::vector<std::string> args, const std::string& what) {
    CAPTURE(what);
    const Ran ran = run(args);
    CHECK(ran.code == 2);
    CHECK(ran.out == "");
    CHECK(ran.err == "dryfit: " + what + "\n");
  };
  refused({"order", file, "--language", "de", "--peple", "3"},
          "eine Option '--peple' gibt es nicht; gemeint '--people'?; siehe 'dryfit order --help'");
  refused({"order", "--language=de", file, "--people"}, "--people braucht eine Zahl; siehe 'dryfit order --help'");
  refused({"order", file, "--language", "de", "--carry"},
          "--carry braucht einen Wert, etwa --carry 30x78; siehe 'dryfit order --help'");
  refused({"order", file, "--carry", "--json"},
          "--carry needs a value, such as --carry 30x78; see 'dryfit order --help'");
  refused({"order", file, "--carry", "30", "--language", "de"},
          "--carry: '30' ist keine Öffnung; Breite x Höhe einer Tür angeben, etwa 30x78, oder drei Kanten, etwa "
          "60x30x78");
  refused({"fit", file, "--units", "--language", "de"},
          "--units braucht einen Wert: in, mm oder both; siehe 'dryfit fit --help'");
  refused({"change", file, "--set", "P9.length=4", "--language", "de"},
          "--set P9.length=4: ein Teil oder Brett 'P9' gibt es nicht in der Datei");
  refused({"span", "12x", "--language", "de"},
          "'12x': 'x' bleibt übrig, so schreiben: 4-1/2, 4 1/2, 3/4, 9.5 in, 114 mm oder 11 cm");
}

TEST_CASE("prices and steps that cannot be read are told in German") {
  const ScratchFolder folder;
  const std::string file = folder.file("frame.yaml", kFrame);
  const std::string prices = folder.file("prices.csv", "size,item,length,price\n3/4,pipe,6,-1\n9,pipe,6,1\n");
  CHECK(run({"buy", file, "--prices", prices, "--language", "de"}).err ==
        prices + ":2:1: erwartet einen Preis von 0 oder mehr, gefunden '-1'\n" + prices +
            ":3:1: unbekannte Rohrgröße '9'\n");
  const std::string steps = folder.file("steps.json", R"([{"action": "srew", "contacts": ["P1/F1.up"]}])");
  CHECK(run({"replay", file, steps, "--language", "de"}).err ==
        steps +
            ": Schritt 1: unbekannte Aktion 'srew', erwartet screw, slide, pass, lay, join oder fasten; gemeint "
            "'screw'?\n");
}
