/// Cards, the bench page and pictures against the order they are made from.
#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <nlohmann/json.hpp>

#include "cli/cards/bench_view.hpp"
#include "tests/support/program/program.hpp"
#include "tests/support/program/shell.hpp"

using dryfit::tests::run;
using dryfit::tests::scenario;
using dryfit::tests::ScratchFolder;
using dryfit::tests::slurp;
using dryfit::tests::text_of_pdf;
using dryfit::tests::without_blanks;

namespace {

std::string as_html(const std::string& text) {
  std::string out;
  for (const char c : text)
    out += c == '&' ? "&amp;" : c == '<' ? "&lt;" : c == '>' ? "&gt;" : c == '"' ? "&quot;" : std::string(1, c);
  return out;
}

/// The page without the marks that keep a measure on one line, or that say that a leaf has much to read.
std::string page_in(const std::string& file) {
  std::string page = slurp(file);
  const std::string open = "<span class=\"n\">", close = "</span>";
  for (std::size_t at = page.find(open); at != std::string::npos; at = page.find(open, at)) {
    page.erase(page.find(close, at), close.size());
    page.erase(at, open.size());
  }
  const std::string much = "class=\"leaf much\"";
  for (std::size_t at = page.find(much); at != std::string::npos; at = page.find(much, at))
    page.replace(at, much.size(), "class=\"leaf\"");
  return page;
}

nlohmann::json order_of(const std::string& name) {
  const auto ran = run({"order", scenario(name), "--json"});
  REQUIRE(ran.code == 0);
  return nlohmann::json::parse(ran.out);
}

std::size_t times(const std::string& text, const std::string& what) {
  std::size_t n = 0;
  for (std::size_t at = text.find(what); at != std::string::npos; at = text.find(what, at + 1)) ++n;
  return n;
}

}  // namespace

TEST_CASE("the cards read, step by step, as the order does, with every caution on its card") {
  const ScratchFolder folder;
  for (const char* name : {"plant-rack", "boot-bench-metric", "pot-rail"}) {
    CAPTURE(name);
    const std::string file = folder.path(std::string(name) + ".pdf");
    const auto ran = run({"cards", scenario(name), "-o", file, "--json"});
    CHECK(ran.err == "");
    REQUIRE(ran.code == 0);
    const auto order = order_of(name);
    CHECK(nlohmann::json::parse(ran.out)["cards"] == order["steps"].size());
    const std::string text = without_blanks(text_of_pdf(file));
    std::size_t at = 0;
    for (const auto& step : order["steps"]) {
      CAPTURE(step.dump());
      const std::string head = std::to_string(step["number"].get<int>()) + "of" + std::to_string(order["steps"].size());
      at = text.find(head, at);
      REQUIRE(at != std::string::npos);
      at = text.find(without_blanks(step["text_in_pose"].get<std::string>()), at);
      REQUIRE(at != std::string::npos);
      for (const auto& caution : step["cautions"]) {
        at = text.find(without_blanks(caution.get<std::string>()), at);
        REQUIRE(at != std::string::npos);
      }
    }
    for (const char* part : {"before", "after"}) {
      for (const auto& chore : order[part]) {
        CHECK(text.find(without_blanks(chore["text"].get<std::string>())) != std::string::npos);
      }
    }
  }
}

