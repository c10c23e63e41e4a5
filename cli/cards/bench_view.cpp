#include "cli/cards/bench_view.hpp"

#include "model/standards/tables.hpp"

namespace dryfit::cli {

std::span<const model::BuiltInFile> view_library_files();

std::string bench_view_library() { return std::string(view_library_files()[1].text); }
std::string bench_view_licence() { return std::string(view_library_files()[0].text); }

}  // namespace dryfit::cli
