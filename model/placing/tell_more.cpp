#include "model/placing/tell_more.hpp"

#include <algorithm>
#include <array>
#include <optional>
#include <string_view>
#include <unordered_map>
#include <unordered_set>
#include <vector>

#include "model/geometry/at.hpp"
#include "model/placing/assembly.hpp"
#include "model/placing/natural_order.hpp"
#include "model/placing/place.hpp"
#include "model/placing/place_boards.hpp"
#include "model/placing/place_runs.hpp"

namespace dryfit::model {
namespace {

/// Runs come first, boards behind them.
struct Node {
  enum class Kind { nothing, surface, run, board };
  Kind kind = Kind::nothing;
  std::size_t index = 0;
};

/// Which run or board a name of the draft belongs to.
class OwnersOfNames {
 public:
  explicit OwnersOfNames(const Draft& draft) {
    for (const Surface& surface : draft.surfaces) owners_.emplace(surface.id, Node{Node::Kind::surface, 0});
    for (std::size_t r = 0; r < draft.runs.size(); ++r) {
      for (const DraftPart& part : draft.runs[r].parts) owners_.emplace(part.id, Node{Node::Kind::run, r});
    }
    for (std::size_t b = 0; b < draft.boards.size(); ++b) {
      owners_.emplace(draft.boards[b].id, Node{Node::Kind::board, b});
    }
  }

  [[nodiscard]] Node of(std::string_view name) const {
    const auto found = owners_.find(name);
    return found == owners_.end() ? Node{} : found->second;
  }

 private:
  std::unordered_map<std::string_view, Node> owners_;
};

/// The pipe or carrier that `reach` is measured from.
const Word* reach_word(const DraftBoard& board) {
  if (board.reach_from) return &*board.reach_from;
  if (!board.through.empty()) return &board.through.front();
  return board.rests_on.empty() ? nullptr : &board.rests_on.front();
}

/// What gets a place from what the file says, by names alone: as place.hpp does it, without any length.
class PlacedByNames {
 public:
  explicit PlacedByNames(const Draft& draft)
      : draft_(draft), owners_(draft), run_(draft.runs.size(), false), board_(draft.boards.size(), false) {
    neighbours_.resize(draft.runs.size());
    for (std::size_t r = 0; r < draft.runs.size(); ++r) {
      for (const auto* link : {&draft.runs[r].from, &draft.runs[r].to}) {
        if (!*link) continue;
        const Node to = owners_.of((*link)->target);
        if (to.kind != Node::Kind::run) continue;
        neighbours_[r].push_back(to.index);
        neighbours_[to.index].push_back(r);
      }
    }
    for (std::size_t r = 0; r < draft.runs.size(); ++r) {
      if (!has_own_place(draft.runs[r])) continue;
      fixed_ = true;
      set(r);
    }
    settle();
  }

  [[nodiscard]] bool fixed() const { return fixed_; }
  [[nodiscard]] bool run(std::size_t r) const { return run_[r]; }
  [[nodiscard]] bool board(std::size_t b) const { return board_[b]; }
  [[nodiscard]] bool all() const {
    return std::find(run_.begin(), run_.end(), false) == run_.end() &&
           std::find(board_.begin(), board_.end(), false) == board_.end();
  }
  /// False when boards stand on boards so high that it was given up: then nothing is certain.
  [[nodiscard]] bool settled() const { return settled_; }
  /// The first run without a place gets one; false when there is none.
  bool start_first() {
    const auto first = std::find(run_.begin(), run_.end(), false);
    if (first == run_.end()) return false;
    set(dryfit::at(first - run_.begin()));
    settle();
    return true;
  }

 private:
  [[nodiscard]] bool has_own_place(const DraftRun& run) const {
    if (!run.from) return run.at.size() == 3;
    return owners_.of(run.from->target).kind == Node::Kind::surface && run.at.size() == 2;
  }

  void set(std::size_t first) {
    std::vector<std::size_t> waiting{first};
    while (!waiting.empty()) {
      const std::size_t r = waiting.back();
      waiting.pop_back();
      if (run_[r]) continue;
      run_[r] = true;
      waiting.insert(waiting.end(), neighbours_[r].begin(), neighbours_[r].end());
    }
  }

