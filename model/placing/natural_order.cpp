#include "model/placing/natural_order.hpp"

#include <algorithm>
#include <map>
#include <numeric>
#include <queue>
#include <string_view>
#include <tuple>
#include <unordered_map>
#include <utility>

#include "model/geometry/at.hpp"

namespace dryfit::model {
namespace {

/// What a thing is, as numbers that can be compared. Never a name, never a line of the file.
using Code = std::vector<double>;

constexpr double kNothing = -1e9;  ///< stands for what is not given

/// Right before left, front before back, up before down, as a frame is read.
double rank_of(Direction d) {
  if (d == kFront || d == kBack) d = -d;
  const auto all = all_directions();
  return static_cast<double>(std::find(all.begin(), all.end(), d) - all.begin());
}

void add(Code& code, Vec3 v) { code.insert(code.end(), {v.x, v.y, v.z}); }

void add(Code& code, const std::optional<double>& value) { code.push_back(value.value_or(kNothing)); }

/// A floor before walls, walls before a ceiling.
double height_rank(Direction normal) { return normal == kUp ? -1.0 : normal == kDown ? 99.0 : rank_of(normal); }

void sort_surfaces(Draft& draft) {
  const auto key = [](const Surface& s) { return std::tuple(height_rank(s.normal), s.at, std::string_view(s.id)); };
  std::stable_sort(draft.surfaces.begin(), draft.surfaces.end(),
                   [&](const Surface& a, const Surface& b) { return key(a) < key(b); });
}

/// Where a name leads.
struct Target {
  enum class Kind { surface, part, board };
  Kind kind = Kind::surface;
  int owner = 0;  ///< surface, run or board
  int index = 0;  ///< part: its place in its run
};

class Names {
 public:
  explicit Names(const Draft& draft) {
    using Kind = Target::Kind;
    for (std::size_t i = 0; i < draft.surfaces.size(); ++i) {
      names_.emplace(draft.surfaces[i].id, Target{Kind::surface, static_cast<int>(i), 0});
    }
    for (std::size_t r = 0; r < draft.runs.size(); ++r) {
      const std::vector<DraftPart>& parts = draft.runs[r].parts;
      for (std::size_t i = 0; i < parts.size(); ++i) {
        names_.emplace(parts[i].id, Target{Kind::part, static_cast<int>(r), static_cast<int>(i)});
      }
    }
    for (std::size_t b = 0; b < draft.boards.size(); ++b) {
      names_.emplace(draft.boards[b].id, Target{Kind::board, static_cast<int>(b), 0});
    }
  }

  [[nodiscard]] const Target* find(std::string_view name) const {
    const auto found = names_.find(name);
    return found == names_.end() ? nullptr : &found->second;
  }

