/// Manual pages and completions. They are written from the command table; here they are held against the help text and
/// read by the tools that will read them.
#include <doctest/doctest.h>

#include <array>
#include <cstdio>
#include <regex>
#include <set>

#include "cli/manual/command_words.hpp"
#include "cli/program/command_table.hpp"
#include "tests/support/program/program.hpp"

using dryfit::tests::run;
using dryfit::tests::ScratchFolder;

namespace {

struct Said {
  int code = 0;
  std::string out;
};

/// What a shell command prints, both streams.
Said shell(const std::string& call) {
  std::FILE* pipe = ::popen((call + " 2>&1").c_str(), "r");
  REQUIRE(pipe != nullptr);
  Said said;
  std::array<char, 4096> bytes{};
  while (const std::size_t n = std::fread(bytes.data(), 1, bytes.size(), pipe)) said.out.append(bytes.data(), n);
  said.code = ::pclose(pipe);
  return said;
}

/// Every option in a text, "--json" and so on.
std::set<std::string> long_options(const std::string& text) {
  static const std::regex option("--[a-z][a-z-]*");
  std::set<std::string> found;
  for (std::sregex_iterator i(text.begin(), text.end(), option), end; i != end; ++i) found.insert(i->str());
  return found;
}

std::string unescaped(std::string page) {
  for (std::size_t at = 0; (at = page.find("\\-", at)) != std::string::npos; ++at) page.replace(at, 2, "-");
  return page;
}

struct Installed {
  ScratchFolder folder;
  Installed() { REQUIRE(run({"manual", "-o", folder.path("share")}).code == 0); }
  [[nodiscard]] std::string file(const std::string& name) const { return folder.path("share/" + name); }
};

/// What bash offers after these words.
std::string bash_offers(const Installed& installed, const std::string& words) {
  return shell("bash -c 'source " + installed.file("bash/dryfit") + "; COMP_WORDS=(" + words +
               "); COMP_CWORD=$((${#COMP_WORDS[@]}-1)); _dryfit; echo \"${COMPREPLY[*]}\"'")
      .out;
}

}  // namespace

TEST_CASE("the manual page of every command has every option of its help text") {
  const Installed installed;
  for (const auto& command : dryfit::cli::all_command_words(dryfit::cli::command_table())) {
    CAPTURE(command.name);
    const std::string page = unescaped(dryfit::tests::slurp(installed.file("man1/dryfit-" + command.name + ".1")));
    const auto in_page = long_options(page);
    for (const std::string& option : long_options(run({command.name, "--help"}).out)) {
      CAPTURE(option);
      CHECK(in_page.count(option) == 1);
    }
    for (const auto& option : command.options) {
      for (const std::string& name : option.names) CHECK(page.find(name + "\\fR") != std::string::npos);
      CHECK_FALSE(option.text.empty());
    }
    CHECK(unescaped(dryfit::tests::slurp(installed.file("man1/dryfit.1"))).find("dryfit " + command.name + "\\fR") !=
          std::string::npos);
  }
}

TEST_CASE("the manual pages are without a fault for a reader of manual pages") {
  const Installed installed;
  const Said said = shell("mandoc -T lint -W warning " + installed.file("man1/*.1"));
  CHECK(said.out == "");
  CHECK(said.code == 0);
}

TEST_CASE("bash completes commands, options and the words that an option takes") {
  const Installed installed;
  CHECK(bash_offers(installed, "dryfit or") == "order\n");
  CHECK(bash_offers(installed, "dryfit order rack.yaml --lai") == "--laid\n");
  CHECK(bash_offers(installed, "dryfit cards rack.yaml --paper \"\"") == "a4 letter\n");
  CHECK(bash_offers(installed, "dryfit order rack.yaml --people \"\"") == "\n");
  CHECK(bash_offers(installed, "dryfit schema fr") == "frame\n");
  CHECK(bash_offers(installed, "dryfit order " DRYFIT_SOURCE_DIR "/scenarios/plant-rack.y") == DRYFIT_SOURCE_DIR
        "/scenarios/plant-rack.yaml\n");
}

TEST_CASE("fish completes the same, and zsh can read its own completions") {
  const Installed installed;
  const std::string source = "HOME=" + installed.folder.path("home") + " fish --no-config -c 'source " +
                             installed.file("fish/dryfit.fish") + "; complete -C \"";
  CHECK(shell(source + "dryfit cards x --paper \"'").out == "a4\tpaper size; as a rule letter for a frame in inches, A4 for others\n"
        "letter\tpaper size; as a rule letter for a frame in inches, A4 for others\n");
  CHECK(shell(source + "dryfit order --lai\"'").out == "--laid\trather build it lying down\n");
  const Said zsh = shell("zsh -f -n " + installed.file("zsh/_dryfit"));
  CHECK(zsh.out == "");
  CHECK(zsh.code == 0);
}

TEST_CASE("the help text does not show what only builds need") {
  CHECK(run({"--help"}).out.find("manual") == std::string::npos);
  CHECK(run({"manual"}).out.starts_with("man1/dryfit.1\n"));
  CHECK(run({"manual", "bash/dryfit"}).out.find("complete -o filenames") != std::string::npos);
  CHECK(run({"manual", "nothing"}).code == 2);
}
