#include "model/placing/bodies.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <numbers>

#include "model/geometry/at.hpp"
#include "model/standards/standards.hpp"
#include "model/text/length_fault.hpp"
#include "model/text/part_words.hpp"

namespace dryfit::model {
namespace {

double disc(double diameter) { return std::numbers::pi / 4.0 * diameter * diameter; }

/// One arm of a fitting: from its centre outward.
struct Arm {
  Direction facing;
  double length = 0.0;
  double across = 0.0;  ///< outside diameter
  double bore = 0.0;    ///< of what is not metal
  int size = 0;
  bool male = false;
};

/// Looks dimensions up and remembers what was missing and what rests on memory.
class Shaper {
 public:
  Shaper(const DraftPart& draft, Standard standard, Units units, const Walk& walk, bool second, Part& part)
      : draft_(draft), standard_(standard), units_(units), walk_(walk), second_(second), part_(part) {}

  std::optional<Message> run() {
    part_.size = draft_.size;
    part_.measured = draft_.measured.any();
    const Measured& own = draft_.measured;
    part_.own = {own.centre_to_end.has_value(), own.length.has_value(), own.band.has_value(),
                 own.plate.has_value(),         own.height.has_value(), own.mass.has_value()};
    switch (draft_.kind) {
      case PartKind::pipe: pipe(); break;
      case PartKind::coupling: coupling(); break;
      case PartKind::union_half: union_half(); break;
      case PartKind::cap: cap(); break;
      case PartKind::plug: plug(); break;
      case PartKind::bushing: bushing(); break;
      case PartKind::flange: flange(); break;
      case PartKind::foot: standing(Dimension::foot_height, Dimension::foot_plate, Dimension::foot_mass, 0.25); break;
      case PartKind::caster:
        standing(Dimension::caster_height, Dimension::caster_plate, Dimension::caster_mass, 0.75);
        break;
      default: arms(); break;
    }
    if (!missing_.empty()) return missing_;
    if (mass_volume_ > 0.0) {
      part_.centre_of_mass = moment_ * (1.0 / mass_volume_);
      if (draft_.kind != PartKind::pipe && !weighed_) part_.mass = mass_volume_ * 1e-9 * kSteelDensity;
    }
    if (!weighed_ && draft_.kind != PartKind::pipe) part_.mass_from_memory = part_.from_memory;
    if (own.mass) {
      part_.mass = draft_.kind == PartKind::union_half ? *own.mass / 2.0 : *own.mass;
      part_.mass_from_memory = false;
    }
    return std::nullopt;
  }

 private:
  double need(Dimension which, int size, const std::optional<double>& own, std::string_view key) {
    if (own) return *own;
    const auto datum = dimension(standard_, size, which);
    if (!datum) {
      fail(untold(key.empty() ? word_for(which) : key, nominal_sizes()[dryfit::at(size)],
                  key.empty() ? message("take a size that the standard has")
                              : message("measure yours and give '{}'", fmt::format("measured: {{{}: LENGTH}}", key))));
      return 1.0;
    }
    part_.from_memory |= datum->confidence == Confidence::memory;
    return datum->value;
  }
  double need(Dimension which, int size) { return need(which, size, std::nullopt, ""); }

  [[nodiscard]] Message untold(std::string_view what, std::string_view size, const Message& cure) const {
    const std::string_view standard = standard_ == Standard::npt ? "npt" : "iso7";
    const bool vowel = draft_.kind == PartKind::elbow || draft_.kind == PartKind::elbow45;
    return vowel ? message("no table gives the {} of an {} {} ({}): {}", what, size, kind_said(draft_.kind), standard,
                           cure)
                 : message("no table gives the {} of a {} {} ({}): {}", what, size, kind_said(draft_.kind), standard,
                           cure);
  }

  void fail(Message text) {
    if (missing_.empty()) missing_ = std::move(text);
  }

  /// Mean of both sizes' values when the fitting has two.
  double mean(Dimension which, const std::optional<double>& own, std::string_view key) {
    const double first = need(which, draft_.size, own, key);
    if (own || draft_.other_size == kNone || draft_.other_size == draft_.size) return first;
    part_.from_memory = true;
    return (first + need(which, draft_.other_size, own, key)) / 2.0;
  }

  [[nodiscard]] Message told(double mm) const { return length_said(mm, units_); }

  double band(int size) {
    const double across = need(Dimension::band, size, draft_.measured.band, "band");
    const double od = need(Dimension::pipe_od, size);
    if (across <= od && missing_.empty()) {
      fail(message("band: {} is no larger than the pipe inside it ({})", told(across), told(od)));
    }
    return across;
  }

  void metal(double volume, Vec3 centre) {
    mass_volume_ += volume;
    moment_ += centre * volume;
  }

