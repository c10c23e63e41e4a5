#pragma once
/// The word that somebody may have meant.
#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace dryfit::model {

/// Letters to insert, delete, replace or swap with a neighbour to turn one word into the other (optimal string
/// alignment distance), ASCII case ignored. O(|a| |b|).
[[nodiscard]] int edit_distance(std::string_view a, std::string_view b);

/// The candidate nearest to `word`, the first one of equals; nullopt when none is nearer than about a third of its
/// length (and at least one letter is right).
[[nodiscard]] std::optional<std::string> nearest_word(std::string_view word,
                                                      const std::vector<std::string>& candidates);

}  // namespace dryfit::model
