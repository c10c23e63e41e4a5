/// Names in boards and clips resolved; what can be said of a board before it has a place.
#include <fmt/format.h>

#include <unordered_map>
#include <unordered_set>

#include "model/frame/plain_text.hpp"
#include "model/geometry/at.hpp"
#include "model/placing/assembly.hpp"
#include "model/standards/standards.hpp"
#include "model/text/length_fault.hpp"
#include "model/text/messages.hpp"
#include "model/text/part_words.hpp"

namespace dryfit::model {
namespace {

/// "fix: " before what is said of a key; clips have none.
Message with_colon(std::string_view key) { return Message::as_it_is(key.empty() ? "" : std::string(key) + ": "); }

class BoardLinker {
 public:
  explicit BoardLinker(Assembler& in) : in_(in), frame_(in.out.frame) {}

  void run() {
    for (std::size_t i = 0; i < in_.draft.boards.size(); ++i) board(in_.draft.boards[i], static_cast<int>(i));
    for (const DraftClip& clip : in_.draft.clips) add_clip(clip);
  }

 private:
  /// The pipe of that name; kNone when it is none (told) or broken.
  PartId pipe(const Word& word, const Subject& subject, std::string_view key) {
    const Named* named = in_.resolve(word.text, word.where, subject, key);
    if (named == nullptr) return kNone;
    if (named->kind == Named::Kind::part) {
      const DraftPart& draft = in_.draft_part(*named);
      if (draft.broken) return kNone;
      if (draft.kind == PartKind::pipe) return named->part;
    }
    in_.faults.add(word.where, subject,
                   with_colon(key) + message("'{}' is a {}, expected a pipe", word.text, kind_word(*named)));
    return kNone;
  }

  int surface(const Word& word, const Subject& subject, std::string_view key) {
    const auto found = in_.names.find(word.text);
    if (found != in_.names.end() && found->second.kind == Named::Kind::surface) return found->second.index;
    std::vector<std::string> words;
    constexpr std::size_t kFew = 20;
    if (frame_.surfaces.size() <= kFew) {
      for (const Surface& s : frame_.surfaces) words.push_back(s.id);
    }
    in_.faults.add(word.where, subject,
                   with_colon(key) + message("'{}' is not a surface, expected {}{}", shown(word.text),
                                             words.empty() ? message("one of those in 'surfaces'") : one_of(words),
                                             did_you_mean(word.text, words)));
    return kNone;
  }

  Message kind_word(const Named& named) const {
    switch (named.kind) {
      case Named::Kind::surface: return message("surface");
      case Named::Kind::board: return message("board");
      case Named::Kind::part: break;
    }
    return kind_said(in_.draft_part(named).kind);
  }

  /// A pipe through the board: square to it. kNone when it cannot be used.
  PartId through_pipe(const Word& word, const DraftBoard& draft, std::string_view key,
                      std::unordered_set<PartId>& seen) {
    const Subject subject{"board", draft.id};
    const PartId id = pipe(word, subject, key);
    if (id == kNone || !in_.walked[at(id)]) return kNone;
    if (!seen.insert(id).second) {
      in_.faults.add(
          word.where, subject,
          message("{}: '{}' goes through the board already: name it once, in 'through' or in 'notch'", key, word.text));
      return kNone;
    }
    const Direction along = in_.part(id).ports[1].facing;
    if (!draft.broken && !parallel(along, draft.facing)) {
      in_.faults.add(word.where, subject,
                     message("{}: '{}' runs {}, but only a pipe square to the board, which faces {}, goes through it",
                             key, word.text, along.name(), draft.facing.name()));
      return kNone;
    }
    return id;
  }

  double default_hole(double od, const Word& word, const Subject& subject) {
    const bool inch = frame_.units == Units::in;
    const double least = od + (inch ? 25.4 / 32.0 : 1.0);
    // Tables are printed to a hundredth or so of a millimetre: a bit that is exactly large enough must not fail by it.
    constexpr double kRounding = 0.01;
    for (const Bit& bit : bits()) {
      if (bit.inch == inch && bit.diameter >= least - kRounding) return bit.diameter;
    }
    in_.faults.add(word.where, subject,
                   message("no drill bit in the table is {} or larger for '{}': give the hole's diameter in 'hole'",
                           length_said(least, frame_.units, true), word.text));
    return od;
  }

  using Drills = std::unordered_map<std::string_view, const DraftBoard::Drill*>;

  void add_hole(const Word& word, PartId id, bool notch, Direction open, const DraftBoard& draft, const Drills& drills,
                Board& board) {
    const Subject subject{"board", draft.id};
    const double od = 2.0 * in_.part(id).solids.front().radius;
    Hole hole;
    hole.pipe = id;
    hole.notch = notch;
    hole.open = open;
    hole.where = word.where;
    const auto own = drills.find(word.text);
    if (own != drills.end()) {
      hole.diameter = own->second->diameter;
    } else {
      hole.diameter = draft.hole ? *draft.hole : default_hole(od, word, subject);
    }
    if ((own != drills.end() || draft.hole) && hole.diameter <= od) {
      in_.faults.add(own != drills.end() ? own->second->pipe.where : draft.hole_where, subject,
                     message("hole: {} is too small for '{}', which is {} outside",
                             length_said(hole.diameter, frame_.units), word.text, length_said(od, frame_.units, true)));
    }
    board.holes.push_back(hole);
  }

