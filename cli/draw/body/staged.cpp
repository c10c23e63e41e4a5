#include "cli/draw/body/staged.hpp"

namespace dryfit::cli {

model::Frame staged(const model::Frame& frame, const std::vector<model::PartId>& parts, model::Vec3 by) {
  model::Frame out = frame;
  for (const model::PartId id : parts) {
    if (id < 0) continue;
    model::Part& part = out.part(id);
    for (model::Solid& solid : part.solids) solid = model::moved(solid, by);
    for (model::Port& port : part.ports) port.at += by;
    part.centre += by;
    if (part.board == model::kNone) continue;
    model::Board& board = out.board(part.board);
    board.lo += by;
    board.hi += by;
    for (model::Hole& hole : board.holes) hole.centre += by;
  }
  return out;
}

}  // namespace dryfit::cli
