/// Every command in the documentation is run, in the order of its page and in one folder, and what it prints is
/// compared with what the page shows. After a change that is meant, run the tests once with DRYFIT_RENEW_EXPECTED=1,
/// and read the difference.
#include <doctest/doctest.h>
#include <fmt/format.h>

#include <algorithm>
#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <map>
#include <regex>
#include <sstream>

#include "cli/manual/format_page.hpp"
#include "cli/program/command_table.hpp"
#include "model/geometry/at.hpp"
#include "tests/support/program/program.hpp"

using dryfit::tests::Ran;
using dryfit::tests::run;
using dryfit::tests::ScratchFolder;
using dryfit::tests::slurp;

namespace {

constexpr const char* kDocs = DRYFIT_SOURCE_DIR "/cli/docs/";

/// The words of a call as a shell splits them; double quotes hold words together.
std::vector<std::string> words_of(const std::string& line) {
  std::vector<std::string> words;
  std::string word;
  bool quoted = false, any = false;
  for (const char c : line + " ") {
    if (c == '"') {
      quoted = !quoted;
      any = true;
    } else if (c == ' ' && !quoted) {
      if (any || !word.empty()) words.push_back(word);
      word.clear();
      any = false;
    } else {
      word += c;
    }
  }
  return words;
}

/// A picture of the documentation is what its command draws now.
void check_picture(const std::string& name, const std::string& now) {
  const std::string path = std::string(kDocs) + "pictures/" + name;
  if (std::getenv("DRYFIT_RENEW_EXPECTED") != nullptr) std::ofstream(path, std::ios::binary) << now;
  const bool same = slurp(path) == now;  // nobody reads the difference of two drawings as text
  CHECK_MESSAGE(same, path, " is drawn otherwise now: renew it and look at it");
}

/// Runs one line "dryfit ..." in the folder and returns all that it prints.
std::string printed_by(const std::string& line, const ScratchFolder& folder) {
  std::vector<std::string> words = words_of(line);
  REQUIRE(words.front() == "dryfit");
  words.erase(words.begin());
  for (std::string& word : words) {
    if (word.starts_with("scenarios/")) {
      word = DRYFIT_SOURCE_DIR "/" + word;
    } else if (word.find('.') != std::string::npos && word.find('=') == std::string::npos && word.front() != '-') {
      word = folder.path(word);  // a file of the page's own
    }
  }
  const Ran ran = run(words);
  CHECK(ran.code <= 1);
  CHECK(ran.err == "");
  std::string out = ran.out;
  for (const std::string& word : words) {
    const std::filesystem::path file(word);
    if (file.extension() == ".svg") check_picture(file.filename().string(), slurp(word));
  }
  const std::string prefix = folder.path("");
  for (std::size_t at; (at = out.find(prefix)) != std::string::npos;) out.erase(at, prefix.size());
  return out;
}

bool renewing() { return std::getenv("DRYFIT_RENEW_EXPECTED") != nullptr; }

/// Pictures that the page's commands have drawn take the place of those it shows. They are not compared: letters are
/// outlines of whichever font the machine has.
void renew_pictures(const ScratchFolder& folder) {
  for (const auto& entry : std::filesystem::directory_iterator(std::string(kDocs) + "pictures")) {
    const std::string drawn = folder.path(entry.path().filename().string());
    if (std::filesystem::exists(drawn)) {
      std::filesystem::copy_file(drawn, entry.path(), std::filesystem::copy_options::overwrite_existing);
    }
  }
}

/// The page with what its commands print now.
std::string renewed(const std::string& page, int& commands) {
  const ScratchFolder folder;
  std::istringstream in(page);
  std::string out;
  bool console = false;
  for (std::string line; std::getline(in, line);) {
    if (!console || line == "```" || line.starts_with("$ ")) out += line + "\n";
    if (line == "```console") console = true;
    if (line == "```") console = false;
    if (!console || !line.starts_with("$ ")) continue;
    ++commands;
    CAPTURE(line);
    out += printed_by(line.substr(2), folder);
  }
  if (renewing()) renew_pictures(folder);
  return out;
}

void check_page(const std::string& path, const std::string& now) {
  CAPTURE(path);
  if (renewing()) std::ofstream(path, std::ios::binary) << now;
  CHECK(slurp(path) == now);
}

}  // namespace

