#pragma once
/// Several designs side by side, and one length over a range.
#include <string>
#include <vector>

#include "cli/streams.hpp"

namespace dryfit::cli {

/// `change --all A B C`: buildable, steps, hands, mass, pieces, open closures of each. Exit code: the worst of all.
[[nodiscard]] int compare_designs(const std::vector<std::string>& files, bool json, const Streams& streams);

/// `change F --set P9.length=12..36`: the price from the finished frame of every stock length in the range, and
/// whether the frame closes with it. Exit code: yes when any length is free and closes.
[[nodiscard]] int sweep_length(const std::vector<std::string>& files, const std::string& setting, bool json,
                               const Streams& streams);

}  // namespace dryfit::cli