  void add_port(Direction facing, Vec3 at, bool male, int size) {
    Port port;
    port.facing = facing;
    port.at = at;
    port.male = male;
    port.size = size;
    part_.ports.push_back(port);
  }

  void pipe() {
    const double od = need(Dimension::pipe_od, draft_.size);
    const double per_m = need(Dimension::pipe_mass_per_m, draft_.size);
    const Vec3 end = walk_.in.unit() * draft_.length;
    add_port(-walk_.in, {}, true, draft_.size);
    add_port(walk_.in, end, true, draft_.size);
    part_.ports[0].threaded = !draft_.plain_start;
    part_.ports[1].threaded = !draft_.plain_end;
    part_.ports[0].turns_given = draft_.turns_start;
    part_.ports[1].turns_given = draft_.turns_end;
    part_.solids.push_back(cylinder({}, walk_.in, draft_.length, od / 2.0));
    part_.length = draft_.length;
    part_.centre = end * 0.5;
    part_.mass = per_m * draft_.length / 1000.0;
    const auto weight = dimension(standard_, draft_.size, Dimension::pipe_mass_per_m);
    part_.mass_from_memory = weight && weight->confidence == Confidence::memory;
    metal(1.0, part_.centre);
  }

  /// From arms to ports, bodies and metal. The first arm is the one that is entered and sets the centre.
  void from_arms(const std::vector<Arm>& list) {
    part_.centre = list.front().facing.unit() * -list.front().length;
    std::vector<bool> drawn(list.size(), false);
    for (std::size_t i = 0; i < list.size(); ++i) {
      const Arm& arm = list[i];
      const Vec3 face = part_.centre + arm.facing.unit() * arm.length;
      // The entered face is the origin to the last bit.
      add_port(arm.facing, i == 0 ? Vec3{} : face, arm.male, arm.size);
      metal((disc(arm.across) - disc(arm.bore)) * arm.length, part_.centre + arm.facing.unit() * (arm.length / 2.0));
      if (drawn[i]) continue;
      double behind = 0.0;
      // Two arms in line with the same band are one cylinder.
      for (std::size_t j = i + 1; j < list.size(); ++j) {
        if (list[j].facing == -arm.facing && list[j].across == arm.across) {
          behind = list[j].length;
          drawn[j] = true;
        }
      }
      part_.solids.push_back(
          cylinder(part_.centre - arm.facing.unit() * behind, arm.facing, arm.length + behind, arm.across / 2.0));
    }
  }

  Arm female(Direction facing, double length, int size) {
    return {facing, length, band(size), need(Dimension::pipe_od, size), size, false};
  }

  void arms() {
    const DraftPart& d = draft_;
    const auto& own = d.measured.centre_to_end;
    const int other = d.other_size == kNone ? d.size : d.other_size;
    if (d.kind == PartKind::street_elbow) return street_elbow();
    const bool at_side = d.kind == PartKind::side_elbow || d.kind == PartKind::side_tee;
    const double length = mean(d.kind == PartKind::elbow45 ? Dimension::centre_to_end_45
                               : at_side                   ? Dimension::side_outlet_centre_to_end
                                                           : Dimension::centre_to_end,
                               own, "centre-to-end");
    std::vector<Arm> list;
    const Direction back = -walk_.in;
    switch (d.kind) {
      case PartKind::tee:
        if (d.entry_branch) {
          list = {female(back, length, other), female(d.turn, length, d.size), female(-d.turn, length, d.size)};
        } else {
          list = {female(back, length, d.size), female(walk_.in, length, d.size), female(d.turn, length, other)};
        }
        break;
      case PartKind::cross: {
        const Direction normal = d.plane_normal == 0 ? kRight : d.plane_normal == 1 ? kBack : kUp;
        const Direction side = square_to(normal, walk_.in);
        list = {female(back, length, d.size), female(walk_.in, length, d.size), female(side, length, d.size),
                female(-side, length, d.size)};
        break;
      }
      case PartKind::side_tee:
        list = {female(back, length, d.size), female(walk_.in, length, d.size), female(d.turn, length, d.size),
                female(d.side, length, d.size)};
        break;
      case PartKind::side_elbow:
        list = {female(back, length, d.size), female(d.turn, length, d.size), female(d.side, length, d.size)};
        break;
      default: list = {female(back, length, d.size), female(d.turn, length, other)}; break;
    }
    from_arms(list);
  }

  void street_elbow() {
    const bool at_45 = dryfit::model::at_45(walk_.in, draft_.turn);
    const double in_port = need(at_45 ? Dimension::street45_female : Dimension::street_female, draft_.size,
                                draft_.measured.centre_to_end, "centre-to-end");
    const double to_tip =
        need(at_45 ? Dimension::street45_male : Dimension::street_male, draft_.size, draft_.measured.length, "length");
    const double od = need(Dimension::pipe_od, draft_.size);
    const double wall = need(Dimension::pipe_wall, draft_.size);
    const auto male = [&](Direction facing) { return Arm{facing, to_tip, od, od - 2.0 * wall, draft_.size, true}; };
    if (draft_.reverse) {
      from_arms({male(-walk_.in), female(draft_.turn, in_port, draft_.size)});
    } else {
      from_arms({female(-walk_.in, in_port, draft_.size), male(draft_.turn)});
    }
  }