TEST_CASE("every command in the documentation prints exactly as expected") {
  int commands = 0;
  for (const auto& entry : std::filesystem::directory_iterator(kDocs)) {
    const std::string path = entry.path().string();
    if (path.ends_with(".md")) check_page(path, renewed(slurp(path), commands));
  }
  CHECK(commands >= 10);
}

TEST_CASE("the reference of the frame file is exactly as expected from its schema") {
  check_page(std::string(kDocs) + "format.md", dryfit::cli::format_page());
}

TEST_CASE("every whole frame on the format's page is read, fits and can be built") {
  const std::string page = slurp(std::string(kDocs) + "format.md");
  const ScratchFolder folder;
  int frames = 0;
  constexpr std::string_view kFence = "```yaml\n";
  for (std::size_t at = 0; (at = page.find(kFence, at)) != std::string::npos; ++at) {
    const std::size_t begin = at + kFence.size();
    const std::string text = page.substr(begin, page.find("```", begin) - begin);
    CAPTURE(text);
    const Ran ran = run({"check", folder.file("frame.yaml", text)});
    CHECK(ran.code == 0);
    CHECK(ran.err == "");
    ++frames;
  }
  CHECK(frames == 4);  // on a wall, on feet, on casters, between floor and ceiling
}

namespace {

/// One row of the page's table of mistakes.
struct Mistake {
  std::string frame, instead_of, written, told;
};

/// Cells of a row, without the blanks and marks round them.
std::vector<std::string> cells_of(const std::string& row) {
  std::vector<std::string> cells;
  std::istringstream in(row.substr(1));
  for (std::string cell; std::getline(in, cell, '|');) {
    const std::size_t first = cell.find_first_not_of(' '), last = cell.find_last_not_of(' ');
    cell = cell.substr(first, last - first + 1);
    if (cell.size() > 1 && cell.front() == '`' && cell.back() == '`') cell = cell.substr(1, cell.size() - 2);
    cells.push_back(cell);
  }
  return cells;
}

std::vector<Mistake> mistakes_on(const std::string& page) {
  std::istringstream in(page.substr(page.find("## Mistakes that beginners make")));
  std::vector<Mistake> all;
  int line_number = 0;
  for (std::string line; std::getline(in, line) && (!line.starts_with("## ") || line_number == 0); ++line_number) {
    if (!line.starts_with("| ") || line.starts_with("| frame") || line.starts_with("| ---")) continue;
    const std::vector<std::string> cells = cells_of(line);
    REQUIRE(cells.size() == 4);
    all.push_back({cells[0], cells[1], cells[2], cells[3]});
  }
  return all;
}

/// On one line, however the terminal's lines are broken.
std::string unbroken(const std::string& text) {
  std::string out;
  for (const char c : text) {
    const bool blank = c == '\n' || c == ' ';
    if (!blank || out.empty() || out.back() != ' ') out += blank ? ' ' : c;
  }
  return out;
}

}  // namespace

