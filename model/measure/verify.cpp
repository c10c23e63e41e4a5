#include "model/measure/verify.hpp"

#include <fmt/format.h>

#include <cmath>

#include "model/geometry/at.hpp"

namespace dryfit::model {
namespace {

class Verifier {
 public:
  explicit Verifier(const Frame& frame) : frame_(frame) {}

  std::vector<std::string> run() {
    if (frame_.placed_by.size() != frame_.parts.size())
      tell("placed_by has {} entries for {} parts", frame_.placed_by.size(), frame_.parts.size());
    for (std::size_t i = 0; i < frame_.parts.size(); ++i) part(static_cast<PartId>(i));
    for (std::size_t i = 0; i < frame_.joints.size(); ++i) joint(static_cast<int>(i));
    for (std::size_t i = 0; i < frame_.fastenings.size(); ++i) fastening(i);
    for (std::size_t i = 0; i < frame_.boards.size(); ++i) board(static_cast<int>(i));
    for (const Surface& surface : frame_.surfaces) {
      check(surface.normal.along_axis() && std::isfinite(surface.at), "surface {} is no plane", surface.id);
    }
    for (std::size_t i = 0; i < frame_.closures.size(); ++i) closure(i);
    runs();
    return std::move(broken_);
  }

 private:
  template <class... Args>
  void tell(fmt::format_string<Args...> format, Args&&... args) {
    broken_.push_back(fmt::format(format, std::forward<Args>(args)...));
  }
  template <class... Args>
  void check(bool holds, fmt::format_string<Args...> format, Args&&... args) {
    if (!holds) tell(format, std::forward<Args>(args)...);
  }

  [[nodiscard]] bool is_part(PartId id) const { return id >= 0 && dryfit::at(id) < frame_.parts.size(); }
  template <class Items>
  [[nodiscard]] static bool has(const Items& items, int index) {
    return index >= 0 && dryfit::at(index) < items.size();
  }
  [[nodiscard]] const Part& at(PartId id) const { return frame_.part(id); }
  static bool finite(Vec3 v) { return std::isfinite(v.x) && std::isfinite(v.y) && std::isfinite(v.z); }

  void part(PartId id) {
    const Part& p = at(id);
    const auto found = frame_.index.find(p.id);
    check(found != frame_.index.end() && found->second == id, "part {} is not in the index", p.id);
    bool all = finite(p.centre) && finite(p.centre_of_mass) && std::isfinite(p.mass) && std::isfinite(p.length);
    for (const Port& port : p.ports) all &= finite(port.at);
    for (const Solid& solid : p.solids) all &= finite(solid.a) && finite(solid.b) && std::isfinite(solid.radius);
    check(all, "part {} has a coordinate that is not finite", p.id);
    check(!p.solids.empty(), "part {} has no body", p.id);
    for (std::size_t i = 0; i < p.ports.size(); ++i) {
      const Port& port = p.ports[i];
      check(port.facing.valid(), "part {}: port {} faces nowhere", p.id, i);
      if (port.joint == kNone) continue;
      if (!has(frame_.joints, port.joint)) {
        tell("part {}: port {} names a joint that does not exist", p.id, i);
        continue;
      }
      const Joint& joint = frame_.joint(port.joint);
      const bool mine = port.male ? joint.male == id && joint.male_port == static_cast<int>(i)
                                  : joint.female == id && joint.female_port == static_cast<int>(i);
      check(mine, "part {}: port {} names joint {}, which does not point back", p.id, i, port.joint);
    }
    if (p.union_mate != kNone) {
      check(is_part(p.union_mate) && p.union_mate != id && at(p.union_mate).union_mate == id,
            "union half {} has no mate that points back", p.id);
    }
    check((p.kind == PartKind::union_half) == (p.union_mate != kNone), "part {}: union halves have mates", p.id);
    check((p.kind == PartKind::board) == (p.board != kNone), "part {}: boards, and only they, have a board", p.id);
    if (p.kind == PartKind::board) {
      check(has(frame_.boards, p.board) && frame_.board(p.board).part == id, "board {} has no board that points back",
            p.id);
    } else {
      check(has(frame_.runs, p.run), "part {} stands in no run", p.id);
    }
    if (dryfit::at(id) >= frame_.placed_by.size()) return;
    const PlacedBy& by = frame_.placed_by[dryfit::at(id)];
    check(by.parent == kNone || (is_part(by.parent) && by.parent != id), "part {} hangs on no part", p.id);
    check(by.joint == kNone || has(frame_.joints, by.joint), "part {} hangs on a joint that does not exist", p.id);
  }

