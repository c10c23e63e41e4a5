#include "cli/cards/bench_page.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cstdint>
#include <string_view>

#include "cli/cards/bench_solids.hpp"
#include "cli/cards/bench_view.hpp"
#include "cli/words/html_text.hpp"
#include "cli/words/page_files.hpp"
#include "cli/words/say.hpp"
#include "cli/words/words.hpp"

namespace dryfit::cli {
namespace {

/// All wording of this file.
namespace page_says {
constexpr const char* kTitle = marked("{}: build steps");
constexpr const char* kSkip = marked("Skip to the steps");
constexpr const char* kContents = marked("All steps");
constexpr const char* kWhole = marked("The frame whole");
constexpr const char* kHidden = marked("Hidden in this view: {}.");
constexpr const char* kSafety = marked("Safety");
constexpr const char* kLayOut = marked("Lay out");
constexpr const char* kTools = marked("Tools");
constexpr const char* kBefore = marked("Before the first step");
constexpr const char* kAfter = marked("After the last step");
constexpr const char* kNotes = marked("Notes");
constexpr const char* kSwaps = marked("If you change your mind");
constexpr const char* kSwapPart = marked("Piece");
constexpr const char* kSwapDone = marked("{} done");
constexpr const char* kSwapAbout = marked("at least {0}, at most {1}");
constexpr const char* kStart = marked("Start");
constexpr const char* kEnd = marked("End");
constexpr const char* kStep = marked("Step {0} of {1}");
constexpr const char* kDone = marked("Done");
constexpr const char* kWatch = marked("Watch:");
constexpr const char* kSeen = marked("Now seen {}");
constexpr const char* kPicture = marked("Picture of step {0}: {1}");
constexpr const char* kWholePicture = marked("Picture of {} whole, with the labels of its parts");
constexpr const char* kBack = marked("Back");
constexpr const char* kNext = marked("Next");
constexpr const char* kDoneNext = marked("Done, next");
constexpr const char* kForget = marked("Clear all ticks");
constexpr const char* kKeys = marked("Keys: right and left arrow to turn the page, D for done.");
constexpr const char* kTurnIt = marked("Turn the view");
constexpr const char* kPlay = marked("Play forward");
constexpr const char* kPlayBack = marked("Play backward");
constexpr const char* kStop = marked("Stop");
constexpr const char* kTurned =
    marked("{}, to be turned with a finger, the mouse or the arrow keys; plus and minus enlarge it");
constexpr const char* kLarger = marked("Enlarge");
constexpr const char* kSmaller = marked("Make smaller");
constexpr const char* kClearAsk = marked("Take away all ticks of this frame?");
constexpr const char* kUntick = marked("Take the last tick back");
constexpr const char* kKeepsNothing =
    marked("This browser keeps nothing from one visit to the next: ticks are gone when the page is closed.");
constexpr const char* kBar = marked("Turn the pages");
}  // namespace page_says

/// Text of the page. Browsers end lines after the hyphen of "4-1/2": what is left would read as a whole measure.
std::string on_page(const std::string& text) {
  const std::string safe = escaped(text);
  const auto digit = [&](std::size_t i) { return i < safe.size() && safe[i] >= '0' && safe[i] <= '9'; };
  std::string out;
  for (std::size_t i = 0; i < safe.size();) {
    std::size_t end = i;
    bool hyphen = false;
    if (digit(i) && (i == 0 || safe[i - 1] != '#')) {
      while (digit(end) || ((safe[end] == '-' || safe[end] == '/') && digit(end + 1))) {
        hyphen = hyphen || safe[end] == '-';
        ++end;
      }
    }
    if (hyphen) {
      out += "<span class=\"n\">" + safe.substr(i, end - i) + "</span>";
    } else {
      end = std::max(end, i + 1);
      out += safe.substr(i, end - i);
    }
    i = end;
  }
  return out;
}

/// A picture as a part of the page: it takes the width it is given, and is named for those who do not see it.
std::string inline_svg(const std::string& markup, const std::string& box, const std::string& name) {
  return fmt::format("<svg class=\"drawn\" fill=\"none\" role=\"img\" aria-label=\"{}\" viewBox=\"{}\">{}</svg>",
                     escaped(name), box, markup);
}

/// FNV-1a: names what is remembered by the words of the steps, so that another order starts unticked.
std::string key_of(const Deck& deck) {
  std::uint64_t hash = 1469598103934665603ULL;
  const auto add = [&](std::string_view text) {
    for (const char c : text) {
      hash ^= static_cast<unsigned char>(c);
      hash *= 1099511628211ULL;
    }
  };
  add(deck.name);
  for (const Card& card : deck.cards) add(card.text);
  return fmt::format("dryfit-{:016x}", hash);
}

std::string tick(const std::string& key, const std::string& text) {
  return fmt::format("<label class=\"tick\"><input type=\"checkbox\" data-key=\"{}\"> <span>{}</span></label>", key,
                     on_page(text));
}

std::string watch(const std::string& caution) {
  return fmt::format("<p class=\"watch\"><strong>{}</strong> {}</p>\n", say(page_says::kWatch), on_page(caution));
}

std::string listing(const std::string& title, const std::vector<std::string>& lines, const std::string& key) {
  if (lines.empty()) return "";
  std::string out = fmt::format("<h3>{}</h3>\n<ul class=\"{}\">\n", title, key.empty() ? "plain" : "ticks");
  for (std::size_t i = 0; i < lines.size(); ++i) {
    out +=
        fmt::format("<li>{}</li>\n", key.empty() ? on_page(lines[i]) : tick(fmt::format("{}{}", key, i + 1), lines[i]));
  }
  return out + "</ul>\n";
}

std::string chores(const std::string& title, const std::vector<Chore>& list, const std::string& key) {
  if (list.empty()) return "";
  std::string out = fmt::format("<h3>{}</h3>\n<ul class=\"ticks\">\n", title);
  for (std::size_t i = 0; i < list.size(); ++i) {
    out += fmt::format("<li>{}", tick(fmt::format("{}{}", key, i + 1), list[i].text));
    for (const std::string& caution : list[i].cautions) out += "\n" + watch(caution);
    out += "</li>\n";
  }
  return out + "</ul>\n";
}

/// Prices by step as a table. The darker, the dearer; wide tables scroll on their own.
std::string swaps_html(const Deck& deck) {
  if (deck.swaps.empty()) return "";
  std::string out = fmt::format("<h3 id=\"swaps-h\">{}</h3>\n", say(page_says::kSwaps));
  for (const std::string& line : deck.about_swaps) out += fmt::format("<p class=\"soft\">{}</p>\n", on_page(line));
  out += fmt::format(
      "<div class=\"wide\" tabindex=\"0\" role=\"region\" aria-labelledby=\"swaps-h\">\n<table "
      "class=\"swaps\"><thead><tr><th scope=\"col\">{}</th>",
      say(page_says::kSwapPart));
  const std::size_t columns = deck.swaps.front().at_most.size();
  for (std::size_t k = 0; k < columns; ++k) {
    out += fmt::format("<th scope=\"col\" aria-label=\"{}\">{}</th>", say(page_says::kSwapDone, k), k);
  }
  out += "</tr></thead><tbody>\n";
  for (const SwapRow& row : deck.swaps) {
    out += fmt::format("<tr><th scope=\"row\">{}</th>", escaped(row.label));
    for (std::size_t k = 0; k < columns; ++k) {
      const int price = row.at_most[k];
      if (price == 0) {
        out += "<td></td>";
        continue;
      }
      const bool sure = row.at_least[k] == price;
      out +=
          fmt::format("<td class=\"d{}{}\"{}>{}{}</td>", std::min(price, 7), jumps_at(row, k) ? " jump" : "",
                      sure ? "" : fmt::format(" aria-label=\"{}\"", say(page_says::kSwapAbout, row.at_least[k], price)),
                      price, sure ? "" : "&#183;");
    }
    out += "</tr>\n";
  }
  return out + "</tbody></table></div>\n";
}

/// Plays the steps one after another, backward or forward; for the script alone.
std::string play_button(int by, const char* sign, const std::string& name) {
  return fmt::format(
      "<button type=\"button\" class=\"play script\" data-by=\"{0}\" data-sign=\"{1}\" data-name=\"{2}\" data-stop=\"{3}\" "
      "aria-label=\"{2}\" aria-pressed=\"false\" hidden>{1}</button>",
      by, sign, name, say(page_says::kStop));
}

/// A picture with the button that lets it be turned, which shows only where that works, and at a step with those that
/// play the build.
std::string picture_html(const std::string& id, const std::string& svg, const std::string& caption, bool plays) {
  std::string tools =
      fmt::format("<button type=\"button\" class=\"turn\" data-step=\"{}\" aria-pressed=\"false\" hidden>{}</button>",
                  id, say(page_says::kTurnIt));
  if (plays) {
    tools += play_button(-1, "&#9664;", say(page_says::kPlayBack)) + play_button(1, "&#9654;", say(page_says::kPlay));
  }
  return fmt::format(
      "<div class=\"seen\"><figure class=\"look\">{}{}</figure>\n<div class=\"row tools\">{}</div></div>\n", svg,
      caption.empty() ? "" : fmt::format("<figcaption>{}</figcaption>", escaped(caption)), tools);
}

/// A page of the bench: one section. `sort`: of the leaf, besides "leaf".
std::string leaf(const std::string& id, const std::string& heading, const std::string& body,
                 const std::string& sort = "") {
  return fmt::format(
      "<section class=\"leaf{3}\" id=\"{0}\" aria-labelledby=\"{0}-h\">\n<h2 id=\"{0}-h\" tabindex=\"-1\">{1}"
      "</h2>\n{2}</section>\n",
      id, heading, body, sort.empty() ? "" : " " + sort);
}

/// More to read before anybody may act than a phone has room for at the usual size.
bool says_much(const Card& card) {
  constexpr std::size_t kMuch = 330;  // letters
  std::size_t letters = card.text.size();
  for (const auto* texts : {&card.traps, &card.first, &card.cautions}) {
    for (const std::string& text : *texts) letters += text.size();
  }
  return letters > kMuch;
}

std::string card_html(StampSheet& sheet, const model::Frame& frame, const Card& card, std::size_t of) {
  std::string body;
  // Before all that has to be read: on a phone that is above the bar, however much comes first.
  for (const std::string& trap : card.traps) body += fmt::format("<p class=\"trap\">{}</p>\n", on_page(trap));
  for (const std::string& line : card.first) body += fmt::format("<p class=\"first\">{}</p>\n", on_page(line));
  body += fmt::format("<p class=\"do\">{}</p>\n", on_page(card.text));
  // Before the picture: on a phone that is what is seen without scrolling.
  for (const std::string& caution : card.cautions) body += watch(caution);
  PictureOptions picture = card.picture;
  picture.width_mm = 120.0;
  picture.height_mm = 96.0;
  picture.text_mm = 3.4;
  const std::string name = say(page_says::kPicture, card.number, card.text);
  const std::string svg = inline_svg(stamped_picture(sheet, frame, picture), stamped_box(frame, picture), name);
  body += picture_html(fmt::format("step-{}", card.number), svg,
                       card.seen.empty() ? "" : say(page_says::kSeen, card.seen), true);
  body += "<ul class=\"facts\">";
  for (const std::string& fact : card.facts) body += fmt::format("<li>{}</li>", on_page(fact));
  body += "</ul>\n";
  for (const auto* lines : {&card.notes, &card.stop, &card.missing}) {
    for (const std::string& line : *lines) body += fmt::format("<p class=\"soft\">{}</p>\n", on_page(line));
  }
  body += tick(fmt::format("{}", card.number), say(page_says::kDone)) + "\n";
  std::string heading = say(page_says::kStep, card.number, of);
  if (!card.pose.empty()) heading += fmt::format(" <span class=\"pose\">{}</span>", escaped(card.pose));
  if (!card.strip.empty()) heading += fmt::format(" <span class=\"strip-name\">{}</span>", escaped(card.strip));
  return leaf(fmt::format("step-{}", card.number), heading, body, says_much(card) ? "much" : "");
}

struct WholePicture {
  std::string svg;
  std::string caption;
};

/// Lettering that is read on a phone, where all labels find room at that size.
WholePicture whole_picture(StampSheet& sheet, const model::Frame& frame, const Deck& deck, const std::string& name) {
  PictureOptions options;
  options.dimensions = deck.sizes;
  options.width_mm = 120.0;
  options.text_mm = 3.6;
  PictureReport report;
  StampSheet tried;
  std::string markup = stamped_picture(tried, frame, options, &report);
  if (!report.left_out.empty()) {
    options.width_mm = 180.0;
    options.text_mm = 0.0;
  }
  markup = stamped_picture(sheet, frame, options, &report);
  WholePicture out{inline_svg(markup, stamped_box(frame, options), name), say(page_says::kWhole)};
  if (!report.hidden.empty()) out.caption += ". " + say(page_says::kHidden, listed_briefly(report.hidden, 12));
  return out;
}

/// The list of all steps.
std::string links_to(const Deck& deck) {
  std::string links = fmt::format("<li><a href=\"#start\">{}</a></li>\n", say(page_says::kStart));
  for (const Card& card : deck.cards) {
    links += fmt::format("<li><a href=\"#step-{0}\">{0}. {1}</a></li>\n", card.number, escaped(card.text));
  }
  return links + fmt::format("<li><a href=\"#end\">{}</a></li>\n", say(page_says::kEnd));
}

/// The start, a leaf a card, and the end; empty when the foreman ends the work. `first`: what the start's picture is
/// made of, for the head of the page: it shows before the rest has come.
std::string leaves(StampSheet& sheet, const model::Frame& frame, const Deck& deck, planner::Foreman* foreman,
                   std::string& first) {
  const std::string whole_name = say(page_says::kWholePicture, deck.name);
  const WholePicture whole = whole_picture(sheet, frame, deck, whole_name);
  first = sheet.definitions();
  std::string start = picture_html("start", whole.svg, whole.caption, false);
  start += listing(say(page_says::kSafety), deck.safety, "");
  start += listing(say(page_says::kLayOut), deck.lay_out, "lay");
  start += listing(say(page_says::kTools), deck.tools, "tool");
  start += chores(say(page_says::kBefore), deck.before, "before");
  std::string page = leaf("start", say(page_says::kStart), start);
  for (std::size_t i = 0; i < deck.cards.size(); ++i) {
    if (!planner::may_go_on(foreman, static_cast<long long>(i), static_cast<long long>(deck.cards.size()))) return "";
    page += card_html(sheet, frame, deck.cards[i], deck.cards.size());
  }
  page +=
      leaf("end", say(page_says::kEnd),
           chores(say(page_says::kAfter), deck.after, "after") + listing(say(page_says::kNotes), deck.closing, "") +
               swaps_html(deck) +
               fmt::format(
                   "<p class=\"script\" hidden><button type=\"button\" id=\"forget\" data-ask=\"{}\">{}</button></p>\n",
                   escaped(say(page_says::kClearAsk)), say(page_says::kForget)));
  return page;
}

}  // namespace

/// In bench.css the contrast of text on its ground is at least 7 to 1 in both schemes, and targets for fingers are at
/// least 3 rem high.
std::string bench_page(const model::Frame& frame, const Deck& deck, planner::Foreman* foreman) {
  StampSheet sheet;
  std::string first;
  const std::string all_leaves = leaves(sheet, frame, deck, foreman, first);
  if (all_leaves.empty()) return "";
  const std::string name = escaped(deck.name);
  return filled_in(page_file("bench.html"),
                   {{"LANGUAGE", language_spoken()},
                    {"TITLE", say(page_says::kTitle, name)},
                    {"STYLE", std::string(page_file("steps.css")) + std::string(page_file("view.css")) +
                                  std::string(page_file("bench.css")) + sheet.style()},
                    {"FIRST", first},
                    {"STAMPS", sheet.definitions().substr(first.size())},
                    {"KEY", key_of(deck)},
                    {"SKIP", say(page_says::kSkip)},
                    {"NAME", name},
                    {"SUMMARY", on_page(deck.summary + ". " + deck.size)},
                    {"CONTENTS", say(page_says::kContents)},
                    {"LINKS", links_to(deck)},
                    {"LEAVES", all_leaves},
                    {"BAR", say(page_says::kBar)},
                    {"BACK", say(page_says::kBack)},
                    {"DONE", say(page_says::kDoneNext)},
                    {"NEXT", say(page_says::kNext)},
                    {"KEYS", say(page_says::kKeys)},
                    {"TURNED", escaped(say(page_says::kTurned, "{}"))},
                    {"LARGER", say(page_says::kLarger)},
                    {"SMALLER", say(page_says::kSmaller)},
                    {"SOLIDS", bench_solids(frame, deck)},
                    {"SCRIPT", std::string(page_file("bench_scripts.js"))},
                    {"LICENCE", bench_view_licence()},
                    {"LIBRARY", bench_view_library()},
                    {"KEEPS", say(page_says::kKeepsNothing)},
                    {"UNTICK", say(page_says::kUntick)}});
}

}  // namespace dryfit::cli
