#include "cli/sentences/step_text.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "cli/sentences/lift_text.hpp"
#include "cli/words/lengths.hpp"
#include "cli/words/say.hpp"
#include "cli/words/trade_words.hpp"
#include "cli/words/words.hpp"
#include "model/geometry/at.hpp"
#include "planner/base/disjoint_sets.hpp"
#include "planner/base/lifting.hpp"
#include "planner/state/no_rest.hpp"

namespace dryfit::cli {
namespace {

using model::Direction;
using model::Frame;
using model::Part;
using model::PartId;
using planner::Contact;
using planner::ContactId;
using planner::ContactKind;
using planner::ContactList;
using planner::Step;

/// Axis lines as bits, opposite directions being one line: a piece whose openings all lie on one line looks the same
/// however far it is turned about it.
unsigned line_bit(Direction d) {
  unsigned bit = 1;
  for (const Direction known : model::all_directions()) {
    if (model::parallel(known, d)) return bit;
    bit <<= 1U;
  }
  return 0;
}

/// Which parts hang together after the steps so far.
class Built {
 public:
  Built(const Frame& frame, const ContactList& list)
      : list_(list), pieces_(list.at.size()), size_(list.at.size(), 1), lines_(list.at.size(), 0) {
    for (std::size_t id = 0; id < frame.parts.size(); ++id) {
      for (const model::Port& port : frame.parts[id].ports) lines_[id] |= line_bit(port.facing);
    }
  }
  void make(const Contact& contact) {
    const auto joined = pieces_.join(list_.vertex(contact.a), list_.vertex(contact.b));
    if (!joined) return;
    size_[at(joined->kept)] += size_[at(joined->gone)];
    lines_[at(joined->kept)] |= lines_[at(joined->gone)];
  }
  [[nodiscard]] bool together(PartId a, PartId b) const { return pieces_.together(list_.vertex(a), list_.vertex(b)); }
  /// How many parts the piece of the part has.
  [[nodiscard]] int size(PartId part) const { return size_[piece_of(part)]; }
  /// True when the piece that holds the part has something that shows how far it is turned about the axis.
  [[nodiscard]] bool shows_angle(PartId part, Direction axis) const {
    return (lines_[piece_of(part)] & ~line_bit(axis)) != 0;
  }

 private:
  [[nodiscard]] std::size_t piece_of(PartId part) const { return at(pieces_.find(list_.vertex(part))); }
  const ContactList& list_;
  planner::DisjointSets pieces_;  ///< of the vertices of the contact list
  std::vector<int> size_;         ///< per piece
  std::vector<unsigned> lines_;   ///< per piece
};

/// Writes the words of one step; what was built before it is known.
class Writer {
 public:
  Writer(const Frame& frame, const ContactList& list, Built& built, const Step& step, const model::Attitude& lies)
      : frame_(frame), list_(list), built_(built), step_(step), lies_(lies) {}

  StepWords write() {
    switch (step_.action) {
      case planner::Action::screw: screw(); break;
      case planner::Action::slide: slide(); break;
      case planner::Action::pass: pass(); break;
      case planner::Action::lay: lay(); break;
      case planner::Action::join: join(); break;
      case planner::Action::fasten: fasten(); break;
    }
    slots();
    weigh();
    return std::move(words_);
  }

 private:
  [[nodiscard]] const Part& part(PartId id) const { return frame_.part(id); }
  [[nodiscard]] const Contact& contact(ContactId id) const { return list_.contact(id); }
  [[nodiscard]] const model::Board& board(PartId id) const { return frame_.board(part(id).board); }
  [[nodiscard]] bool moves(PartId id) const {
    return std::find(step_.moving.begin(), step_.moving.end(), id) != step_.moving.end();
  }
  [[nodiscard]] std::string name(PartId id) const { return name_of(frame_, id, lies_); }
  /// As hands see it.
  [[nodiscard]] Direction seen(Direction own) const { return lies_(own); }
  /// Where hands bring it from. Of what lies, front and behind could be those of the finished frame.
  [[nodiscard]] std::string brought_from(Direction way) const {
    const bool lying = lies_.up != model::kUp && lies_.up != model::kDown;
    if (lying && way == model::kBack) return say("from your side");
    if (lying && way == model::kFront) return say("from the far side");
    return coming_from(way);
  }
  void caution(std::string text) { words_.cautions.push_back(std::move(text)); }