  void coupling() {
    const int other = draft_.other_size == kNone ? draft_.size : draft_.other_size;
    if (other != draft_.size) part_.from_memory = true;
    const double length =
        need(Dimension::coupling_length, std::max(draft_.size, other), draft_.measured.length, "length");
    from_arms({female(-walk_.in, length / 2.0, draft_.size), female(walk_.in, length / 2.0, other)});
    part_.length = length;
  }

  void union_half() {
    const double length = need(Dimension::union_length, draft_.size, draft_.measured.length, "length");
    const double across = kUnionAcross * band(draft_.size);
    const double bore = need(Dimension::pipe_od, draft_.size);
    const double half = length / 2.0;
    // The first half begins at its port, the second ends at it.
    if (second_) {
      add_port(walk_.in, walk_.in.unit() * half, false, draft_.size);
    } else {
      add_port(-walk_.in, {}, false, draft_.size);
    }
    part_.centre = walk_.in.unit() * (half / 2.0);
    part_.solids.push_back(cylinder({}, walk_.in, half, across / 2.0));
    part_.length = half;
    metal((disc(across) - disc(bore)) * half, part_.centre);
  }

  /// Direction from the closed end, head or mounting face to the port or male end of a part with one opening.
  [[nodiscard]] Direction opening() const { return walk_.entered ? -walk_.in : walk_.in; }
  /// Where that closed end lies when the starting end is the origin.
  [[nodiscard]] Vec3 closed_end(double height) const { return walk_.entered ? walk_.in.unit() * height : Vec3{}; }
  [[nodiscard]] Vec3 open_end(double height) const { return walk_.entered ? Vec3{} : walk_.in.unit() * height; }

  void cap() {
    const double height = need(Dimension::cap_height, draft_.size, draft_.measured.height, "height");
    const double across = band(draft_.size);
    const double bore = need(Dimension::pipe_od, draft_.size);
    const Direction d = opening();
    part_.centre = closed_end(height);
    add_port(d, open_end(height), false, draft_.size);
    part_.solids.push_back(cylinder(part_.centre, d, height, across / 2.0));
    const double end_wall = std::min((across - bore) / 2.0, height);
    metal(disc(across) * end_wall, part_.centre + d.unit() * (end_wall / 2.0));
    metal((disc(across) - disc(bore)) * (height - end_wall), part_.centre + d.unit() * ((height + end_wall) / 2.0));
  }

  double head_across(int size) {
    const double od = need(Dimension::pipe_od, size);
    if (!draft_.measured.band) return od * kHeadAcross;
    if (*draft_.measured.band <= od) {
      fail(message("band: {} is no larger than the thread ({})", told(*draft_.measured.band), told(od)));
    }
    return *draft_.measured.band;
  }

  /// How much of a plug or bushing is thread, and how much is head.
  struct ThreadAndHead {
    double male = 0.0;
    double head = 0.0;
  };

  /// From the tables, or from what the owner measured over all: the table then only says where the head begins.
  ThreadAndHead thread_and_head(Dimension male, Dimension head) {
    const Measured& own = draft_.measured;
    if (!own.length && !own.height) {
      return {need(male, draft_.size, std::nullopt, "length"), need(head, draft_.size, std::nullopt, "height")};
    }
    const double all = own.length ? *own.length : *own.height;
    double of_head = all / 3.0;
    if (own.length && own.height && *own.height < all) {
      of_head = *own.height;  // not over all, then: the head alone
    } else if (const auto table = dimension(standard_, draft_.size, head)) {
      of_head = std::min(table->value, all / 2.0);
    }
    return {all - of_head, of_head};
  }

  void plug() {
    const auto [male, head] = thread_and_head(Dimension::plug_male, Dimension::plug_head);
    const double od = need(Dimension::pipe_od, draft_.size);
    const double across = head_across(draft_.size);
    const Direction d = opening();
    part_.centre = closed_end(male + head);
    add_port(d, open_end(male + head), true, draft_.size);
    const Vec3 shoulder = part_.centre + d.unit() * head;
    part_.solids.push_back(cylinder(part_.centre, d, head, across / 2.0));
    part_.solids.push_back(cylinder(shoulder, d, male, od / 2.0));
    metal(disc(across) * head, part_.centre + d.unit() * (head / 2.0));
    metal(disc(od) * male, shoulder + d.unit() * (male / 2.0));
  }

