#include "cli/words/search_end.hpp"

#include <fmt/format.h>

#include "cli/words/say.hpp"

namespace dryfit::cli {

const char* word_for(SearchEnd end) {
  switch (end) {
    case SearchEnd::proof: return "proof";
    case SearchEnd::moves: return "moves";
    case SearchEnd::seconds: return "seconds";
    case SearchEnd::interrupted: return "interrupted";
    case SearchEnd::size: return "size";
  }
  return "";
}

std::string end_sentence(SearchEnd end, double seconds) {
  switch (end) {
    case SearchEnd::moves: return say("There may be an easier order: --seconds N searches on.");
    case SearchEnd::seconds:
      return say("The search stopped at its limit of --seconds {}.", fmt::format("{:g}", seconds));
    case SearchEnd::interrupted: return say("Interrupted: this is the best order found until then.");
    default: return "";
  }
}

const char* word_for(Ended ended) {
  switch (ended) {
    case Ended::proof: return "proof";
    case Ended::budget: return "budget";
    case Ended::interrupted: return "interrupted";
  }
  return "";
}

std::string end_sentence(Ended ended, long long budget, const char* units) {
  switch (ended) {
    case Ended::budget: return say("A search stopped at its limit of --budget {0} {1}.", budget, translated({}, units));
    case Ended::interrupted: return say("Interrupted: this is what was found until then.");
    default: return "";
  }
}

}  // namespace dryfit::cli