TEST_CASE("what a card says of hands and turns is what the order says, in every scenario") {
  const ScratchFolder folder;
  int with_turns = 0;
  int with_two = 0;
  for (const char* name : {"plant-rack", "boot-bench-metric", "pot-rail", "cellar-rail-union", "trellis-arm",
                           "work-table", "potting-hoop-notched", "window-pole"}) {
    CAPTURE(name);
    const std::string file = folder.path(std::string(name) + ".html");
    REQUIRE(run({"cards", scenario(name), "-o", file}).code == 0);
    const std::string page = page_in(file);
    const auto order = nlohmann::json::parse(run({"order", scenario(name), "--json"}).out);
    for (const auto& step : order["steps"]) {
      CAPTURE(step.dump());
      const std::string number = std::to_string(step["number"].get<int>());
      const std::size_t at = page.find("<section class=\"leaf\" id=\"step-" + number + "\"");
      REQUIRE(at != std::string::npos);
      const std::string card = page.substr(at, page.find("</section>", at) - at);
      const int hands = step["hands"];
      with_two += hands > 1 ? 1 : 0;
      CHECK(card.find("<li>" + std::to_string(hands) + (hands == 1 ? " person" : " people") + "</li>") !=
            std::string::npos);
      if (step["action"] == "screw") {
        // Turns are told to the nearest quarter.
        const auto quarters = static_cast<int>(std::lround(4.0 * step["turns"].get<double>()));
        const char* parts[] = {"", "¼", "½", "¾"};
        const std::string turns = std::to_string(quarters / 4) + parts[quarters % 4] + " turn";
        CAPTURE(turns);
        CHECK(card.find("<li>" + turns) != std::string::npos);
        ++with_turns;
      }
    }
  }
  // Floors set by hand: what is compared must be there.
  CHECK(with_turns > 100);
  CHECK(with_two > 0);  // the top of the work table
}

TEST_CASE("work that is stood up after the last step is stood up among what is done then") {
  const ScratchFolder folder;
  const std::string file = folder.path("bench.html");
  REQUIRE(run({"cards", scenario("bakery-cart"), "-o", file}).code == 0);
  const std::string page = page_in(file);
  const auto order = order_of("bakery-cart");
  const auto& turning = order["turnings"].back();
  REQUIRE(turning["before_step"].get<std::size_t>() == order["steps"].size() + 1);
  const std::size_t after = page.find("After the last step");
  const std::size_t notes = page.find("<h3>Notes</h3>");
  const std::size_t said = page.find(as_html(turning["text"].get<std::string>()), after);
  REQUIRE(said != std::string::npos);
  CHECK(said < notes);
}

TEST_CASE("cards come four or two to a page, on A4 or US Letter, and are the same bytes each time") {
  const ScratchFolder folder;
  const auto pages = [&](std::vector<std::string> more) {
    std::vector<std::string> call = {"cards", scenario("pot-rail"), "-o", folder.path("c.pdf"), "--json"};
    call.insert(call.end(), more.begin(), more.end());
    const auto ran = run(call);
    REQUIRE(ran.code == 0);
    return nlohmann::json::parse(ran.out);
  };
  const auto four = pages({"--paper", "a4"});
  const int cards = four["cards"].get<int>();
  const std::string once = slurp(folder.path("c.pdf"));
  // ISO 216: A4 is 210 mm by 297 mm, 595.28 by 841.89 points.
  CHECK(times(once, "/Type /Page\n") + times(once, "/Type /Page ") == four["pages"].get<std::size_t>());
  CHECK(once.find("595.27") != std::string::npos);
  const auto two = pages({"--per-page", "2", "--paper", "letter"});
  CHECK(two["pages"].get<int>() - four["pages"].get<int>() == (cards + 1) / 2 - (cards + 3) / 4);
  const std::string letter = slurp(folder.path("c.pdf"));
  // ANSI/ASME Y14.1, size A: 8.5 in by 11 in, 612 by 792 points.
  CHECK(letter.find("612") != std::string::npos);
  CHECK(letter.find("595.27") == std::string::npos);
  (void)pages({"--paper", "a4"});
  CHECK(slurp(folder.path("c.pdf")) == once);
  // Unless it is said, frames in inches are printed on Letter and others on A4.
  (void)pages({});
  CHECK(slurp(folder.path("c.pdf")).find("612") != std::string::npos);
  REQUIRE(run({"cards", scenario("boot-bench-metric"), "-o", folder.path("m.pdf")}).code == 0);
  CHECK(slurp(folder.path("m.pdf")).find("595.27") != std::string::npos);
}

