#pragma once
/// What a frame file says, checked word by word but not yet put together: names are still text. Lengths in mm.
#include <array>
#include <optional>
#include <string>
#include <vector>

#include "model/frame/faults.hpp"
#include "model/frame/frame.hpp"

namespace dryfit::model {

/// A word of the file with its place.
struct Word {
  std::string text;
  SourcePos where;
};

/// Dimensions that the owner measured on the part itself; they go before the tables.
struct Measured {
  std::optional<double> centre_to_end, length, band, plate, height;
  std::optional<double> mass;  ///< kg
  [[nodiscard]] bool any() const { return centre_to_end || length || band || plate || height; }
};

/// `union` is PartKind::union_half here; it becomes two parts.
struct DraftPart {
  std::string id;
  SourcePos where;
  PartKind kind = PartKind::pipe;
  bool broken = false;        ///< a mistake was told already: nothing further is concluded from this part
  bool way_known = false;     ///< though broken, it says which way the run goes on
  int size = kNone;           ///< nominal size; kNone only when broken
  int other_size = kNone;     ///< to-size, branch-size, or a bushing's inner size; kNone: not given
  double length = 0.0;        ///< pipes
  Direction turn;             ///< new walking direction, or branch direction
  Direction side;             ///< side-elbow, side-tee
  int plane_normal = kNone;   ///< cross: number of the axis square to its plane
  bool entry_branch = false;  ///< tee
  bool reverse = false;       ///< street elbow
  bool plain_start = false, plain_end = false;
  double turns_start = 0.0, turns_end = 0.0;  ///< 0: not given
  Measured measured;
};

/// `from` or `to`: "floor", "T1.right", "P3.end", "TOP.down".
struct DraftLink {
  std::string target;  ///< before the dot
  std::string suffix;  ///< after it, "" for a surface
  SourcePos where;
  [[nodiscard]] std::string text() const { return suffix.empty() ? target : target + "." + suffix; }
};

struct DraftRun {
  std::string id;
  SourcePos where;
  bool broken = false;
  std::optional<DraftLink> from, to;
  std::optional<Direction> go;
  SourcePos go_where;
  std::vector<double> at;  ///< as many as written; empty: not given
  SourcePos at_where;
  std::vector<DraftPart> parts;
};

struct DraftBoard {
  struct Notch {
    Word pipe;
    Direction open;
  };
  struct Count {
    Word pipe;
    int count = 1;
  };
  struct Drill {
    Word pipe;
    double diameter = 0.0;
  };
  /// Distance from the pipe or carrier to the board's edge on that side.
  struct Reach {
    Direction side;
    double distance = 0.0;
  };
  std::string id;
  SourcePos where;
  bool broken = false;
  Vec3 size;
  int normal = 2;
  Direction facing = kUp;
  std::vector<Word> through;
  std::optional<Word> reach_from;  ///< the pipe of `through` that `reach` is measured from; not given: its first
  std::vector<Notch> notches;
  std::vector<Word> rests_on;
  std::optional<double> height;
  std::vector<Reach> reach;  ///< empty, or one per axis of the board's plane, lower axis first
  std::optional<std::array<double, 2>> at;
  SourcePos place_where;  ///< of `reach` or `at`, else of the board
  std::optional<double> hole;
  std::vector<Drill> holes;
  SourcePos hole_where;
  std::vector<Word> fix;
  std::vector<Count> straps;
  std::string stock;
  std::optional<double> mass;  ///< kg, weighed
};

struct DraftClip {
  Word pipe;
  Word surface;
};

struct Draft {
  std::string name;
  Units units = Units::in;
  Standard standard = Standard::npt;
  int size = kNone;  ///< default nominal size, kNone when the file gives none
  MakeUp make_up = MakeUp::hand;
  double driver = kDriver;
  std::vector<Surface> surfaces;
  std::vector<DraftRun> runs;
  std::vector<DraftBoard> boards;
  std::vector<DraftClip> clips;
};

}  // namespace dryfit::model