  /// The first contact of the step of one of these kinds; nullptr when none.
  [[nodiscard]] const Contact* first(std::initializer_list<ContactKind> kinds) const {
    for (const ContactId id : step_.contacts) {
      if (std::find(kinds.begin(), kinds.end(), contact(id).kind) != kinds.end()) return &contact(id);
    }
    return nullptr;
  }

  /// Labels on one side of the step's hole and notch contacts (boards or pipes), each once.
  [[nodiscard]] std::vector<std::string> through(bool boards) const {
    std::vector<PartId> ids;
    for (const ContactId id : step_.contacts) {
      const Contact& c = contact(id);
      if (c.kind == ContactKind::hole || c.kind == ContactKind::notch) ids.push_back(boards ? c.a : c.b);
    }
    std::sort(ids.begin(), ids.end());
    return labels_of(frame_, ids);
  }

  /// "P3, with C1 and K1 on it," where more moves along with the part in hand; its name when it moves alone.
  [[nodiscard]] std::string with_burden(PartId in_hand) const {
    std::vector<PartId> rest;
    for (const PartId id : step_.moving) {
      if (id != in_hand && part(id).label != part(in_hand).label) rest.push_back(id);
    }
    if (rest.empty()) return name(in_hand);
    return say("{0}, with {1} on it,", name(in_hand), listed_briefly(labels_of(frame_, rest), 5));
  }

  /// Where the moving side must stand when the turning is done, told by the fitting next to the joint that shows it.
  /// "" when nothing shows the angle, or when the other side has nothing to compare it with.
  [[nodiscard]] std::string end_position(PartId in_hand, PartId held, Direction axis) const {
    if (!built_.shows_angle(held, axis)) return "";
    std::vector<PartId> near = {in_hand};
    for (std::size_t i = 0; i < near.size(); ++i) {
      if (std::string text = stands(near[i], axis); !text.empty()) return text;
      for (const model::Port& port : part(near[i]).ports) {
        if (port.joint == model::kNone) continue;
        const model::Joint& joint = frame_.joint(port.joint);
        const PartId next = joint.male == near[i] ? joint.female : joint.male;
        if (moves(next) && std::find(near.begin(), near.end(), next) == near.end()) near.push_back(next);
      }
    }
    std::string text;
    for (std::size_t i = 0; text.empty() && i < step_.moving.size(); ++i) text = stands(step_.moving[i], axis);
    return text;
  }

  /// "Stop with T1's outlet pointing right." for a fitting that has openings off the axis.
  [[nodiscard]] std::string stands(PartId id, Direction axis) const {
    const Part& fitting = part(id);
    if (fitting.kind == model::PartKind::pipe || fitting.kind == model::PartKind::board) return "";
    std::vector<Direction> ways;
    for (const model::Port& port : fitting.ports) {
      if (!model::parallel(port.facing, axis)) ways.push_back(seen(port.facing));
    }
    if (ways.empty()) return "";
    if (ways.size() == 2 && ways[0] == -ways[1] && ways[0].along_axis() && fitting.kind != model::PartKind::cross) {
      if (ways[0].axis() == 2) return say("Stop with {}'s run vertical.", fitting.label);
      return ways[0].axis() == 0 ? say("Stop with {}'s run level, left to right.", fitting.label)
                                 : say("Stop with {}'s run level, front to back.", fitting.label);
    }
    std::vector<std::string> words;
    for (const Direction way : ways) words.push_back(pointing(way));
    if (ways.size() > 1) return say("Stop with {0}'s openings pointing {1}.", fitting.label, listed(words));
    if (fitting.ports.size() > 2) return say("Stop with {0}'s outlet pointing {1}.", fitting.label, words.front());
    return fitting.ports.size() == 2 ? say("Stop with {0}'s other end pointing {1}.", fitting.label, words.front())
                                     : say("Stop with {0}'s opening pointing {1}.", fitting.label, words.front());
  }

  /// "4-3/4 turns", or "7-3/4 turns, the last 3 with a wrench" where the joint is made up beyond hand-tight.
  [[nodiscard]] std::string how_far(const Contact& thread) const {
    const model::Joint& joint = frame_.joint(thread.joint);
    const double wrenched = joint.pitch > 0.0 ? (joint.engaged - joint.hand) / joint.pitch : 0.0;
    if (wrenched < 0.5) return turns_in_words(step_.turns);
    return say("{0}, the last {1} with a wrench", turns_in_words(step_.turns), turns_in_words(wrenched));
  }

