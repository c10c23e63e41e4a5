#include "planner/cure/closure_cure.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <map>
#include <memory>
#include <optional>
#include <set>
#include <stdexcept>

#include "model/editing/edit.hpp"
#include "model/editing/mend.hpp"
#include "model/geometry/at.hpp"
#include "model/placing/reader.hpp"
#include "planner/fit/turn_memory.hpp"
#include "planner/judge/replay.hpp"
#include "planner/order/order.hpp"
#include "planner/state/overlap.hpp"

namespace dryfit::planner {
namespace {

using model::Board;
using model::Closure;
using model::Frame;
using model::kNone;

constexpr double kShortest = 1.0;  ///< mm: no edge and no board is shorter

std::string in_mm(double length) { return fmt::format("{:.4f} mm", length); }

/// What names a closure in any design that has it.
std::string name_of(const Closure& closure) {
  std::string name = fmt::format("{}", static_cast<int>(closure.kind));
  for (const std::string& id : closure.between) name += " " + id;
  return name;
}

/// A frame as it stands after its turns, and what is to be said of it.
struct Judged {
  Fit fit;
  std::set<std::string> open;      ///< closures
  std::set<std::string> overlaps;  ///< pairs in one place
  bool buildable = false;
  int steps = 0;
};

bool accepted(const Frame& frame, const ContactList& list, const Order& order) {
  std::vector<GivenStep> steps;
  for (const Step& step : order.steps) steps.push_back({step.action, step.contacts, step.moving});
  return replay(frame, list, steps).legal;
}

Judged judged(const Frame& as_read, Fit fit) {
  Judged out;
  out.fit = std::move(fit);
  for (const ClosureFit& closure : out.fit.closures) {
    if (closure.state == FitState::open) out.open.insert(name_of(as_read.closures[at(closure.closure)]));
  }
  const Frame frame = turned(as_read, out.fit.turns, out.fit.shift);
  const ContactList list = contacts_of(frame);
  for (const Overlap& overlap : overlaps_of(frame, list)) {
    const std::string& other =
        overlap.surface == kNone ? frame.part(overlap.b).id : frame.surfaces[at(overlap.surface)].id;
    out.overlaps.insert(frame.part(overlap.a).id + " " + other);
  }
  const Order order = find_order(frame, list);
  out.buildable = order.buildable && accepted(frame, list, order);
  out.steps = static_cast<int>(order.steps.size());
  return out;
}

Fit plain_fit(const Frame& frame, const FitOptions& asked) {
  FitOptions options = asked;
  options.cures = false;
  options.accept = nullptr;
  return find_fit(frame, options);
}

/// The key of the same name in every board or surface; coordinates by the letter of their axis.
const char* letter(int axis) { return axis == 0 ? "x" : axis == 1 ? "y" : "z"; }

class Mender {
 public:
  Mender(const Frame& frame, std::string_view text, const ClosureCureLimits& limits)
      : frame_(frame), text_(text), limits_(limits) {}

  MendedFit run() {
    MendedFit out;
    options_.memory = std::make_shared<TurnMemory>();
    options_.foreman = limits_.foreman;
    out.fit = plain_fit(frame_, options_);
    if (out.fit.state != FitState::open || !may_go_on(limits_.foreman, 0, limits_.tries)) return out;
    before_ = judged(frame_, out.fit);
    options_.accept = [this](const std::vector<PipeChange>& changes) { return serves(changes); };
    out.fit = find_fit(frame_, options_);
    tries_ = 0;
    for (ClosureCure& asked : candidates()) {
      if (auto cure = tried(std::move(asked))) out.cures.push_back(std::move(*cure));
    }
    return out;
  }