 private:
  std::unordered_map<std::string_view, Target> names_;
};

Code code_of(const DraftPart& part) {
  Code code{static_cast<double>(part.kind),
            static_cast<double>(part.size),
            static_cast<double>(part.other_size),
            part.length,
            rank_of(part.turn),
            rank_of(part.side),
            static_cast<double>(part.plane_normal),
            part.entry_branch ? 1.0 : 0.0,
            part.reverse ? 1.0 : 0.0,
            part.plain_start ? 1.0 : 0.0,
            part.plain_end ? 1.0 : 0.0,
            part.turns_start,
            part.turns_end};
  const Measured& own = part.measured;
  for (const auto* value : {&own.centre_to_end, &own.length, &own.band, &own.plate, &own.height, &own.mass})
    add(code, *value);
  return code;
}

/// What a link leads to, as far as it can be said without a name.
Code code_of(const std::optional<DraftLink>& link, const Names& names) {
  const Target* target = link ? names.find(link->target) : nullptr;
  if (target == nullptr) return {kNothing, 0.0, 0.0};
  const auto facing = direction_named(link->suffix);
  return {static_cast<double>(target->kind),
          target->kind == Target::Kind::surface ? static_cast<double>(target->owner) : 0.0,
          facing                    ? rank_of(*facing)
          : link->suffix == "start" ? -2.0
                                    : -1.0};
}

Code code_of(const DraftRun& run, const Names& names) {
  Code code = code_of(run.from, names);
  code.push_back(run.go ? rank_of(*run.go) : kNothing);
  code.insert(code.end(), run.at.begin(), run.at.end());
  for (const DraftPart& part : run.parts) {
    const Code more = code_of(part);
    code.insert(code.end(), more.begin(), more.end());
  }
  const Code to = code_of(run.to, names);
  code.insert(code.end(), to.begin(), to.end());
  return code;
}

/// A board's own measures.
Code code_of(const DraftBoard& board) {
  Code code;
  add(code, board.height);
  code.push_back(rank_of(board.facing));
  for (const int axis : {0, 1}) add(code, board.at ? std::optional((*board.at)[at(axis)]) : std::nullopt);
  for (const DraftBoard::Reach& reach : board.reach) code.insert(code.end(), {rank_of(reach.side), reach.distance});
  add(code, board.size);
  add(code, board.hole);
  add(code, board.mass);
  for (const std::size_t many : {board.through.size(), board.notches.size(), board.rests_on.size(), board.holes.size(),
                                 board.fix.size(), board.straps.size()}) {
    code.push_back(static_cast<double>(many));
  }
  for (const char c : board.stock) code.push_back(c);
  return code;
}

/// Runs and boards as a graph: an edge leads to what may get its place from a node. Boards are numbered behind the
/// runs. The edges of a node are in an order that follows from the frame.
class Neighbours {
 public:
  Neighbours(const Draft& draft, const Names& names) : draft_(draft), runs_(static_cast<int>(draft.runs.size())) {
    edges_.resize(draft.runs.size() + draft.boards.size());
    for (const DraftRun& run : draft.runs) codes_.push_back(code_of(run, names));
    for (const DraftBoard& board : draft.boards) codes_.push_back(code_of(board));
    for (int run = 0; run < runs_; ++run) {
      add_link(run, draft.runs[at(run)].from, 0.0, names);
      add_link(run, draft.runs[at(run)].to, 1.0, names);
    }
    for (std::size_t b = 0; b < draft.boards.size(); ++b) add_board(static_cast<int>(b), names);
    for (std::vector<Edge>& edges : edges_) {
      std::stable_sort(edges.begin(), edges.end(), [this](const Edge& a, const Edge& b) {
        if (a.key != b.key) return a.key < b.key;
        return codes_[at(a.to)] < codes_[at(b.to)];
      });
    }
  }

  struct Edge {
    Code key;  ///< how it leaves the node: own ends first, then boards, then the runs on its parts
    int to = 0;
  };
  [[nodiscard]] int count() const { return static_cast<int>(edges_.size()); }
  [[nodiscard]] bool is_run(int node) const { return node < runs_; }
  [[nodiscard]] const Code& code(int node) const { return codes_[at(node)]; }
  [[nodiscard]] const std::vector<Edge>& edges(int node) const { return edges_[at(node)]; }

 private:
  void add_link(int run, const std::optional<DraftLink>& link, double end, const Names& names) {
    const Target* target = link ? names.find(link->target) : nullptr;
    if (target == nullptr || target->kind == Target::Kind::surface) return;
    const DraftRun& draft = draft_.runs[at(run)];
    const double last = draft.parts.empty() ? 0.0 : static_cast<double>(draft.parts.size() - 1);
    const double facing = code_of(link, names).back();
    if (target->kind == Target::Kind::part) {
      edges_[at(run)].push_back({{0.0, end}, target->owner});
      edges_[at(target->owner)].push_back({{2.0, static_cast<double>(target->index), facing}, run});
      return;
    }
    const int board = runs_ + target->owner;
    edges_[at(run)].push_back({{1.0, end * last, 2.0}, board});
    if (end != 0.0 || draft.at.size() != 2) return;  // only a place on its face lets a board place a run
    edges_[at(board)].push_back({{0.0, facing, draft.at[0], draft.at[1]}, run});
  }