  void holes(const DraftBoard& draft, Board& board, BoardNames& names) {
    const Subject subject{"board", draft.id};
    std::unordered_set<PartId> seen;
    Drills drills;
    for (const DraftBoard::Drill& drill : draft.holes) drills.emplace(drill.pipe.text, &drill);
    for (const Word& word : draft.through) {
      const PartId id = through_pipe(word, draft, "through", seen);
      if (id == kNone) continue;
      names.through.push_back(id);
      if (names.reach_from == kNone || (draft.reach_from && word.text == draft.reach_from->text)) names.reach_from = id;
      add_hole(word, id, false, {}, draft, drills, board);
    }
    for (const DraftBoard::Notch& notch : draft.notches) {
      const PartId id = through_pipe(notch.pipe, draft, "notch", seen);
      if (id == kNone) continue;
      names.notches.push_back(id);
      add_hole(notch.pipe, id, true, notch.open, draft, drills, board);
    }
    if (draft.hole && draft.through.empty() && draft.notches.empty()) {
      in_.faults.add(draft.hole_where, subject,
                     message("hole: the board has no 'through' and no 'notch', so there is nothing to drill for"));
    }
    std::vector<std::string> words;
    for (const Word& word : draft.through) words.push_back(word.text);
    for (const DraftBoard::Notch& notch : draft.notches) words.push_back(notch.pipe.text);
    const std::unordered_set<std::string> known(words.begin(), words.end());
    constexpr std::size_t kFew = 20;
    if (words.size() > kFew) words.clear();
    for (const DraftBoard::Drill& drill : draft.holes) {
      if (known.contains(drill.pipe.text)) continue;
      in_.faults.add(drill.pipe.where, subject,
                     message("hole: '{}' does not go through the board, expected {}{}", drill.pipe.text,
                             words.empty() ? message("a pipe of 'through' or 'notch'") : one_of(words),
                             did_you_mean(drill.pipe.text, words)));
    }
  }

  void carriers(const DraftBoard& draft, Board& board, BoardNames& names, int index) {
    const Subject subject{"board", draft.id};
    for (const Word& word : draft.rests_on) {
      const Named* named = in_.resolve(word.text, word.where, subject, "rests-on");
      if (named == nullptr) continue;
      const bool itself = named->kind == Named::Kind::board && named->index == index;
      if (named->kind == Named::Kind::surface || itself) {
        in_.faults.add(
            word.where, subject,
            itself
                ? message("rests-on: '{}' is the board itself; expected a fitting, a pipe or another board", word.text)
                : message("rests-on: '{}' is a surface; to screw the board to it write 'fix', and 'height' "
                          "for where it is",
                          word.text));
        continue;
      }
      names.carriers.push_back(named->part);
    }
    board.carriers = names.carriers;
  }

  void board(const DraftBoard& draft, int index) {
    const Subject subject{"board", draft.id};
    Board board;
    BoardNames names;
    board.part = in_.names.find(draft.id) == in_.names.end() ? kNone : in_.names.find(draft.id)->second.part;
    board.normal = draft.normal;
    board.facing = draft.facing;
    board.stock = draft.stock;
    board.stands_on_carriers = !draft.rests_on.empty();
    board.hi = draft.size;
    holes(draft, board, names);
    carriers(draft, board, names, index);
    if (!draft.broken && !draft.reach.empty() && draft.through.empty() && draft.rests_on.empty()) {
      in_.faults.add(
          draft.place_where, subject,
          message(
              "reach: there is no pipe ('through') and no carrier ('rests-on') to measure from; give 'at' instead"));
    }
    for (const Word& word : draft.fix) {
      const int on = surface(word, subject, "fix");
      if (on == kNone) continue;
      frame_.fastenings.push_back({Fastening::Kind::board_to_surface, board.part, kRoom, on, 1, word.where});
    }
    for (const DraftBoard::Count& strap : draft.straps) {
      const PartId on = pipe(strap.pipe, subject, "strap");
      if (on == kNone) continue;
      frame_.fastenings.push_back({Fastening::Kind::strap, board.part, on, kNone, strap.count, strap.pipe.where});
    }
    // A board without a stock word is weighed as pine: the word a lumber counter understands when told nothing.
    const auto dense = density(draft.stock.empty() ? "pine" : std::string_view(draft.stock));
    if (board.part != kNone && dense) {
      in_.part(board.part).mass = draft.size.x * draft.size.y * draft.size.z * 1e-9 * dense->value;
    }
    if (board.part != kNone) {
      Part& part = in_.part(board.part);
      if (draft.mass) part.mass = *draft.mass;
      part.own.mass = draft.mass.has_value();
      part.mass_from_memory = !draft.mass && (!dense || dense->confidence == Confidence::memory);
    }
    frame_.boards.push_back(std::move(board));
    in_.out.board_names.push_back(std::move(names));
  }

  void add_clip(const DraftClip& clip) {
    static constexpr Subject kClips{"clips", {}};
    const PartId id = pipe(clip.pipe, kClips, "");
    const int on = surface(clip.surface, kClips, "");
    if (id == kNone || on == kNone) return;
    frame_.fastenings.push_back({Fastening::Kind::clip, id, kRoom, on, 1, clip.pipe.where});
  }

  Assembler& in_;
  Frame& frame_;
};

}  // namespace

void link_boards(Assembler& in) { BoardLinker(in).run(); }

}  // namespace dryfit::model
