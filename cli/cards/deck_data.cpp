#include "cli/cards/deck_data.hpp"

#include <nlohmann/json.hpp>

#include "cli/cards/card_view.hpp"
#include "cli/draw/body/frame_numbers.hpp"
#include "cli/json/json_answer.hpp"
#include "cli/words/words.hpp"

namespace dryfit::cli {
namespace {

using Data = nlohmann::ordered_json;

Data chores_data(const std::vector<Chore>& chores) {
  Data list = Data::array();
  for (const Chore& chore : chores) list.push_back({{"text", chore.text}, {"cautions", chore.cautions}});
  return list;
}

Data picture_data(const std::string& svg, const PictureReport& report) {
  return {{"svg", svg},
          {"seen", describe(report.view)},
          {"turned", report.turned},
          {"view", {{"azimuth_deg", report.view.azimuth_deg}, {"elevation_deg", report.view.elevation_deg}}},
          {"hidden", report.hidden},
          {"no_room", report.left_out}};
}

/// On a phone's screen and four to a sheet of paper its lettering is read.
Data card_picture_data(const model::Frame& frame, const Card& card) {
  PictureOptions picture = card.picture;
  picture.width_mm = 120.0;
  picture.height_mm = 96.0;
  picture.text_mm = 3.4;
  PictureReport report;
  const std::string svg = picture_bytes(PictureFormat::svg, frame, picture, &report);
  return picture_data(svg, report);
}

Data whole_picture_data(const model::Frame& frame) {
  PictureOptions options;
  options.width_mm = 120.0;
  options.text_mm = 3.6;
  PictureReport report;
  std::string svg = picture_bytes(PictureFormat::svg, frame, options, &report);
  if (!report.left_out.empty()) {
    options.width_mm = 180.0;
    options.text_mm = 0.0;
    svg = picture_bytes(PictureFormat::svg, frame, options, &report);
  }
  return picture_data(svg, report);
}

Data card_data(const model::Frame& frame, const std::vector<Fixture>& fixtures, const Card& card) {
  Data data = {{"number", card.number}, {"strip", card.strip},      {"pose", card.pose},   {"seen", card.seen},
               {"first", card.first},   {"text", card.text},        {"traps", card.traps}, {"facts", card.facts},
               {"notes", card.notes},   {"stop", card.stop},        {"missing", card.missing},
               {"cautions", card.cautions}};
  data.update(card_view(frame, fixtures, card));
  return data;
}

}  // namespace

nlohmann::ordered_json deck_data(const LoadedFrame& loaded, const Deck& deck, const std::vector<planner::Step>& steps,
                                 bool pictures) {
  const model::Frame& frame = loaded.frame;
  const std::vector<Fixture> fixtures = fixtures_of(frame);
  Data data = {{"dryfit", 1},
               {"frame", deck.name},
               {"summary", deck.summary},
               {"safety", deck.safety},
               {"lay_out", deck.lay_out},
               {"tools", deck.tools},
               {"labels", deck.tapes},
               {"before", chores_data(deck.before)},
               {"after", chores_data(deck.after)},
               {"closing", deck.closing}};
  if (pictures) data["picture"] = whole_picture_data(frame);
  data["cards"] = Data::array();
  for (const Card& card : deck.cards) {
    Data one = card_data(frame, fixtures, card);
    const planner::Step& step = steps[at(card.number) - 1];
    one["contacts"] = contact_ids(loaded.contacts, step.contacts);
    one["moving"] = part_ids(frame, step.moving);
    one["holding"] = part_ids(frame, step.holding);
    if (pictures) one["picture"] = card_picture_data(frame, card);
    data["cards"].push_back(std::move(one));
  }
  data["numbers"] = frame_numbers(frame, loaded.contacts);
  return data;
}

}  // namespace dryfit::cli