  void add_board(int board, const Names& names) {
    const DraftBoard& draft = draft_.boards[at(board)];
    double how = 0.0;
    for (const std::vector<Word>* list : {&draft.through, &draft.rests_on}) {
      const Target* target = list->empty() ? nullptr : names.find(list->front().text);
      if (target != nullptr && target->kind == Target::Kind::part) {
        edges_[at(target->owner)].push_back({{1.0, static_cast<double>(target->index), how}, runs_ + board});
      } else if (target != nullptr && target->kind == Target::Kind::board && target->owner != board) {
        edges_[at(runs_ + target->owner)].push_back({{1.0, how}, runs_ + board});
      }
      how += 1.0;
    }
  }

  const Draft& draft_;
  int runs_ = 0;
  std::vector<Code> codes_;
  std::vector<std::vector<Edge>> edges_;
};

/// Walks the graph from one node, the nearest first.
class NearFirst {
 public:
  NearFirst(const Neighbours& graph, int first) : graph_(graph) { meet(first); }

  /// The next node, or kNone; `seen` gets what it is and how its edges lead to what was met before.
  int next(Code& seen) {
    seen.clear();
    if (queue_.empty()) return kNone;
    const int node = queue_.front();
    queue_.pop();
    seen = graph_.code(node);
    for (const Neighbours::Edge& edge : graph_.edges(node)) {
      seen.insert(seen.end(), edge.key.begin(), edge.key.end());
      seen.push_back(meet(edge.to));
    }
    return node;
  }

 private:
  int meet(int node) {
    const auto [known, is_new] = number_.emplace(node, static_cast<int>(number_.size()));
    if (is_new) queue_.push(node);
    return known->second;
  }

  const Neighbours& graph_;
  std::unordered_map<int, int> number_;
  std::queue<int> queue_;
};

/// True when the frame seen from `a` comes before the frame seen from `b`. Only twins that nothing tells apart go by
/// their names.
bool begins_before(const Draft& draft, const Neighbours& graph, int a, int b) {
  NearFirst from_a(graph, a), from_b(graph, b);
  Code one, two;
  while (true) {
    const bool more_a = from_a.next(one) != kNone;
    const bool more_b = from_b.next(two) != kNone;
    if (one != two) return one < two;
    if (!more_a || !more_b) return more_a == more_b ? draft.runs[at(a)].id < draft.runs[at(b)].id : more_b;
  }
}

class Orderer {
 public:
  Orderer(const Draft& draft, const Names& names, const Neighbours& graph)
      : draft_(draft), names_(names), graph_(graph), met_(at(graph.count()), false) {}

  /// Nodes in their natural order.
  std::vector<int> run() {
    for (const int run : fixed_runs()) walk_from(run);
    for (const int board : fixed_boards()) walk_from(board);
    if (const int first = free_start(); first != kNone) walk_from(first);
    for (int node = 0; node < graph_.count(); ++node) walk_from(node);  // without a place: told later
    return order_;
  }

 private:
  void walk_from(int first) {
    if (met_[at(first)]) return;
    std::queue<int> waiting;
    const auto meet = [&](int node) {
      if (met_[at(node)]) return;
      met_[at(node)] = true;
      waiting.push(node);
    };
    meet(first);
    for (; !waiting.empty(); waiting.pop()) {
      order_.push_back(waiting.front());
      for (const Neighbours::Edge& edge : graph_.edges(waiting.front())) meet(edge.to);
    }
  }

  [[nodiscard]] const Surface* begins_on(const DraftRun& run) const {
    const Target* target = run.from ? names_.find(run.from->target) : nullptr;
    if (target == nullptr || target->kind != Target::Kind::surface) return nullptr;
    return &draft_.surfaces[at(target->owner)];
  }

  /// Where the file puts the run; nothing where it does not.
  [[nodiscard]] std::optional<Code> own_place(const DraftRun& run) const {
    if (!run.from) return run.at.size() == 3 ? std::optional<Code>(run.at) : std::nullopt;
    const Surface* surface = begins_on(run);
    if (surface == nullptr || !surface->normal.along_axis() || run.at.size() != 2) return std::nullopt;
    Code place = run.at;
    place.insert(place.begin() + surface->normal.axis(), surface->at);
    return place;
  }