 private:
  /// The design in that text, when it can be read and mends something: it opens nothing that closed, nothing stands in
  /// one place that did not before, and it can be built if the frame can. Faults that the frame has besides stay told.
  std::optional<Judged> mends(const std::string& text) {
    if (tries_ >= limits_.tries || !may_go_on(limits_.foreman, tries_, limits_.tries)) return std::nullopt;
    ++tries_;
    try {
      const Frame frame = model::read_frame(text, "mended");
      Judged now = judged(frame, plain_fit(frame, options_));
      const auto& was_open = before_.open;
      const bool opens = !std::includes(was_open.begin(), was_open.end(), now.open.begin(), now.open.end());
      const auto& met = before_.overlaps;
      const bool meets_more = !std::includes(met.begin(), met.end(), now.overlaps.begin(), now.overlaps.end());
      if (opens || meets_more || now.open.size() >= was_open.size()) return std::nullopt;
      if (!now.buildable && before_.buildable) return std::nullopt;
      return now;
    } catch (const model::InputError&) {
      return std::nullopt;  // the change cannot be made here
    }
  }

  bool serves(const std::vector<PipeChange>& changes) {
    try {
      std::string text(text_);
      for (const PipeChange& change : changes) text = with_pipe(text, change);
      return mends(text).has_value();
    } catch (const std::invalid_argument&) {
      return false;
    }
  }

  /// Boards on the far side of the middle of the first joint between the pieces go with what follows it.
  std::string with_pipe(std::string text, const PipeChange& change) const {
    const model::Part& pipe = frame_.part(change.pipe);
    if (change.pieces.size() == 1) return model::with_value(text, pipe.id + ".length", in_mm(change.pieces.front()));
    double sum = 0.0;
    for (const double piece : change.pieces) sum += piece;
    const double gap = (change.made_up - sum) / static_cast<double>(change.pieces.size() - 1);
    std::string last = pipe.id;
    double start = 0.0;
    for (std::size_t i = 0; i + 1 < change.pieces.size(); ++i) {
      model::PipeParting parting;
      parting.pipe = last;
      parting.first = change.pieces[i];
      // What is parted again later only has to be there.
      parting.second = change.pieces[i + 1];
      parting.fitting = "coupling";
      parting.fitting_id = fmt::format("{}-C{}", pipe.id, i + 1);
      parting.second_id = fmt::format("{}-B{}", pipe.id, i + 1);
      start += change.pieces[i] + gap / 2;
      parting.boards_on_second = boards_beyond(change.pipe, start);
      start += gap / 2;
      last = parting.second_id;
      text = model::with_pipe_parted(text, parting);
    }
    return text;
  }

  std::vector<std::string> boards_beyond(model::PartId pipe, double from_start) const {
    const model::Part& part = frame_.part(pipe);
    std::vector<std::string> out;
    for (const Board& board : frame_.boards) {
      const bool drilled = std::any_of(board.holes.begin(), board.holes.end(),
                                       [&](const model::Hole& hole) { return hole.pipe == pipe; });
      const double place = dot((board.lo + board.hi) * 0.5 - part.ports[0].at, part.ports[1].facing.unit());
      if (drilled && place > from_start) out.push_back(frame_.part(board.part).id);
    }
    return out;
  }

  std::vector<ClosureCure> candidates() const {
    std::vector<ClosureCure> out;
    std::set<std::tuple<ClosureCure::Kind, std::string, std::string, long>> known;
    const auto add = [&](ClosureCure cure) {
      if (cure.kind != ClosureCure::Kind::let_go && cure.kind != ClosureCure::Kind::surface && cure.now < kShortest)
        return;
      if (known.insert({cure.kind, cure.name, cure.side, std::lround(cure.now * 100)}).second)
        out.push_back(std::move(cure));
    };
    for (const Closure& closure : frame_.closures) {
      if (!before_.open.contains(name_of(closure))) continue;
      for (int axis = 0; axis < 3; ++axis) {
        if (!closure.binds[at(axis)] || meets(closure.gap[axis])) continue;
        add_board_cures(closure, axis, add);
        add_surface_cure(closure, axis, add);
      }
    }
    for (const model::Run& run : frame_.runs)
      add({ClosureCure::Kind::let_go, run.id, "", 0.0, 0.0, {}, {}, 0.0, 0, 0, ""});
    std::stable_sort(out.begin(), out.end(),
                     [](const ClosureCure& a, const ClosureCure& b) { return a.kind < b.kind; });
    return out;
  }

