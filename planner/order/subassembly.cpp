#include "planner/order/subassembly.hpp"

#include <algorithm>
#include <utility>

#include "model/geometry/at.hpp"
#include "planner/base/disjoint_sets.hpp"

namespace dryfit::planner {
namespace {

/// Which parts hang together after the steps so far. The room joins nothing here: two frames screwed to one floor are
/// two pieces of work.
class MadeApart {
 public:
  explicit MadeApart(std::size_t parts) : sets_(parts), members_(parts), begun_(parts, 0) {
    for (std::size_t p = 0; p < parts; ++p) members_[p].push_back(static_cast<PartId>(p));
  }
  /// The part that stands for the piece.
  [[nodiscard]] PartId find(PartId p) const { return sets_.find(p); }
  [[nodiscard]] const std::vector<PartId>& members(PartId piece) const { return members_[at(piece)]; }
  /// Number of the first step in the piece, 0: none yet.
  [[nodiscard]] int begun(PartId piece) const { return begun_[at(piece)]; }
  void begin(PartId piece, int step) {
    if (begun_[at(piece)] == 0) begun_[at(piece)] = step;
  }
  void join(PartId a, PartId b) {
    const auto joined = sets_.join(a, b);
    if (!joined) return;
    const std::size_t kept = at(joined->kept), gone = at(joined->gone);
    members_[kept].insert(members_[kept].end(), members_[gone].begin(), members_[gone].end());
    members_[gone].clear();
    if (begun_[kept] == 0 || (begun_[gone] != 0 && begun_[gone] < begun_[kept])) begun_[kept] = begun_[gone];
  }

 private:
  DisjointSets sets_;
  std::vector<std::vector<PartId>> members_;
  std::vector<int> begun_;
};

using Link = std::pair<PartId, PartId>;

/// The pairs of parts that a step joins.
std::vector<Link> links_of(const ContactList& list, const Step& step) {
  std::vector<Link> links;
  for (const ContactId k : step.contacts) {
    const Contact& c = list.contacts[at(k)];
    if (c.a != model::kRoom && c.b != model::kRoom) links.emplace_back(c.a, c.b);
  }
  return links;
}

/// The pieces of two parts or more that meet in the links, in the order in which they are named there.
std::vector<PartId> made_up_pieces(const MadeApart& pieces, const std::vector<Link>& links) {
  std::vector<PartId> meeting;
  for (const auto& [a, b] : links) {
    for (const PartId p : {a, b}) {
      const PartId piece = pieces.find(p);
      const bool known = std::find(meeting.begin(), meeting.end(), piece) != meeting.end();
      if (!known && pieces.members(piece).size() > 1) meeting.push_back(piece);
    }
  }
  return meeting;
}

/// Of the pieces that meet in a step all but the one that stays: it is held, and the heaviest of those. Screws and nuts
/// move nothing: there the lightest is brought.
std::vector<PartId> brought_by(const model::Frame& frame, const Step& step, std::vector<PartId> meeting,
                               const MadeApart& pieces) {
  if (meeting.size() < 2) return {};
  const auto mass = [&](PartId piece) {
    double sum = 0.0;
    for (const PartId p : pieces.members(piece)) sum += frame.parts[at(p)].mass;
    return sum;
  };
  const auto moves = [&](PartId piece) {
    if (step.action == Action::fasten) return false;
    return std::any_of(step.moving.begin(), step.moving.end(), [&](PartId p) { return pieces.find(p) == piece; });
  };
  meeting.erase(std::max_element(meeting.begin(), meeting.end(), [&](PartId a, PartId b) {
    if (moves(a) != moves(b)) return moves(a);
    return mass(a) < mass(b) - 1e-9;
  }));
  return meeting;
}

/// Index of the piece joined first among those that hold the step's parts and are joined after it; -1: the main work.
int innermost(const ContactList& list, const std::vector<Subassembly>& pieces, const Step& step) {
  const PartId part = list.contacts[at(step.contacts.front())].a;
  const auto holds = [&](const Subassembly& piece) {
    return piece.joined_in > step.number && piece.first_step <= step.number &&
           std::binary_search(piece.parts.begin(), piece.parts.end(), part);
  };
  const auto found = std::find_if(pieces.begin(), pieces.end(), holds);
  return found == pieces.end() ? -1 : static_cast<int>(found - pieces.begin());
}

}  // namespace

namespace {

/// Grouping::works, once all steps are made.
std::vector<std::vector<PartId>> works_of(const MadeApart& pieces, std::size_t parts) {
  std::vector<PartId> found;
  for (PartId p = 0; p < static_cast<PartId>(parts); ++p) {
    if (pieces.find(p) == p && pieces.members(p).size() > 1) found.push_back(p);
  }
  if (found.size() < 2) return {};
  std::sort(found.begin(), found.end(), [&](PartId a, PartId b) { return pieces.begun(a) < pieces.begun(b); });
  std::vector<std::vector<PartId>> works;
  for (const PartId p : found) {
    works.push_back(pieces.members(p));
    std::sort(works.back().begin(), works.back().end());
  }
  return works;
}

}  // namespace

std::string piece_name(int number) {
  std::string name;
  for (int n = number; n >= 0; n = n / 26 - 1) name.insert(name.begin(), static_cast<char>('A' + n % 26));
  return name;
}

Grouping subassemblies_of(const model::Frame& frame, const ContactList& list, const std::vector<Step>& steps) {
  Grouping result;
  MadeApart pieces(frame.parts.size());
  for (const Step& step : steps) {
    const std::vector<Link> links = links_of(list, step);
    for (const PartId brought : brought_by(frame, step, made_up_pieces(pieces, links), pieces)) {
      Subassembly& piece = result.pieces.emplace_back();
      piece.name = piece_name(static_cast<int>(result.pieces.size()) - 1);
      piece.parts = pieces.members(brought);
      std::sort(piece.parts.begin(), piece.parts.end());
      piece.first_step = pieces.begun(brought);
      piece.joined_in = step.number;
    }
    for (const auto& [a, b] : links) pieces.join(a, b);
    for (const auto& [a, b] : links) pieces.begin(pieces.find(a), step.number);
  }
  result.works = works_of(pieces, frame.parts.size());
  for (const Step& step : steps) result.of_step.push_back(innermost(list, result.pieces, step));
  return result;
}

}  // namespace dryfit::planner