  [[nodiscard]] std::vector<int> fixed_runs() const {
    std::vector<std::pair<Code, int>> fixed;
    for (std::size_t r = 0; r < draft_.runs.size(); ++r) {
      if (auto place = own_place(draft_.runs[r])) fixed.emplace_back(std::move(*place), static_cast<int>(r));
    }
    return in_order_of(fixed, [this](int a, int b) { return begins_before(draft_, graph_, a, b); });
  }

  /// Boards that hang on nothing.
  [[nodiscard]] std::vector<int> fixed_boards() const {
    std::vector<std::pair<Code, int>> fixed;
    for (std::size_t b = 0; b < draft_.boards.size(); ++b) {
      const DraftBoard& board = draft_.boards[b];
      const int node = static_cast<int>(draft_.runs.size() + b);
      if (board.at && board.height && board.rests_on.empty()) fixed.emplace_back(graph_.code(node), node);
    }
    return in_order_of(fixed, [this](int a, int b) { return board_name(a) < board_name(b); });
  }

  [[nodiscard]] const std::string& board_name(int node) const {
    return draft_.boards[at(node) - draft_.runs.size()].id;
  }

  template <class Tie>
  static std::vector<int> in_order_of(std::vector<std::pair<Code, int>>& keyed, const Tie& tie) {
    std::sort(keyed.begin(), keyed.end(), [&](const auto& a, const auto& b) {
      return a.first != b.first ? a.first < b.first : a.second != b.second && tie(a.second, b.second);
    });
    std::vector<int> out;
    for (const auto& one : keyed) out.push_back(one.second);
    return out;
  }

  /// The run that begins where no `at` places it. One that stands on a surface if there is one, else one that hangs on
  /// nothing; of several the one from which the frame reads first.
  [[nodiscard]] int free_start() const {
    std::map<std::pair<int, Code>, std::vector<int>> alike;
    for (std::size_t r = 0; r < draft_.runs.size(); ++r) {
      const DraftRun& run = draft_.runs[r];
      if (met_[r] || run.parts.empty()) continue;
      const int kind = begins_on(run) != nullptr ? 0 : !run.from ? 1 : 2;
      alike[{kind, graph_.code(static_cast<int>(r))}].push_back(static_cast<int>(r));
    }
    if (alike.empty()) return kNone;
    // Comparing whole frames takes its time: in a large regular one the runs at its rim are fewer.
    constexpr std::size_t kMany = 8;
    const int kind = alike.begin()->first.first;
    const std::vector<int>* best = &alike.begin()->second;
    if (best->size() > kMany) {
      for (const auto& [key, runs] : alike) {
        if (key.first == kind && runs.size() < best->size()) best = &runs;
      }
    }
    return *std::min_element(best->begin(), best->end(),
                             [this](int a, int b) { return a != b && begins_before(draft_, graph_, a, b); });
  }

  const Draft& draft_;
  const Names& names_;
  const Neighbours& graph_;
  std::vector<bool> met_;
  std::vector<int> order_;
};

/// Sorts boards and their lists, with runs and surfaces in order already.
class BoardSorter {
 public:
  explicit BoardSorter(Draft& draft) : draft_(draft), names_(draft), rank_(draft.boards.size(), kNone) {}

  void run() {
    sort_lists();
    sort_clips();
    count_boards_below();
    std::vector<int> ready;
    for (std::size_t b = 0; b < below_.size(); ++b) {
      if (below_[b] == 0) ready.push_back(static_cast<int>(b));
    }
    // A board on boards comes behind them.
    while (!ready.empty()) ready = rank(ready);
    for (std::size_t b = 0; b < below_.size(); ++b) {
      if (rank_[b] == kNone) order_.push_back(static_cast<int>(b));  // a circle of boards: told later
    }
    std::vector<DraftBoard> sorted;
    for (const int b : order_) sorted.push_back(std::move(draft_.boards[at(b)]));
    draft_.boards = std::move(sorted);
  }

 private:
  [[nodiscard]] const std::string& name(int board) const { return draft_.boards[at(board)].id; }

