#include "planner/cure/cure.hpp"

#include <algorithm>
#include <cmath>
#include <map>
#include <optional>
#include <set>
#include <tuple>

#include "model/placing/reader.hpp"
#include "planner/early/trap.hpp"
#include "planner/judge/replay.hpp"
#include "planner/order/order.hpp"
#include "planner/state/overlap.hpp"

namespace dryfit::planner {
namespace {

/// A closure may come out so much wider than in the design that is mended, mm: rounding of written lengths.
constexpr double kRounding = 0.01;

double widest_gap(const model::Frame& frame) {
  double widest = 0.0;
  for (const model::Closure& closure : frame.closures) widest = std::max(widest, norm(closure.gap));
  return widest;
}

/// A design that reads, fits, and closes as well as before.
struct Design {
  model::Frame frame;
  ContactList list;
  std::string text;
};

std::optional<Design> read_again(std::string text, double widest) {
  try {
    Design design{model::read_frame(text, "mended"), {}, std::move(text)};
    if (widest_gap(design.frame) > widest + kRounding) return std::nullopt;
    design.list = contacts_of(design.frame);
    if (!overlaps_of(design.frame, design.list).empty()) return std::nullopt;
    return design;
  } catch (const model::InputError&) {
    return std::nullopt;  // the change cannot be made here
  }
}

/// True when the judge, who had no part in finding it, accepts the order.
bool accepted(const Design& design, const Order& order) {
  std::vector<GivenStep> steps;
  for (const Step& step : order.steps) steps.push_back({step.action, step.contacts, step.moving});
  return replay(design.frame, design.list, steps).legal;
}

auto rank(const DesignCure& cure) { return std::tuple(cure.weaker, cure.cost, cure.changes.size()); }

/// The same change but for where on the pipe: only the first that helps is worth telling.
using SortOfChange = std::tuple<CureKind, std::string, std::vector<std::string>>;
SortOfChange sort_of(const CureChange& change) { return {change.kind, change.part, change.pipes}; }

/// How many other joints come off, at the most, before the part can go on; nothing where there is no such part.
std::optional<int> price_in(const Design& design, const std::string& label, long long budget) {
  for (const NamedPart& part : named_parts(design.frame, design.list)) {
    if (part.label != label) continue;
    Undoer undoer(design.frame, design.list);
    return price_of(undoer, part, budget).at_most();
  }
  return std::nullopt;
}

class KnotCures {
 public:
  KnotCures(const model::Frame& frame, const ContactList& list, std::string_view text, const CureLimits& limits)
      : frame_(frame), list_(list), text_(text), limits_(limits), widest_(widest_gap(frame)) {}

  std::vector<DesignCure> run(const std::vector<ContactId>& knot) {
    std::vector<DesignCure> cures = singles(knot);
    if (cures.empty()) {
      for (const CureKind kind : {CureKind::slot, CureKind::unite}) {
        if (auto cure = several({kind})) cures.push_back(std::move(*cure));
      }
      if (cures.empty()) {
        const std::set<CureKind> all{CureKind::slot, CureKind::couple, CureKind::unite, CureKind::flange,
                                     CureKind::drive};
        if (auto cure = several(all)) cures.push_back(std::move(*cure));
      }
    }
    std::stable_sort(cures.begin(), cures.end(),
                     [](const DesignCure& a, const DesignCure& b) { return rank(a) < rank(b); });
    std::map<CureKind, int> told;
    std::erase_if(cures, [&](const DesignCure& cure) { return ++told[cure.changes.front().kind] > limits_.most; });
    return cures;
  }

 private:
  struct Trial {
    Design design;
    CureChange change;
    Order order;
  };

  /// The design with one change more, planned.
  std::optional<Trial> tried(const model::Frame& frame, std::string_view text, const CureChange& change) {
    if (tries_ >= limits_.tries || !may_go_on(limits_.foreman, tries_, limits_.tries)) return std::nullopt;
    auto edit = edited(frame, text, change);
    if (!edit) return std::nullopt;
    ++tries_;
    auto design = read_again(std::move(edit->text), widest_);
    if (!design) return std::nullopt;
    Order order = find_order(design->frame, design->list);
    if (order.buildable && !accepted(*design, order)) return std::nullopt;
    return Trial{std::move(*design), std::move(edit->change), std::move(order)};
  }

  DesignCure cure_of(const std::vector<CureChange>& changes, const Trial& last) const {
    DesignCure cure;
    cure.changes = changes;
    for (const CureChange& change : changes) {
      const bool each = change.kind == CureKind::slot || change.kind == CureKind::widen;
      cure.cost += (each ? static_cast<int>(change.pipes.size()) : 1) * cost_of(change.kind);
      cure.weaker |= change.kind == CureKind::share;
    }
    cure.text = last.design.text;
    cure.steps = static_cast<int>(last.order.steps.size());
    return cure;
  }

  std::vector<DesignCure> singles(const std::vector<ContactId>& knot) {
    std::vector<DesignCure> cures;
    std::set<SortOfChange> known;
    for (const CureChange& change : changes_at(frame_, list_, knot)) {
      if (known.contains(sort_of(change))) continue;
      const auto trial = tried(frame_, text_, change);
      if (!trial || !trial->order.buildable) continue;
      known.insert(sort_of(change));
      cures.push_back(cure_of({trial->change}, *trial));
    }
    return cures;
  }

