#include "model/text/part_words.hpp"

#include <cassert>

namespace dryfit::model {

Message kind_said(PartKind kind) {
  switch (kind) {
    case PartKind::pipe: return message("pipe");
    case PartKind::coupling: return message("coupling");
    case PartKind::elbow: return message("elbow");
    case PartKind::elbow45: return message("elbow45");
    case PartKind::street_elbow: return message("street-elbow");
    case PartKind::tee: return message("tee");
    case PartKind::cross: return message("cross");
    case PartKind::side_elbow: return message("side-elbow");
    case PartKind::side_tee: return message("side-tee");
    case PartKind::cap: return message("cap");
    case PartKind::plug: return message("plug");
    case PartKind::bushing: return message("bushing");
    case PartKind::flange: return message("flange");
    case PartKind::union_half: return message("union");
    case PartKind::board: return message("board");
    case PartKind::foot: return message("foot");
    case PartKind::caster: return message("caster");
  }
  assert(false);
  return {};
}

}  // namespace dryfit::model