  /// Place of a name in the natural order; boards count behind all parts.
  [[nodiscard]] std::array<double, 2> place(const Word& word) const {
    const Target* target = names_.find(word.text);
    if (target == nullptr) return {1e9, 0.0};
    if (target->kind == Target::Kind::board) {
      return {static_cast<double>(draft_.runs.size()), static_cast<double>(rank_[at(target->owner)])};
    }
    return {static_cast<double>(target->owner), static_cast<double>(target->index)};
  }

  template <class List, class Get>
  void sort(List& list, std::size_t from, const Get& word) const {
    if (list.size() <= from) return;
    std::stable_sort(list.begin() + static_cast<std::ptrdiff_t>(from), list.end(),
                     [&](const auto& a, const auto& b) { return place(word(a)) < place(word(b)); });
  }

  void sort_lists() {
    const auto itself = [](const Word& word) -> const Word& { return word; };
    const auto pipe = [](const auto& entry) -> const Word& { return entry.pipe; };
    for (DraftBoard& board : draft_.boards) {
      if (!board.through.empty()) board.reach_from = board.through.front();
      sort(board.through, 0, itself);
      sort(board.notches, 0, pipe);
      sort(board.fix, 0, itself);
      sort(board.straps, 0, pipe);
    }
  }

  void sort_clips() {
    std::stable_sort(draft_.clips.begin(), draft_.clips.end(), [&](const DraftClip& a, const DraftClip& b) {
      return std::pair(place(a.pipe), place(a.surface)) < std::pair(place(b.pipe), place(b.surface));
    });
  }

  void count_boards_below() {
    below_.assign(draft_.boards.size(), 0);
    above_.resize(draft_.boards.size());
    for (std::size_t b = 0; b < draft_.boards.size(); ++b) {
      for (const Word& word : draft_.boards[b].rests_on) {
        const Target* target = names_.find(word.text);
        if (target == nullptr || target->kind != Target::Kind::board || at(target->owner) == b) continue;
        ++below_[b];
        above_[at(target->owner)].push_back(static_cast<int>(b));
      }
    }
  }

  /// Puts boards that wait for no other in order; returns those that waited for them alone.
  std::vector<int> rank(const std::vector<int>& ready) {
    std::vector<std::pair<Code, int>> keyed;
    for (const int b : ready) keyed.emplace_back(key_of(b), b);
    std::sort(keyed.begin(), keyed.end(), [&](const auto& a, const auto& b) {
      return a.first != b.first ? a.first < b.first : name(a.second) < name(b.second);
    });
    std::vector<int> next;
    for (const auto& [key, b] : keyed) {
      rank_[at(b)] = static_cast<int>(order_.size());
      order_.push_back(b);
      for (const int above : above_[at(b)]) {
        if (--below_[at(above)] == 0) next.push_back(above);
      }
    }
    return next;
  }

  /// Sorts the further carriers, now that the boards among them have their rank, and says what the board hangs on.
  Code key_of(int b) {
    DraftBoard& board = draft_.boards[at(b)];
    const auto itself = [](const Word& word) -> const Word& { return word; };
    sort(board.rests_on, 1, itself);
    Code key;
    const auto add_place = [&](const Word& word) {
      const auto where = place(word);
      key.insert(key.end(), where.begin(), where.end());
    };
    if (board.reach_from) add_place(*board.reach_from);
    for (const Word& word : board.rests_on) add_place(word);
    if (key.empty()) key.push_back(1e9);
    const Code own = code_of(board);
    key.insert(key.end(), own.begin(), own.end());
    for (const Word& word : board.through) add_place(word);
    for (const DraftBoard::Notch& notch : board.notches) add_place(notch.pipe);
    for (const Word& word : board.fix) add_place(word);
    for (const DraftBoard::Count& strap : board.straps) add_place(strap.pipe);
    return key;
  }

