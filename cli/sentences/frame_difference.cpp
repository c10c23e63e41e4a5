#include "cli/sentences/frame_difference.hpp"

#include <cmath>
#include <set>
#include <tuple>

#include "cli/words/say.hpp"
#include "cli/words/trade_words.hpp"
#include "cli/words/words.hpp"
#include "model/geometry/at.hpp"

namespace dryfit::cli {
namespace {

using model::Frame;
using model::Part;

/// Places and lengths closer than this are the same, mm.
constexpr double kSame = 0.05;

/// Labels of parts of `a` that `b` has not got, in order, each once.
std::vector<std::string> missing(const Frame& a, const Frame& b) {
  std::vector<std::string> labels;
  for (const Part& part : a.parts) {
    if (b.find(part.id) != model::kNone) continue;
    if (labels.empty() || labels.back() != part.label) labels.push_back(part.label);
  }
  return labels;
}

std::string box_text(const model::Board& board, const Lengths& lengths) {
  const model::Vec3 size = board.hi - board.lo;
  return say("{0} by {1} by {2}", lengths(size.x), lengths(size.y), lengths(size.z));
}

std::vector<std::tuple<std::string, double, bool>> holes_of(const Frame& frame, const model::Board& board) {
  std::vector<std::tuple<std::string, double, bool>> holes;
  for (const model::Hole& hole : board.holes) {
    holes.emplace_back(frame.part(hole.pipe).id, hole.diameter, hole.notch);
  }
  return holes;
}

/// What is different about a part that both have; "" when it is the same but for its place.
std::string changed(const Frame& before, const Part& was, const Frame& now, const Part& is, const Lengths& lengths) {
  if (is.kind != was.kind) {
    return say("{0} is a different part: {1}, was {2}", is.label, kind_word(model::word_for(is.kind)),
               kind_word(model::word_for(was.kind)));
  }
  if (is.size != was.size) {
    const auto& sizes = model::nominal_sizes();
    return say("{0} has size {1}, was {2}", is.label, sizes[at(is.size)], sizes[at(was.size)]);
  }
  if (is.kind == model::PartKind::board) {
    const model::Board& a = before.boards[at(was.board)];
    const model::Board& b = now.boards[at(is.board)];
    if (norm((b.hi - b.lo) - (a.hi - a.lo)) > kSame) {
      return say("{0} is {1}, was {2}", is.label, box_text(b, lengths), box_text(a, lengths));
    }
    if (holes_of(before, a) != holes_of(now, b)) return say("the holes of {} have changed", is.label);
    return "";
  }
  if (std::abs(is.length - was.length) > kSame) {
    return say("{0} is {1}, was {2}", is.label, lengths(is.length), lengths(was.length));
  }
  if (is.ports.size() != was.ports.size()) return say("{} has other openings", is.label);
  for (std::size_t i = 0; i < is.ports.size(); ++i) {
    if (is.ports[i].facing != was.ports[i].facing) return say("{} is turned", is.label);
  }
  return "";
}

}  // namespace

std::vector<std::string> differences(const Frame& before, const Frame& now, const Lengths& lengths) {
  std::vector<std::string> told;
  constexpr std::size_t kMost = 6;
  if (const auto gone = missing(before, now); !gone.empty()) {
    told.push_back(
        say_n(static_cast<long long>(gone.size()), "{1} is gone", "{1} are gone", listed_briefly(gone, kMost)));
  }
  if (const auto fresh = missing(now, before); !fresh.empty()) {
    told.push_back(
        say_n(static_cast<long long>(fresh.size()), "{1} is new", "{1} are new", listed_briefly(fresh, kMost)));
  }
  std::set<std::string> moved, said;
  for (const Part& is : now.parts) {
    const model::PartId id = before.find(is.id);
    if (id == model::kNone) continue;
    const Part& was = before.parts[at(id)];
    const std::string text = changed(before, was, now, is, lengths);
    if (!text.empty() && said.insert(is.label).second) told.push_back(text);
    if (text.empty() && norm(is.centre - was.centre) > kSame) moved.insert(is.label);
  }
  std::erase_if(moved, [&](const std::string& label) { return said.contains(label); });
  if (!moved.empty()) {
    told.push_back(say_n(static_cast<long long>(moved.size()), "{} part has moved", "{} parts have moved"));
  }
  if (told.empty() && before.joints.size() != now.joints.size()) told.push_back(say("other parts are joined"));
  if (told.empty() && before.fastenings.size() != now.fastenings.size())
    told.push_back(say("other parts are fastened"));
  return told;
}

}  // namespace dryfit::cli
