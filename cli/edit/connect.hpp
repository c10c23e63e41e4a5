#pragma once
/// Runs that meet: an open end screwed into an open port that is there already, and a run written once more.
#include <map>
#include <string>

#include "cli/edit/ends.hpp"
#include "model/editing/copy.hpp"

namespace dryfit::cli {

/// The run that ends at `end` ends in `target` from now on: an open port (T2.left), a pipe's end, or a surface. Where
/// only the other one is the end of a run, that run gets the line. Throws UsageError.
[[nodiscard]] std::string joined_to(const std::string& text, const std::string& name, const std::string& end,
                                    const std::string& target);

/// An open end that a run's end reaches and could be made up with, within what turning makes up for; nullopt: none.
[[nodiscard]] std::optional<PartEnd> reached_by(const model::Frame& frame, PartEnd end);

/// A run written once more, and how.
struct RunCopy {
  EditMade made;
  std::string run;                           ///< that was copied
  std::map<std::string, std::string> names;  ///< of its parts, and of their twins
  model::Turning turning;
};
/// `frame` is what `text` holds.
[[nodiscard]] RunCopy copy_of_run(const model::Frame& frame, const std::string& text, const std::string& name,
                                  const std::string& run, const std::string& place, bool mirror);

/// A run (or the run of a part) once more: on a surface (floor@24,0), from an open end of the kind that it began at, or
/// so that an open end is made up in it (R1.end, R1.end@T1 to say in what); `mirror`: mirrored, which it also is where
/// it would not fit otherwise. Where the copy's last end reaches an open port as the run's did, it ends there. Throws
/// UsageError.
[[nodiscard]] EditMade run_copied_to(const std::string& text, const std::string& name, const std::string& run,
                                     const std::string& place, bool mirror);

}  // namespace dryfit::cli
