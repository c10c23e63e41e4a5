#include "tests/support/frames/rewritten.hpp"

#include <yaml-cpp/yaml.h>

#include <map>
#include <numeric>
#include <utility>
#include <vector>

namespace dryfit::test {
namespace {

/// Numbers from 0 up in another order, but for the first `fixed`. Picks by hand: the standard shuffle differs from
/// library to library. (Nodes themselves must not be swapped: that makes one an alias of the other.)
std::vector<std::size_t> another_order(std::size_t count, std::size_t fixed, std::mt19937& rng) {
  std::vector<std::size_t> order(count);
  std::iota(order.begin(), order.end(), std::size_t{0});
  for (std::size_t i = count; i > fixed + 1; --i) std::swap(order[i - 1], order[fixed + rng() % (i - fixed)]);
  return order;
}

YAML::Node mixed_map(const YAML::Node& map, std::mt19937& rng) {
  std::vector<std::pair<YAML::Node, YAML::Node>> entries;
  for (const auto& entry : map) entries.emplace_back(entry.first, entry.second);
  YAML::Node out(YAML::NodeType::Map);
  for (const std::size_t i : another_order(entries.size(), 0, rng)) {
    out.force_insert(entries[i].first, entries[i].second);
  }
  return out;
}

YAML::Node mixed_list(const YAML::Node& list, std::size_t fixed, std::mt19937& rng) {
  YAML::Node out(YAML::NodeType::Sequence);
  for (const std::size_t i : another_order(list.size(), fixed, rng)) out.push_back(list[i]);
  return out;
}

YAML::Node mixed_board(const YAML::Node& board, std::mt19937& rng) {
  YAML::Node out(YAML::NodeType::Map);
  for (const auto& entry : board) {
    const auto key = entry.first.as<std::string>();
    const YAML::Node value = entry.second;
    if (key == "through" || key == "rests-on") {
      out.force_insert(entry.first, mixed_list(value, 1, rng));
    } else if (key == "fix") {
      out.force_insert(entry.first, mixed_list(value, 0, rng));
    } else if (value.IsMap()) {
      out.force_insert(entry.first, mixed_map(value, rng));
    } else {
      out.force_insert(entry.first, value);
    }
  }
  return mixed_map(out, rng);
}

/// `change` on everything below a key of the frame file: boards or runs.
template <class Change>
YAML::Node each(const YAML::Node& map, const Change& change) {
  YAML::Node out(YAML::NodeType::Map);
  for (const auto& entry : map) out.force_insert(entry.first, change(entry.second));
  return out;
}

class Renamer {
 public:
  Renamer(const YAML::Node& frame, std::mt19937& rng) {
    std::vector<std::string> old;
    for (const char* key : {"surfaces", "boards"}) {
      if (!frame[key]) continue;
      for (const auto& entry : frame[key]) old.push_back(entry.first.as<std::string>());
    }
    for (const auto& run : frame["runs"]) {
      for (const YAML::Node& part : run.second["parts"]) old.push_back(part.begin()->first.as<std::string>());
    }
    const std::vector<std::size_t> fresh = another_order(old.size(), 0, rng);
    for (std::size_t i = 0; i < old.size(); ++i) {
      names_[old[i]] = std::string(1, "QXJ"[fresh[i] % 3]) + std::to_string(fresh[i] + 11);
    }
  }

  /// "T1.right" and "T1" alike; what is no name stays.
  [[nodiscard]] std::string of(const std::string& text) const {
    const std::size_t dot = text.find('.');
    const auto found = names_.find(text.substr(0, dot));
    if (found == names_.end()) return text;
    return dot == std::string::npos ? found->second : found->second + text.substr(dot);
  }

  [[nodiscard]] YAML::Node values(const YAML::Node& list) const {
    YAML::Node out(YAML::NodeType::Sequence);
    for (const YAML::Node& entry : list) out.push_back(of(entry.as<std::string>()));
    return out;
  }

  [[nodiscard]] YAML::Node keys(const YAML::Node& map) const {
    YAML::Node out(YAML::NodeType::Map);
    for (const auto& entry : map) out.force_insert(of(entry.first.as<std::string>()), entry.second);
    return out;
  }

  [[nodiscard]] YAML::Node run(const YAML::Node& run) const {
    YAML::Node out = YAML::Clone(run);
    for (const char* end : {"from", "to"}) {
      if (run[end]) out[end] = of(run[end].as<std::string>());
    }
    YAML::Node parts(YAML::NodeType::Sequence);
    for (const YAML::Node& part : run["parts"]) {
      YAML::Node named(YAML::NodeType::Map);
      bool first = true;
      for (const auto& entry : part) {
        const auto key = entry.first.as<std::string>();
        named.force_insert(first ? of(key) : key, entry.second);
        first = false;
      }
      parts.push_back(named);
    }
    out["parts"] = parts;
    return out;
  }

  [[nodiscard]] YAML::Node board(const YAML::Node& board) const {
    YAML::Node out = YAML::Clone(board);
    for (const char* key : {"through", "rests-on", "fix"}) {
      if (board[key]) out[key] = values(board[key]);
    }
    for (const char* key : {"notch", "strap", "hole"}) {
      if (board[key] && board[key].IsMap()) out[key] = keys(board[key]);
    }
    return out;
  }

 private:
  std::map<std::string, std::string> names_;
};

}  // namespace

std::string in_other_lines(const std::string& frame_file, std::mt19937& rng) {
  const YAML::Node frame = YAML::Load(frame_file);
  YAML::Node out(YAML::NodeType::Map);
  for (const auto& entry : frame) {
    const auto key = entry.first.as<std::string>();
    YAML::Node value = entry.second.IsMap() ? mixed_map(entry.second, rng) : YAML::Clone(entry.second);
    if (key == "boards") {
      out.force_insert(key, each(value, [&](const YAML::Node& board) { return mixed_board(board, rng); }));
    } else if (key == "runs") {
      out.force_insert(key, each(value, [&](const YAML::Node& run) { return mixed_map(run, rng); }));
    } else {
      out.force_insert(key, value);
    }
  }
  return YAML::Dump(mixed_map(out, rng)) + "\n";
}

std::string under_other_names(const std::string& frame_file, std::mt19937& rng) {
  const YAML::Node frame = YAML::Load(frame_file);
  const Renamer rename(frame, rng);
  YAML::Node out(YAML::NodeType::Map);
  for (const auto& entry : frame) {
    const auto key = entry.first.as<std::string>();
    const YAML::Node value = entry.second;
    YAML::Node named(YAML::NodeType::Map);
    if (key == "runs") {
      std::size_t number = 0;
      for (const auto& run : value) {
        named.force_insert("way " + std::to_string(rng() % 1000) + "-" + std::to_string(++number),
                           rename.run(run.second));
      }
    } else if (key == "boards") {
      for (const auto& board : value) {
        named.force_insert(rename.of(board.first.as<std::string>()), rename.board(board.second));
      }
    } else if (key == "surfaces") {
      named = rename.keys(value);
    } else if (key == "clips") {
      for (const auto& clip : value) {
        named.force_insert(rename.of(clip.first.as<std::string>()), rename.of(clip.second.as<std::string>()));
      }
    } else {
      named = YAML::Clone(value);
    }
    out.force_insert(key, named);
  }
  return YAML::Dump(out) + "\n";
}

}  // namespace dryfit::test