  /// Takes the change that leaves the smallest knot, again and again, then leaves out what is not needed.
  std::optional<DesignCure> several(const std::set<CureKind>& kinds) {
    tries_ = 0;
    std::vector<CureChange> changes;
    std::optional<Trial> now;
    std::size_t left = list_.contacts.size() + 1;
    while (static_cast<int>(changes.size()) < limits_.most_together) {
      const model::Frame& frame = now ? now->design.frame : frame_;
      const ContactList& list = now ? now->design.list : list_;
      const std::string_view text = now ? std::string_view(now->design.text) : text_;
      const Order order = now ? now->order : find_order(frame_, list_);
      left = std::min(left, order.knot.size());
      std::optional<Trial> best;
      for (const CureChange& change : changes_at(frame, list, order.knot)) {
        if (!kinds.contains(change.kind)) continue;
        auto trial = tried(frame, text, change);
        if (!trial || trial->order.knot.size() >= left) continue;
        if (best && best->order.knot.size() <= trial->order.knot.size()) continue;
        best = std::move(trial);
        if (best->order.buildable) break;
      }
      if (!best) return std::nullopt;
      changes.push_back(best->change);
      left = best->order.knot.size();
      now = std::move(best);
      if (now->order.buildable) break;
    }
    if (!now || !now->order.buildable) return std::nullopt;
    tries_ = 0;
    for (std::size_t i = changes.size(); i-- > 0 && changes.size() > 1;) {
      std::vector<CureChange> fewer = changes;
      fewer.erase(fewer.begin() + static_cast<std::ptrdiff_t>(i));
      auto trial = all_of(fewer);
      if (!trial || !trial->order.buildable) continue;
      changes = std::move(fewer);
      now = std::move(trial);
    }
    return cure_of(changes, *now);
  }

  /// The design with these changes one after the other.
  std::optional<Trial> all_of(const std::vector<CureChange>& changes) {
    std::optional<Trial> now;
    for (const CureChange& change : changes) {
      now = tried(now ? now->design.frame : frame_, now ? std::string_view(now->design.text) : text_, change);
      if (!now) return std::nullopt;
    }
    return now;
  }

  const model::Frame& frame_;
  const ContactList& list_;
  std::string_view text_;
  const CureLimits& limits_;
  double widest_;
  int tries_ = 0;
};

}  // namespace

int cost_of(CureKind kind) {
  switch (kind) {
    case CureKind::slot:
    case CureKind::widen:
    case CureKind::drive: return 1;
    case CureKind::couple: return 3;
    case CureKind::unite: return 4;
    case CureKind::flange: return 6;
    case CureKind::share: return 2;
  }
  return 0;
}

std::vector<DesignCure> cures_for_knot(const model::Frame& frame, const ContactList& list, std::string_view text,
                                       const std::vector<ContactId>& knot, const CureLimits& limits) {
  if (knot.empty() || list.contacts.size() > limits.largest) return {};
  return KnotCures(frame, list, text, limits).run(knot);
}

std::vector<TrapCure> cures_for_trap(const model::Frame& frame, const ContactList& list, std::string_view text,
                                     const std::string& label, int before, const std::vector<ContactId>& near,
                                     const CureLimits& limits) {
  std::vector<TrapCure> cures;
  if (list.contacts.size() > limits.largest) return cures;
  const double widest = widest_gap(frame);
  int tries = 0;
  std::set<SortOfChange> settled;  // of these nothing better can come
  for (const CureChange& asked : changes_at(frame, list, near)) {
    if (settled.contains(sort_of(asked))) continue;
    // A tool changes no design. Nobody weakens a frame for good against a slip that may never happen; and half a pipe
    // is not the part asked about.
    if (asked.kind == CureKind::share || asked.kind == CureKind::drive || asked.kind == CureKind::widen) continue;
    if (asked.kind != CureKind::slot && asked.part == label) continue;
    if (tries >= limits.tries || !may_go_on(limits.foreman, tries, limits.tries)) break;
    auto edit = edited(frame, text, asked);
    if (!edit) continue;
    ++tries;
    const auto design = read_again(std::move(edit->text), widest);
    if (!design) continue;
    const Order order = find_order(design->frame, design->list);
    if (!order.buildable) continue;
    const std::optional<int> after = price_in(*design, label, limits.price_budget);
    if (!after || *after >= before || !accepted(*design, order)) continue;
    if (*after == 0) settled.insert(sort_of(edit->change));
    TrapCure& cure = cures.emplace_back();
    cure.part = label;
    cure.before = before;
    cure.after = *after;
    cure.cure.changes = {edit->change};
    const int times = asked.kind == CureKind::slot ? static_cast<int>(asked.pipes.size()) : 1;
    cure.cure.cost = times * cost_of(asked.kind);
    cure.cure.text = design->text;
    cure.cure.steps = static_cast<int>(order.steps.size());
  }
  const auto better = [](const TrapCure& a, const TrapCure& b) {
    return std::tuple(a.after, a.cure.cost) < std::tuple(b.after, b.cure.cost);
  };
  std::stable_sort(cures.begin(), cures.end(), better);
  std::set<SortOfChange> known;
  std::erase_if(cures, [&](const TrapCure& cure) { return !known.insert(sort_of(cure.cure.changes.front())).second; });
  return cures;
}

}  // namespace dryfit::planner