  /// The label, or `half` for half a union, whose name is too long to say twice.
  [[nodiscard]] std::string briefly(PartId id, const std::string& half) const {
    return part(id).union_mate == model::kNone ? part(id).label : half;
  }

  void screw() {
    const Contact& thread = *first({ContactKind::thread});
    const bool male_turns = moves(thread.a);
    const PartId in_hand = male_turns ? thread.a : thread.b;
    const PartId held = male_turns ? thread.b : thread.a;
    const Direction way = seen(male_turns ? -thread.axis : thread.axis);
    const bool upright = way == model::kUp || way == model::kDown;
    const std::string what = with_burden(in_hand);
    const std::string target = name(held);
    const std::string hold = briefly(held, say("that half")), turn = briefly(in_hand, say("this half"));
    const std::string turns = how_far(thread);
    if (const auto boards = through(true); !boards.empty()) {
      words_.text = male_turns ? say("Pass {0} {1} through {2} and screw it into {3}: hold {4}, turn {5} {6}.", what,
                                     going(way), listed(boards), target, hold, turn, turns)
                               : say("Pass {0} {1} through {2} and screw it onto {3}: hold {4}, turn {5} {6}.", what,
                                     going(way), listed(boards), target, hold, turn, turns);
    } else if (upright) {
      words_.text =
          male_turns
              ? say("Screw {0} {1} into {2}: hold {3}, turn {4} {5}.", what, going(way), target, hold, turn, turns)
              : say("Screw {0} {1} onto {2}: hold {3}, turn {4} {5}.", what, going(way), target, hold, turn, turns);
    } else {
      words_.text = male_turns ? say("Screw {0} into {1} {2}: hold {3}, turn {4} {5}.", what, target, brought_from(way),
                                     hold, turn, turns)
                               : say("Screw {0} onto {1} {2}: hold {3}, turn {4} {5}.", what, target, brought_from(way),
                                     hold, turn, turns);
    }
    if (const std::string stop = end_position(in_hand, held, thread.axis); !stop.empty()) words_.text += " " + stop;
    for (const PartId id : {thread.a, thread.b}) {
      if (part(id).union_mate == model::kNone || built_.size(id) > 1 || built_.size(part(id).union_mate) > 1) continue;
      caution(say("Slip the nut of {} onto its half now: it can't go on later.", part(id).label));
    }
    if (!step_.strapped_first.empty()) {
      std::vector<std::string> boards;
      for (const ContactId id : step_.strapped_first) {
        boards.push_back(name(contact(id).a));
        words_.tied.push_back(contact(id).a);
      }
      caution(say("{} is only resting there: tie it down before you turn, or it slides off.", listed(boards)));
    }
    if (step_.swing_radius > planner::arm_length()) {
      words_.hands = 2;
      caution(say("The far end swings at {0} radius. Clear the space, and have a second person guide it.",
                  length_text(step_.swing_radius, frame_.units)));
    }
  }

  void slide() {
    std::vector<PartId> boards;
    for (const PartId id : step_.moving) {
      if (part(id).kind == model::PartKind::board) boards.push_back(id);
    }
    const Direction way = nearest_direction(step_.travel);
    const std::string what =
        boards.empty() ? listed(labels_of(frame_, step_.moving)) : listed(labels_of(frame_, boards));
    const Contact* hole = first({ContactKind::hole});
    const Contact* notch = first({ContactKind::notch});
    const std::vector<std::string> over = through(false);
    const std::string pipes = listed(over);
    if (hole == nullptr && notch != nullptr && !way.valid()) {  // about the pipe in its hole
      words_.text = over.size() == 1 ? say("Swing {0} round until {1} is at the bottom of its slot.", what, pipes)
                                     : say("Swing {0} round until {1} are at the bottom of their slots.", what, pipes);
      return;
    }
    if (hole == nullptr && notch != nullptr && !model::parallel(way, notch->axis)) {
      words_.text =
          over.size() == 1
              ? say("Push {0} {1} until {2} is at the bottom of its slot.", what, going(seen(way)), pipes)
              : say("Push {0} {1} until {2} are at the bottom of their slots.", what, going(seen(way)), pipes);
      return;
    }
    meet_apart();
    const std::vector<std::string> on = resting(boards, way);
    if (on.empty()) {
      words_.text = say("Slide {0} {1} over {2}.", what, going(seen(way)), pipes);
    } else if (seen(way).z >= 0) {
      words_.text = say("Slide {0} {1} over {2} up against {3}.", what, going(seen(way)), pipes, listed(on));
    } else {
      words_.text =
          boards.size() == 1
              ? say("Slide {0} {1} over {2} until it lies on {3}.", what, going(seen(way)), pipes, listed(on))
              : say("Slide {0} {1} over {2} until they lie on {3}.", what, going(seen(way)), pipes, listed(on));
    }
  }

