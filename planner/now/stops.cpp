#include "planner/now/stops.hpp"

#include <algorithm>
#include <limits>
#include <utility>

#include "model/geometry/at.hpp"
#include "planner/now/even_choice.hpp"

namespace dryfit::planner {

const char* word_for(LeftAs as) {
  switch (as) {
    case LeftAs::screwed:
      return "screwed";
    case LeftAs::stands:
      return "stands";
    case LeftAs::lies:
      return "lies";
    case LeftAs::laid_down:
      return "laid_down";
    default:
      return "propped";
  }
}

bool Stop::safe() const {
  return std::none_of(pieces.begin(), pieces.end(), [](const LeftPiece& left) { return left.as == LeftAs::propped; });
}

int Stop::lying_about() const {
  std::size_t count = pieces.size();
  for (const LeftPiece& left : pieces) count += left.piece.slack.size();
  return static_cast<int>(count);
}

Stops::Stops(Undoer& undoer, const std::vector<Step>& steps, std::vector<Pose> poses, int people)
    : undoer_(undoer),
      steps_(steps),
      poses_(std::move(poses)),
      effort_(undoer, people),
      handling_(undoer, effort_, PosePreference::free),
      links_(undoer.frame(), undoer.list()),
      work_(1, 0.0) {
  poses_.resize(steps.size(), Pose::standing);
  for (const Step& step : steps) {
    double work = work_.back();
    for (const ContactId c : step.contacts) work += effort_.making(c);
    work_.push_back(work);
  }
}

LeftAs Stops::left_as(const LoosePiece& piece, Pose pose) const {
  if (piece.fastened) return LeftAs::screwed;
  const PieceInHand in_hand{piece.parts, false, false};
  if (!handling_.propped(in_hand, pose)) {
    const bool put_down = pose == Pose::laid || piece.lift.mass <= effort_rates().in_one_hand;
    return put_down ? LeftAs::lies : LeftAs::stands;
  }
  return piece.slack.empty() && handling_.turn(in_hand) < kNever ? LeftAs::laid_down : LeftAs::propped;
}

Stop Stops::after(int count) {
  const ContactList& list = undoer_.list();
  std::vector<char> made(list.contacts.size(), 0);
  std::vector<std::size_t> latest(at(list.room()), 0);  // per part: the last step that took hold of it
  for (std::size_t k = 0; k < at(count); ++k) {
    for (const ContactId c : steps_[k].contacts) {
      made[at(c)] = 1;
      for (const PartId p : {list.contact(c).a, list.contact(c).b}) {
        if (p != model::kRoom) latest[at(p)] = k;
      }
    }
  }
  Stop stop;
  stop.after_step = count;
  stop.work_before = work_[at(count)];
  for (LoosePiece& piece : loose_pieces(undoer_, effort_, links_, State(list, made))) {
    if (piece.parts.size() < 2) continue;
    std::size_t last = 0;
    for (const PartId p : piece.parts) last = std::max(last, latest[at(p)]);
    const LeftAs as = left_as(piece, poses_[last]);
    stop.pieces.push_back({std::move(piece), as});
  }
  return stop;
}

const std::vector<Stop>& Stops::places() {
  if (places_) return *places_;
  places_.emplace();
  const std::size_t every = steps_.size() / kMostPlaces + 1;
  for (std::size_t k = every; k < steps_.size(); k += every) {
    Stop stop = after(static_cast<int>(k));
    if (stop.safe()) places_->push_back(std::move(stop));
  }
  return *places_;
}

std::optional<std::vector<Stop>> Stops::best(int count) {
  std::vector<EvenPlace> open;
  for (const Stop& stop : places()) open.push_back({stop.work_before, stop.lying_about()});
  const auto chosen = even_choice(open, work_.back(), count);
  if (!chosen) return std::nullopt;
  std::vector<Stop> stops;
  double before = 0.0;
  for (const std::size_t i : *chosen) {
    stops.push_back(places()[i]);
    stops.back().work_before -= before;
    before = places()[i].work_before;
  }
  return stops;
}

}  // namespace dryfit::planner
