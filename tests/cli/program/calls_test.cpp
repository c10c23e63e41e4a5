#include <doctest/doctest.h>

#include <nlohmann/json.hpp>

#include "dryfit_version.hpp"
#include "tests/support/program/program.hpp"

using dryfit::tests::Ran;
using dryfit::tests::run;
using dryfit::tests::scenario;
using dryfit::tests::ScratchFolder;

namespace {

/// A call that cannot be carried out: exit code 2, nothing on standard output, the reason on standard error.
void check_refused(const Ran& ran, const std::string& reason) {
  CHECK(ran.code == 2);
  CHECK(ran.out == "");
  CHECK(ran.err == reason + "\n");
}

}  // namespace

TEST_CASE("help lists every command with the question it answers") {
  const Ran ran = run({"--help"});
  CHECK(ran.code == 0);
  CHECK(ran.err == "");
  CHECK(ran.out.find("check") != std::string::npos);
  CHECK(ran.out.find("does it fit, and can it be built at all?") != std::string::npos);
  CHECK(ran.out.find("licensed (UK: chartered) engineer") != std::string::npos);
  CHECK(run({"order", "--help"}).out.find("--json") != std::string::npos);
  CHECK(run({"help"}).out == ran.out);
  CHECK(run({"help", "order"}).out == run({"order", "--help"}).out);
  CHECK(run({"help", "ordre"}).err.find("there is no command 'ordre'") != std::string::npos);
  CHECK(run({"--version"}).out == "dryfit " DRYFIT_VERSION "\n");
}

TEST_CASE("a call without a command, or with an unknown one, is refused with the nearest word") {
  check_refused(run({}), "dryfit: say what to do: dryfit COMMAND, such as dryfit check FRAME; see 'dryfit --help'");
  check_refused(run({"ordr", "x.yaml"}),
                "dryfit: there is no command 'ordr'; did you mean 'order'?; see 'dryfit --help'");
  check_refused(run({"xyzzy"}), "dryfit: there is no command 'xyzzy'; see 'dryfit --help'");
}

TEST_CASE("an unknown option or a missing file name is refused") {
  const Ran unknown = run({"order", scenario("plant-rack"), "--sideways"});
  CHECK(unknown.code == 2);
  CHECK(unknown.out == "");
  CHECK(unknown.err.find("--sideways") != std::string::npos);
  CHECK(unknown.err.find("see 'dryfit order --help'") != std::string::npos);
  check_refused(run({"order"}), "dryfit: FRAME is needed; see 'dryfit order --help'");
}

TEST_CASE("a wrong call is told in the program's own words") {
  const std::string frame = scenario("pot-rail");
  const auto refused = [&](const std::string& command, std::vector<std::string> args, const std::string& what) {
    args.insert(args.begin(), {command, frame});
    CAPTURE(what);
    check_refused(run(args), "dryfit: " + what + "; see 'dryfit " + command + " --help'");
  };
  refused("order", {"--peple", "3"}, "there is no option '--peple'; did you mean '--people'?");
  refused("order", {"-x"}, "there is no option '-x'");
  refused("order", {"b", "c"}, "'b' and 'c' were not expected");
  refused("order", {"b"}, "'b' was not expected");
  refused("order", {"--people", "99"}, "--people: expected 1 to 20, got '99'");
  refused("order", {"--people", "two"}, "--people: 'two' is not a number");
  refused("order", {"--people"}, "--people needs a number");
  refused("order", {"--people", "3", "--people", "4"}, "--people is given more than once");
  refused("order", {"--laid", "--standing"}, "--laid and --standing cannot go together");
  refused("order", {"--json=maybe"}, "--json takes no value, got 'maybe'");
  refused("order", {"--seconds", "-1"}, "--seconds: expected 0 to 86400, got '-1'");
  refused("early", {"--built", "-1"}, "--built: expected 0 or more, got '-1'");
  refused("early", {"--budget", "0"}, "--budget: expected a number above 0, got '0'");
  refused("show", {"-o", "a.svg", "--step", "1.5"}, "--step: '1.5' is not a whole number");
  refused("show", {"-o", "a.svg", "--view", "1"}, "--view: expected 2 values, got 1");
  refused("show", {"-o", "a.svg", "--view", "1,2,3"}, "--view: expected 2 values, got 3");
  refused("fit", {"--units", "bth"}, "--units: expected in, mm or both, got 'bth'; did you mean 'both'?");
  refused("drill", {"--full-size"}, "--full-size needs --output");
  refused("change", {"--set", "R1.length=3", "--budget", "3000000000"},
          "--budget: expected 1 to 100000000, got '3000000000'");
}

TEST_CASE("a file that is missing or is a folder is refused by name") {
  check_refused(run({"order", "/nowhere/rack.yaml"}),
                "dryfit: cannot read '/nowhere/rack.yaml': No such file or directory");
  check_refused(run({"check", "/"}), "dryfit: cannot read '/': Is a directory");
  check_refused(run({"replay", scenario("plant-rack"), "/nowhere.json"}),
                "dryfit: cannot read '/nowhere.json': No such file or directory");
}

TEST_CASE("a file that never ends is refused by its size") {
  check_refused(run({"check", "/dev/zero"}), "dryfit: '/dev/zero' is larger than 16 MiB, the most that is read");
  check_refused(run({"check", "-"}, std::string((16U << 20U) + 1, ' ')),
                "dryfit: standard input is larger than 16 MiB, the most that is read");
}