  Draft& draft_;
  Names names_;
  std::vector<int> rank_;                ///< per board: its place in order_, kNone until it has one
  std::vector<int> below_;               ///< per board: carriers that are boards without a rank
  std::vector<std::vector<int>> above_;  ///< per board: boards that it carries
  std::vector<int> order_;
};

/// What hangs on what besides the graph: by number in the order of reading and place in the run.
class WholeCode {
 public:
  WholeCode(const Draft& draft, const Names& names, const Neighbours& graph, const std::vector<int>& order)
      : draft_(draft), names_(names), graph_(graph), number_(order.size()) {
    for (std::size_t i = 0; i < order.size(); ++i) number_[at(order[i])] = static_cast<double>(i);
    for (const Surface& surface : draft.surfaces) code_.insert(code_.end(), {height_rank(surface.normal), surface.at});
    for (const int node : order) add_node(node);
    std::vector<Code> clips;
    for (const DraftClip& clip : draft.clips) {
      clips.push_back(place(clip.pipe));
      append(clips.back(), place(clip.surface));
    }
    add_sorted(std::move(clips));
  }
  [[nodiscard]] Code take() && { return std::move(code_); }

 private:
  static void append(Code& to, const Code& more) { to.insert(to.end(), more.begin(), more.end()); }

  [[nodiscard]] Code place(const Word& word) const {
    const Target* target = names_.find(word.text);
    if (target == nullptr) return {kNothing, 0.0, 0.0};
    const double kind = static_cast<double>(target->kind);
    if (target->kind == Target::Kind::surface) return {kind, static_cast<double>(target->owner), 0.0};
    const std::size_t node = at(target->owner) + (target->kind == Target::Kind::board ? draft_.runs.size() : 0);
    return {kind, number_[node], static_cast<double>(target->index)};
  }

  void add_sorted(std::vector<Code> entries) {
    std::sort(entries.begin(), entries.end());
    for (const Code& entry : entries) append(code_, entry);
  }

  void add_node(int node) {
    append(code_, graph_.code(node));
    for (const Neighbours::Edge& edge : graph_.edges(node)) {
      append(code_, edge.key);
      code_.push_back(number_[at(edge.to)]);
    }
    if (graph_.is_run(node)) return;
    const DraftBoard& board = draft_.boards[at(node) - draft_.runs.size()];
    if (board.reach_from) append(code_, place(*board.reach_from));
    if (!board.rests_on.empty()) append(code_, place(board.rests_on.front()));
    std::vector<Code> entries;
    const auto add = [&](double what, const Word& word, double more) {
      Code entry{what};
      append(entry, place(word));
      entry.push_back(more);
      entries.push_back(std::move(entry));
    };
    for (const Word& word : board.through) add(0.0, word, 0.0);
    for (const DraftBoard::Notch& notch : board.notches) add(1.0, notch.pipe, rank_of(notch.open));
    for (const Word& word : board.rests_on) add(2.0, word, 0.0);
    for (const Word& word : board.fix) add(3.0, word, 0.0);
    for (const DraftBoard::Count& strap : board.straps) add(4.0, strap.pipe, strap.count);
    for (const DraftBoard::Drill& drill : board.holes) add(5.0, drill.pipe, drill.diameter);
    add_sorted(std::move(entries));
  }

  const Draft& draft_;
  const Names& names_;
  const Neighbours& graph_;
  std::vector<double> number_;  ///< per node
  Code code_;
};

}  // namespace

ReadOrder read_order_of(Draft draft) {
  sort_surfaces(draft);
  const Names names(draft);
  const Neighbours graph(draft, names);
  const std::vector<int> order = Orderer(draft, names, graph).run();
  ReadOrder out;
  for (const int node : order) {
    if (graph.is_run(node)) out.runs.push_back(node);
  }
  out.code = WholeCode(draft, names, graph, order).take();
  return out;
}

Draft in_natural_order(Draft draft) {
  sort_surfaces(draft);
  std::vector<int> order;
  {
    const Names names(draft);
    const Neighbours graph(draft, names);
    order = Orderer(draft, names, graph).run();
  }
  std::vector<DraftRun> runs;
  for (const int node : order) {
    if (at(node) < draft.runs.size()) runs.push_back(std::move(draft.runs[at(node)]));
  }
  draft.runs = std::move(runs);
  BoardSorter(draft).run();
  return draft;
}

}  // namespace dryfit::model