TEST_CASE("every mistake on the format's page is told as the page says") {
  const ScratchFolder folder;
  std::map<std::string, std::string> frames;  // by the frame's name
  for (const auto& entry : std::filesystem::directory_iterator(std::string(kDocs) + "frames")) {
    const std::string text = slurp(entry.path().string());
    const std::size_t name = text.find("\nname: ") + 7;
    frames[text.substr(name, text.find('\n', name) - name)] = text;
  }
  const std::vector<Mistake> all = mistakes_on(slurp(std::string(kDocs) + "format.md"));
  for (const Mistake& mistake : all) {
    CAPTURE(mistake.written);
    REQUIRE(frames.contains(mistake.frame));
    std::string text = frames[mistake.frame];
    const std::size_t where = text.find(mistake.instead_of);
    REQUIRE(where != std::string::npos);
    text.replace(where, mistake.instead_of.size(), mistake.written);
    const Ran ran = run({"check", folder.file("frame.yaml", text)});
    CHECK(ran.code != 0);
    const std::string told = unbroken(ran.out + ran.err);
    CHECK_MESSAGE(told.find(mistake.told) != std::string::npos, told);
  }
  CHECK(all.size() >= 15);  // a floor set by hand
}

TEST_CASE("every picture and page that the documentation points to is there") {
  int links = 0;
  for (const auto& entry : std::filesystem::directory_iterator(kDocs)) {
    if (entry.path().extension() != ".md") continue;
    const std::string text = slurp(entry.path().string());
    for (std::size_t at = 0; (at = text.find("](", at)) != std::string::npos; ++at) {
      const std::string target = text.substr(at + 2, text.find(')', at) - at - 2);
      CAPTURE(target);
      CHECK(std::filesystem::exists(kDocs + target));
      ++links;
    }
  }
  CHECK(links >= 5);  // a floor set by hand
}

TEST_CASE("the picture of every rule is drawn exactly as expected, and the page shows it") {
  const ScratchFolder folder;
  const std::string page = slurp(std::string(kDocs) + "rules.md");
  std::size_t rules = 0;
  for (std::size_t at = 0; (at = page.find("\n## ", at)) != std::string::npos; ++at) {
    const std::string name = page.substr(at + 4, page.find('\n', at + 4) - at - 4);
    CAPTURE(name);
    const std::string file = folder.path(name + ".svg");
    const Ran ran = run({"explain", name, "-o", file});
    CHECK(ran.code == 0);
    CHECK(ran.out == fmt::format("{}: a picture of the rule '{}'\n", file, name));
    check_picture("rules/" + name + ".svg", slurp(file));
    CHECK(page.find(fmt::format("![{0}](pictures/rules/{0}.svg)", name), at) == at + name.size() + 6);
    ++rules;
  }
  // Every frame of the folder is a rule's.
  const std::filesystem::directory_iterator frames(std::string(kDocs) + "rules"), none;
  CHECK(rules == dryfit::at(std::distance(frames, none)));
}

TEST_CASE("explain draws one rule, into a picture") {
  const auto refused = [](const std::vector<std::string>& args, const std::string& message) {
    const Ran ran = run(args);
    CHECK(ran.code == 2);
    CHECK(ran.out == "");
    CHECK(ran.err == message);
  };
  const ScratchFolder folder;
  refused({"explain", "-o", folder.path("a.svg")}, "dryfit: -o draws one rule: say which\n");
  refused({"explain", "knot", "-o", folder.path("a.gif")},
          "dryfit: '" + folder.path("a.gif") + "': a picture's name ends in .svg, .pdf or .png\n");
  CHECK(folder.entries().empty());
  CHECK(run({"explain", "knot", "-o", folder.path("a.pdf")}).code == 0);
  CHECK(slurp(folder.path("a.pdf")).starts_with("%PDF"));
}

TEST_CASE("the README names every command") {
  const std::string readme = slurp(DRYFIT_SOURCE_DIR "/README.md");
  for (const auto& command : dryfit::cli::command_table()) {
    CAPTURE(command.name);
    if (!command.hidden) CHECK(readme.find(std::string("| `dryfit ") + command.name) != std::string::npos);
  }
}

