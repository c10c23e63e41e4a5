#pragma once
/// A draft put together: every run walked in its own coordinates, every name resolved, every joint known. What is left
/// is where each run and board lies (place.hpp).
#include <array>
#include <optional>
#include <string>
#include <unordered_map>
#include <vector>

#include "model/frame/faults.hpp"
#include "model/frame/frame.hpp"
#include "model/geometry/at.hpp"
#include "model/reading/draft.hpp"

namespace dryfit::model {

/// What the first or last part of a run hangs on.
struct RunLink {
  enum class Kind { joint, surface, board };
  Kind kind = Kind::joint;
  int run = kNone;
  bool from = true;                         ///< false: `to`
  PartId part = kNone;                      ///< first or last part of the run
  Vec3 local;                               ///< surface, board: its free end, in the run's coordinates
  int joint = kNone;                        ///< index into Frame::joints
  int other_run = kNone;                    ///< joint: run of the other part, may be the same run
  int surface = kNone;                      ///< index into Frame::surfaces
  int board = kNone;                        ///< index into Frame::boards
  Direction face;                           ///< board: the face it stands on
  std::optional<std::array<double, 2>> at;  ///< board: from the face's lower edges, x y z order
  SourcePos where;
};

/// Names of a board's draft as parts.
struct BoardNames {
  std::vector<PartId> through;
  PartId reach_from = kNone;  ///< the pipe of `through` that `reach` is measured from
  std::vector<PartId> notches;
  std::vector<PartId> carriers;  ///< a union: its first half
};

/// Frame::parts are shaped: of runs in the run's coordinates (the starting end of its first part is the origin), boards
/// without a place yet. Joints are complete but for `closing`.
struct Assembly {
  const Draft& draft;
  Frame frame;
  std::vector<RunLink> links;                    ///< file order, `from` before `to`
  std::vector<std::array<int, 2>> links_of_run;  ///< indices of `from` and `to` in links, or kNone
  std::vector<BoardNames> board_names;           ///< per board
};

/// Walks runs, makes joints, resolves names. Mistakes go to `faults`; the result is only good when there are none.
/// O(n log n).
[[nodiscard]] Assembly assemble(const Draft& draft, const std::string& file, Faults& faults);

/// What an id of the file names.
struct Named {
  enum class Kind { part, board, surface };
  Kind kind = Kind::part;
  int run = kNone;      ///< part
  int index = 0;        ///< part: place in DraftRun::parts; board, surface: index
  PartId part = kNone;  ///< part: its first Part
};

/// Common state of the steps of assemble(); used by walk_runs.cpp, link_runs.cpp and link_boards.cpp only.
struct Assembler {
  const Draft& draft;
  Faults& faults;
  Assembly out;
  std::unordered_map<std::string, Named> names;
  std::vector<std::vector<PartId>> part_of;  ///< per run and draft part: its first Part
  std::vector<bool> walked;                  ///< per Part: shape known
  /// Joints within runs and, as placeholders, those of links, in file order.
  long long words_compared = 0;

  [[nodiscard]] const DraftPart& draft_part(const Named& named) const {
    return draft.runs[dryfit::at(named.run)].parts[dryfit::at(named.index)];
  }
  [[nodiscard]] Part& part(PartId id) { return out.frame.part(id); }
  /// The named thing, or nullptr after telling that nothing has that name.
  const Named* resolve(const std::string& id, SourcePos where, const Subject& subject, std::string_view key);
  /// Thread length inside a port for that male end; nothing (told) when no table knows the size.
  std::optional<double> engaged(const Port& male, SourcePos where, const Subject& subject);
  /// Checks sex, thread, size and direction of two ends that are to be joined; tells what is wrong.
  bool may_join(PartId a, int port_a, PartId b, int port_b, SourcePos where, const Subject& subject);
  /// Joint from the two ends, whichever is male. Ports are not marked.
  Joint make_joint(PartId a, int port_a, PartId b, int port_b, double engaged, SourcePos where);
};

void walk_runs(Assembler& in);
void link_runs(Assembler& in);
void link_boards(Assembler& in);

/// "T1.right"; a pipe's ends as "P3.start", "P3.end".
[[nodiscard]] std::string end_name(const Part& part, int port);

}  // namespace dryfit::model