  [[nodiscard]] bool placed(std::string_view name) const {
    const Node node = owners_.of(name);
    return (node.kind == Node::Kind::run && run_[node.index]) || (node.kind == Node::Kind::board && board_[node.index]);
  }

  /// Boards and the runs that stand on them wait for one another; few files have chains of them.
  void settle() {
    constexpr int kRounds = 64;
    int round = 0;
    for (bool more = true; more;) {
      more = false;
      settled_ = ++round <= kRounds;
      if (!settled_) return;
      std::vector<std::array<bool, 2>> flange(draft_.boards.size(), {false, false});
      for (std::size_t r = 0; r < draft_.runs.size(); ++r) {
        for (const auto* link : {&draft_.runs[r].from, &draft_.runs[r].to}) {
          if (!*link || !run_[r]) continue;
          const Node on = owners_.of((*link)->target);
          if (on.kind != Node::Kind::board) continue;
          flange[on.index][0] = true;
          flange[on.index][1] = flange[on.index][1] || (link == &draft_.runs[r].from && draft_.runs[r].at.size() == 2);
        }
      }
      for (std::size_t b = 0; b < draft_.boards.size(); ++b) {
        const DraftBoard& board = draft_.boards[b];
        if (board_[b]) continue;
        const Word* from = board.reach.empty() ? nullptr : reach_word(board);
        const bool across = board.at || (from != nullptr ? placed(from->text) : flange[b][1]);
        const bool high = !board.rests_on.empty() ? placed(board.rests_on.front().text) : board.height || flange[b][0];
        if (!across || !high) continue;
        board_[b] = true;
        more = true;
      }
      for (std::size_t r = 0; r < draft_.runs.size(); ++r) {
        const DraftRun& run = draft_.runs[r];
        if (run_[r] || !run.from || run.at.size() != 2) continue;
        const Node on = owners_.of(run.from->target);
        if (on.kind != Node::Kind::board || !board_[on.index]) continue;
        set(r);
        more = true;
      }
    }
  }

  const Draft& draft_;
  OwnersOfNames owners_;
  std::vector<bool> run_, board_;
  std::vector<std::vector<std::size_t>> neighbours_;
  bool fixed_ = false;
  bool settled_ = true;
};

/// Sets of runs and boards that have to do with each other in any way.
class Company {
 public:
  explicit Company(std::size_t n) : parent_(n), touched_(n, false) {
    for (std::size_t i = 0; i < n; ++i) parent_[i] = i;
  }
  std::size_t root(std::size_t i) {
    while (parent_[i] != i) i = parent_[i] = parent_[parent_[i]];
    return i;
  }
  void join(std::size_t a, std::size_t b) {
    const std::size_t ra = root(a), rb = root(b);
    parent_[ra] = rb;
    touched_[rb] = touched_[rb] || touched_[ra];
  }
  void touch(std::size_t i) { touched_[root(i)] = true; }
  bool touched(std::size_t i) { return touched_[root(i)]; }

