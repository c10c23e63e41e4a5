#include "planner/shop/buy.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <map>
#include <set>
#include <tuple>

#include "model/geometry/at.hpp"
#include "model/standards/standards.hpp"
#include "model/text/length.hpp"
#include "planner/base/lifting.hpp"
#include "planner/base/stock.hpp"
#include "planner/shop/drill.hpp"
#include "planner/shop/screws.hpp"

namespace dryfit::planner {

using model::Dimension;
using model::Fastening;
using model::Frame;
using model::kNone;
using model::Part;
using model::PartId;
using model::PartKind;

namespace {

/// What a rough board is longer and wider by, and what its size is rounded up to, mm.
struct Rough {
  double longer;
  double wider;
  double step;
};
constexpr Rough kRoughInches{12.7, 6.35, 6.35};
constexpr Rough kRoughMetric{10.0, 5.0, 5.0};
/// Dressed boards as American yards sell them, in: their nominal width and what it measures (the sizes of PS 20, the
/// American Softwood Lumber Standard; from memory).
struct Dressed {
  int nominal;
  double width;
};
constexpr std::array<Dressed, 7> kDressed{{{2, 1.5}, {3, 2.5}, {4, 3.5}, {6, 5.5}, {8, 7.25}, {10, 9.25}, {12, 11.25}}};
/// Glued panels of solid wood as metric yards sell them, mm wide (common practice, no source).
constexpr std::array<double, 7> kPanels{150.0, 200.0, 250.0, 300.0, 400.0, 500.0, 600.0};

/// Cut from a sheet, of which the yard has any width.
bool is_sheet(const std::string& stock) {
  static constexpr std::array<std::string_view, 6> kSheets{"birch-plywood", "hardboard",     "mdf",
                                                           "osb",           "particleboard", "plywood"};
  return std::find(kSheets.begin(), kSheets.end(), stock) != kSheets.end();
}

/// The width of the board to buy, and its nominal size where it has one.
struct Sold {
  double width = 0.0;
  std::string nominal;
};

std::optional<Sold> sold_board(const model::Board& board, model::Units units, double width, double thickness) {
  constexpr double kTrue = 0.4;  // mm: what a saw leaves
  if (is_sheet(board.stock)) return std::nullopt;
  if (units != model::Units::in) {
    const auto panel = std::find_if(kPanels.begin(), kPanels.end(), [&](double w) { return w >= width - kTrue; });
    return panel == kPanels.end() ? std::nullopt : std::optional(Sold{*panel, ""});
  }
  const auto thick = [&](double inches) { return std::abs(thickness - inches * model::kMmPerInch) < kTrue; };
  const std::string by = thick(0.75) ? "1" : thick(1.0) ? "5/4" : thick(1.5) ? "2" : "";
  const auto dressed = std::find_if(kDressed.begin(), kDressed.end(),
                                    [&](const Dressed& d) { return d.width * model::kMmPerInch >= width - kTrue; });
  if (by.empty() || dressed == kDressed.end()) return std::nullopt;
  return Sold{dressed->width * model::kMmPerInch, fmt::format("{} x {}", by, dressed->nominal)};
}

/// Lines are merged on everything that makes them one thing at the counter.
using Key = std::tuple<BuyGroup, int, int, std::string, long, std::string>;

class List {
 public:
  explicit List(const BuyOptions& options) : options_(options) {}

  BuyLine& add(BuyGroup group, int size, int second_size, const std::string& item, double length,
               const std::string& note, int count, const std::string& label) {
    BuyLine& line = lines_[Key{group, size, second_size, item, std::lround(length * 10), note}];
    line.group = group;
    line.item = item;
    line.length = length;
    line.note = note;
    line.count += count;
    if (size >= 0) {
      line.size = model::nominal_sizes()[at(size)];
      if (second_size != size && second_size >= 0) line.size += " x " + model::nominal_sizes()[at(second_size)];
    }
    if (!label.empty() && (line.labels.empty() || line.labels.back() != label)) line.labels.push_back(label);
    if (options_.prices != nullptr && size >= 0) {
      const bool pipe = group == BuyGroup::pipe;
      line.price = options_.prices->of(size, pipe ? "pipe" : item, pipe ? length : 0.0);
    }
    return line;
  }