  /// One pair of hands cannot keep made-up pieces apart and slide something over all of them.
  void meet_apart() {
    std::vector<PartId> apart;
    for (const PartId id : step_.holding) {
      if (built_.size(id) > 1 &&
          std::none_of(apart.begin(), apart.end(), [&](PartId other) { return built_.together(id, other); })) {
        apart.push_back(id);
      }
    }
    if (apart.size() < 2) return;
    words_.hands = 2;
    words_.steadied.assign(apart.begin() + 1, apart.end());
    caution(say("{} pieces stand separately here: a second person or props have to hold them in place.", apart.size()));
  }

  /// The fittings at the ends of the pipes that boards slid down come to lie on for now, where the finished frame
  /// carries them by others: all pipes have one that is wider than its hole, or none is told.
  [[nodiscard]] std::vector<std::string> stopped_by(const std::vector<PartId>& boards, Direction way) const {
    std::vector<PartId> stops;
    for (const PartId id : boards) {
      for (const model::Hole& hole : board(id).holes) {
        const Part& pipe = part(hole.pipe);
        const auto port = std::find_if(pipe.ports.begin(), pipe.ports.end(),
                                       [&](const model::Port& one) { return one.facing == way; });
        if (port == pipe.ports.end() || port->joint == model::kNone) return {};
        const model::Joint& joint = frame_.joint(port->joint);
        const PartId stop = joint.male == hole.pipe ? joint.female : joint.male;
        const auto& bodies = part(stop).solids;
        const bool wide = std::any_of(bodies.begin(), bodies.end(),
                                      [&](const model::Solid& body) { return 2.0 * body.radius > hole.diameter; });
        if (!wide || !built_.together(hole.pipe, stop)) return {};
        stops.push_back(stop);
      }
    }
    std::sort(stops.begin(), stops.end());
    return labels_of(frame_, stops);
  }

  /// What stops the boards on their way, when all of it is there; a caution when they stay only as long as they are
  /// held.
  std::vector<std::string> resting(const std::vector<PartId>& boards, Direction way) {
    std::vector<std::string> ready;
    std::vector<std::string> missing;
    for (const PartId id : boards) {
      const model::Board& b = board(id);
      for (const PartId carrier : b.carriers) {
        if (planner::passes_its_hole(frame_, b, carrier)) {
          words_.tied.push_back(id);
          caution(say("{0} doesn't stop at {1}, which slips through its hole: hold it where it belongs.", name(id),
                      name(carrier)));
          continue;
        }
        // A post that the board doesn't go over yet may stand anywhere.
        const bool there = !b.holes.empty() && model::dot(way, b.facing) < 0 &&
                           std::any_of(step_.contacts.begin(), step_.contacts.end(), [&](ContactId c) {
                             return contact(c).a == id && built_.together(contact(c).b, carrier);
                           });
        (there ? ready : missing).push_back(name(carrier));
      }
    }
    if (missing.empty()) {
      if (!ready.empty() && seen(way).z > 0) {
        words_.tied.insert(words_.tied.end(), boards.begin(), boards.end());
        caution(boards.size() == 1
                    ? say("Pinch point: nothing holds {} up yet. Tie it or have it held.", name(boards.front()))
                    : say("Pinch point: nothing holds {} up yet. Tie them or have them held.",
                          listed(labels_of(frame_, boards))));
      }
      return ready;
    }
    if (seen(way).z < 0) {
      if (const std::vector<std::string> stops = stopped_by(boards, way); !stops.empty()) return stops;
    }
    // What is pushed along level pipes stays where it is left.
    if (seen(way).z == 0 && boards_face(boards, way)) return {};
    words_.tied.insert(words_.tied.end(), boards.begin(), boards.end());
    caution(boards.size() == 1 ? say("Pinch point: {0} isn't resting on {1} yet. Tie it or have it held.",
                                     name(boards.front()), listed_or(missing))
                               : say("Pinch point: the boards aren't resting on {} yet. Tie them or have them held.",
                                     listed_or(missing)));
    return {};
  }

  /// All of them lie square to the way.
  [[nodiscard]] bool boards_face(const std::vector<PartId>& boards, Direction way) const {
    return std::all_of(boards.begin(), boards.end(), [&](PartId id) { return model::parallel(board(id).facing, way); });
  }

