#pragma once
/// Ends of parts by the names that a frame file gives them, and names for what is put on.
#include <optional>
#include <set>
#include <string>
#include <vector>

#include "cli/input/frame_file.hpp"

namespace dryfit::cli {

/// The text of a frame as it was changed, and what came on and went off.
struct EditMade {
  std::string text;
  std::vector<std::string> added;  ///< parts and boards, by the names that they got
  std::vector<std::string> off;    ///< what went with what was taken off
};

struct PartEnd {
  model::PartId part = model::kNone;
  std::size_t port = 0;
};

[[nodiscard]] const model::Port& port_of(const model::Frame& frame, PartEnd end);
/// "P5.end", "T1.right".
[[nodiscard]] std::string end_name(const model::Frame& frame, PartEnd end);
/// An end by its name, open or made up; nullopt when there is none.
[[nodiscard]] std::optional<PartEnd> end_named(const model::Frame& frame, const std::string& name);
/// All threaded ends that nothing is made up on, in file order.
[[nodiscard]] std::vector<PartEnd> open_ends(const model::Frame& frame);
/// The same by name. Throws UsageError, with the nearest, when there is no such end or it is not open.
[[nodiscard]] PartEnd open_end_named(const model::Frame& frame, const std::string& name);
/// The run that goes on at this end; kNone where it is not the last of its run, or no end that a run goes on at.
[[nodiscard]] int run_going_on(const model::Frame& frame, PartEnd end);
/// An open end of the other gender and the same size that faces this one. `at` and `facing` are those of the first.
[[nodiscard]] bool could_meet(const model::Port& one, const model::Port& other);

/// Names of parts, boards and surfaces.
[[nodiscard]] std::set<std::string> names_taken(const model::Frame& frame);
/// "P4": the first free one with that letter or word; entered into `taken`.
std::string new_name(std::set<std::string>& taken, const std::string& beginning);
/// A name like another: "LT7" for "LT1", "F2" for "F".
std::string name_like(std::set<std::string>& taken, const std::string& name);
/// The letters that names of a kind begin with: P, C, T, ...
[[nodiscard]] std::string beginning_for(const std::string& kind);
/// "post", "post 2".
[[nodiscard]] std::string run_named(const model::Frame* frame, const std::string& wanted);
/// What a run is called by the way it goes: "post" up or down, else "rail".
[[nodiscard]] std::string run_word(model::Direction going);

/// The size that the file gives all parts which say none; "" where it gives none.
[[nodiscard]] std::string size_of_all(const std::string& text);
/// "coupling" as "{coupling: , size: 1/2}" where that is another size than `all` have; what says a size keeps it.
[[nodiscard]] std::string with_own_size(const std::string& value, int size, const std::string& all);

[[nodiscard]] std::optional<LoadedFrame> read_if_sound(const std::string& text, const std::string& name);
/// The two sides of the first '='. Throws UsageError that names the option.
[[nodiscard]] std::pair<std::string, std::string> two_sides(const std::string& option, const std::string& given);
/// "0,24" or "0, 24" as "[0, 24]".
[[nodiscard]] std::string as_spot(const std::string& given);

}  // namespace dryfit::cli
