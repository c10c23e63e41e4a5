/// How a program of one's own uses the library: read a frame, see whether it closes, find the best order, have it
/// judged.
#include <fstream>
#include <iostream>
#include <iterator>
#include <string>

#include "model/frame/input_error.hpp"
#include "model/placing/reader.hpp"
#include "planner/best/best_order.hpp"
#include "planner/fit/fit.hpp"
#include "planner/judge/replay.hpp"
#include "planner/order/order.hpp"
#include "planner/state/contacts.hpp"
#include "planner/state/overlap.hpp"

namespace model = dryfit::model;
namespace planner = dryfit::planner;

int main(int argc, char** argv) {
  if (argc != 2) {
    std::cerr << "usage: shop FRAME\n";
    return 2;
  }
  std::ifstream file(argv[1], std::ios::binary);
  const std::string text((std::istreambuf_iterator<char>(file)), std::istreambuf_iterator<char>());
  try {
    const model::Frame frame = model::read_frame(text, argv[1]);
    const planner::ContactList list = planner::contacts_of(frame);
    const planner::Fit fit = planner::find_fit(frame);
    std::cout << frame.name << ": closes " << planner::word_for(fit.state) << '\n';
    if (!planner::overlaps_of(frame, list).empty() || !planner::find_order(frame, list).buildable) {
      std::cout << "cannot be built\n";
      return 1;
    }
    const planner::BestOrder best = planner::find_best_order(frame, list, {});
    std::vector<planner::GivenStep> given;
    for (const planner::Step& step : best.order.steps) {
      std::cout << step.number << ' ' << planner::word_for(step.action);
      for (const planner::ContactId contact : step.contacts) {
        std::cout << ' ' << list.contact(contact).id;
      }
      std::cout << '\n';
      given.push_back({step.action, step.contacts, step.moving});
    }
    return planner::replay(frame, list, given).legal ? 0 : 1;
  } catch (const model::InputError& error) {
    std::cerr << error.what() << '\n';
    return 2;
  }
}
