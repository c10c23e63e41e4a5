#include "model/placing/bodies.hpp"

#include <doctest/doctest.h>

#include <numbers>

#include "model/standards/standards.hpp"
#include "tests/support/frames/placed.hpp"

namespace {

using namespace dryfit::model;
using namespace dryfit::test;

// Dimensions in inches for 3/4, as in the tables. L1 from ASME B1.20.1 (secondary source); all others from memory, so
// these tests check arithmetic, not the castings.
//   engagement 0.339   tee, elbow 1.31   45 elbow 0.98   coupling 1.52   band 1.458   pipe 1.050 outside
//   street elbow: female 1.31, male 1.89; at 45 degrees 0.98 and 1.29   cap 0.97   plug 0.63 + 0.44 head
//   bushing 0.63 + 0.22 head   flange 0.75, plate 3.40   union 52 mm
// and for 1/2: engagement 0.320, elbow 1.12, pipe 0.840 outside.
// Every frame begins with a pipe of 10 in to the right, so the fitting's face lies at 10 - 0.339 = 9.661.
constexpr double kFace = 9.661;
const double kRoot2 = std::numbers::sqrt2;

Frame behind_pipe(const std::string& parts, const std::string& head = "pipe: {standard: npt, size: 3/4}") {
  return read_frame(
      "dryfit: 1\n" + head + "\nruns: {r: {go: right, at: [0, 0, 0], parts: [P: {pipe: 10}, " + parts + "]}}\n",
      "f.yaml");
}

TEST_CASE("a pipe is a cylinder from start to end, weighed by the table") {
  const Frame frame = behind_pipe("C: coupling");
  const Part& pipe = part(frame, "P");
  REQUIRE(pipe.solids.size() == 1);
  CHECK(pipe.solids[0] == cylinder({}, kRight, 10 * kIn, 1.050 / 2 * kIn));
  CHECK(pipe.length == 10 * kIn);
  CHECK(near(pipe.centre, inch(5, 0, 0)));
  CHECK(near(pipe.centre_of_mass, inch(5, 0, 0)));
  // ASME B36.10M schedule 40: 1.13 lb/ft, 10 in = 10/12 ft, 1 lb = 0.45359237 kg.
  CHECK(pipe.mass == doctest::Approx(1.13 * 10 / 12 * 0.45359237));
}

TEST_CASE("an elbow turns the walk at its centre") {
  const Frame frame = behind_pipe("E: {elbow: up}, Q: {pipe: 5}");
  // 9.661 + 1.31 = 10.971
  CHECK(near(part(frame, "E").centre, inch(10.971, 0, 0)));
  CHECK(near(end_at(frame, "E", "left"), inch(kFace, 0, 0)));
  CHECK(near(end_at(frame, "E", "up"), inch(10.971, 0, 1.31)));
  // 1.31 - 0.339 = 0.971, and 5 more
  CHECK(near(end_at(frame, "Q", "down"), inch(10.971, 0, 0.971)));
  CHECK(near(end_at(frame, "Q", "up"), inch(10.971, 0, 5.971)));
  REQUIRE(part(frame, "E").solids.size() == 2);
  CHECK(near(part(frame, "E").solids[0].radius, 0.729 * kIn));
}

TEST_CASE("a 45 elbow turns by 45 degrees") {
  const Frame frame = behind_pipe("E: {elbow45: up-right}, Q: {pipe: 5}, F: {elbow45: up}");
  // 9.661 + 0.98 = 10.641; along the diagonal each axis gets 1 / root 2.
  CHECK(near(part(frame, "E").centre, inch(10.641, 0, 0)));
  CHECK(near(end_at(frame, "E", "up-right"), inch(10.641 + 0.98 / kRoot2, 0, 0.98 / kRoot2)));
  CHECK(near(end_at(frame, "Q", "down-left"), inch(10.641 + 0.641 / kRoot2, 0, 0.641 / kRoot2)));
  CHECK(near(end_at(frame, "Q", "up-right"), inch(10.641 + 5.641 / kRoot2, 0, 5.641 / kRoot2)));
  // Centre to centre: 0.98 - 0.339 + 5 - 0.339 + 0.98 = 6.282
  CHECK(near(part(frame, "F").centre, inch(10.641 + 6.282 / kRoot2, 0, 6.282 / kRoot2)));
  CHECK(near(end_at(frame, "F", "up"), inch(10.641 + 6.282 / kRoot2, 0, 6.282 / kRoot2 + 0.98)));
}

TEST_CASE("a street elbow has a port in and a male end out, or reversed") {
  const Frame frame = behind_pipe("S: {street-elbow: up}, C: coupling");
  CHECK(near(part(frame, "S").centre, inch(10.971, 0, 0)));
  CHECK(near(end_at(frame, "S", "up"), inch(10.971, 0, 1.89)));
  // The coupling's face 1.89 - 0.339 = 1.551, its middle half of 1.52 above.
  CHECK(near(part(frame, "C").centre, inch(10.971, 0, 2.311)));
  CHECK(part(frame, "S").ports[1].male);
  // The male arm is as thick as pipe, the other as a band.
  REQUIRE(part(frame, "S").solids.size() == 2);
  CHECK(near(part(frame, "S").solids[0].radius, 0.729 * kIn));
  CHECK(near(part(frame, "S").solids[1].radius, 0.525 * kIn));
  CHECK(joint_name(frame, 1) == "S/C.down");

  // Reversed behind a coupling: its far face 9.661 + 1.52 = 11.181, tip 10.842, centre 1.89 behind the tip.
  const Frame turned = behind_pipe("C: coupling, S: {street-elbow: up, reverse: true}, Q: {pipe: 5}");
  CHECK(near(end_at(turned, "S", "left"), inch(10.842, 0, 0)));
  CHECK(near(part(turned, "S").centre, inch(12.732, 0, 0)));
  CHECK(near(end_at(turned, "S", "up"), inch(12.732, 0, 1.31)));
  CHECK(near(end_at(turned, "Q", "down"), inch(12.732, 0, 0.971)));

  const Frame at_45 = behind_pipe("S: {street-elbow: up-right}");
  CHECK(near(part(at_45, "S").centre, inch(10.641, 0, 0)));
  CHECK(near(end_at(at_45, "S", "up-right"), inch(10.641 + 1.29 / kRoot2, 0, 1.29 / kRoot2)));
}

TEST_CASE("a tee goes straight through and has a branch") {
  const Frame frame = behind_pipe("T: {tee: back}, Q: {pipe: 5}");
  CHECK(near(part(frame, "T").centre, inch(10.971, 0, 0)));
  // The far face 10.971 + 1.31 = 12.281, the pipe's end 0.339 inside it.
  CHECK(near(end_at(frame, "T", "right"), inch(12.281, 0, 0)));
  CHECK(near(end_at(frame, "T", "back"), inch(10.971, 1.31, 0)));
  CHECK(near(end_at(frame, "Q", "left"), inch(11.942, 0, 0)));
  // The run is one cylinder, the branch another.
  REQUIRE(part(frame, "T").solids.size() == 2);
  // Half of the band: 1.458 / 2 = 0.729.
  const Bounds run = bounds_of(part(frame, "T").solids[0]);
  CHECK(near(run.lo, inch(kFace, -0.729, -0.729)));
  CHECK(near(run.hi, inch(12.281, 0.729, 0.729)));
  // Centre of mass: three equal arms, of which one is off the run by half of 1.31.
  CHECK(near(part(frame, "T").centre_of_mass, inch(10.971, 1.31 / 2 / 3, 0)));
}

TEST_CASE("a tee entered at its branch stops the walk, with a port to either side") {
  const Frame frame = behind_pipe("T: {tee: up, entry: branch}");
  REQUIRE(part(frame, "T").ports.size() == 3);
  CHECK(near(end_at(frame, "T", "left"), inch(kFace, 0, 0)));
  CHECK(near(end_at(frame, "T", "up"), inch(10.971, 0, 1.31)));
  CHECK(near(end_at(frame, "T", "down"), inch(10.971, 0, -1.31)));
}

TEST_CASE("a cross lies in its plane, side outlets stand square to all else") {
  const Frame cross = behind_pipe("X: {cross: , plane: xz}");
  CHECK(near(end_at(cross, "X", "up"), inch(10.971, 0, 1.31)));
  CHECK(near(end_at(cross, "X", "down"), inch(10.971, 0, -1.31)));
  CHECK(near(end_at(cross, "X", "right"), inch(12.281, 0, 0)));
  CHECK(part(cross, "X").solids.size() == 2);
  CHECK(near(end_at(behind_pipe("X: {cross: , plane: xy}"), "X", "front"), inch(10.971, -1.31, 0)));

  const Frame elbow = behind_pipe("S: {side-elbow: up, side: front}, Q: {pipe: 5}");
  CHECK(near(end_at(elbow, "S", "front"), inch(10.971, -1.31, 0)));
  CHECK(near(end_at(elbow, "Q", "up"), inch(10.971, 0, 5.971)));
  CHECK(part(elbow, "S").ports.size() == 3);

  const Frame tee = behind_pipe("S: {side-tee: up, side: front}, Q: {pipe: 5}");
  CHECK(near(end_at(tee, "S", "front"), inch(10.971, -1.31, 0)));
  CHECK(near(end_at(tee, "S", "up"), inch(10.971, 0, 1.31)));
  // The far face 12.281, less 0.339, and 5 of pipe.
  CHECK(near(end_at(tee, "Q", "right"), inch(16.942, 0, 0)));
  CHECK(part(tee, "S").ports.size() == 4);
}

TEST_CASE("caps, plugs and flanges close a run") {
  const Frame cap = behind_pipe("K: cap");
  CHECK(near(part(cap, "K").centre, inch(kFace + 0.97, 0, 0)));
  const Frame plug = behind_pipe("C: coupling, G: plug");
  // Tip 10.842, then 0.63 of thread and 0.44 of head.
  CHECK(near(end_at(plug, "G", "left"), inch(10.842, 0, 0)));
  CHECK(near(part(plug, "G").centre, inch(11.912, 0, 0)));
  CHECK(joint_name(plug, 1) == "G/C.right");
  const Frame flange = behind_pipe("F: flange");
  CHECK(near(part(flange, "F").centre, inch(kFace + 0.75, 0, 0)));
  // Hub to the port's face, plate at the mounting face: 9.661 + 0.75 = 10.411, half of 3.40 to each side. Its thickness
  // of 6 mm is the model's own choice, no source.
  REQUIRE(part(flange, "F").solids.size() == 2);
  const Bounds plate = bounds_of(part(flange, "F").solids[1]);
  CHECK(near(plate.hi.x, 10.411 * kIn));
  CHECK(near(plate.lo.x, 10.411 * kIn - 6));
  CHECK(near(plate.hi.z, 1.70 * kIn));
}

TEST_CASE("a cap, plug or flange that begins a run stands on its closed end") {
  const auto first = [](const std::string& part) {
    return read_frame(
        "dryfit: 1\npipe: {standard: npt, size: 3/4}\nruns: {r: {go: up, at: [0, 0, 0], parts: [" + part + "]}}\n",
        "f.yaml");
  };
  CHECK(near(end_at(first("K: cap, P: {pipe: 5}"), "P", "down"), inch(0, 0, 0.97 - 0.339)));
  CHECK(near(end_at(first("F: flange, P: {pipe: 5}"), "P", "down"), inch(0, 0, 0.75 - 0.339)));
  CHECK(near(end_at(first("G: plug, C: coupling"), "C", "down"), inch(0, 0, 0.63 + 0.44 - 0.339)));
}

TEST_CASE("a bushing carries a smaller pipe in a larger port, whichever way it is walked") {
  const Frame inward = behind_pipe("C: coupling, B: {bushing: 1/2}, Q: {pipe: 5, size: 1/2}");
  // Tip 10.842; 0.63 + 0.22 to its female face; the 1/2 pipe goes in by 0.320.
  CHECK(near(end_at(inward, "B", "right"), inch(11.692, 0, 0)));
  CHECK(near(end_at(inward, "Q", "left"), inch(11.372, 0, 0)));
  const Frame outward = read_frame(
      "dryfit: 1\npipe: {standard: npt, size: 3/4}\n"
      "runs: {r: {go: right, at: [0, 0, 0], parts: [P: {pipe: 10, size: 1/2}, B: {bushing: 1/2}, C: coupling]}}\n",
      "f.yaml");
  // Face 10 - 0.320 = 9.680, tip 9.680 + 0.85 = 10.530, coupling's face 10.530 - 0.339 = 10.191.
  CHECK(near(end_at(outward, "B", "left"), inch(9.680, 0, 0)));
  CHECK(near(end_at(outward, "B", "right"), inch(10.530, 0, 0)));
  CHECK(near(end_at(outward, "C", "left"), inch(10.191, 0, 0)));
  // The head stands out over the thread on the side of the female face.
  const Part& bushing = part(outward, "B");
  REQUIRE(bushing.solids.size() == 2);
  CHECK(near(bounds_of(bushing.solids[0]).hi.x, (9.680 + 0.22) * kIn));
  CHECK(bushing.solids[0].radius > bushing.solids[1].radius);
}

TEST_CASE("a plug or bushing that was measured over all is that long, head and all") {
  const auto bushing = [](const std::string& measured) {
    return part(behind_pipe("C: coupling, B: {bushing: 1/2, measured: {" + measured + "}}, Q: {pipe: 5, size: 1/2}"),
                "B");
  };
  // Tip 10.842 as above; an inch on is the far face, whatever the table says of the head (0.22).
  for (const char* measured : {"length: 1", "height: 1", "length: 1, height: 1", "length: 1, height: 1/2"}) {
    CAPTURE(measured);
    const Part b = bushing(measured);
    CHECK(near(b.ports[1].at, inch(11.842, 0, 0)));
    CHECK(near(bounds_of(b.solids[1]).hi.x, 11.842 * kIn));
  }
  // Beside a length a smaller height is the head's: its shoulder lies half an inch before the face.
  CHECK(near(bounds_of(bushing("length: 1, height: 1/2").solids[1]).lo.x, 11.342 * kIn));
  CHECK(near(bounds_of(bushing("length: 1").solids[1]).lo.x, (11.842 - 0.22) * kIn));
  // A bushing shorter than the table's head still has a thread.
  CHECK(near(bounds_of(bushing("length: 0.3").solids[1]).lo.x, (10.842 + 0.15) * kIn));
  CHECK(near(part(behind_pipe("C: coupling, G: {plug: , measured: {length: 1}}"), "G").centre, inch(11.842, 0, 0)));
}

TEST_CASE("a union is two halves that meet in its middle") {
  const Frame frame = behind_pipe("U: union, Q: {pipe: 5}");
  const Part& a = part(frame, "U~a");
  const Part& b = part(frame, "U~b");
  CHECK(a.label == "U");
  CHECK(frame.part(a.union_mate).id == "U~b");
  CHECK(near(a.ports[0].at, inch(kFace, 0, 0)));
  CHECK(near(a.solids[0].b, inch(kFace + 26 / kIn, 0, 0)));
  CHECK(near(b.solids[0].a, inch(kFace + 26 / kIn, 0, 0)));
  CHECK(near(b.ports[0].at, inch(kFace + 52 / kIn, 0, 0)));
  // With its nut a quarter wider than the band: the model's own choice, no source.
  CHECK(near(a.solids[0].radius, 1.25 * 1.458 / 2 * kIn));
  CHECK(near(end_at(frame, "Q", "left"), inch(kFace + 52 / kIn - 0.339, 0, 0)));
  CHECK(joint_name(frame, 0) == "P/U.left");
  CHECK(joint_name(frame, 1) == "Q/U.right");
}

TEST_CASE("a reducing fitting is the mean of its sizes, a coupling as long as the larger") {
  const Frame coupling = behind_pipe("C: {coupling: , to-size: 1/2}, Q: {pipe: 5, size: 1/2}");
  CHECK(near(end_at(coupling, "Q", "left"), inch(kFace + 1.52 - 0.320, 0, 0)));
  // Two bands, so two cylinders.
  CHECK(part(coupling, "C").solids.size() == 2);
  CHECK(part(coupling, "C").from_memory);
  const Frame elbow = behind_pipe("E: {elbow: up, to-size: 1/2}, Q: {pipe: 5, size: 1/2}");
  // (1.31 + 1.12) / 2 = 1.215
  CHECK(near(part(elbow, "E").centre, inch(kFace + 1.215, 0, 0)));
  CHECK(near(end_at(elbow, "Q", "down"), inch(kFace + 1.215, 0, 1.215 - 0.320)));
  const Frame tee = behind_pipe("T: {tee: up, branch-size: 1/2}");
  CHECK(near(end_at(tee, "T", "up"), inch(kFace + 1.215, 0, 1.215)));
  CHECK(part(tee, "T").ports[2].size == nominal_size("1/2"));
  const Frame branch = behind_pipe("T: {tee: up, entry: branch, branch-size: 3/4, size: 1}");
  // (1.50 + 1.31) / 2 = 1.405
  CHECK(near(end_at(branch, "T", "up"), inch(kFace + 1.405, 0, 1.405)));
  CHECK(part(branch, "T").ports[0].size == nominal_size("3/4"));
  CHECK(part(branch, "T").ports[1].size == nominal_size("1"));
}

TEST_CASE("what the owner measured goes before the tables") {
  CHECK(near(end_at(behind_pipe("T: {tee: up, measured: {centre-to-end: 1-3/8}}"), "T", "up"),
             inch(kFace + 1.375, 0, 1.375)));
  CHECK(near(end_at(behind_pipe("C: {coupling: , measured: {length: 1-1/2}}"), "C", "right"), inch(kFace + 1.5, 0, 0)));
  CHECK(near(part(behind_pipe("F: {flange: , measured: {height: 7/8}}"), "F").centre, inch(kFace + 0.875, 0, 0)));
  CHECK(near(part(behind_pipe("F: {flange: , measured: {plate: 3-1/2}}"), "F").solids[1].radius, 1.75 * kIn));
  CHECK(near(part(behind_pipe("K: {cap: , measured: {height: 1}}"), "K").centre, inch(kFace + 1, 0, 0)));
  CHECK(near(part(behind_pipe("C: {coupling: , measured: {band: 1-1/2}}"), "C").solids[0].radius, 0.75 * kIn));
  CHECK(
      near(part(behind_pipe("U: {union: , measured: {length: 2-1/8}}"), "U~b").ports[0].at, inch(kFace + 2.125, 0, 0)));
  const Frame street = behind_pipe("S: {street-elbow: up, measured: {centre-to-end: 1, length: 2}}");
  CHECK(near(part(street, "S").centre, inch(kFace + 1, 0, 0)));
  CHECK(near(end_at(street, "S", "up"), inch(kFace + 1, 0, 2)));
  CHECK(part(street, "S").measured);
  const Part all_measured = part(behind_pipe("C: {coupling: , measured: {length: 1-1/2, band: 1-1/2}}"), "C");
  CHECK_FALSE(all_measured.from_memory);
  CHECK(part(behind_pipe("C: coupling"), "C").from_memory);
}

TEST_CASE("wrench-tight work goes in by L1 and L3") {
  const Frame frame = behind_pipe("C: coupling", "pipe: {standard: npt, size: 3/4}\nmake-up: wrench");
  // ASME B1.20.1: L1 0.339, L3 three turns of 14 to the inch, 0.2143: 0.5533.
  CHECK(near(end_at(frame, "C", "left"), inch(10 - 0.5533, 0, 0)));
  CHECK(near(frame.joints[0].hand, 0.339 * kIn));
  CHECK(near(frame.joints[0].wrench, 0.5533 * kIn));
  CHECK(near(frame.joints[0].pitch, kIn / 14));
}

TEST_CASE("turns that the owner counted go before the table, each end for itself") {
  const Frame frame = read_frame(
      "dryfit: 1\npipe: {standard: npt, size: 3/4}\n"
      "runs: {r: {go: right, at: [0, 0, 0], parts: [C: coupling, P: {pipe: 10, turns: {start: 5, end: 4}}, D: "
      "coupling]}}\n",
      "f.yaml");
  // 14 turns to the inch.
  CHECK(near(frame.joints[0].engaged, 5.0 / 14 * kIn));
  CHECK(near(frame.joints[1].engaged, 4.0 / 14 * kIn));
  CHECK(near(end_at(frame, "D", "left"), inch(1.52 - 5.0 / 14 + 10 - 4.0 / 14, 0, 0)));
}

TEST_CASE("metric work takes the ISO and EN tables") {
  const Frame frame = read_frame(
      "dryfit: 1\nunits: mm\npipe: {standard: iso7, size: 1/2}\n"
      "runs: {r: {go: right, at: [0, 0, 0], parts: [P: {pipe: 200}, T: {tee: up}]}}\n",
      "f.yaml");
  // ISO 7-1 gauge length of 1/2: 8.2 mm (secondary); EN 10242 B1 centre to end of 1/2: 28 mm (from memory).
  CHECK(near(part(frame, "T").centre, {200 - 8.2 + 28, 0, 0}));
}

TEST_CASE("fittings weigh their bodies less the bore") {
  const Frame frame = behind_pipe("C: coupling");
  // pi/4 (1.458^2 - 1.050^2) 1.52 = 1.22158 cubic inches; 16.387 cm^3 each; 7.85 g/cm^3.
  CHECK(part(frame, "C").mass == doctest::Approx(1.22158 * 16.387064 * 7.85 / 1000).epsilon(1e-4));
  for (const char* kind :
       {"E: {elbow: up}", "T: {tee: up}", "X: {cross: , plane: xy}", "S: {street-elbow: up}",
        "A: {side-elbow: up, side: front}", "K: cap", "F: flange", "U: union", "V: {elbow45: up-right}"}) {
    const Frame other = behind_pipe(kind);
    CAPTURE(kind);
    // A hand-sized casting: between an ounce and two pounds.
    CHECK(other.parts[1].mass > 0.03);
    CHECK(other.parts[1].mass < 0.9);
  }
}

TEST_CASE("every kind is read in every size that its table has, hand-tight and wrench-tight, in both standards") {
  int read = 0;
  for (const std::string standard : {"npt", "iso7"}) {
    for (const std::string make_up : {"hand", "wrench"}) {
      for (const std::string& size : nominal_sizes()) {
        for (const std::string kind :
             {"X: coupling", "X: {elbow: up}", "X: {elbow45: up-right}", "X: {street-elbow: up}", "X: {tee: up}",
              "X: {cross: , plane: xy}", "X: {side-elbow: up, side: front}", "X: {side-tee: up, side: front}", "X: cap",
              "X: flange", "X: union"}) {
          CAPTURE(standard);
          CAPTURE(make_up);
          CAPTURE(size);
          CAPTURE(kind);
          const std::string text = "dryfit: 1\npipe: {standard: " + standard + ", size: " + size +
                                   "}\nmake-up: " + make_up +
                                   "\nruns: {r: {go: right, at: [0, 0, 0], parts: [P: {pipe: 20}, " + kind + "]}}\n";
          try {
            (void)read_frame(text, "f.yaml");
            ++read;
          } catch (const InputError& error) {
            // Only what no table gives may be refused.
            CHECK(std::string(error.what()).find("no table gives") != std::string::npos);
          }
        }
      }
    }
  }
  // 2 standards, 2 make-ups, 12 sizes and 11 kinds are 528 tries. A floor set by hand, so that not all can be refused.
  CHECK(read > 250);
}

}  // namespace