  /// A board that misses what it has to meet by some way in its own plane: moved there, or that much larger.
  template <class Add>
  void add_board_cures(const Closure& closure, int axis, const Add& add) const {
    const model::PartId part = closure.part;
    if (frame_.part(part).board == kNone) return;
    const Board& board = frame_.boards[at(frame_.part(part).board)];
    if (axis == board.normal) return;
    const std::string& id = frame_.part(part).id;
    const model::PartId giver = board.given_by[at(axis)];
    if (giver != kNone) {
      const double centre = frame_.part(giver).centre[axis];
      static constexpr const char* kLow[] = {"left", "front", "down"};
      static constexpr const char* kHigh[] = {"right", "back", "up"};
      const double low = centre - board.lo[axis];
      const double high = board.hi[axis] - centre;
      add({ClosureCure::Kind::reach, id, kLow[axis], low, low - closure.gap[axis], {}, {}, 0.0, 0, 0, ""});
      add({ClosureCure::Kind::reach, id, kHigh[axis], high, high + closure.gap[axis], {}, {}, 0.0, 0, 0, ""});
    }
    const double size = board.hi[axis] - board.lo[axis];
    for (const double way : {1.0, -1.0}) {
      add({ClosureCure::Kind::size, id, letter(axis), size, size + way * closure.gap[axis], {}, {}, 0.0, 0, 0, ""});
    }
  }

  template <class Add>
  void add_surface_cure(const Closure& closure, int axis, const Add& add) const {
    if (closure.surface == kNone || frame_.surfaces[at(closure.surface)].normal.axis() != axis) return;
    const model::Surface& surface = frame_.surfaces[at(closure.surface)];
    add({ClosureCure::Kind::surface,
         surface.id,
         "",
         surface.at,
         surface.at - closure.gap[axis],
         {},
         {},
         0.0,
         0,
         0,
         ""});
  }

  std::string edited(const ClosureCure& cure) const {
    switch (cure.kind) {
      case ClosureCure::Kind::reach:
        return model::with_key(text_, {"boards", cure.name, "reach", cure.side}, in_mm(cure.now));
      case ClosureCure::Kind::size:
        return model::with_key(text_, {"boards", cure.name, "size", cure.side}, in_mm(cure.now));
      case ClosureCure::Kind::surface: return model::with_key(text_, {"surfaces", cure.name, "at"}, in_mm(cure.now));
      case ClosureCure::Kind::let_go: return model::with_key(text_, {"runs", cure.name, "at"}, "");
    }
    return std::string(text_);
  }

  std::optional<ClosureCure> tried(ClosureCure cure) {
    try {
      cure.text = edited(cure);
    } catch (const std::invalid_argument&) {
      return std::nullopt;  // the file says it in another way
    }
    const auto now = mends(cure.text);
    if (!now) return std::nullopt;
    for (std::size_t c = 0; c < frame_.closures.size(); ++c) {
      const std::string name = name_of(frame_.closures[c]);
      if (before_.open.contains(name) && !now->open.contains(name)) cure.closes.push_back(static_cast<int>(c));
    }
    for (const ClosureFit& closure : now->fit.closures) {
      if (closure.state != FitState::open) cure.state = std::max(cure.state, closure.state);
    }
    for (const JointTurn& turn : now->fit.turns) cure.turning += std::abs(turn.turns);
    cure.still_open = static_cast<int>(now->open.size());
    cure.steps = now->steps;
    return cure;
  }

  const Frame& frame_;
  std::string_view text_;
  const ClosureCureLimits& limits_;
  FitOptions options_;
  Judged before_;
  int tries_ = 0;
};

}  // namespace

const char* word_for(ClosureCure::Kind kind) {
  switch (kind) {
    case ClosureCure::Kind::reach: return "reach";
    case ClosureCure::Kind::size: return "size";
    case ClosureCure::Kind::surface: return "surface";
    case ClosureCure::Kind::let_go: return "let-go";
  }
  return "";
}

MendedFit fit_with_cures(const Frame& frame, std::string_view text, const ClosureCureLimits& limits) {
  if (contacts_of(frame).contacts.size() > limits.largest) {
    FitOptions options;
    options.foreman = limits.foreman;
    return {plain_fit(frame, options), {}};
  }
  return Mender(frame, text, limits).run();
}

}  // namespace dryfit::planner