TEST_CASE("a mistake in the frame file is told with line and column, and nothing is answered") {
  const ScratchFolder folder;
  std::string text = dryfit::tests::slurp(scenario("pot-rail"));
  text.replace(text.find("T1: {tee: back}"), 15, "T1: {tea: back}");
  const std::string file = folder.file("pots.yaml", text);
  for (const char* command : {"check", "order"}) {
    for (const bool json : {false, true}) {
      const Ran ran =
          run(json ? std::vector<std::string>{command, file, "--json"} : std::vector<std::string>{command, file});
      CHECK(ran.code == 2);
      CHECK(ran.out == "");
      CHECK(ran.err.starts_with(file + ":"));
      CHECK(ran.err.find("'tea'") != std::string::npos);
      CHECK(ran.err.find("'tee'") != std::string::npos);
    }
  }
}

TEST_CASE("a frame can come from standard input") {
  const std::string text = dryfit::tests::slurp(scenario("pot-rail"));
  const Ran piped = run({"order", "-"}, text);
  CHECK(piped.code == 0);
  CHECK(piped.out == run({"order", scenario("pot-rail")}).out);
  check_refused(run({"replay", "-", "-"}, text), "dryfit: standard input can be read only once");
  check_refused(run({"buy", "-", "--prices", "-"}, text), "dryfit: standard input can be read only once");
  check_refused(run({"check", "-", "-"}, text), "dryfit: standard input can be read only once");
}

TEST_CASE("check answers for several files, one JSON document to a line, and the worst news is the exit code") {
  const std::string good = scenario("pot-rail");
  const std::string locked = scenario("cellar-rail-ring");
  CHECK(run({"check", good, good}).code == 0);
  CHECK(run({"check", good, locked}).code == 1);
  const Ran ran = run({"check", "--json", good, "/nowhere.yaml", locked});
  CHECK(ran.code == 2);
  CHECK(ran.err == "dryfit: cannot read '/nowhere.yaml': No such file or directory\n");
  const std::size_t end = ran.out.find('\n');
  CHECK(nlohmann::json::parse(ran.out.substr(0, end))["file"] == good);
  CHECK(nlohmann::json::parse(ran.out.substr(end + 1))["file"] == locked);
}

TEST_CASE("steps that are no JSON, or name what the frame does not have, are refused") {
  const ScratchFolder folder;
  const std::string rail = scenario("pot-rail");
  const std::string broken = folder.file("broken.json", "[\n  {\"action\": screw}\n]\n");
  check_refused(run({"replay", rail, broken}),
                broken + ":2:14: this is not JSON; expected a list of steps as 'dryfit order --json' prints it");
  const std::string huge = folder.file("huge.json", "[\n  {\"turns\": 1e999}\n]\n");
  check_refused(run({"replay", rail, huge}),
                huge + ":2:17: this number is too large; expected a list of steps as 'dryfit order --json' prints it");
  const std::string wrong =
      folder.file("wrong.json", R"([{"action": "scrw", "contacts": ["N1/FI.front"], "moving": ["N9"]}, 7])");
  const Ran ran = run({"replay", rail, wrong});
  CHECK(ran.code == 2);
  CHECK(ran.out == "");
  CHECK(ran.err.find(
            "step 1: unknown action 'scrw', expected screw, slide, pass, lay, join or fasten; did you mean 'screw'?") !=
        std::string::npos);
  CHECK(ran.err.find("step 1: the frame has no contact 'N1/FI.front'; did you mean 'N1/FL.front'?") !=
        std::string::npos);
  CHECK(ran.err.find("step 1: the frame has no part 'N9'") != std::string::npos);
  CHECK(ran.err.find("step 2: expected an object with \"action\" and \"contacts\"") != std::string::npos);
  check_refused(run({"replay", rail, folder.file("scalar.json", "3")}),
                folder.path("scalar.json") + ": expected a list of steps, or an object with \"steps\"");
}

TEST_CASE("an order that leaves something out, or makes it twice, is not legal") {
  const std::string rail = scenario("pot-rail");
  const auto order = nlohmann::json::parse(run({"order", rail, "--json"}).out);
  nlohmann::json steps = order["steps"];
  steps.erase(steps.size() - 1);
  const Ran missing = run({"replay", rail, "-", "--json"}, steps.dump());
  CHECK(missing.code == 1);
  CHECK(nlohmann::json::parse(missing.out)["verdict"] == "illegal");
  steps = order["steps"];
  steps.push_back(steps[0]);
  CHECK(run({"replay", rail, "-"}, steps.dump()).code == 1);
}

TEST_CASE("the same call gives the same bytes") {
  for (const char* name : {"plant-rack", "seed-store", "towel-ladder-plain"}) {
    CHECK(run({"order", scenario(name), "--json"}).out == run({"order", scenario(name), "--json"}).out);
  }
}

TEST_CASE("with --verbose a call says on standard error what it reads and how far each round of the search came") {
  const Ran quiet = run({"order", scenario("pot-rail")});
  CHECK(quiet.err == "");
  const Ran loud = run({"order", scenario("pot-rail"), "--verbose"});
  CHECK(loud.out == quiet.out);
  CHECK(loud.err.find("pot-rail.yaml: 11 parts") != std::string::npos);
  CHECK(loud.err.find("dryfit: orders: ") != std::string::npos);
  CHECK(loud.err.find("proven") != std::string::npos);
}