/// What to do, in directions of the assembly as it lies.
std::string as_hands_see(const nlohmann::json& step) {
  return step.value("text_in_pose", step["text"].get<std::string>());
}

TEST_CASE("the bench page has every step with a named picture, and nothing in it points outside") {
  const ScratchFolder folder;
  const std::string file = folder.path("bench.html");
  REQUIRE(run({"cards", scenario("plant-rack"), "-o", file}).code == 0);
  const std::string page = page_in(file);
  const auto order = order_of("plant-rack");
  std::size_t at = page.find("<main>");
  REQUIRE(at != std::string::npos);
  for (const auto& step : order["steps"]) {
    const std::string number = std::to_string(step["number"].get<int>());
    at = page.find("<section class=\"leaf\" id=\"step-" + number + "\"", at);
    REQUIRE(at != std::string::npos);
    const std::string body = page.substr(at, page.find("</section>", at) - at);
    CHECK(body.find("<p class=\"do\">" + as_html(as_hands_see(step)) + "</p>") != std::string::npos);
    CHECK(body.find("role=\"img\" aria-label=\"Picture of step " + number + ":") != std::string::npos);
    CHECK(body.find("type=\"checkbox\" data-key=\"" + number + "\"") != std::string::npos);
    for (const auto& caution : step["cautions"]) {
      CHECK(body.find(as_html(caution.get<std::string>())) != std::string::npos);
    }
  }
  // The library of the view can fetch, but the page's own policy forbids it, and nothing in the page asks for it.
  const std::string library = dryfit::cli::bench_view_library();
  REQUIRE(page.find(library) != std::string::npos);
  // It is packed: its licence stands beside it, to be read.
  CHECK(page.find("Permission is hereby granted, free of charge") != std::string::npos);
  CHECK(page.find("default-src 'none'") != std::string::npos);
  std::string own = page;
  own.erase(own.find(library), library.size());
  for (const char* way_out :
       {"http:", "https:", "src=\"", "@import", "<link", "<iframe", "href=\"//", "fetch(", "XMLHttp"}) {
    CAPTURE(way_out);
    CHECK(own.find(way_out) == std::string::npos);
  }
  // Every reference is to a name within the page, and that name is there once.
  const std::string marked_up = page.substr(0, page.find("<script>"));
  for (std::size_t i = marked_up.find("href=\"#"); i != std::string::npos; i = marked_up.find("href=\"#", i + 1)) {
    const std::string name = marked_up.substr(i + 7, marked_up.find('"', i + 7) - i - 7);
    CAPTURE(name);
    CHECK(times(marked_up, " id=\"" + name + "\"") == 1);
  }
}

TEST_CASE("the view to be turned has every body of the frame, and per step what is there and what is new") {
  const ScratchFolder folder;
  const std::string file = folder.path("bench.html");
  REQUIRE(run({"cards", scenario("pot-rail"), "-o", file}).code == 0);
  const std::string page = slurp(file);
  const std::size_t at = page.find('>', page.find("id=\"solids\"")) + 1;
  const auto solids = nlohmann::json::parse(page.substr(at, page.find("</script>", at) - at));
  const auto order = order_of("pot-rail");
  CHECK(solids["steps"].size() == order["steps"].size() + 1);
  // Bodies of parts, then of what fixes them; the steps count them through.
  auto things = solids["numbers"]["parts"];
  for (const auto& fixture : solids["numbers"]["fixtures"]) things.push_back(fixture);
  CHECK(solids["steps"]["start"]["shown"].size() == things.size());
  for (const auto& thing : things) {
    REQUIRE(!thing["bodies"].empty());
    // Two corners of a box, or two ends and a radius.
    for (const auto& body : thing["bodies"]) CHECK((body.size() == 6 || body.size() == 7));
  }
  std::size_t before = 0;
  for (const auto& step : order["steps"]) {
    const auto& shown = solids["steps"]["step-" + std::to_string(step["number"].get<int>())];
    const auto& there = shown["shown"];
    CHECK(shown["new"].size() >= 1);
    for (const auto& part : shown["new"]) CHECK(std::find(there.begin(), there.end(), part) != there.end());
    before = std::max(before, there.size());
  }
  CHECK(before == things.size());
  // Three flanges on the wall: a patch of it behind each, flat where the wall is, there once it is screwed on.
  int patches = 0;
  for (std::size_t i = 0; i < things.size(); ++i) {
    if (things[i]["kind"] != "patch") continue;
    ++patches;
    const auto& corners = things[i]["bodies"][0];
    CHECK(corners.size() == 6);
    CHECK(corners[1] == 0);  // y = 0 is the wall
    CHECK(corners[4] == 0);
    const auto& first = solids["steps"]["step-1"]["shown"];
    CHECK(std::find(first.begin(), first.end(), i) == first.end());
  }
  CHECK(patches == 3);
}

