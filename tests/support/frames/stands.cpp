#include "tests/support/frames/stands.hpp"

#include "model/standards/standards.hpp"

namespace dryfit::test {
namespace {

using model::Dimension;

PartSpec part(const std::string& id, const std::string& kind) {
  PartSpec p;
  p.id = id;
  p.kind = kind;
  return p;
}

PartSpec pipe(const std::string& id, double length) {
  PartSpec p = part(id, "pipe");
  p.length = length;
  return p;
}

/// From the floor to the end of a pipe in a floor flange.
double foot() {
  const auto of = [](Dimension which) {
    return model::dimension(model::Standard::npt, model::nominal_size("3/4").value(), which).value().value;
  };
  return of(Dimension::flange_height) - of(Dimension::hand_engagement);
}

RunSpec run(const std::string& id, Vec3 at) {
  RunSpec r;
  r.id = id;
  r.at = at;
  r.go = model::kUp;
  return r;
}

}  // namespace

FrameSpec bench_on_floor(const std::string& name) {
  FrameSpec bench;
  bench.name = name;
  bench.surfaces.push_back({"floor", model::kUp, 0.0});
  return bench;
}

void add(FrameSpec& bench, const Stand& stand) {
  RunSpec r = run("stand " + stand.number, stand.at);
  if (stand.loose) {
    r.at->z = foot();
  } else {
    r.from = LinkSpec{"floor", {}, ""};
    r.parts.push_back(part("F" + stand.number, "flange"));
  }
  r.parts.push_back(pipe("A" + stand.number, stand.lower));
  r.parts.push_back(part("C" + stand.number, "coupling"));
  r.parts.push_back(pipe("B" + stand.number, stand.upper));
  if (!stand.top.empty()) r.parts.push_back(part("K" + stand.number, stand.top));
  bench.runs.push_back(r);
}

void add_stake(FrameSpec& bench, const std::string& number, Vec3 at, double height) {
  RunSpec r = run("stake " + number, at);
  r.from = LinkSpec{"floor", {}, ""};
  r.parts = {part("F" + number, "flange"), pipe("A" + number, height)};
  bench.runs.push_back(r);
}

void add_arm(FrameSpec& bench, const std::string& number, Vec3 at, double height, Direction way, double length) {
  add_stake(bench, number, at, height);
  PartSpec elbow = part("E" + number, "elbow");
  elbow.toward = way;
  bench.runs.back().parts.push_back(elbow);
  bench.runs.back().parts.push_back(pipe("B" + number, length));
}

void add(FrameSpec& bench, const Plank& plank) {
  BoardSpec b;
  b.id = plank.id;
  b.through = plank.through;
  b.notches = plank.notches;
  b.rests_on = plank.rests_on;
  b.size = {plank.left + plank.right, plank.front + plank.back, plank.thickness};
  b.reach = {{model::kLeft, plank.left}, {model::kFront, plank.front}};
  b.fix = plank.fix;
  bench.boards.push_back(b);
}

}  // namespace dryfit::test
