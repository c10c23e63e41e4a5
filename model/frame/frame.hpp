#pragma once
/// A frame as placed: every part with its bodies, every link between parts. Plain data, built once by the
/// reader, never changed after model::verify. All lengths in millimetres, masses in kilograms.
#include <array>
#include <map>
#include <optional>
#include <string>
#include <vector>

#include "model/frame/input_error.hpp"
#include "model/geometry/at.hpp"
#include "model/geometry/direction.hpp"
#include "model/geometry/solid.hpp"
#include "model/geometry/vec.hpp"
#include "model/geometry/wood.hpp"

namespace dryfit::model {

/// Index into Frame::parts. kRoom stands for all surfaces together.
using PartId = int;
inline constexpr PartId kRoom = -1;
inline constexpr int kNone = -1;

/// Clear way along a screw that a hand with a driver needs, mm, and what a right-angle driver does with (common
/// practice, no source).
inline constexpr double kDriver = 150.0;
inline constexpr double kRightAngleDriver = 100.0;

enum class Standard { npt, iso7 };
enum class MakeUp { hand, wrench };
enum class Units { in, mm, cm };

enum class PartKind {
  pipe,
  coupling,
  elbow,
  elbow45,
  street_elbow,
  tee,
  cross,
  side_elbow,
  side_tee,
  cap,
  plug,
  bushing,
  flange,
  union_half,
  board,
  foot,
  caster
};
/// The word of the frame file: "pipe", "street-elbow", ...; a union half is "union".
[[nodiscard]] const char* word_for(PartKind kind);

/// A threaded opening (female) or a pipe-like end (male).
/// `facing` points out of the part. For a female port `at` is the centre of its face; for a male end the
/// centre of its flat tip.
struct Port {
  Direction facing;
  Vec3 at;
  bool male = false;
  bool threaded = true;    ///< false: a plain (uncut) pipe end
  int size = 0;            ///< index into nominal_sizes()
  int joint = kNone;       ///< index into Frame::joints, or kNone when free
  double turns_given = 0;  ///< pipe ends only: engagement measured by the owner, in turns; 0 when not given
  friend bool operator==(const Port&, const Port&) = default;
};

/// Which dimensions the owner measured on the part itself: they are sure, whatever the tables say.
struct Own {
  bool centre_to_end = false, length = false, band = false, plate = false, height = false, mass = false;
};

/// A pipe, a fitting, half a union or a board.
struct Part {
  std::string id;     ///< as in the file; union halves are "U1~a", "U1~b"
  std::string label;  ///< what is taped on: the id of the file ("U1" for both halves)
  PartKind kind = PartKind::pipe;
  SourcePos where;
  int size = 0;             ///< nominal size (index); boards: 0
  std::vector<Port> ports;  ///< in walking order: pipe start, end; fitting in, out, branch, side. Boards: none
  std::vector<Solid> solids;
  double mass = 0.0;  ///< kg
  /// Fittings: where the axes meet (flange: centre of its mounting face, cap and plug: centre of the closed end);
  /// pipes, couplings, union halves: middle; boards: middle of the box.
  Vec3 centre;
  Vec3 centre_of_mass;
  double screw_circle = 0.0;  ///< flanges: diameter of the circle that the screws stand on, mm
  double length = 0.0;        ///< pipes: end to end; couplings, unions: end to end; else 0
  bool from_memory = false;   ///< a dimension of it rests on a table row that is not confirmed by a published source
  bool measured = false;      ///< the owner gave at least one dimension
  Own own;                    ///< which
  bool mass_from_memory = false;  ///< what it weighs rests on a table row that is not confirmed
  int run = kNone;                ///< index into Frame::runs
  int union_mate = kNone;         ///< other half of the union
  int board = kNone;              ///< index into Frame::boards when kind is board
};

/// A male end made up in a female port. Contact id "P4/T1.right".
struct Joint {
  PartId male = kNone;  ///< pipe, street elbow, plug or bushing
  int male_port = 0;    ///< index into that part's ports
  PartId female = kNone;
  int female_port = 0;
  double engaged = 0.0;  ///< thread length inside the port as made up
  double pitch = 0.0;    ///< mm per turn
  double hand = 0.0;     ///< hand-tight engagement of the standard (L1 or gauge length)
  double wrench = 0.0;   ///< wrench-tight engagement of the standard (L1+L3, or gauge length + wrenching allowance)
  SourcePos where;
  /// Not placed by this joint: the two sides were placed by other ways and this one closes a ring.
  bool closing = false;
};

/// A pipe through a board.
struct Hole {
  PartId pipe = kNone;
  double diameter = 0.0;  ///< hole diameter or slot width
  bool notch = false;
  Direction open;  ///< notch only: the edge toward which the slot is open
  Vec3 centre;     ///< on the pipe's axis, at the middle of the board's thickness
  SourcePos where;
};

/// Something screwed or strapped on with screws. Contact ids "FL/floor", "FL/TOP", "S1/wall", "P4/wall", "TOP/P4
/// strap".
struct Fastening {
  enum class Kind { flange_to_surface, flange_to_board, board_to_surface, clip, strap };
  Kind kind = Kind::flange_to_surface;
  PartId part = kNone;   ///< flange, board (fix), pipe (clip), board (strap)
  PartId other = kRoom;  ///< kRoom, the board under a flange, or the strapped pipe
  int surface = kNone;   ///< index into Frame::surfaces when other is kRoom
  int count = 1;         ///< straps or clips
  SourcePos where;
};

struct Board {
  PartId part = kNone;
  Vec3 lo, hi;     ///< the box as placed
  int normal = 2;  ///< axis number of the thickness
  Direction facing = kUp;
  std::vector<Hole> holes;       ///< through first, then notches, in file order
  std::vector<PartId> carriers;  ///< rests-on, in file order
  /// Parts under a carrier or flange that stands too high which reach into the board as drawn and would not where it
  /// lies on the highest, ascending. Like that carrier they are a closure and no overlap.
  std::vector<PartId> sunken;
  std::string stock;               ///< "" when not given
  bool stands_on_carriers = true;  ///< false: `height` was given
  /// Per axis: the part that gave that coordinate (pipe, carrier or flange); kNone: the file gave it.
  std::array<PartId, 3> given_by{kNone, kNone, kNone};
  /// laid: no hole and no notch, so its rests are contacts
  [[nodiscard]] bool laid() const { return holes.empty(); }
  /// It lies on the part, or over one that stands in it as drawn alone. O(carriers).
  [[nodiscard]] bool lies_over(PartId other) const;
};

/// The board as hit tests see it: its box less its holes and slots.
[[nodiscard]] Wood wood_of(const Board& board);

struct Surface {
  std::string id;
  Direction normal;  ///< the way it faces; the room is on that side
  double at = 0.0;   ///< coordinate on the normal's axis
  SourcePos where;
};

/// A further way to a place that is placed already, with the difference that came out.
struct Closure {
  enum class Kind { joint, surface, carrier, board_fix, flange_to_board, board_pipe };
  Kind kind = Kind::joint;
  std::vector<std::string> between;  ///< ids, e.g. {"P4/T2.left"} sides as {"P4","T2"}; surface: {"FL","floor"}
  int joint = kNone;                 ///< Kind::joint
  PartId part = kNone;               ///< part that the gap is seen from
  PartId other = kRoom;
  int surface = kNone;
  /// Where `other` is less where `part` says it should be. Axes that the closure does not bind are 0.
  Vec3 gap;
  std::array<bool, 3> binds{true, true, true};
  SourcePos where;
};

/// How a part got its place: from `parent` through a joint (or flange face, or root). The tree of all such
/// links lets fit work say what moves when a joint is turned further.
struct PlacedBy {
  PartId parent = kNone;  ///< kNone for a root
  int joint = kNone;      ///< joint that links it to parent; kNone for union mate, flange on board or root
  /// Roots: coordinates that the file does not give (the first run may stand anywhere along these axes).
  std::array<bool, 3> loose{false, false, false};
};

struct Run {
  std::string id;
  std::vector<PartId> parts;  ///< in walking order; a union gives two
  SourcePos where;
};

struct Frame {
  std::string name;
  std::string file;
  Units units = Units::in;
  Standard standard = Standard::npt;
  MakeUp make_up = MakeUp::hand;
  double driver = kDriver;    ///< clear way that driving a screw takes, along it, mm
  std::vector<Part> parts;    ///< runs in file order, then boards
  std::vector<Joint> joints;  ///< in file order
  std::vector<Fastening> fastenings;
  std::vector<Board> boards;
  std::vector<Surface> surfaces;
  std::vector<Closure> closures;
  std::vector<PlacedBy> placed_by;  ///< one per part
  std::vector<Run> runs;
  /// The run that nothing places although others have a place: it was made to begin at [0, 0]. kNone: there is none.
  int lone_run = kNone;

