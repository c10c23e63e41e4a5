/// What bench_view.hpp promises, where the page round the program has the library and steps of its own.
#include "cli/cards/bench_view.hpp"
#include "cli/draw/paint/draw_error.hpp"

namespace dryfit::cli {

namespace {

constexpr const char* kProgramAlone = "the page for the bench is written by the program alone";

}  // namespace

std::string bench_view_library() { throw DrawError(kProgramAlone); }
std::string bench_view_licence() { throw DrawError(kProgramAlone); }

}  // namespace dryfit::cli