  void pass() {
    const Direction own_way = nearest_direction(step_.travel);
    const Direction way = seen(own_way);
    const std::vector<std::string> pipes = through(false);
    const Contact* hole = first({ContactKind::hole, ContactKind::notch});
    const bool pipe_moves = hole != nullptr && moves(hole->b);
    if (!pipe_moves) return slide();
    std::vector<PartId> others;
    std::vector<std::string> with;
    for (const PartId id : step_.moving) {
      const std::string& label = part(id).label;
      if (std::find(pipes.begin(), pipes.end(), label) == pipes.end()) others.push_back(id);
    }
    if (!others.empty()) with = labels_of(frame_, others);
    const std::string boards = listed(through(true));
    if (hole->kind == ContactKind::notch && !model::parallel(own_way, hole->axis)) {
      const std::string what = pipes.size() == 1 ? with_burden(hole->b) : listed(pipes);
      words_.text = pipes.size() == 1 ? say("Push {0} {1} into the slot of {2}.", what, going(way), boards)
                                      : say("Push {0} {1} into the slots of {2}.", what, going(way), boards);
      return;
    }
    if (with.empty()) {
      words_.text = say("Pass {0} {1} through {2}.", listed(pipes), going(way), boards);
      return;
    }
    const std::string rest = listed_briefly(with, 5);
    words_.text = pipes.size() == 1
                      ? say("Pass {0}, with {1} on it, {2} through {3}.", pipes.front(), rest, going(way), boards)
                      : say("Pass {0}, with {1} on them, {2} through {3}.", listed(pipes), rest, going(way), boards);
  }

  void lay() {
    const Contact* rest = first({ContactKind::rest});
    if (rest == nullptr) return slide();  // a notched board that swings in: its slots take the pipes
    std::vector<PartId> carriers;
    for (const ContactId id : step_.contacts) {
      if (contact(id).kind == ContactKind::rest) carriers.push_back(contact(id).b);
    }
    std::sort(carriers.begin(), carriers.end());
    words_.text = say("Lay {0} on {1}.", name(rest->a), listed(labels_of(frame_, carriers)));
    for (const model::Fastening& fastening : frame_.fastenings) {
      if (fastening.part == rest->a) {
        caution(say("{} is loose until it is fastened: don't lean on it.", name(rest->a)));
        break;
      }
    }
  }

  void join() {
    const Contact& nut = *first({ContactKind::nut});
    if (built_.together(nut.a, nut.b)) {
      words_.text = say("Close union {}: start its nut by hand and tighten it.", part(nut.a).label);
    } else {
      words_.text =
          say("Bring the two halves of {} together: start the nut by hand and tighten it.", part(nut.a).label);
    }
    words_.hands = std::max(words_.hands, 2);
    words_.steadied.push_back(nut.a);
    caution(say("Hold both sides with wrenches, so that only the nut turns: that takes a second person or a vise."));
  }

  /// One sentence for all fastenings of the step that read alike.
  void fasten() {
    std::vector<std::string> said;
    bool wall = false;
    bool overhead = false;
    bool floor = false;
    for (const ContactId id : step_.contacts) {
      if (contact(id).kind != ContactKind::fastening) continue;
      const model::Fastening& f = frame_.fastening(contact(id).fastening);
      const std::string what = name(f.part);
      std::string onto;
      if (f.surface != model::kNone) {
        const model::Surface& surface = frame_.surface(f.surface);
        onto = the_surface(surface.id);
        wall = wall || surface.normal.z == 0;
        overhead = overhead || surface.normal.z < 0;
        floor = floor || surface.normal.z > 0;
      }
      switch (f.kind) {
        case model::Fastening::Kind::flange_to_surface:
          said.push_back(say("screw flange {0} to {1}", what, onto));
          break;
        case model::Fastening::Kind::flange_to_board:
          said.push_back(say("screw flange {0} to {1}", what, name(f.other)));
          break;
        case model::Fastening::Kind::board_to_surface: said.push_back(say("screw {0} to {1}", what, onto)); break;
        case model::Fastening::Kind::clip:
          said.push_back(
              say_n(f.count, "clip {1} to {2} with {0} pipe clip", "clip {1} to {2} with {0} pipe clips", what, onto));
          break;
        case model::Fastening::Kind::strap:
          said.push_back(say_n(f.count, "strap {1} to {2} with {0} strap", "strap {1} to {2} with {0} straps", what,
                               name(f.other)));
          break;
      }
    }
    const std::string first_set = set_together();
    words_.text = first_set.empty() ? capitalized(listed(said) + ".") : say("{0}, then {1}.", first_set, listed(said));
    if (!step_.aside.empty()) {
      caution(
          say("Push {0} along its pipes until it is {1} clear of the flange, and hold it there: the "
              "screwdriver needs the room.",
              listed(labels_of(frame_, step_.aside)), length_text(frame_.driver, frame_.units)));
    }
    if (overhead) {
      caution(say("Into joists or rated anchors. For anything overhead follow your local code."));
    } else if (wall) {
      caution(say("Into studs, or rated anchors for this wall. Look for cables and pipes in the wall first."));
    } else if (floor) {
      caution(
          say("Into joists, or rated anchors in concrete. Look for pipes, cables and heating under the floor first."));
    }
  }