  void bushing() {
    const auto [male, head] = thread_and_head(Dimension::bushing_male, Dimension::bushing_head);
    const double od = need(Dimension::pipe_od, draft_.size);
    const double bore = need(Dimension::pipe_od, draft_.other_size);
    const double across = head_across(draft_.size);
    // Along the walk: male part then head, or head then male part. The female face is the outer side of the head.
    const double first = walk_.enters_male ? male : head;
    const Vec3 shoulder = walk_.in.unit() * first;
    const Vec3 end = walk_.in.unit() * (male + head);
    add_port(-walk_.in, {}, walk_.enters_male, walk_.enters_male ? draft_.size : draft_.other_size);
    add_port(walk_.in, end, !walk_.enters_male, walk_.enters_male ? draft_.other_size : draft_.size);
    part_.centre = end * 0.5;
    const auto piece = [&](Vec3 from, double length, double diameter) {
      part_.solids.push_back(cylinder(from, walk_.in, length, diameter / 2.0));
      metal((disc(diameter) - disc(bore)) * length, from + walk_.in.unit() * (length / 2.0));
    };
    piece({}, first, walk_.enters_male ? od : across);
    piece(shoulder, male + head - first, walk_.enters_male ? across : od);
  }

  /// The table's, where the flange is the table's; of one that the owner measured midway between hub and rim.
  double screw_circle(double across, double plate) const {
    const bool own = draft_.measured.plate || draft_.measured.band;
    const auto datum = dimension(standard_, draft_.size, Dimension::flange_screw_circle);
    return datum && !own ? datum->value : (across + plate) / 2.0;
  }

  void flange() {
    const double height = need(Dimension::flange_height, draft_.size, draft_.measured.height, "height");
    const double plate = need(Dimension::flange_plate, draft_.size, draft_.measured.plate, "plate");
    const double across = band(draft_.size);
    const double bore = need(Dimension::pipe_od, draft_.size);
    part_.screw_circle = screw_circle(across, plate);
    if (plate <= across && missing_.empty()) {
      fail(message("plate: {} is no larger than its hub ({})", told(plate), told(across)));
    }
    const Direction d = opening();
    const double thick = std::min(kFlangePlate, height);
    part_.centre = closed_end(height);
    add_port(d, open_end(height), false, draft_.size);
    part_.solids.push_back(cylinder(part_.centre, d, height, across / 2.0));
    part_.solids.push_back(cylinder(part_.centre, d, thick, plate / 2.0));
    metal((disc(across) - disc(bore)) * height, part_.centre + d.unit() * (height / 2.0));
    metal((disc(plate) - disc(across)) * thick, part_.centre + d.unit() * (thick / 2.0));
  }

  /// A foot or caster: its socket all the way down, and round its lower `share` what it stands on. Of a caster that is
  /// the circle that the wheel sweeps when it swivels.
  void standing(Dimension height_row, Dimension plate_row, Dimension mass_row, double share) {
    const double height = need(height_row, draft_.size, draft_.measured.height, "height");
    const double plate = need(plate_row, draft_.size, draft_.measured.plate, "plate");
    const double across = band(draft_.size);
    const Direction d = opening();
    part_.centre = closed_end(height);
    add_port(d, open_end(height), false, draft_.size);
    const double low = height * share;
    part_.solids.push_back(cylinder(part_.centre, d, height, across / 2.0));
    if (plate > across) part_.solids.push_back(cylinder(part_.centre, d, low, plate / 2.0));
    metal(1.0, part_.centre + d.unit() * (height / 2.0));
    if (draft_.measured.mass) return;
    const auto mass = dimension(standard_, draft_.size, mass_row);
    weighed_ = true;
    if (mass) {
      part_.mass = mass->value;
      part_.mass_from_memory = mass->confidence == Confidence::memory;
    } else {
      fail(message("no table gives the mass of a {} {}: weigh yours and give '{}'",
                   nominal_sizes()[dryfit::at(draft_.size)], kind_said(draft_.kind), "measured: {mass: ...}"));
    }
  }

  const DraftPart& draft_;
  Standard standard_;
  Units units_;
  const Walk& walk_;
  bool second_;
  Part& part_;
  Message missing_;
  double mass_volume_ = 0.0;
  bool weighed_ = false;  ///< its mass stands in a table
  Vec3 moment_;
};

}  // namespace

std::optional<Message> shape_part(const DraftPart& draft, Standard standard, Units units, const Walk& walk, bool second,
                                  Part& part) {
  return Shaper(draft, standard, units, walk, second, part).run();
}

void move_part(Part& part, Vec3 by) {
  for (Port& port : part.ports) port.at += by;
  for (Solid& solid : part.solids) solid = moved(solid, by);
  part.centre += by;
  part.centre_of_mass += by;
}

}  // namespace dryfit::model
