#include "tests/support/oracle/oracle_rules.hpp"

#include <algorithm>
#include <cmath>
#include <iterator>
#include <map>
#include <numbers>
#include <optional>
#include <set>
#include <stdexcept>

#include "model/geometry/at.hpp"
#include "tests/support/oracle/oracle_cage.hpp"

namespace dryfit::test {
namespace {

std::size_t index(int i) { return at(i); }

/// Nothing met within the judge's sight is as good as nothing at all.
double far_if_most(double way) { return way >= Judge::kFarEnough ? 1e9 : way; }

/// All that hangs together with a part by threads, nuts and screws, the board left out; kRoom for the room.
std::set<PartId> leg_of(const Frame& frame, const Board& board, PartId part) {
  std::set<PartId> leg{part};
  const auto tie = [&](PartId a, PartId b) {
    if (a != board.part && b != board.part && a != model::kRoom && (leg.contains(a) || leg.contains(b))) {
      leg.insert({a, b});
    }
  };
  for (std::size_t before = 0; before != leg.size();) {
    before = leg.size();
    for (const model::Joint& joint : frame.joints) tie(joint.male, joint.female);
    for (const model::Fastening& f : frame.fastenings) {
      if (f.other != model::kRoom || leg.contains(f.part)) tie(f.part, f.other);
    }
    for (std::size_t p = 0; p < frame.parts.size(); ++p) {
      if (frame.parts[p].union_mate != model::kNone) tie(static_cast<PartId>(p), frame.parts[p].union_mate);
    }
  }
  return leg;
}

/// Flanges that are screwed to the board carry it, and nothing but the board holds them together or to the room.
bool lies_on_loose_legs(const Frame& frame, const Board& board) {
  std::set<std::set<PartId>> legs;
  for (const PartId carrier : board.carriers) {
    const bool screwed = std::any_of(frame.fastenings.begin(), frame.fastenings.end(), [&](const model::Fastening& f) {
      return f.kind == model::Fastening::Kind::flange_to_board && f.part == carrier && f.other == board.part;
    });
    const std::set<PartId> leg = leg_of(frame, board, carrier);
    if (!screwed || leg.contains(model::kRoom)) return false;
    legs.insert(leg);
  }
  return legs.size() > 1;
}

}  // namespace

Rules::Rules(const Frame& frame) : frame_(frame), judge_(frame), at_(frame.parts.size() + 1) {
  const auto label = [&](PartId part) { return frame.parts[index(part)].label; };
  for (const model::Joint& joint : frame.joints) {
    const std::string port = frame.parts[index(joint.female)].ports[index(joint.female_port)].facing.name();
    add(Kind::thread, index(joint.male), index(joint.female),
        label(joint.male) + "/" + label(joint.female) + "." + port);
    links_.back().joint = &joint;
  }
  for (std::size_t i = 0; i < frame.parts.size(); ++i) {
    const PartId mate = frame.parts[i].union_mate;
    if (mate > static_cast<PartId>(i)) add(Kind::nut, i, index(mate), frame.parts[i].label);
  }
  for (const Board& board : frame.boards) {
    for (const Hole& hole : board.holes) {
      add(hole.notch ? Kind::notch : Kind::hole, index(board.part), index(hole.pipe),
          label(board.part) + "/" + label(hole.pipe));
      links_.back().hole = &hole;
    }
    if (!board.laid() || lies_on_loose_legs(frame, board)) continue;
    for (const PartId carrier : board.carriers) {
      add(Kind::rest, index(board.part), index(carrier), label(board.part) + "/" + label(carrier));
    }
  }
  for (const model::Fastening& f : frame.fastenings) {
    const std::string other = f.other == model::kRoom ? frame.surfaces[index(f.surface)].id : label(f.other);
    add(Kind::fastening, index(f.part), vertex(f.other),
        label(f.part) + "/" + other + (f.kind == model::Fastening::Kind::strap ? " strap" : ""));
    links_.back().fastening = &f;
  }
  turns_.assign(links_.size() * 2 * frame.parts.size() * frame.parts.size(), -1);
  if (links_.size() > kMostContacts) throw std::length_error("too many contacts for the oracle");
}

void Rules::add(Kind kind, std::size_t a, std::size_t b, std::string id) {
  at_[a].push_back(links_.size());
  at_[b].push_back(links_.size());
  links_.push_back({kind, a, b, nullptr, nullptr, nullptr});
  ids_.push_back(std::move(id));
}

std::size_t Rules::vertex(PartId part) const { return part == model::kRoom ? room() : index(part); }

State Rules::all() const {
  State state;
  for (std::size_t i = 0; i < links_.size(); ++i) state.set(i);
  return state;
}

std::set<std::string> Rules::names(const State& state) const {
  std::set<std::string> out;
  for (std::size_t i = 0; i < links_.size(); ++i) {
    if (state[i]) out.insert(ids_[i]);
  }
  return out;
}

bool Rules::is_hole(std::size_t link) const {
  return links_[link].kind == Kind::hole || links_[link].kind == Kind::notch;
}

Rules::Pieces Rules::pieces(const State& made) const {
  Pieces piece(at_.size(), -1);
  int next = 0;
  std::vector<std::size_t> open;
  for (std::size_t start = 0; start < at_.size(); ++start) {
    if (piece[start] != -1) continue;
    open.push_back(start);
    piece[start] = next;
    while (!open.empty()) {
      const std::size_t here = open.back();
      open.pop_back();
      for (const std::size_t link : at_[here]) {
        if (!made[link]) continue;
        const std::size_t there = links_[link].a == here ? links_[link].b : links_[link].a;
        if (piece[there] != -1) continue;
        piece[there] = next;
        open.push_back(there);
      }
    }
    ++next;
  }
  return piece;
}

std::vector<PartId> Rules::parts_in(const Pieces& pieces, const std::set<int>& which) const {
  std::vector<PartId> out;
  for (std::size_t i = 0; i < frame_.parts.size(); ++i) {
    if (which.contains(pieces[i])) out.push_back(static_cast<PartId>(i));
  }
  return out;
}

State Rules::holes_along(Direction d) const {
  State state;
  for (std::size_t i = 0; i < links_.size(); ++i) {
    if (is_hole(i) && parallel(judge_.board_of(static_cast<PartId>(links_[i].a))->facing, d)) state.set(i);
  }
  return state;
}

State Rules::holes_on(const TurnAxis& axis) const {
  State state = holes_along(axis.along);
  for (std::size_t i = 0; i < links_.size(); ++i) {
    if (state[i] && norm(cross(links_[i].hole->centre - axis.point, axis.along.unit())) >= kOneLine) state.reset(i);
  }
  return state;
}

State Rules::links_of(const State& made, std::size_t vertex) const {
  State state;
  for (const std::size_t link : at_[vertex]) {
    if (made[link]) state.set(link);
  }
  return state;
}

bool Rules::with_room(std::size_t vertex) const { return cluster_[vertex] == cluster_[room()]; }

bool Rules::settled(Verdict verdict, const std::string& what) {
  if ((verdict == Verdict::clear_in_doubt || verdict == Verdict::hit_in_doubt) && doubt_.empty()) doubt_ = what;
  return verdict <= Verdict::clear_in_doubt;
}

std::vector<UndoMove> Rules::legal_undo_moves(const State& made) {
  Moves moves;
  cluster_ = pieces(made);
  nuts_and_fastenings(made, moves);
  unscrews(made, moves);
  slides(made, moves);
  board_moves(made, moves);
  Moves distinct;
  for (const UndoMove& move : moves) {
    if (std::none_of(distinct.begin(), distinct.end(), [&](const UndoMove& m) { return m.undone == move.undone; })) {
      distinct.push_back(move);
    }
  }
  return distinct;
}

void Rules::nuts_and_fastenings(const State& made, Moves& moves) {
  for (std::size_t i = 0; i < links_.size(); ++i) {
    if (!made[i] || (links_[i].kind != Kind::nut && links_[i].kind != Kind::fastening)) continue;
    if (links_[i].kind == Kind::fastening && !settled(driver_blocked(made, i), "driver for " + ids_[i])) continue;
    UndoMove move{links_[i].kind == Kind::nut ? MoveKind::undo_nut : MoveKind::unfasten, {}, {}};
    move.undone.set(i);
    moves.push_back(move);
  }
}

// --- unscrew ---------------------------------------------------------------------------------------------------

void Rules::unscrews(const State& made, Moves& moves) {
  for (std::size_t i = 0; i < links_.size(); ++i) {
    if (!made[i] || links_[i].kind != Kind::thread) continue;
    for (const bool pipe_side : {true, false}) {
      UndoMove move{MoveKind::unscrew, {}, {}};
      if (!legal_unscrew(made, i, pipe_side, move)) continue;
      move.undone.set(i);
      moves.push_back(move);
    }
  }
}

bool Rules::legal_unscrew(const State& made, std::size_t link, bool pipe_side, UndoMove& move) {
  const Link& j = links_[link];
  const model::Port& port = frame_.parts[j.b].ports[index(j.joint->female_port)];
  const TurnAxis axis{port.at, port.facing};
  State left = made & ~holes_on(axis);
  left.reset(link);
  const Pieces g = pieces(left);
  const int s = g[pipe_side ? j.a : j.b];
  const int o = g[pipe_side ? j.b : j.a];
  if (s == o || s == g[room()]) return false;
  const bool room_in_cluster = with_room(j.a);
  std::set<int> still{o};
  if (room_in_cluster) still.insert(g[room()]);
  const std::vector<PartId> turning = parts_in(g, {s});
  const std::vector<PartId> standing = parts_in(g, still);

  if (!parallel(axis.along, model::kUp)) {
    for (const PartId part : turning) {
      const Board* board = judge_.board_of(part);
      if (board == nullptr || !board->laid()) continue;
      const bool ever_fastened = std::any_of(at_[index(part)].begin(), at_[index(part)].end(),
                                             [&](std::size_t k) { return links_[k].kind == Kind::fastening; });
      if (!ever_fastened) return false;
    }
  }

  const Direction v = pipe_side ? axis.along : -axis.along;
  const Vec3 shift = v.unit() * j.joint->engaged;
  const auto joint_pair = [&](PartId x, PartId y) {
    return (index(x) == j.a && index(y) == j.b) || (index(x) == j.b && index(y) == j.a);
  };
  Verdict verdict = floats(made, link, pipe_side, turning, axis, v);
  std::string where = "float";
  for (const PartId part : turning) {
    if (verdict == Verdict::hit) return false;
    if (room_in_cluster) {
      verdict = std::max(verdict, judge_.turn_in_room(part, axis, shift, 2.0 * std::numbers::pi));
    }
    for (const PartId other : standing) {
      if (joint_pair(part, other)) continue;
      signed char& known = turns_[((link * 2 + (pipe_side ? 1 : 0)) * room() + index(part)) * room() + index(other)];
      if (known < 0) known = static_cast<signed char>(judge_.turn(part, other, axis, shift));
      const auto pair = static_cast<Verdict>(known);
      if (pair > verdict) where = frame_.parts[index(part)].id + " by " + frame_.parts[index(other)].id;
      verdict = std::max(verdict, pair);
    }
  }
  const Verdict round = verdict == Verdict::hit ? verdict : taken_round(g, j.a, turning, standing, axis, shift);
  if (round > verdict) where = "what is taken round";
  verdict = std::max(verdict, round);
  move.moving = turning;
  return settled(verdict, "unscrew " + ids_[link] + ": " + where);
}

/// Of the pieces that are neither what turns nor what stands, those whose boards are met go round, each in its place.
Verdict Rules::taken_round(const Pieces& g, std::size_t seat, const std::vector<PartId>& turning,
                           const std::vector<PartId>& standing, const TurnAxis& axis, Vec3 shift) {
  const auto has = [](const std::vector<PartId>& parts, PartId part) {
    return std::find(parts.begin(), parts.end(), part) != parts.end();
  };
  std::set<int> loads;
  const auto is_loose = [&](std::size_t p) {
    return cluster_[p] == cluster_[seat] && !has(turning, static_cast<PartId>(p)) &&
           !has(standing, static_cast<PartId>(p));
  };
  const auto add_met = [&](PartId part, Vec3 along) {
    for (std::size_t p = 0; p < frame_.parts.size(); ++p) {
      if (!is_loose(p) || frame_.parts[p].kind != model::PartKind::board || loads.contains(g[p]) ||
          g[p] == g[index(part)])
        continue;
      if (judge_.turn(part, static_cast<PartId>(p), axis, along) > Verdict::clear_in_doubt) loads.insert(g[p]);
    }
  };
  for (const PartId part : turning) add_met(part, shift);
  for (std::size_t before = 0; before != loads.size();) {
    before = loads.size();
    for (const PartId part : parts_in(g, std::set<int>(loads))) add_met(part, {});
  }
  Verdict verdict = Verdict::clear;
  for (const PartId part : parts_in(g, loads)) {
    if (with_room(seat)) verdict = std::max(verdict, judge_.turn_in_room(part, axis, {}, 2.0 * std::numbers::pi));
    for (const PartId other : standing) verdict = std::max(verdict, judge_.turn(part, other, axis, {}));
  }
  return verdict;
}

/// Loads: what hangs rigidly together when the holes along the axis let go. What turns takes boards on the axis along
/// by the thread's length, they push on, and every way over gaps to what stays has to be as long as the thread.
Verdict Rules::floats(const State& made, std::size_t link, bool pipe_side, const std::vector<PartId>& turning,
                      const TurnAxis& axis, Direction v) {
  State rigid = made & ~holes_along(axis.along);
  rigid.reset(link);
  const Pieces load = pieces(rigid);
  const Link& j = links_[link];
  const int first = load[pipe_side ? j.a : j.b];
  std::set<int> last{load[pipe_side ? j.b : j.a]};
  if (with_room(j.a)) last.insert(load[room()]);
  const auto turns = [&](std::size_t part) {
    return std::find(turning.begin(), turning.end(), static_cast<PartId>(part)) != turning.end();
  };
  double least = 1e9;
  const State on = holes_on(axis);
  for (std::size_t h = 0; h < links_.size(); ++h) {
    const std::size_t board = links_[h].a;
    // In front of what turns the wood is in its way, with a pipe in the hole or not.
    const bool in_front = on[h] && dot(links_[h].hole->centre - axis.point, v.unit()) > 0.0;
    if (!on[h] || (!in_front && !turns(board) && !turns(links_[h].b))) continue;
    if (cluster_[board] != cluster_[j.a]) continue;
    least = std::min(least, shortest_way(load, board, link, -v, {first}, last, false) +
                                shortest_way(load, board, link, v, last, {first}, with_room(j.a)));
  }
  std::set<int> loose;
  for (std::size_t h = 0; h < links_.size(); ++h) {
    const int its = load[links_[h].b];
    if (on[h] && cluster_[links_[h].b] == cluster_[j.a] && its != first && !last.contains(its)) loose.insert(its);
  }
  least = std::min(least, loose_way(load, link, axis, v, loose, first, last));
  // The way is a bare gap; each of its parts may be half a millimetre more before it counts as a hit.
  return verdict_of_overlap(j.joint->engaged - least);
}

/// From what turns, over pipes that hang loose on its axis, to what stays: they can be turned about the axis, but are
/// on it whichever way they point.
double Rules::loose_way(const Pieces& load, std::size_t link, const TurnAxis& axis, Direction v,
                        const std::set<int>& loose, int first, const std::set<int>& last) {
  double best = 1e9;
  std::map<int, double> begins;  // per load: how far what turns has gone when this one begins to move
  for (bool changed = true; changed;) {
    changed = false;
    for (std::size_t p = 0; p < frame_.parts.size(); ++p) {
      const bool pushed = begins.contains(load[p]);
      if (cluster_[p] != cluster_[links_[link].a] || (load[p] != first && !pushed)) continue;
      const double gone = pushed ? begins.at(load[p]) : 0.0;
      if (pushed && with_room(p))
        best = std::min(best, gone + far_if_most(judge_.free_way_in_room(static_cast<PartId>(p), v)));
      for (std::size_t q = 0; q < frame_.parts.size(); ++q) {
        const bool end = last.contains(load[q]);
        if (load[q] == load[p] || cluster_[q] != cluster_[p] || (!loose.contains(load[q]) && !(end && pushed)))
          continue;
        const double to =
            gone + far_if_most(judge_.free_way_on_axis(static_cast<PartId>(p), static_cast<PartId>(q), axis, v));
        if (end) {
          best = std::min(best, to);
        } else if (to < 1e8 && (!begins.contains(load[q]) || begins.at(load[q]) > to + 1e-9)) {
          begins[load[q]] = to;
          changed = true;
        }
      }
    }
  }
  return best;
}

/// By relaxing every pair until nothing changes. `ends`: where it ends; `others`: not passed; of both only the board.
double Rules::shortest_way(const Pieces& load, std::size_t board, std::size_t link, Direction d,
                           const std::set<int>& ends, const std::set<int>& others, bool surfaces) {
  const std::size_t n = frame_.parts.size();
  std::vector<double> way(n, 1e9);  // per part: how far the board has moved when this part begins to
  double best = ends.contains(load[board]) ? 0.0 : 1e9;
  const bool alone = others.contains(load[board]);
  for (std::size_t p = 0; p < n; ++p) {
    if (p == board || (!alone && load[p] == load[board])) way[p] = 0.0;
  }
  for (bool changed = best > 0.0; changed;) {
    changed = false;
    for (std::size_t p = 0; p < n; ++p) {
      if (way[p] > 1e8) continue;
      if (surfaces) best = std::min(best, way[p] + far_if_most(judge_.free_way_in_room(static_cast<PartId>(p), d)));
      for (std::size_t q = 0; q < n; ++q) {
        const bool thread =
            (p == links_[link].a && q == links_[link].b) || (p == links_[link].b && q == links_[link].a);
        if (p == q || thread || load[p] == load[q] || cluster_[q] != cluster_[board] || others.contains(load[q]))
          continue;
        const double to = way[p] + far_if_most(judge_.free_way(static_cast<PartId>(p), static_cast<PartId>(q), d));
        if (ends.contains(load[q])) {
          best = std::min(best, to);
          continue;
        }
        for (std::size_t r = 0; r < n; ++r) {
          if (load[r] != load[q] || way[r] <= to + 1e-9 || to > 1e8) continue;
          way[r] = to;
          changed = true;
        }
      }
    }
  }
  return best;
}

// --- slide apart -----------------------------------------------------------------------------------------------

void Rules::slides(const State& made, Moves& moves) {
  for (const Direction d : {model::kUp, model::kDown, model::kRight, model::kLeft, model::kBack, model::kFront}) {
    const State along = holes_along(d) & made;
    if (along.none()) continue;
    const Pieces g = pieces(made & ~along);
    std::set<int> tried;
    for (std::size_t start = 0; start < at_.size(); ++start) {
      const int k = g[start];
      if (!tried.insert(k).second) continue;
      // K moves as one. With the room in K the others move: each that hangs together without K is a move of its own.
      State touching;
      for (std::size_t i = 0; i < links_.size(); ++i) touching.set(i, g[links_[i].a] == k || g[links_[i].b] == k);
      const bool k_holds_room = k == g[room()];
      const Pieces apart = pieces(made & ~touching);
      std::map<int, State> groups;
      for (std::size_t i = 0; i < links_.size(); ++i) {
        const bool board_in = g[links_[i].a] == k, pipe_in = g[links_[i].b] == k;
        if (!along[i] || board_in == pipe_in) continue;
        groups[k_holds_room ? apart[board_in ? links_[i].b : links_[i].a] : 0].set(i);
      }
      for (const auto& [number, gone] : groups) slide_out_of(made, g, k, d, gone, moves);
    }
  }
}

double Rules::end_of_line(const State& made, std::size_t hole_link, Direction d) const {
  const Link& hole = links_[hole_link];
  std::set<std::size_t> line{hole.b};
  for (bool grows = true; grows;) {
    grows = false;
    for (std::size_t i = 0; i < links_.size(); ++i) {
      const Link& link = links_[i];
      if (!made[i] || (link.kind != Kind::thread && link.kind != Kind::nut)) continue;
      if (line.contains(link.a) == line.contains(link.b)) continue;
      const std::size_t next = line.contains(link.a) ? link.b : link.a;
      if (link.kind == Kind::thread) {
        const model::Port& port = frame_.parts[link.b].ports[index(link.joint->female_port)];
        if (!parallel(port.facing, d) || norm(cross(port.at - hole.hole->centre, d.unit())) > kOneLine) continue;
      }
      const auto& solids = frame_.parts[next].solids;
      const bool lets_by = std::all_of(solids.begin(), solids.end(), [&](const Solid& s) {
        return !judge_.on_line(s, hole.hole->centre, d) || enough_play(hole.hole->diameter, 2.0 * s.radius);
      });
      if (lets_by) grows = line.insert(next).second || grows;
    }
  }
  double end = -1e300;
  for (const std::size_t part : line) {
    for (const Solid& solid : frame_.parts[part].solids) end = std::max(end, reach_of(solid, d.unit()));
  }
  return end;
}

std::set<int> Rules::hanging(const State& made, const Pieces& g, int k, const std::set<int>& r, Direction d,
                             const State& gone) const {
  const State along = holes_along(d) & made;
  const bool k_stays = k == g[room()];
  const std::size_t seed = links_[first_of(gone)].a;
  std::set<int> found;
  for (std::size_t i = 0; i < links_.size(); ++i) {
    const int piece = g[links_[i].a], pipe = g[links_[i].b];
    if (!along[i] || gone[i] || piece == pipe || cluster_[links_[i].a] != cluster_[seed]) continue;
    if (piece == k || r.contains(piece) || piece == g[room()]) continue;
    for (std::size_t j = 0; j < links_.size(); ++j) {
      if (!gone[j] || line_of(i, d) != line_of(j, d)) continue;
      const bool k_has_board = g[links_[j].a] == k;
      // The board on the pipe that stays, and the other one with what goes.
      if (k_has_board ? r.contains(pipe) : k_stays && pipe == k) found.insert(piece);
    }
  }
  return found;
}

int Rules::line_of(std::size_t hole_link, Direction d) const {
  for (std::size_t i = 0; i < hole_link; ++i) {
    if (links_[i].hole == nullptr || !holes_along(d)[i]) continue;
    if (norm(cross(links_[i].hole->centre - links_[hole_link].hole->centre, d.unit())) <= kOneLine) {
      return static_cast<int>(i);
    }
  }
  return static_cast<int>(hole_link);
}

std::size_t Rules::first_of(const State& state) const {
  std::size_t i = 0;
  while (!state[i]) ++i;
  return i;
}

bool Rules::hang_together(const State& made, const Pieces& g, int k, int one, int other) const {
  State touching;
  for (std::size_t i = 0; i < links_.size(); ++i) touching.set(i, g[links_[i].a] == k || g[links_[i].b] == k);
  const Pieces apart = pieces(made & ~touching);
  std::set<int> of_one;
  for (std::size_t v = 0; v < g.size(); ++v) {
    if (g[v] == one) of_one.insert(apart[v]);
  }
  for (std::size_t v = 0; v < g.size(); ++v) {
    if (g[v] == other && of_one.contains(apart[v])) return true;
  }
  return false;
}

void Rules::slide_out_of(const State& made, const Pieces& g, int k, Direction d, const State& gone, Moves& moves) {
  std::set<int> r;
  double length = 0.0;
  std::size_t end = 0;
  for (std::size_t i = 0; i < links_.size(); ++i) {
    if (!gone[i]) continue;
    const int of_board = g[links_[i].a], of_pipe = g[links_[i].b];
    end = links_[i].a;
    r.insert(of_board == k ? of_pipe : of_board);
    const Solid& plank = frame_.parts[links_[i].a].solids.front();
    const Vec3 u = d.unit();
    length = std::max(length, of_board == k ? end_of_line(made, i, d) + reach_of(plank, -u)
                                            : reach_of(plank, u) + end_of_line(made, i, -d));
  }
  const bool room_in_cluster = with_room(end);
  const bool k_holds_room = k == g[room()];
  if (room_in_cluster && !k_holds_room) r.insert(g[room()]);
  const std::vector<PartId> of_k = parts_in(g, {k});
  const std::vector<PartId> of_r = parts_in(g, r);
  Verdict verdict = Verdict::clear;
  const auto carry = [&](const std::vector<PartId>& movers, const std::vector<PartId>& still, Direction way) {
    for (const PartId part : movers) {
      for (const PartId other : still) {
        if (verdict != Verdict::hit) verdict = std::max(verdict, judge_.slide(part, other, way, length));
      }
    }
  };
  carry(of_k, of_r, d);
  // What hangs beyond stays on the side that it hangs on.
  const std::set<int> all_hanging = hanging(made, g, k, r, d, gone);
  std::set<int> with_r;
  for (const int piece : all_hanging) {
    if (!k_holds_room || hang_together(made, g, k, piece, *r.begin())) with_r.insert(piece);
  }
  carry(of_k, parts_in(g, with_r), d);
  std::set<int> with_k;
  std::set_difference(all_hanging.begin(), all_hanging.end(), with_r.begin(), with_r.end(),
                      std::inserter(with_k, with_k.end()));
  carry(of_r, parts_in(g, with_k), -d);
  // A pipe that goes toward another one in line, which hangs in a board that stays.
  const std::vector<PartId>& movers = k_holds_room ? of_r : of_k;
  const auto moving = [&](std::size_t v) { return k_holds_room ? r.contains(g[v]) : g[v] == k; };
  const auto staying = [&](std::size_t v) { return k_holds_room ? g[v] == k : r.contains(g[v]); };
  for (std::size_t i = 0; i < links_.size(); ++i) {
    if (!gone[i] || !moving(links_[i].b)) continue;
    const TurnAxis line{links_[i].hole->centre, d};
    for (std::size_t h = 0; h < links_.size(); ++h) {
      if (!made[h] || gone[h] || !holes_along(d)[h] || line_of(h, d) != line_of(i, d)) continue;
      const std::size_t pipe = links_[h].b;
      if (moving(pipe) || staying(pipe) || !staying(links_[h].a) || cluster_[pipe] != cluster_[end]) continue;
      if (k_holds_room && hang_together(made, g, k, g[pipe], *r.begin())) continue;
      for (const PartId part : movers) {
        for (const PartId other : parts_in(g, {g[pipe]})) {
          verdict = std::max(verdict, judge_.slide_on_axis(part, other, line, k_holds_room ? -d : d, length));
        }
      }
    }
  }
  if (room_in_cluster) {
    for (const PartId part : k_holds_room ? of_r : of_k) {
      verdict = std::max(verdict, judge_.slide_in_room(part, k_holds_room ? -d : d, length));
    }
  }
  if (verdict == Verdict::hit) return;
  std::string what = "slide";
  for (const std::string& id : names(gone)) what += " " + id;
  if (settled(verdict, what)) moves.push_back({MoveKind::slide_apart, gone, k_holds_room ? of_r : of_k});
}

// --- boards that leave otherwise -------------------------------------------------------------------------------

void Rules::board_moves(const State& made, Moves& moves) {
  for (const Board& board : frame_.boards) {
    const std::size_t v = index(board.part);
    const State held = links_of(made, v);
    int holes = 0, notches = 0, rests = 0;
    bool burdened = false;
    for (std::size_t i = 0; i < links_.size(); ++i) {
      if (!held[i]) continue;
      holes += links_[i].kind == Kind::hole ? 1 : 0;
      notches += links_[i].kind == Kind::notch ? 1 : 0;
      rests += links_[i].kind == Kind::rest && links_[i].a == v ? 1 : 0;
      burdened = burdened || links_[i].kind == Kind::fastening || (links_[i].kind == Kind::rest && links_[i].b == v);
    }
    if (burdened) continue;
    if (board.laid() && rests > 0) take_away(made, v, moves);
    if (holes == 1 && notches == 0) turned_aside(made, v, moves);
    if (holes == 1 && notches > 0) swings(made, v, moves);
  }
  sideways(made, moves);
}

std::set<int> Rules::about(const State& made, const Pieces& g, std::size_t vertex) const {
  std::set<int> which;
  for (const std::size_t link : at_[vertex]) {
    if (made[link]) which.insert(g[links_[link].a == vertex ? links_[link].b : links_[link].a]);
  }
  if (with_room(vertex)) which.insert(g[room()]);
  return which;
}

bool Rules::slips(std::size_t link, std::size_t vertex, Direction d) const {
  return links_[link].kind == Kind::notch && links_[link].hole->open == (links_[link].a == vertex ? -d : d);
}

std::set<std::size_t> Rules::pushed(const State& made, std::size_t vertex, Direction d) const {
  std::set<std::size_t> out{vertex};
  std::vector<std::size_t> open{vertex};
  while (!open.empty()) {
    const std::size_t here = open.back();
    open.pop_back();
    for (const std::size_t link : at_[here]) {
      if (!made[link] || slips(link, here, d)) continue;
      const std::size_t there = links_[link].a == here ? links_[link].b : links_[link].a;
      if (out.insert(there).second) open.push_back(there);
    }
  }
  return out;
}

bool Rules::tight_slot(const State& slots) const {
  for (std::size_t i = 0; i < links_.size(); ++i) {
    if (!slots[i]) continue;
    const Solid& pipe = frame_.parts[links_[i].b].solids.front();
    if (!enough_play(links_[i].hole->diameter, 2.0 * pipe.radius)) return true;
  }
  return false;
}

void Rules::sideways(const State& made, Moves& moves) {
  for (const Direction d : {model::kUp, model::kDown, model::kRight, model::kLeft, model::kBack, model::kFront}) {
    State slots;
    for (std::size_t i = 0; i < links_.size(); ++i) {
      if (links_[i].kind == Kind::notch && parallel(links_[i].hole->open, d)) slots.set(i);
    }
    if ((slots & made).none()) continue;
    const Pieces g = pieces(made & ~slots);
    std::set<std::set<std::size_t>> tried;
    for (std::size_t start = 0; start < frame_.parts.size(); ++start) {
      const std::set<std::size_t> k = pushed(made, start, d);
      if (k.contains(room()) || !tried.insert(k).second) continue;
      State gone;
      std::set<int> r;
      double length = 0.0;
      for (std::size_t i = 0; i < links_.size(); ++i) {
        if (!made[i] || k.contains(links_[i].a) == k.contains(links_[i].b)) continue;
        gone.set(i);
        const bool board_goes = k.contains(links_[i].a);
        r.insert(g[board_goes ? links_[i].b : links_[i].a]);
        const Solid& plank = frame_.parts[links_[i].a].solids.front();
        const Solid& pipe = frame_.parts[links_[i].b].solids.front();
        const Vec3 leaving = board_goes ? d.unit() : -d.unit();
        length = std::max(length, reach_of(pipe, leaving) + reach_of(plank, -leaving));
      }
      if (gone.none()) continue;
      if (with_room(start)) r.insert(g[room()]);
      Verdict verdict = tight_slot(gone) ? Verdict::hit : Verdict::clear;
      for (const std::size_t part : k) {
        for (const PartId other : parts_in(g, r)) {
          if (k.contains(index(other)) || verdict == Verdict::hit) continue;
          verdict = std::max(verdict, judge_.out_of_slots(static_cast<PartId>(part), other, d, length));
        }
        if (with_room(start)) verdict = std::max(verdict, judge_.slide_in_room(static_cast<PartId>(part), d, length));
      }
      std::vector<PartId> moving;
      for (const std::size_t part : k) moving.push_back(static_cast<PartId>(part));
      if (verdict != Verdict::hit && settled(verdict, "sideways " + frame_.parts[start].id)) {
        moves.push_back({MoveKind::sideways, gone, moving});
      }
    }
  }
}

void Rules::turned_aside(const State& made, std::size_t board_vertex, Moves& moves) {
  const State held = links_of(made, board_vertex);
  const auto part = static_cast<PartId>(board_vertex);
  if (std::any_of(moves.begin(), moves.end(), [&](const UndoMove& move) { return move.undone == held; })) return;
  const Board& board = *judge_.board_of(part);
  const Hole* hole = nullptr;
  std::size_t hole_link = 0;
  for (std::size_t i = 0; i < links_.size(); ++i) {
    if (held[i]) hole = links_[i].hole, hole_link = i;
  }
  const TurnAxis axis{hole->centre, board.facing};
  const Pieces g = pieces(made & ~(held | holes_along(board.facing)));
  Verdict best = Verdict::hit;
  std::set<int> joined = about(made, g, board_vertex);
  joined.erase(g[board_vertex]);
  const std::set<int> beyond = hanging(made, g, g[board_vertex], joined, board.facing, held);
  joined.insert(beyond.begin(), beyond.end());
  const std::vector<PartId> others = parts_in(g, joined);
  for (const Direction d : {board.facing, -board.facing}) {
    const Vec3 u = d.unit();
    const double length = end_of_line(made, hole_link, d) + reach_of(frame_.parts[board_vertex].solids.front(), -u);
    // What has to pass the hole is no matter of angles.
    Verdict line = Verdict::clear;
    for (const PartId other : others) {
      if (other != part) line = std::max(line, judge_.on_its_line(part, other, *hole, d, length));
    }
    for (const int sense : {1, -1}) {
      std::vector<const Judge::Aside*> all;
      for (const PartId other : others) {
        if (other != part) all.push_back(&judge_.aside(part, other, axis, sense, d, length));
      }
      Judge::Aside in_room;
      if (with_room(board_vertex)) all.push_back(&(in_room = judge_.aside_in_room(part, axis, sense, d, length)));
      Verdict turned = line;
      for (std::size_t i = 0; turned != Verdict::hit && i <= 720; ++i) {
        Verdict here = Verdict::clear;
        for (const Judge::Aside* other : all) {
          turned = std::max(turned, other->in_place[i]);
          here = std::max(here, other->sliding[i]);
        }
        best = std::min(best, std::max(turned, here));
      }
    }
  }
  if (settled(best, "turn aside " + frame_.parts[board_vertex].id)) {
    moves.push_back({MoveKind::slide_apart, held, {part}});
  }
}

void Rules::swings(const State& made, std::size_t board, Moves& moves) {
  const State held = links_of(made, board);
  State gone;
  Vec3 pivot;
  for (std::size_t i = 0; i < links_.size(); ++i) {
    if (held[i] && links_[i].kind == Kind::hole) pivot = links_[i].hole->centre;
    if (held[i] && links_[i].kind == Kind::notch) gone.set(i);
  }
  const Board& wood = *judge_.board_of(static_cast<PartId>(board));
  const TurnAxis axis{pivot, wood.facing};
  int sense = 0;
  double widest = 0.0;
  for (std::size_t i = 0; i < links_.size(); ++i) {
    if (!gone[i]) continue;
    const int wanted = Judge::sense_out_of(*links_[i].hole, axis);
    if (wanted == 0 || (sense != 0 && sense != wanted)) return;
    sense = wanted;
    const auto out = judge_.angle_out_of(wood, *links_[i].hole, axis, sense);
    if (!out) return;
    widest = std::max(widest, *out);
  }
  if (tight_slot(gone)) return;
  const double swing = sense * widest;
  const Pieces g = pieces(made & ~held);
  Verdict verdict = Verdict::clear;
  const auto part = static_cast<PartId>(board);
  for (const PartId other : parts_in(g, about(made, g, board))) {
    if (other != part) verdict = std::max(verdict, judge_.swing(part, other, axis, swing));
  }
  if (with_room(board)) verdict = std::max(verdict, judge_.turn_in_room(part, axis, {}, swing));
  if (settled(verdict, "swing " + frame_.parts[board].id)) moves.push_back({MoveKind::swing, gone, {part}});
}

void Rules::take_away(const State& made, std::size_t board_vertex, Moves& moves) {
  const auto part = static_cast<PartId>(board_vertex);
  const Board& board = *judge_.board_of(part);
  const State held = links_of(made, board_vertex);
  const Pieces g = pieces(made & ~held);
  const std::vector<PartId> others = parts_in(g, about(made, g, board_vertex));
  const bool room_in_cluster = with_room(board_vertex);
  const Solid& plank = frame_.parts[board_vertex].solids.front();
  std::vector<PartId> carriers;
  for (std::size_t i = 0; i < links_.size(); ++i) {
    if (held[i]) carriers.push_back(static_cast<PartId>(links_[i].b));
  }
  Verdict best = Verdict::hit;
  for (const Direction d : {model::kUp, model::kDown, model::kRight, model::kLeft, model::kBack, model::kFront}) {
    double length = 50.0;
    if (d == -board.facing) continue;
    if (d != board.facing) {
      length = 0.0;
      for (std::size_t i = 0; i < links_.size(); ++i) {
        if (!held[i]) continue;
        for (const Solid& s : frame_.parts[links_[i].b].solids) {
          length = std::max(length, reach_of(s, d.unit()) + reach_of(plank, -d.unit()));
        }
      }
    }
    Verdict verdict = room_in_cluster ? judge_.slide_in_room(part, d, length) : Verdict::clear;
    for (const PartId other : others) {
      if (other != part) verdict = std::max(verdict, judge_.slide(part, other, d, length));
    }
    if (d == board.facing && verdict != Verdict::hit) {
      verdict = std::max(verdict, shut_in(frame_, part, carriers, others, room_in_cluster));
    }
    best = std::min(best, verdict);
  }
  if (settled(best, "take away " + frame_.parts[board_vertex].id)) {
    moves.push_back({MoveKind::take_away, held, {part}});
  }
}

}  // namespace dryfit::test
