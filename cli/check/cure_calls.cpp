#include "cli/check/cure_calls.hpp"

#include <nlohmann/json.hpp>
#include <string>

#include "model/text/typed_length.hpp"
#include "planner/cure/cure_named.hpp"

namespace dryfit::cli {

Json call_for(const model::Frame& frame, const planner::DesignCure& cure) {
  Json call = Json::array();
  for (const planner::CureChange& change : cure.changes) {
    const bool put_in = change.kind == planner::CureKind::unite || change.kind == planner::CureKind::couple;
    call.push_back(put_in ? "--insert" : "--cure");
    call.push_back(put_in ? change.part + "@" + model::typed_length(change.first, frame.units) + "=" +
                                planner::word_for(change.kind)
                          : planner::name_of_change(frame, change));
  }
  return call;
}

Json call_for(const model::Frame& frame, const planner::Cure& cure) {
  Json call = Json::array();
  for (const planner::PipeChange& change : cure.changes) {
    const std::string& pipe = frame.part(change.pipe).label;
    std::string pieces;
    for (const double piece : change.pieces) {
      pieces += (pieces.empty() ? "" : "+") + model::typed_length(piece, frame.units);
    }
    const bool one = change.pieces.size() == 1;
    call.push_back(one ? "--set" : "--insert");
    call.push_back(one ? pipe + ".length=" + pieces : pipe + "@" + pieces + "=coupling");
  }
  return call;
}

Json call_for(const model::Frame& frame, const planner::ClosureCure& cure) {
  using Kind = planner::ClosureCure::Kind;
  if (cure.kind == Kind::let_go) return Json::array({"--cure", "let-go " + cure.name});
  const std::string key = cure.kind == Kind::surface ? "at"
                          : cure.kind == Kind::size  ? "size." + cure.side
                                                     : "reach." + cure.side;
  return Json::array({"--set", cure.name + "." + key + "=" + model::typed_length(cure.now, frame.units)});
}

}  // namespace dryfit::cli
