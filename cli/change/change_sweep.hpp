#pragma once
/// One pipe's length over a range.
#include "cli/change/change_answer.hpp"
#include "cli/io/streams.hpp"

namespace dryfit::cli {

/// `change F --set P9.length=12..36`: the price of every whole step of length in the range, of every stock length and
/// of the lengths that just close, from what is built; which of them stock offers, and which close. Exit code: yes when
/// any of them is free and closes, undecided when that is not known of any.
[[nodiscard]] int sweep_length(const ChangeRequest& request, bool json, const Streams& streams);

}  // namespace dryfit::cli