  [[nodiscard]] const Part& part(PartId id) const { return parts[at(id)]; }
  [[nodiscard]] Part& part(PartId id) { return parts[at(id)]; }
  [[nodiscard]] const Joint& joint(int id) const { return joints[at(id)]; }
  [[nodiscard]] Joint& joint(int id) { return joints[at(id)]; }
  [[nodiscard]] const Fastening& fastening(int id) const { return fastenings[at(id)]; }
  [[nodiscard]] Fastening& fastening(int id) { return fastenings[at(id)]; }
  [[nodiscard]] const Board& board(int id) const { return boards[at(id)]; }
  [[nodiscard]] Board& board(int id) { return boards[at(id)]; }
  /// The board whose part that is; the part has to be a board.
  [[nodiscard]] const Board& board_of(PartId id) const { return board(part(id).board); }
  [[nodiscard]] Board& board_of(PartId id) { return board(part(id).board); }
  [[nodiscard]] const Surface& surface(int id) const { return surfaces[at(id)]; }
  [[nodiscard]] const Closure& closure(int id) const { return closures[at(id)]; }
  [[nodiscard]] Closure& closure(int id) { return closures[at(id)]; }

  /// The part with that id (also "U1~a"), or kNone. O(log n).
  [[nodiscard]] PartId find(const std::string& id) const;
  std::map<std::string, PartId> index;
};

/// "P4/T1.right". The union's ports are written with the union's own id: "P1/U1.down".
[[nodiscard]] std::string joint_name(const Frame& frame, int joint);
/// "FL/floor", "TOP/P4 strap", ...
[[nodiscard]] std::string fastening_name(const Frame& frame, int fastening);

/// Nominal sizes by index: "1/8", "1/4", ... "4".
[[nodiscard]] const std::vector<std::string>& nominal_sizes();

}  // namespace dryfit::model