TEST_CASE("what the README shows of an answer is what the program says") {
  std::istringstream readme(slurp(DRYFIT_SOURCE_DIR "/README.md"));
  const ScratchFolder folder;
  std::string line, command;
  int samples = 0;
  while (std::getline(readme, line)) {
    if (const std::size_t call = line.find("`dryfit "); call != std::string::npos && !line.starts_with("|")) {
      command = line.substr(call + 1, line.find('`', call + 1) - call - 1);
    }
    if (line == "```yaml") {  // a frame, no answer
      while (std::getline(readme, line) && line != "```") command.clear();
      continue;
    }
    if (line != "```" || command.empty()) continue;
    CAPTURE(command);
    const std::string out = printed_by(command, folder);
    command.clear();
    std::size_t here = 0;  // lines are left out at "  ...", none is out of its turn
    while (std::getline(readme, line) && line != "```") {
      CAPTURE(line);
      if (line.empty() || line == "  ...") continue;
      const std::size_t found = out.find(line + "\n", here);
      CHECK(found != std::string::npos);
      if (found != std::string::npos) here = found;
    }
    ++samples;
  }
  CHECK(samples == 3);
}

TEST_CASE("the rules in German are those of the English page, with the same numbers") {
  const auto sections_of = [](const std::string& page) {
    std::vector<std::pair<std::string, std::vector<std::string>>> sections;
    static const std::regex kNumber("[0-9]+([.,/][0-9]+)?");
    for (std::size_t at = 0; (at = page.find("\n## ", at)) != std::string::npos;) {
      const std::size_t line = page.find('\n', at + 1);
      auto& [name, numbers] = sections.emplace_back();
      name = page.substr(at + 4, line - at - 4);
      at = std::min(page.find("\n## ", line), page.size());
      const std::string text = page.substr(line, at - line);
      for (std::sregex_iterator it(text.begin(), text.end(), kNumber), end; it != end; ++it) {
        std::string number = it->str();
        std::replace(number.begin(), number.end(), ',', '.');
        numbers.push_back(number);
      }
    }
    return sections;
  };
  const auto english = sections_of(slurp(std::string(kDocs) + "rules.md"));
  const auto german = sections_of(slurp(std::string(kDocs) + "rules.de.md"));
  REQUIRE(german.size() == english.size());
  const std::string page = slurp(std::string(kDocs) + "rules.de.md");
  for (std::size_t i = 0; i < german.size(); ++i) {
    const std::string& name = english[i].first;
    CAPTURE(name);
    CHECK(german[i].first == name);
    auto ours = english[i].second, theirs = german[i].second;
    std::sort(ours.begin(), ours.end());  // a sentence may have them in another order
    std::sort(theirs.begin(), theirs.end());
    CHECK(theirs == ours);
    const Ran ran = run({"explain", name, "--language", "de"});
    CHECK(ran.code == 0);
    REQUIRE(ran.out.starts_with(name + ":\n\n"));
    CHECK(page.find(ran.out.substr(name.size() + 3)) != std::string::npos);
    CHECK(page.find(fmt::format("![{0}](pictures/rules/{0}.svg)", name)) != std::string::npos);
  }
}

TEST_CASE("explain tells every rule of the page, and the nearest one for a misspelt name") {
  const std::string page = slurp(std::string(kDocs) + "rules.md");
  int rules = 0;
  for (std::size_t at = 0; (at = page.find("\n## ", at)) != std::string::npos; ++at) {
    const std::string name = page.substr(at + 4, page.find('\n', at + 4) - at - 4);
    CAPTURE(name);
    const Ran ran = run({"explain", name});
    CHECK(ran.code == 0);
    REQUIRE(ran.out.starts_with(name + ":\n\n"));
    CHECK(page.find(ran.out.substr(name.size() + 3)) != std::string::npos);
    CHECK(run({"explain"}).out.find(name) != std::string::npos);
    CHECK(ran.out.find("![") == std::string::npos);
    ++rules;
  }
  CHECK(rules >= 10);
  const Ran wrong = run({"explain", "swng"});
  CHECK(wrong.code == 2);
  CHECK(wrong.out == "");
  CHECK(wrong.err.find("did you mean 'swing'?") != std::string::npos);
}
