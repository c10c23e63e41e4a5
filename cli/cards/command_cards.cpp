#include "cli/cards/command_cards.hpp"

#include <fmt/ostream.h>

#include <algorithm>
#include <cctype>
#include <memory>
#include <nlohmann/json.hpp>
#include <ostream>

#include "cli/call/declare.hpp"
#include "cli/cards/bench_page.hpp"
#include "cli/cards/card_pages.hpp"
#include "cli/cards/deck_data.hpp"
#include "cli/check/evidence.hpp"
#include "cli/check/measured_spacings.hpp"
#include "cli/draw/paint/paper_pages.hpp"
#include "cli/io/exit_code.hpp"
#include "cli/io/usage_error.hpp"
#include "cli/io/working.hpp"
#include "cli/json/json_answer.hpp"
#include "cli/order/planned_order.hpp"
#include "cli/words/lengths.hpp"
#include "cli/words/say.hpp"
#include "cli/words/search_end.hpp"
#include "cli/words/words.hpp"

namespace dryfit::cli {
namespace {

/// All wording of this file.
namespace cards_say {
constexpr const char* kEnding = marked(
    "'{}': a name for cards ends in .pdf (to print), .svg (a picture of each page), .html (for the bench) or .json (for a "
    "program)");
constexpr const char* kPerPage = marked("--per-page is 2 or 4");
constexpr const char* kLocked =
    marked("{}: LOCKED. There is no order in which it can be put together, so there are no cards.");
constexpr const char* kOverlap = marked("{}: DOES NOT FIT, so there are no cards.");
constexpr const char* kStopped = marked("{}: interrupted, so there are no cards.");
constexpr const char* kPaperDone = marked("{0}: {1} on {2} in {3}");
constexpr const char* kPageDone = marked("{0}: {1} in {2}");
}  // namespace cards_say

struct CardsCall {
  std::string frame;
  std::string file;
  std::string paper;  ///< empty: letter for inches, A4 otherwise
  int per_page = 4;
  int people = 2;
  bool json = false;
  bool laid = false;
  bool standing = false;
  bool words_only = false;
  std::vector<std::string> measured;
};

bool ends_in(const std::string& path, const std::string& ending) {
  if (path.size() <= ending.size()) return false;
  return std::equal(ending.begin(), ending.end(), path.end() - static_cast<std::ptrdiff_t>(ending.size()),
                    [](char a, char b) { return a == std::tolower(static_cast<unsigned char>(b)); });
}

int refuse(const LoadedFrame& loaded, const Finding& finding, const CardsCall& options, std::ostream& out) {
  if (options.json) {
    Json document = envelope("cards", loaded.frame, word_for(finding.verdict));
    add_evidence(document, finding, loaded.frame, loaded.contacts);
    print(out, document);
    return finding.code;
  }
  out << (finding.verdict == Verdict::locked ? say(cards_say::kLocked, loaded.frame.name)
                                             : say(cards_say::kOverlap, loaded.frame.name))
      << '\n';
  out << evidence_text(finding, loaded.frame, loaded.contacts);
  return finding.code;
}

/// Cards of half an order, or half of the cards, serve nobody: after Ctrl-C there are none.
int stop(const LoadedFrame& loaded, const CardsCall& options, std::ostream& out) {
  if (options.json) {
    Json document = envelope("cards", loaded.frame, "undecided");
    document["ended_by"] = word_for(Ended::interrupted);
    print(out, document);
  } else {
    out << say(cards_say::kStopped, loaded.frame.name) << '\n';
  }
  return kUndecided;
}

OrderOptions order_for(const CardsCall& options, const Streams& streams) {
  OrderOptions wanted;
  wanted.people = options.people;
  wanted.working = streams.working;
  if (options.laid) wanted.pose = planner::PosePreference::laid;
  if (options.standing) wanted.pose = planner::PosePreference::standing;
  return wanted;
}

int make_cards(const CardsCall& options, const Streams& streams) {
  const bool page = ends_in(options.file, ".html") || ends_in(options.file, ".htm");
  const bool data = ends_in(options.file, ".json");
  const bool svg = ends_in(options.file, ".svg");
  if (!page && !data && !svg && !ends_in(options.file, ".pdf")) throw UsageError(say(cards_say::kEnding, options.file));
  if (options.per_page != 2 && options.per_page != 4) throw UsageError(say(cards_say::kPerPage));
  const LoadedFrame loaded = load_frame(options.frame, streams);
  streams.working->only_the_whole();
  const PlannedOrder planned = planned_order(loaded, order_for(options, streams));
  if (planned.finding.verdict != Verdict::buildable) return refuse(loaded, planned.finding, options, streams.out);

  if (streams.working->interrupted()) return stop(loaded, options, streams.out);
  const std::vector<planner::Step> steps = planned.plan.best.order.steps;
  auto sheets = planner::drill_sheets(loaded.frame, planned.finding.fit);
  take_measured(loaded.frame, options.measured, sheets);
  Deck deck = deck_of(loaded, planned.finding, planned.plan, Lengths(loaded.frame.units), sheets, streams.working);
  if (!data) add_swaps(loaded, steps, streams.working, deck);  // a program is not told of them
  const bool letter = options.paper.empty() ? loaded.frame.units == model::Units::in : options.paper == "letter";
  int pages = 0;
  std::vector<std::string> documents;
  try {
    const LongWork work(streams.working, marked("drawing"), marked("cards"));
    if (page) {
      documents = {bench_page(loaded.frame, deck, streams.working)};
    } else if (data) {
      documents = {
          deck_data(loaded, deck, steps, !options.words_only).dump(1, ' ', false, Json::error_handler_t::replace) +
          "\n"};
    } else {
      CardPages made = card_pages(
          loaded.frame, deck,
          {letter ? PaperSize::letter : PaperSize::a4, options.per_page, svg ? PictureFormat::svg : PictureFormat::pdf},
          streams.working);
      documents = std::move(made.documents);
      pages = made.pages;
    }
  } catch (const DrawError& error) {
    throw UsageError(error.what());
  }
  if (streams.working->interrupted()) return stop(loaded, options, streams.out);
  const std::vector<std::string> files = write_documents(options.file, documents);
  const auto cards = static_cast<long long>(deck.cards.size());
  if (options.json) {
    Json document = envelope("cards", loaded.frame, word_for(planned.finding.verdict));
    document["file"] = options.file;
    document["files"] = files;
    document["cards"] = cards;
    document["pages"] = page || data ? Json(nullptr) : Json(pages);
    print(streams.out, document);
  } else if (page || data) {
    streams.out << say(cards_say::kPageDone, loaded.frame.name, say_n(cards, "{} step", "{} steps"), options.file)
                << '\n';
  } else {
    streams.out << say(cards_say::kPaperDone, loaded.frame.name, say_n(cards, "{} card", "{} cards"),
                       say_n(pages, "{} page", "{} pages"), documents_text(files))
                << '\n';
  }
  return kYes;
}

}  // namespace

Job set_up_cards(OptionList& list) {
  const auto options = std::make_shared<CardsCall>();
  list.value("FRAME", options->frame, "the frame file; - for standard input").required();
  list.value("-o,--output", options->file,
             "the file to write: .pdf for paper, .svg for a picture of each page, .html for the bench, .json for a "
             "program")
      .required();
  list.value("--paper", options->paper, "paper size; as a rule letter for a frame in inches, A4 for others")
      .one_of({"a4", "letter"});
  list.value("--per-page", options->per_page, "cards on a page, 4 or 2").show_default();
  list.value("--people", options->people, "how many people build; with 1 nobody helps to lift")
      .range(1, 20)
      .show_default();
  list.value("--measured", options->measured, kMeasuredHelp);
  const Option& laid = list.flag("--laid", options->laid, "rather build it lying down");
  list.flag("--standing", options->standing, "rather build it standing up").excludes(laid);
  list.flag("--no-pictures", options->words_only,
            "with .json: the words alone; pictures are drawn with `dryfit show --step`");
  list.flag("--json", options->json, "one JSON document instead of text");
  add_units_option(list);
  return [options](const Streams& streams) { return make_cards(*options, streams); };
}

}  // namespace dryfit::cli
