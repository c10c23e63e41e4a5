#include "tests/support/frames/frame_spec.hpp"

#include <algorithm>
#include <array>
#include <cmath>

#include <fmt/format.h>

#include "model/geometry/at.hpp"

namespace dryfit::test {
namespace {

std::string number(double v) {
  std::string s = fmt::format("{:.4f}", v);
  while (s.back() == '0') s.pop_back();
  if (s.back() == '.') s.pop_back();
  return s == "-0" ? "0" : s;
}

std::string listed(const std::vector<std::string>& items) { return fmt::format("[{}]", fmt::join(items, ", ")); }

std::string link(const LinkSpec& l) {
  if (l.facing) return l.to + "." + l.facing->name();
  return l.end.empty() ? l.to : l.to + "." + l.end;
}

std::string part(const PartSpec& p) {
  std::string value;
  if (p.length) value = number(*p.length);
  if (p.toward) value = p.toward->name();
  std::string rest;
  if (p.side) rest += ", side: " + p.side->name();
  if (p.plane) {
    const int lo = std::min(p.plane->first, p.plane->second);
    const int hi = std::max(p.plane->first, p.plane->second);
    rest += fmt::format(", plane: {}{}", "xyz"[lo], "xyz"[hi]);
  }
  for (const auto& [key, text] : p.options) rest += ", " + key + ": " + text;
  if (value.empty() && rest.empty()) return "- " + p.id + ": " + p.kind;
  return fmt::format("- {}: {{{}: {}{}}}", p.id, p.kind, value, rest);
}

void run(std::string& out, const FrameSpec& spec, const RunSpec& r) {
  out += fmt::format("  {}:\n", r.id);
  int across = -1;
  if (r.from) {
    out += fmt::format("    from: {}\n", link(*r.from));
    for (const SurfaceSpec& s : spec.surfaces) {
      if (s.id == r.from->to) across = s.normal.axis();
    }
  }
  if (r.at) {
    std::vector<std::string> at;
    for (int k = 0; k < 3; ++k) {
      if (k != across) at.push_back(number((*r.at)[k]));
    }
    out += fmt::format("    at: {}\n", listed(at));
  }
  if (r.go) out += fmt::format("    go: {}\n", r.go->name());
  out += "    parts:\n";
  for (const PartSpec& p : r.parts) out += "      " + part(p) + "\n";
  if (r.to) out += fmt::format("    to: {}\n", link(*r.to));
}

void board(std::string& out, const BoardSpec& b) {
  out += fmt::format("  {}:\n", b.id);
  if (!b.through.empty()) out += fmt::format("    through: {}\n", listed(b.through));
  if (!b.notches.empty()) {
    std::vector<std::string> items;
    for (const auto& [pipe, open] : b.notches) items.push_back(pipe + ": " + open.name());
    out += fmt::format("    notch: {{{}}}\n", fmt::join(items, ", "));
  }
  if (!b.rests_on.empty()) out += fmt::format("    rests-on: {}\n", listed(b.rests_on));
  if (b.underside) out += fmt::format("    height: {}\n", number(*b.underside));
  out += fmt::format("    size: {{x: {}, y: {}, z: {}}}\n", number(b.size.x), number(b.size.y), number(b.size.z));
  if (b.facing != model::kUp) out += fmt::format("    facing: {}\n", b.facing.name());
  if (!b.reach.empty()) {
    std::vector<std::string> items;
    for (const auto& [edge, length] : b.reach) items.push_back(edge.name() + ": " + number(length));
    out += fmt::format("    reach: {{{}}}\n", fmt::join(items, ", "));
  }
  if (b.corner) out += fmt::format("    at: [{}, {}]\n", number(b.corner->x), number(b.corner->y));
  if (b.hole) out += fmt::format("    hole: {}\n", number(*b.hole));
  if (!b.fix.empty()) out += fmt::format("    fix: {}\n", listed(b.fix));
  if (!b.strap.empty()) {
    std::vector<std::string> items;
    for (const auto& [pipe, count] : b.strap) items.push_back(fmt::format("{}: {}", pipe, count));
    out += fmt::format("    strap: {{{}}}\n", fmt::join(items, ", "));
  }
}

void shuffle(auto& items, std::size_t from, std::mt19937& rng) {
  for (std::size_t i = items.size(); i > from + 1; --i) {
    std::swap(items[i - 1], items[from + rng() % (i - from)]);
  }
}

}  // namespace

std::string yaml_of(const FrameSpec& spec) {
  std::string out = fmt::format("dryfit: 1\nname: {}\nunits: mm\npipe: {{standard: {}, size: {}}}\nmake-up: {}\n",
                                spec.name, spec.standard, spec.size, spec.make_up);
  if (spec.driver) out += fmt::format("driver: {}\n", number(*spec.driver));
  if (!spec.surfaces.empty()) out += "surfaces:\n";
  for (const SurfaceSpec& s : spec.surfaces) {
    out += fmt::format("  {}: {{normal: {}, at: {}}}\n", s.id, s.normal.name(), number(s.at));
  }
  out += "runs:\n";
  for (const RunSpec& r : spec.runs) run(out, spec, r);
  if (!spec.boards.empty()) out += "boards:\n";
  for (const BoardSpec& b : spec.boards) board(out, b);
  if (!spec.clips.empty()) out += "clips:\n";
  for (const auto& [pipe, surface] : spec.clips) out += fmt::format("  {}: {}\n", pipe, surface);
  return out;
}

Direction Axes::of(Direction d) const {
  return {d.x * x.x + d.y * y.x + d.z * z.x, d.x * x.y + d.y * y.y + d.z * z.y, d.x * x.z + d.y * y.z + d.z * z.z};
}

Vec3 Axes::of(Vec3 p) const { return x.unit() * p.x + y.unit() * p.y + z.unit() * p.z; }

FrameSpec turned(const FrameSpec& spec, const Axes& axes) {
  FrameSpec out = spec;
  const auto turn = [&](auto& d) {
    if (d) d = axes.of(*d);
  };
  const auto turn_link = [&](std::optional<LinkSpec>& l) {
    if (l) turn(l->facing);
  };
  for (SurfaceSpec& s : out.surfaces) {
    const Vec3 place = axes.of(s.normal.unit() * (s.at * (s.normal.x + s.normal.y + s.normal.z)));
    s.normal = axes.of(s.normal);
    s.at = place[s.normal.axis()];
  }
  for (RunSpec& r : out.runs) {
    turn_link(r.from);
    turn_link(r.to);
    turn(r.at);
    turn(r.go);
    for (PartSpec& p : r.parts) {
      turn(p.toward);
      turn(p.side);
      if (p.plane) {
        const std::array<Direction, 3> to{axes.x, axes.y, axes.z};
        const auto image = [&](int k) { return to[dryfit::at(k)].axis(); };
        p.plane = {image(p.plane->first), image(p.plane->second)};
      }
    }
  }
  for (BoardSpec& b : out.boards) {
    for (auto& [pipe, open] : b.notches) open = axes.of(open);
    for (auto& [edge, length] : b.reach) edge = axes.of(edge);
    const Vec3 size = axes.of(b.size);
    if (b.corner) {
      const Vec3 one = axes.of(*b.corner);
      const Vec3 other = one + size;
      b.corner = Vec3{std::min(one.x, other.x), std::min(one.y, other.y), std::min(one.z, other.z)};
    }
    b.size = {std::abs(size.x), std::abs(size.y), std::abs(size.z)};
    b.facing = axes.of(b.facing);
  }
  return out;
}

FrameSpec renamed(const FrameSpec& spec, std::mt19937& rng, std::map<std::string, std::string>& names) {
  FrameSpec out = spec;
  std::vector<std::string> old;
  for (const SurfaceSpec& s : spec.surfaces) old.push_back(s.id);
  for (const RunSpec& r : spec.runs) {
    for (const PartSpec& p : r.parts) old.push_back(p.id);
  }
  for (const BoardSpec& b : spec.boards) old.push_back(b.id);
  std::vector<std::string> fresh;
  for (std::size_t i = 0; i < old.size(); ++i) fresh.push_back(fmt::format("{}{}", "QXJ"[i % 3], i + 11));
  shuffle(fresh, 0, rng);
  for (std::size_t i = 0; i < old.size(); ++i) names[old[i]] = fresh[i];
  const auto rename = [&](std::string& id) { id = names.at(id); };
  for (SurfaceSpec& s : out.surfaces) rename(s.id);
  for (RunSpec& r : out.runs) {
    r.id = "way " + r.id;
    if (r.from) rename(r.from->to);
    if (r.to) rename(r.to->to);
    for (PartSpec& p : r.parts) rename(p.id);
  }
  for (BoardSpec& b : out.boards) {
    rename(b.id);
    for (auto& id : b.through) rename(id);
    for (auto& id : b.rests_on) rename(id);
    for (auto& id : b.fix) rename(id);
    for (auto& [id, open] : b.notches) rename(id);
    for (auto& [id, count] : b.strap) rename(id);
  }
  for (auto& [pipe, surface] : out.clips) {
    rename(pipe);
    rename(surface);
  }
  return out;
}

FrameSpec shuffled(const FrameSpec& spec, std::mt19937& rng) {
  FrameSpec out = spec;
  shuffle(out.runs, 0, rng);
  shuffle(out.boards, 0, rng);
  shuffle(out.surfaces, 0, rng);
  return out;
}

std::string contact_after(const std::string& contact, const Axes& axes,
                          const std::map<std::string, std::string>& names) {
  // "A/B.direction", "A/B strap", "A/B" or "A": everything between the separators is an id or a direction.
  std::string out;
  std::string word;
  char before = '/';
  const auto flush = [&] {
    if (before == '.') {
      out += axes.of(model::direction_named(word).value()).name();
    } else {
      // Half a union has the union's name, and says which half behind it: "U~a".
      const std::string whole = word.substr(0, word.find('~'));
      const auto found = names.find(whole);
      out += found == names.end() ? word : found->second + word.substr(whole.size());
    }
    word.clear();
  };
  for (const char c : contact) {
    if (c != '/' && c != '.' && c != ' ') {
      word += c;
      continue;
    }
    flush();
    out += c;
    before = c;
  }
  flush();
  return out;
}

}  // namespace dryfit::test
