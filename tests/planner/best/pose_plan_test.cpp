/// The poses of given moves against every choice of poses.
#include "planner/best/pose_plan.hpp"

#include <doctest/doctest.h>

#include <cmath>
#include <limits>

#include "model/geometry/at.hpp"
#include "planner/peel/peel.hpp"
#include "tests/support/frames/random_frames.hpp"
#include "tests/support/naive/naive_handling.hpp"

namespace dryfit::planner {
namespace {

/// A move and the piece that it is made on, seen without the planner's code.
struct Made {
  const Move* move = nullptr;
  test::NaivePiece piece;
  bool stays = false;  ///< a board lies loose on it once the move has been made
  int next = -1;       ///< the move that is made next on the piece
};

std::vector<Made> made_moves(const model::Frame& frame, const ContactList& list, const std::vector<Move>& undo_moves) {
  std::vector<Made> all;
  Undoer undoer(frame, list);
  std::vector<char> made(list.contacts.size(), 1);
  for (const Move& move : undo_moves) {
    Made one;
    one.move = &move;
    const int part = list.contact(move.contacts.front()).a;
    one.piece = test::naive_piece(list, made, move);
    one.stays = test::naive_keeps_pose(frame, list, made, one.piece,
                                       [&](ContactId rest) { return undoer.try_undo(State(list, made), rest).legal; });
    for (std::size_t k = 0; k < all.size(); ++k) {
      if (all[k].piece.parts.count(part) != 0) one.next = static_cast<int>(k);
    }
    for (const ContactId c : move.contacts) made[at(c)] = 0;
    all.push_back(std::move(one));
  }
  return all;
}

double cost_of(const model::Frame& frame, const ContactList& list, const std::vector<Made>& moves,
               const std::vector<Pose>& poses) {
  double sum = 0.0;
  for (std::size_t i = 0; i < moves.size(); ++i) {
    const Made& one = moves[i];
    if (one.piece.fastened && poses[i] != Pose::standing) return std::numeric_limits<double>::infinity();
    sum += test::naive_trouble(frame, list, one.piece, *one.move, -one.move->travel, poses[i]);
    if (test::naive_propped(frame, one.piece, poses[i])) sum += effort_rates().prop;
    const Pose then = one.next >= 0 ? poses[at(one.next)] : frame.surfaces.empty() ? poses[i] : Pose::standing;
    if (then != poses[i]) sum += one.stays ? kNever : test::naive_turn(frame, one.piece);
  }
  return sum;
}

TEST_CASE("the poses chosen cost as little as the best of all choices, and what is said of them adds up") {
  int compared = 0, handled = 0;
  for (std::uint32_t seed = 7000; seed < 7200; ++seed) {
    const test::RandomFrame random = test::random_frame(seed, {4, 8});
    const ContactList list = contacts_of(random.frame);
    Undoer undoer(random.frame, list);
    State state(list);
    const Peeling peeling = peel(undoer, state);
    if (!peeling.remaining.empty()) continue;
    const Effort effort(undoer, 2);
    const Handling handling(undoer, effort, PosePreference::free);
    const PosePlan plan = plan_poses(handling, list, peeling.moves);
    const std::vector<Made> moves = made_moves(random.frame, list, peeling.moves);
    CAPTURE(random.text);
    CHECK(cost_of(random.frame, list, moves, plan.of_move) == doctest::Approx(plan.handling));
    double least = std::numeric_limits<double>::infinity();
    std::vector<Pose> poses(moves.size());
    for (int choice = 0, all = static_cast<int>(std::lround(std::pow(3.0, static_cast<double>(moves.size()))));
         choice < all; ++choice) {
      for (std::size_t i = 0, rest = at(choice); i < poses.size(); ++i, rest /= 3) {
        poses[i] = kAllPoses[rest % 3];
      }
      least = std::min(least, cost_of(random.frame, list, moves, poses));
    }
    CHECK(plan.handling == doctest::Approx(least));
    double turns = 0.0;
    for (const PoseChange& change : plan.changes) turns += handling.turn(change.piece);
    double rest = 0.0;
    for (std::size_t i = 0; i < moves.size(); ++i) {
      rest += plan.awkward[i] + (plan.propped[i] != 0 ? handling.prop() : 0.0);
    }
    CHECK(turns + rest == doctest::Approx(plan.handling));
    ++compared;
    if (least > 0.0) ++handled;
  }
  CHECK(compared > 80);
  CHECK(handled > 10);
}

}  // namespace
}  // namespace dryfit::planner
