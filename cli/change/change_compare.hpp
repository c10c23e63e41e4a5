#pragma once
/// Several designs side by side.
#include <string>
#include <vector>

#include "cli/io/streams.hpp"

namespace dryfit::cli {

/// `change --all A B C`: of each whether it can be built, its steps, worst trap, hands, mass, pieces to buy, effort and
/// open closures. Exit code: the worst of all.
[[nodiscard]] int compare_designs(const std::vector<std::string>& files, int people, bool json, const Streams& streams);

}  // namespace dryfit::cli