  /// A board in slots that nothing fastens goes out the way it came in.
  void slots() {
    for (const ContactId id : step_.contacts) {
      const Contact& c = contact(id);
      if (c.kind != ContactKind::notch) continue;
      const model::Board& b = board(c.a);
      const bool open = std::all_of(b.holes.begin(), b.holes.end(), [&](const model::Hole& hole) {
        return hole.notch && hole.open == b.holes.front().open;
      });
      const bool fastened = std::any_of(frame_.fastenings.begin(), frame_.fastenings.end(),
                                        [&](const model::Fastening& f) { return f.part == c.a || f.other == c.a; });
      if (open && !fastened) {
        caution(say("{} can slide out of its slots again: hold it with a strap, or close the slots.", name(c.a)));
      }
      return;
    }
  }

  /// What the screws of flanges join is put together first: "Lay TOP on flanges F1 and F2"; "" where it hangs together.
  std::string set_together() {
    const model::Fastening& f = frame_.fastening(contact(step_.contacts.front()).fastening);
    if (f.kind != model::Fastening::Kind::flange_to_board || built_.together(f.part, f.other)) return "";
    std::vector<PartId> flanges;
    for (const model::Fastening& other : frame_.fastenings) {
      const bool same = other.kind == f.kind && other.other == f.other;
      if (same && (other.part == f.part || built_.together(other.part, f.part))) flanges.push_back(other.part);
    }
    const std::string board = name(f.other), on = listed(labels_of(frame_, flanges));
    const Direction toward_board = seen(-part(f.part).ports.front().facing);
    const bool one = flanges.size() == 1;
    if (toward_board.z < 0) {
      if (built_.size(f.other) > 1) {
        return one ? say("Set flange {0} on {1}", on, board) : say("Set flanges {0} on {1}", on, board);
      }
      return one ? say("Lay {0} down and set flange {1} on it", board, on)
                 : say("Lay {0} down and set flanges {1} on it", board, on);
    }
    if (built_.size(f.other) > built_.size(f.part)) {
      // The board is on already: the smaller piece is brought to it.
      return one ? say("Hold flange {0} against {1}", on, board) : say("Hold flanges {0} against {1}", on, board);
    }
    if (toward_board.z > 0) {
      return one ? say("Lay {0} on flange {1}", board, on) : say("Lay {0} on flanges {1}", board, on);
    }
    return one ? say("Hold {0} against flange {1}", board, on) : say("Hold {0} against flanges {1}", board, on);
  }

  void weigh() {
    if (step_.lift.people < 2) return;
    words_.hands = std::max(words_.hands, step_.lift.people);
    caution(lift_text(step_.lift, frame_.units));
  }

  const Frame& frame_;
  const ContactList& list_;
  Built& built_;
  const Step& step_;
  const model::Attitude lies_;
  StepWords words_;
};

}  // namespace

std::vector<StepWords> words_for(const Frame& frame, const ContactList& list, const std::vector<Step>& steps,
                                 const std::vector<model::Attitude>& lies, const std::vector<ContactId>& standing) {
  Built built(frame, list);
  for (const ContactId id : standing) built.make(list.contact(id));
  std::vector<StepWords> words;
  words.reserve(steps.size());
  for (std::size_t i = 0; i < steps.size(); ++i) {
    words.push_back(Writer(frame, list, built, steps[i], i < lies.size() ? lies[i] : model::Attitude{}).write());
    for (const ContactId id : steps[i].contacts) built.make(list.contact(id));
  }
  return words;
}

}  // namespace dryfit::cli
