#include "cli/cards/bench_solids.hpp"

#include <nlohmann/json.hpp>

#include "cli/cards/card_view.hpp"
#include "cli/draw/body/frame_numbers.hpp"

namespace dryfit::cli {

std::string bench_solids(const model::Frame& frame, const Deck& deck) {
  using Json = nlohmann::ordered_json;
  const std::vector<Fixture> fixtures = fixtures_of(frame);
  Json all = Json::array();
  for (std::size_t i = 0; i < frame.parts.size() + fixtures.size(); ++i) all.push_back(i);
  Json steps = {{"start", {{"shown", std::move(all)}, {"new", Json::array()}}}};
  for (const Card& card : deck.cards) {
    steps["step-" + std::to_string(card.number)] = card_view(frame, fixtures, card);
  }
  std::string data =
      Json({{"numbers", frame_numbers(frame, planner::ContactList())}, {"steps", std::move(steps)}}).dump();
  // A label may hold anything: it must not end the element that the data stand in.
  for (std::size_t at = data.find('<'); at != std::string::npos; at = data.find('<', at))
    data.replace(at, 1, "\\u003c");
  return data;
}

}  // namespace dryfit::cli