  void joint(int index) {
    const Joint& j = frame_.joint(index);
    if (!is_part(j.male) || !is_part(j.female) || !has(at(j.male).ports, j.male_port) ||
        !has(at(j.female).ports, j.female_port)) {
      tell("joint {} names an end that does not exist", index);
      return;
    }
    const Port& male = at(j.male).ports[dryfit::at(j.male_port)];
    const Port& female = at(j.female).ports[dryfit::at(j.female_port)];
    const std::string name = joint_name(frame_, index);
    check(male.male && !female.male, "joint {} does not join a male end to a port", name);
    check(male.joint == index && female.joint == index, "joint {}: its ends do not point back", name);
    check(male.facing == -female.facing, "joint {} does not line up", name);
    check(male.threaded && female.threaded && male.size == female.size, "joint {} joins different threads", name);
    check(std::isfinite(j.engaged) && j.engaged > 0.0 && std::isfinite(j.pitch) && j.pitch > 0.0,
          "joint {} has no engagement", name);
    if (j.closing) return;
    const Vec3 gap = female.at - (male.at - male.facing.unit() * j.engaged);
    check(norm(gap) < 1e-3, "joint {} is {} mm open, though a part is placed by it", name, norm(gap));
  }

  void fastening(std::size_t index) {
    const Fastening& f = frame_.fastenings[index];
    const bool to_room = f.other == kRoom;
    check(is_part(f.part) && (to_room ? has(frame_.surfaces, f.surface) : is_part(f.other)) && f.count >= 1,
          "fastening {} names something that does not exist", index);
  }

  void board(int index) {
    const Board& b = frame_.board(index);
    if (!is_part(b.part) || at(b.part).board != index) {
      tell("board {} has no part that points back", index);
      return;
    }
    const std::string& id = at(b.part).id;
    check(finite(b.lo) && finite(b.hi) && b.lo.x < b.hi.x && b.lo.y < b.hi.y && b.lo.z < b.hi.z,
          "board {} has no extent", id);
    check(b.facing.axis() == b.normal, "board {} faces along another axis than its thickness", id);
    for (const Hole& hole : b.holes) {
      check(is_part(hole.pipe) && at(hole.pipe).kind == PartKind::pipe, "board {}: a hole names no pipe", id);
      check(finite(hole.centre) && std::isfinite(hole.diameter) && hole.diameter > 0.0, "board {}: a hole has no place",
            id);
      check(!hole.notch || hole.open.along_axis(), "board {}: a notch opens nowhere", id);
    }
    for (const PartId carrier : b.carriers) {
      check(is_part(carrier) && carrier != b.part, "board {} lies on something that does not exist", id);
    }
  }

  void closure(std::size_t index) {
    const Closure& c = frame_.closures[index];
    check(is_part(c.part) && finite(c.gap) && (c.other == kRoom ? has(frame_.surfaces, c.surface) : is_part(c.other)),
          "closure {} names something that does not exist", index);
    check(c.kind != Closure::Kind::joint || has(frame_.joints, c.joint), "closure {} names no joint", index);
    for (int axis = 0; axis < 3; ++axis) {
      check(c.binds[dryfit::at(axis)] || c.gap[axis] == 0.0, "closure {} has a gap on an axis it leaves free", index);
    }
  }

  /// Runs hold every part but boards, once; the links of placed_by hold no ring.
  void runs() {
    std::size_t count = 0;
    for (std::size_t r = 0; r < frame_.runs.size(); ++r) {
      for (const PartId id : frame_.runs[r].parts) {
        check(is_part(id) && at(id).run == static_cast<int>(r), "run {} names a part that is not its own",
              frame_.runs[r].id);
        ++count;
      }
    }
    check(count + frame_.boards.size() == frame_.parts.size(), "runs and boards do not add up to the parts");
    if (!broken_.empty()) return;
    // 0 fresh, 1 on the way up, 2 leads to a root.
    std::vector<char> state(frame_.parts.size(), 0);
    for (std::size_t i = 0; i < state.size(); ++i) {
      std::vector<std::size_t> path;
      std::size_t now = i;
      while (state[now] == 0) {
        state[now] = 1;
        path.push_back(now);
        const PartId parent = frame_.placed_by[now].parent;
        if (parent == kNone) break;
        now = dryfit::at(parent);
        if (state[now] == 1) {
          tell("part {} is placed by itself in a ring", frame_.parts[now].id);
          return;
        }
      }
      for (const std::size_t done : path) state[done] = 2;
    }
  }

  const Frame& frame_;
  std::vector<std::string> broken_;
};

}  // namespace

std::vector<std::string> verify(const Frame& frame) { return Verifier(frame).run(); }

}  // namespace dryfit::model