TEST_CASE("a page of 60 steps takes less than a megabyte") {
  const ScratchFolder folder;
  const std::string file = folder.path("bench.html");
  REQUIRE(run({"cards", scenario("towel-ladder"), "-o", file}).code == 0);
  REQUIRE(order_of("towel-ladder")["steps"].size() == 60);
  CHECK(slurp(file).size() < 1024 * 1024);
}

TEST_CASE("a frame's name cannot bring markup into the page") {
  const ScratchFolder folder;
  std::string text = slurp(scenario("trellis-arm"));
  const std::size_t name = text.find("name:");
  REQUIRE(name != std::string::npos);
  text.replace(name, text.find('\n', name) - name, "name: '<script>alert(1)</script> & more'");
  const std::string file = folder.path("bench.html");
  REQUIRE(run({"cards", folder.file("f.yaml", text), "-o", file}).code == 0);
  const std::string page = slurp(file);
  CHECK(page.find("<script>alert") == std::string::npos);
  CHECK(page.find("&lt;script&gt;alert(1)&lt;/script&gt; &amp; more") != std::string::npos);
}

TEST_CASE("a target that cannot be written, or of no known sort, is refused and nothing is left") {
  const ScratchFolder folder;
  for (const char* ending : {".pdf", ".html"}) {
    const std::string file = std::string("/nowhere/cards") + ending;
    const auto ran = run({"cards", scenario("trellis-arm"), "-o", file});
    CHECK(ran.code == 2);
    CHECK(ran.out == "");
    CHECK(ran.err == "dryfit: cannot write '" + file + "': No such file or directory\n");
  }
  CHECK(run({"cards", scenario("trellis-arm"), "-o", folder.path("c.txt")}).code == 2);
  CHECK(run({"cards", scenario("trellis-arm"), "-o", folder.path("c.pdf"), "--per-page", "3"}).code == 2);
  CHECK(folder.entries().empty());
}

TEST_CASE("a locked frame has no cards, and no file is written") {
  const ScratchFolder folder;
  const auto ran = run({"cards", scenario("cellar-rail-ring"), "-o", folder.path("c.pdf")});
  CHECK(ran.code == 1);
  CHECK(ran.out.find("LOCKED") != std::string::npos);
  CHECK(folder.entries().empty());
}

TEST_CASE("show --step draws the step that order prints under that number") {
  const ScratchFolder folder;
  const auto order = order_of("bakery-cart");
  for (const std::size_t number : {std::size_t{1}, order["steps"].size()}) {
    REQUIRE(run({"show", scenario("bakery-cart"), "-o", folder.path("s.pdf"), "--width", "400", "--step",
                 std::to_string(number)})
                .code == 0);
    const std::string text = without_blanks(text_of_pdf(folder.path("s.pdf")));
    CHECK(text.find(without_blanks(as_hands_see(order["steps"][number - 1]))) != std::string::npos);
  }
}