  /// Screws of one gauge, length and purpose are one thing.
  void add_screws(const ScrewSize& screw, const std::string& purpose, int count) {
    BuyLine& line = add(BuyGroup::hardware, kNone, screw.number, "screw", screw.length, purpose, count, "");
    line.size = screw.gauge();
    if (options_.spares) line.spares = (line.count + 9) / 10;
  }

  std::vector<BuyLine> lines() const {
    std::vector<BuyLine> out;
    for (const auto& [key, line] : lines_) out.push_back(line);
    return out;
  }

 private:
  const BuyOptions& options_;
  std::map<Key, BuyLine> lines_;
};

std::string pipe_note(const Part& pipe) {
  const int plain = static_cast<int>(
      std::count_if(pipe.ports.begin(), pipe.ports.end(), [](const model::Port& p) { return !p.threaded; }));
  return plain == 0 ? "" : plain == 1 ? "one end plain" : "both ends plain";
}

void add_pipe(const Frame& frame, const Part& pipe, List& list) {
  const std::string note = pipe_note(pipe);
  const std::string stock = note.empty() ? stock_item(frame.standard, pipe.size, pipe.length) : "";
  const bool mill = stock.starts_with("mill");
  std::string item = stock.empty() || mill ? (note == "both ends plain" ? "cut" : "cut and thread") : stock;
  if (mill) item = "mill length";
  BuyLine& line = list.add(BuyGroup::pipe, pipe.size, pipe.size, item, pipe.length, note, 1, pipe.label);
  line.mass = pipe.mass;
  line.from_memory = line.from_memory || pipe.mass_from_memory;
}

void add_fitting(const Frame& frame, const Part& part, List& list) {
  int second = part.size;
  for (const model::Port& port : part.ports) {
    if (port.size != part.size) second = port.size;
  }
  std::string note;
  int each = 0;
  if (part.kind == PartKind::flange) {
    if (const auto screws = model::dimension(frame.standard, part.size, Dimension::flange_screws)) {
      each = static_cast<int>(std::lround(screws->value));
      note = fmt::format("{} screws each", each);
    }
  }
  BuyLine& line = list.add(BuyGroup::fitting, part.size, second, model::word_for(part.kind), 0.0, note, 1, part.label);
  line.screws = each;
  line.mass = part.kind == PartKind::union_half ? 2 * part.mass : part.mass;
  line.from_memory = line.from_memory || part.mass_from_memory;
}

/// What screws are for.
std::string purpose_of(const Frame& frame, const Fastening& f) {
  const auto into_room = [&](const char* what) {
    const bool wall = f.surface == kNone || frame.surface(f.surface).normal.z == 0;
    return fmt::format("into {}, for {}", wall ? "wall studs or rated anchors" : "joists or rated anchors", what);
  };
  switch (f.kind) {
    case Fastening::Kind::flange_to_surface: return into_room("flanges");
    case Fastening::Kind::flange_to_board: return "into boards, for flanges (shorter than the board is thick)";
    case Fastening::Kind::board_to_surface: return into_room("boards");
    case Fastening::Kind::clip: return into_room("clips");
    case Fastening::Kind::strap: break;
  }
  return "into boards, for straps (shorter than the board is thick)";
}

void add_fastening(const Frame& frame, const Fastening& f, List& list) {
  const Part& part = frame.part(f.part);
  if (f.kind == Fastening::Kind::clip) {
    list.add(BuyGroup::hardware, part.size, part.size, "pipe clip", 0.0, "", f.count, part.label);
  } else if (f.kind == Fastening::Kind::strap) {
    const int size = f.other >= 0 ? frame.part(f.other).size : part.size;
    list.add(BuyGroup::hardware, size, size, "pipe strap", 0.0, "", f.count, part.label);
  }
  const ScrewSize screw = screw_size(frame, f).value_or(ScrewSize{});
  list.add_screws(screw, purpose_of(frame, f), screw_count(frame, f));
}

void add_board(const Frame& frame, const model::Board& board, List& list) {
  const Part& part = frame.part(board.part);
  std::array<double, 3> extent{};
  for (int axis = 0; axis < 3; ++axis) extent[at(axis)] = board.hi[axis] - board.lo[axis];
  const double thickness = extent[at(board.normal)];
  std::vector<double> plane;
  for (int axis = 0; axis < 3; ++axis) {
    if (axis != board.normal) plane.push_back(extent[at(axis)]);
  }
  std::sort(plane.rbegin(), plane.rend());
  const auto say = [&](double mm) { return model::in_units(mm, frame.units); };
  const Rough& rough = frame.units == model::Units::in ? kRoughInches : kRoughMetric;
  const auto up = [&](double mm) { return std::ceil(mm / rough.step - 1e-6) * rough.step; };
  const auto sold = sold_board(board, frame.units, plane[1], thickness);
  const std::vector<double> sizes = {up(plane[0] + rough.longer),
                                     sold ? sold->width : up(plane[1] + rough.wider),
                                     thickness,
                                     plane[0],
                                     plane[1],
                                     thickness};
  const std::string note = fmt::format("rough {} x {} x {}, finished {} x {} x {}", say(sizes[0]), say(sizes[1]),
                                       say(sizes[2]), say(sizes[3]), say(sizes[4]), say(sizes[5]));
  const std::string item = board.stock.empty() ? "board" : "board, " + board.stock;
  BuyLine& line = list.add(BuyGroup::board, -1, -1, item, 0.0, note, 1, part.label);
  line.mass = part.mass;
  line.from_memory = line.from_memory || part.mass_from_memory;
  line.sizes = sizes;
  if (sold) line.nominal = sold->nominal;
}

void add_bits(const Frame& frame, List& list) {
  std::map<long, std::pair<double, std::vector<std::string>>> holes;  // by diameter in tenths of a mm
  for (const model::Board& board : frame.boards) {
    for (const model::Hole& hole : board.holes) {
      auto& [diameter, labels] = holes[std::lround(hole.diameter * 10)];
      diameter = hole.diameter;
      const std::string& label = frame.part(board.part).label;
      if (labels.empty() || labels.back() != label) labels.push_back(label);
    }
  }
  for (const auto& [key, hole] : holes) {
    const std::string bit = bit_for(hole.first, frame.units == model::Units::in);
    const std::string note =
        bit.empty() ? fmt::format("no stock bit drills {}", model::in_units(hole.first, frame.units)) : bit;
    BuyLine& line = list.add(BuyGroup::bit, -1, -1, "bit", hole.first, note, 1, "");
    line.labels = hole.second;
  }
}

/// The stock lengths next to `length`: below and above, whichever exist.
std::vector<double> neighbours(const Frame& frame, int size, double length) {
  std::vector<double> out;
  double below = 0.0;
  for (const double stock : stock_lengths(frame.standard, size)) {
    if (stock < length - 0.1) below = stock;
    if (stock > length + 0.1) {
      if (below > 0.0) out.push_back(below);
      out.push_back(stock);
      return out;
    }
  }
  if (below > 0.0) out.push_back(below);
  return out;
}

void add_stock_spares(const Frame& frame, const Part& pipe, std::set<std::pair<int, long>>& bought, List& list) {
  for (const double length : neighbours(frame, pipe.size, pipe.length)) {
    if (!bought.insert({pipe.size, std::lround(length * 10)}).second) continue;
    BuyLine& line = list.add(BuyGroup::pipe, pipe.size, pipe.size, stock_item(frame.standard, pipe.size, length),
                             length, "", 0, "");
    line.spares += 1;
    line.mass = pipe.mass * length / pipe.length;
  }
}

/// The shortest pipe that stands over the foot of a leg; nullptr when there is none.
const Part* shortest_over(const Frame& frame, const Part& foot) {
  const Part* shortest = nullptr;
  for (const Part& part : frame.parts) {
    if (part.kind != PartKind::pipe || part.ports[1].facing.axis() != 2) continue;
    if (std::hypot(part.centre.x - foot.centre.x, part.centre.y - foot.centre.y) > 1.0) continue;
    if (shortest == nullptr || part.length < shortest->length) shortest = &part;
  }
  return shortest;
}

void add_spares(const Frame& frame, const Fit& fit, List& list) {
  std::set<std::pair<int, PartKind>> kinds;
  for (const Part& part : frame.parts) {
    if (part.kind == PartKind::coupling || part.kind == PartKind::cap) kinds.insert({part.size, part.kind});
    if (part.kind == PartKind::pipe) kinds.insert({part.size, PartKind::coupling});
  }
  for (const auto& [size, kind] : kinds) {
    list.add(BuyGroup::fitting, size, size, model::word_for(kind), 0.0, "", 0, "").spares += 1;
  }
  std::set<std::pair<int, long>> bought;
  for (const ClosureFit& closure : fit.closures) {
    if (closure.state == FitState::exact) continue;
    const Part* shortest = nullptr;
    for (const JointTurn& turn : closure.turns) {
      const Part& pipe = frame.part(frame.joint(turn.joint).male);
      if (pipe.kind == PartKind::pipe && (shortest == nullptr || pipe.length < shortest->length)) shortest = &pipe;
    }
    if (shortest != nullptr) add_stock_spares(frame, *shortest, bought, list);
  }
  if (fit.spare_leg == kNone) return;
  const Part* shortest = shortest_over(frame, frame.part(fit.levels[at(fit.spare_leg)].part));
  if (shortest != nullptr) add_stock_spares(frame, *shortest, bought, list);
}

}  // namespace

const char* word_for(BuyGroup group) {
  switch (group) {
    case BuyGroup::pipe: return "pipe";
    case BuyGroup::fitting: return "fitting";
    case BuyGroup::hardware: return "hardware";
    case BuyGroup::board: return "board";
    case BuyGroup::bit: return "bit";
  }
  return "";
}

Shopping shopping_of(const Frame& frame, const Fit& fit, const BuyOptions& options) {
  Shopping out;
  List list(options);
  const model::Datum limit = model::lifting_limit();
  out.lifting_limit = limit.value;
  out.lifting_source = std::string(limit.source);
  for (PartId p = 0; p < static_cast<PartId>(frame.parts.size()); ++p) {
    const Part& part = frame.part(p);
    out.mass += part.mass;
    if (lift_of(part).people > 1) out.heavy.push_back(part.label);
    if (part.kind == PartKind::board) continue;
    if (part.kind == PartKind::pipe) {
      add_pipe(frame, part, list);
    } else if (part.kind != PartKind::union_half || part.union_mate > p) {
      add_fitting(frame, part, list);
    }
  }
  for (const Fastening& f : frame.fastenings) add_fastening(frame, f, list);
  for (const model::Board& board : frame.boards) add_board(frame, board, list);
  add_bits(frame, list);
  if (options.spares) add_spares(frame, fit, list);
  out.lines = list.lines();
  if (options.prices != nullptr) {
    double sum = 0.0;
    bool known = true;
    for (const BuyLine& line : out.lines) {
      if (line.group == BuyGroup::bit || line.item == "screw" || line.group == BuyGroup::board) continue;
      known = known && line.price.has_value();
      sum += line.price.value_or(0.0) * (line.count + line.spares);
    }
    if (known) out.price = sum;
  }
  return out;
}

}  // namespace dryfit::planner
