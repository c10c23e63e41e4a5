#pragma once
/// What ended the search for the best order, by name.
#include <string>

namespace dryfit::cli {

enum class SearchEnd {
  proof,        ///< nothing better is left to find
  moves,        ///< the usual budget of undo moves
  seconds,      ///< the time given with --seconds
  interrupted,  ///< Ctrl-C
  size          ///< the frame is too large to search
};

/// As JSON has it: "proof", "moves", "seconds", "interrupted", "size".
[[nodiscard]] const char* word_for(SearchEnd end);

/// "The search stopped at its limit of --seconds 2." A sentence for people; "" after a proof, and for large frames, of
/// which more is said elsewhere.
[[nodiscard]] std::string end_sentence(SearchEnd end, double seconds);

/// Of searches with a limit that is an option: what ended them short of a proof.
enum class Ended { proof, budget, interrupted };
/// As JSON has it: "proof", "budget", "interrupted".
[[nodiscard]] const char* word_for(Ended ended);
/// A sentence for people; "" after a proof. `units`: what the budget counts: "undo steps a part".
[[nodiscard]] std::string end_sentence(Ended ended, long long budget, const char* units);

}  // namespace dryfit::cli