 private:
  std::vector<std::size_t> parent_;
  std::vector<bool> touched_;
};

bool is_told(const Faults& faults, const DraftRun& run) { return run.broken || faults.tells_of({"run", run.id}); }
bool is_told(const Faults& faults, const DraftBoard& board) {
  return board.broken || faults.tells_of({"board", board.id});
}
bool is_told(const Faults& faults, const DraftPart& part) { return part.broken || faults.tells_of({"part", part.id}); }

/// Every name that a board says.
template <class Each>
void for_each_name(const DraftBoard& board, const Each& each) {
  for (const Word& word : board.through) each(word);
  for (const DraftBoard::Notch& notch : board.notches) each(notch.pipe);
  for (const Word& word : board.rests_on) each(word);
}

/// Runs and boards without a place, where no mistake has to do with them.
void tell_without_place(const Draft& draft, Faults& faults) {
  const OwnersOfNames owners(draft);
  const std::size_t runs = draft.runs.size();
  Company company(runs + draft.boards.size());
  const auto meet = [&](std::size_t node, std::string_view name) {
    const Node other = owners.of(name);
    if (other.kind == Node::Kind::run) company.join(node, other.index);
    if (other.kind == Node::Kind::board) company.join(node, runs + other.index);
    if (other.kind == Node::Kind::nothing) company.touch(node);
  };
  for (std::size_t r = 0; r < runs; ++r) {
    for (const auto* link : {&draft.runs[r].from, &draft.runs[r].to}) {
      if (*link) meet(r, (*link)->target);
    }
    if (is_told(faults, draft.runs[r])) company.touch(r);
  }
  for (std::size_t b = 0; b < draft.boards.size(); ++b) {
    for_each_name(draft.boards[b], [&](const Word& word) { meet(runs + b, word.text); });
    if (is_told(faults, draft.boards[b])) company.touch(runs + b);
  }
  PlacedByNames placed(draft);
  PlacedByNames growing = placed;
  std::vector<bool> before(runs);
  std::vector<std::vector<std::size_t>> pieces;
  constexpr std::size_t kEnough = 100;  // no more faults than that are printed
  for (bool more = true; more && pieces.size() < kEnough;) {
    for (std::size_t r = 0; r < runs; ++r) before[r] = growing.run(r);
    more = growing.start_first();
    std::vector<std::size_t> piece;
    for (std::size_t r = 0; r < runs; ++r) {
      if (growing.run(r) && !before[r]) piece.push_back(r);
    }
    const bool certain = std::none_of(piece.begin(), piece.end(), [&](std::size_t r) { return company.touched(r); });
    if (!piece.empty() && certain) pieces.push_back(std::move(piece));
  }
  // One of them may begin at the origin, and which mistakes hide another is not known.
  if (pieces.size() >= 2 && growing.settled()) {
    for (std::size_t i = placed.fixed() ? 0 : 1; i < pieces.size(); ++i) {
      for (const std::size_t r : pieces[i]) tell_unplaced_run(draft.runs[r], faults);
    }
  }
  std::unordered_set<std::string_view> ends;
  for (const DraftRun& run : draft.runs) {
    if (run.from) ends.insert(run.from->target);
    if (run.to) ends.insert(run.to->target);
  }
  for (const DraftBoard& board : draft.boards) {
    if (!is_told(faults, board) && !ends.contains(board.id)) tell_board_without_place(board, faults);
  }
}

/// The draft without what a mistake was told of, and without what needs that.
class SoundRest {
 public:
  SoundRest(const Draft& draft, const Faults& faults) : draft_(draft), owners_(draft) {
    for (const DraftRun& run : draft.runs) {
      const bool good = !is_told(faults, run) && std::none_of(run.parts.begin(), run.parts.end(),
                                                              [&](const auto& part) { return is_told(faults, part); });
      run_.push_back(good);
    }
    for (const DraftBoard& board : draft.boards) board_.push_back(!is_told(faults, board));
    for (const Surface& surface : draft.surfaces) {
      if (faults.tells_of({"surface", surface.id})) bad_surfaces_.push_back(surface.id);
    }
  }

  /// Leaves out what has no place in the rest; true when everything has.
  std::optional<Draft> find() {
    constexpr int kRounds = 8;  // of leaving out; each finds what hung on the last
    for (int round = 0; round < kRounds; ++round) {
      leave_out_what_hangs_on_nothing();
      std::vector<std::size_t> runs, boards;
      Draft rest = copy(runs, boards);
      if (rest.runs.empty()) return std::nullopt;
      PlacedByNames placed(rest);
      if (!placed.fixed()) placed.start_first();
      if (placed.all()) return rest;
      for (std::size_t r = 0; r < runs.size(); ++r) {
        if (!placed.run(r)) run_[runs[r]] = false;
      }
      for (std::size_t b = 0; b < boards.size(); ++b) {
        if (!placed.board(b)) board_[boards[b]] = false;
      }
    }
    return std::nullopt;
  }

