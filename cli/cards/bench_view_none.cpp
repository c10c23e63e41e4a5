/// What bench_view.hpp promises, where the page round the program has the library and steps of its own.
#include "cli/cards/bench_view.hpp"
#include "cli/draw/paint/draw_error.hpp"

namespace dryfit::cli {

std::string bench_view_library() { throw DrawError("the page for the bench is written by the program alone"); }

}  // namespace dryfit::cli
