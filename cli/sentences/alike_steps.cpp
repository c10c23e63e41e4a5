#include "cli/sentences/alike_steps.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cctype>
#include <map>
#include <set>

#include "cli/words/say.hpp"
#include "cli/words/words.hpp"

namespace dryfit::cli {
namespace {

/// Longer runs, and longer lists of parts, are harder to follow than the steps themselves.
constexpr std::size_t kLongest = 6;
constexpr std::size_t kMostInstead = 6;
/// Fewer steps than that are read sooner as they are.
constexpr std::size_t kLeastSaved = 4;

/// A text with its labels taken out.
struct Pattern {
  std::string text;
  std::vector<std::string> labels;
};

bool in_word(char c) {
  const auto u = static_cast<unsigned char>(c);
  return std::isalnum(u) != 0 || c == '-' || c == '_' || u >= 0x80;
}

Pattern pattern_of(const std::string& said, const std::set<std::string>& labels) {
  Pattern pattern;
  for (std::size_t i = 0; i < said.size();) {
    std::size_t end = i;
    while (end < said.size() && in_word(said[end])) ++end;
    if (end == i) {
      pattern.text += said[i++];
      continue;
    }
    std::string word = said.substr(i, end - i);
    if (labels.count(word) > 0) {
      pattern.text += '\0';
      pattern.labels.push_back(std::move(word));
    } else {
      pattern.text += word;
    }
    i = end;
  }
  return pattern;
}

class Alike {
 public:
  Alike(const model::Frame& frame, const std::vector<ToldStep>& steps) : steps_(steps) {
    std::set<std::string> labels;
    for (const model::Part& part : frame.parts) labels.insert(part.label);
    for (const ToldStep& step : steps) patterns_.push_back(pattern_of(step.said, labels));
  }

  std::vector<AlikeSteps> runs() const {
    std::vector<AlikeSteps> found;
    for (std::size_t i = 0; i < steps_.size();) {
      std::vector<AlikeSteps> best;
      for (std::size_t count = 2; count <= kLongest; ++count) {
        std::vector<AlikeSteps> here = repeats(i, count);
        if (here.size() * count > covered(best)) best = std::move(here);
      }
      if (covered(best) < kLeastSaved) {
        ++i;
        continue;
      }
      i = best.back().first + best.back().count;
      found.insert(found.end(), best.begin(), best.end());
    }
    return found;
  }

 private:
  static std::size_t covered(const std::vector<AlikeSteps>& runs) {
    return runs.empty() ? 0 : runs.size() * runs.front().count;
  }

  /// All runs of `count` steps that follow those from `like` on, one after the other, and read like them.
  [[nodiscard]] std::vector<AlikeSteps> repeats(std::size_t like, std::size_t count) const {
    std::vector<AlikeSteps> all;
    for (std::size_t k = 1; k < count && like + k < steps_.size(); ++k) {
      if (!steps_[like + k].before.empty()) return all;
    }
    // Five nuts in a row are no pair of nuts done again.
    if (std::all_of(patterns_.begin() + static_cast<std::ptrdiff_t>(like),
                    patterns_.begin() + static_cast<std::ptrdiff_t>(std::min(like + count, steps_.size())),
                    [&](const Pattern& one) { return one.text == patterns_[like].text; })) {
      return all;
    }
    for (std::size_t from = like + count; from + count <= steps_.size(); from += count) {
      AlikeSteps run{.first = from, .count = count, .like = like, .instead = {}};
      if (!exchange(run)) break;
      all.push_back(std::move(run));
    }
    return all;
  }

  /// Which label stands for which; false where the steps differ by more.
  bool exchange(AlikeSteps& run) const {
    std::map<std::string, std::string> now, there;
    for (std::size_t k = 0; k < run.count; ++k) {
      const Pattern &told = patterns_[run.like + k], &here = patterns_[run.first + k];
      if (!steps_[run.first + k].before.empty() || told.text != here.text) return false;
      for (std::size_t l = 0; l < told.labels.size(); ++l) {
        const auto [to, fresh] = now.emplace(told.labels[l], here.labels[l]);
        const auto [from, unused] = there.emplace(here.labels[l], told.labels[l]);
        if (to->second != here.labels[l] || from->second != told.labels[l]) return false;
        if (fresh && to->first != to->second) run.instead.emplace_back(to->second, to->first);
      }
    }
    return !run.instead.empty() && run.instead.size() <= kMostInstead;
  }

  const std::vector<ToldStep>& steps_;
  std::vector<Pattern> patterns_;
};

}  // namespace

std::vector<AlikeSteps> alike_steps(const model::Frame& frame, const std::vector<ToldStep>& steps) {
  return Alike(frame, steps).runs();
}

std::string alike_line(const AlikeSteps& run, int number, std::size_t digits) {
  std::vector<std::string> parts;
  for (const auto& [here, there] : run.instead) parts.push_back(say("{0} for {1}", here, there));
  const int from = static_cast<int>(run.like) + number;
  const int to = from + static_cast<int>(run.count) - 1;
  const std::string text = run.count == 2 ? say("Do steps {0} and {1} again, with {2}.", from, to, listed(parts))
                                          : say("Do steps {0} to {1} again, with {2}.", from, to, listed(parts));
  const int first = static_cast<int>(run.first) + number;
  const std::string head = fmt::format("  {:>{}}-{}. ", first, digits, first + static_cast<int>(run.count) - 1);
  const std::size_t indent = digits + 4;
  constexpr std::size_t kWidth = 96;
  return head + wrapped(text, indent, kWidth - (head.size() - indent));
}

}  // namespace dryfit::cli