 private:
  [[nodiscard]] bool kept(std::string_view name) const {
    const Node node = owners_.of(name);
    switch (node.kind) {
      case Node::Kind::nothing: return false;
      case Node::Kind::surface:
        return std::find(bad_surfaces_.begin(), bad_surfaces_.end(), name) == bad_surfaces_.end();
      case Node::Kind::run: return run_[node.index];
      case Node::Kind::board: return board_[node.index];
    }
    return false;
  }

  void leave_out_what_hangs_on_nothing() {
    for (bool more = true; more;) {
      more = false;
      for (std::size_t r = 0; r < run_.size(); ++r) {
        const auto& from = draft_.runs[r].from;
        if (!run_[r] || !from || kept(from->target)) continue;
        run_[r] = false;
        more = true;
      }
      for (std::size_t b = 0; b < board_.size(); ++b) {
        const DraftBoard& board = draft_.boards[b];
        const Word* reach = board.reach.empty() ? nullptr : reach_word(board);
        const bool stands =
            (board.rests_on.empty() || kept(board.rests_on.front().text)) && (reach == nullptr || kept(reach->text));
        if (!board_[b] || stands) continue;
        board_[b] = false;
        more = true;
      }
    }
  }

  Draft copy(std::vector<std::size_t>& runs, std::vector<std::size_t>& boards) const {
    Draft rest = draft_;
    rest.runs.clear();
    rest.boards.clear();
    rest.clips.clear();
    for (std::size_t r = 0; r < run_.size(); ++r) {
      if (!run_[r]) continue;
      DraftRun& run = rest.runs.emplace_back(draft_.runs[r]);
      if (run.to && !kept(run.to->target)) run.to.reset();
      runs.push_back(r);
    }
    const auto lost = [&](const Word& word) { return !kept(word.text); };
    for (std::size_t b = 0; b < board_.size(); ++b) {
      if (!board_[b]) continue;
      DraftBoard& board = rest.boards.emplace_back(draft_.boards[b]);
      std::erase_if(board.through, lost);
      std::erase_if(board.rests_on, lost);
      std::erase_if(board.notches, [&](const auto& notch) { return lost(notch.pipe); });
      std::erase_if(board.holes, [&](const auto& hole) { return lost(hole.pipe); });
      if (board.through.empty() && board.notches.empty()) board.hole.reset();
      std::erase_if(board.fix, lost);
      std::erase_if(board.straps, [&](const auto& strap) { return lost(strap.pipe); });
      boards.push_back(b);
    }
    return rest;
  }

  const Draft& draft_;
  OwnersOfNames owners_;
  std::vector<bool> run_, board_;
  std::vector<std::string_view> bad_surfaces_;
};

/// A run or board that was not even taken into the draft may be what something else hangs on.
bool all_are_known(const Draft& draft, const Faults& faults) {
  for (const std::string_view section : {"runs", "boards", "surfaces", "file"}) {
    if (faults.tells_of({section, {}})) return false;
  }
  std::unordered_set<std::string_view> runs, boards;
  for (const DraftRun& run : draft.runs) runs.insert(run.id);
  for (const DraftBoard& board : draft.boards) boards.insert(board.id);
  return faults.all_of("run", [&](std::string_view id) { return runs.contains(id); }) &&
         faults.all_of("board", [&](std::string_view id) { return boards.contains(id); });
}

}  // namespace

void tell_more(const Draft& as_written, const std::string& file, Faults& faults) {
  // Without the head no length and no thread is certain.
  if (faults.tells_of({"frame", {}}) || faults.tells_of({"pipe", {}})) return;
  const Faults before = faults;
  const Draft draft = in_natural_order(as_written);
  if (all_are_known(draft, before)) tell_without_place(draft, faults);
  auto rest = SoundRest(draft, before).find();
  if (!rest) return;
  Faults more;
  Assembly assembly = assemble(*rest, file, more);
  if (more.any()) return;  // it hung on what is left out after all
  place(assembly, {}, more);
  faults.add_all(more);
}

}  // namespace dryfit::model
