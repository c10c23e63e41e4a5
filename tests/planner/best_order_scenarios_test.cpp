/// The search on the frames that come with the program. Work is counted, not timed.
#include <doctest/doctest.h>

#include <algorithm>
#include <filesystem>
#include <fstream>
#include <sstream>

#include "model/reader.hpp"
#include "planner/best_order.hpp"
#include "planner/overlap.hpp"
#include "planner/replay.hpp"

namespace dryfit::planner {
namespace {

std::vector<std::string> scenario_files() {
  std::vector<std::string> files;
  for (const auto& entry : std::filesystem::directory_iterator(DRYFIT_SOURCE_DIR "/scenarios")) {
    const std::string path = entry.path().string();
    if (path.ends_with(".yaml") && !path.ends_with(".expect.yaml")) files.push_back(path);
  }
  std::sort(files.begin(), files.end());
  return files;
}

TEST_CASE("every scenario of up to 60 contacts that can be built gets an order that is proven best") {
  int proven = 0;
  for (const std::string& file : scenario_files()) {
    CAPTURE(file);
    std::stringstream text;
    text << std::ifstream(file).rdbuf();
    const model::Frame frame = model::read_frame(text.str(), file);
    const ContactList list = contacts_of(frame);
    if (list.contacts.size() > 60 || !overlaps_of(frame, list).empty()) continue;
    const BestOrder best = find_best_order(frame, list);
    if (!best.order.buildable) continue;
    CHECK(best.effort.proven);
    CHECK(best.effort.value == doctest::Approx(best.effort.lower_bound));
    // Counted, so that the answer is the same on every machine; a few seconds on common ones for the ladder, whose feet
    // hardly hold it up, well under a second for all others.
    CHECK(best.effort.moves_tried < (list.contacts.size() == 60 ? 200'000 : 20'000));
    std::vector<GivenStep> given;
    for (const Step& step : best.order.steps) given.push_back({step.action, step.contacts, step.moving});
    const ReplayResult judged = replay(frame, list, given);
    CHECK_MESSAGE(judged.legal, judged.why);
    ++proven;
  }
  CHECK(proven >= 10);
}

}  // namespace
}  // namespace dryfit::planner
