#include "cli/change/command_change.hpp"

#include <memory>
#include <nlohmann/json.hpp>
#include <ostream>

#include "cli/call/declare.hpp"
#include "cli/change/change_answer.hpp"
#include "cli/change/change_chart.hpp"
#include "cli/change/change_compare.hpp"
#include "cli/change/change_report.hpp"
#include "cli/change/change_sweep.hpp"
#include "cli/io/atomic_file.hpp"
#include "cli/io/exit_code.hpp"
#include "cli/io/usage_error.hpp"
#include "cli/json/inch_fields.hpp"
#include "cli/json/json_answer.hpp"
#include "cli/words/lengths.hpp"
#include "cli/words/say.hpp"

namespace dryfit::cli {
namespace {

struct ChangeCall {
  ChangeRequest request;
  std::string by = "moves";
  std::string chart;
  bool all = false;
  bool json = false;
};

int price_change(ChangeCall options, const Streams& streams) {
  if (!options.chart.empty()) {
    static_cast<void>(format_for(options.chart));  // a wrong ending is told before any work
    options.request.curve = true;
  }
  const auto answer = answer_change(options.request, streams);
  const bool wanted = !options.chart.empty(), drawn = wanted && !answer->curve.empty();
  if (drawn) write_file(options.chart, change_chart(*answer, options.chart));
  if (options.json) {
    Json document = change_json(*answer);
    if (wanted) document["file"] = drawn ? Json(options.chart) : Json(nullptr);
    print(streams.out, with_inches(document, lengths_asked()));
  } else {
    print_change(*answer, streams.out);
    if (wanted && !drawn) {
      streams.out << say("There is no price by step, so no chart is drawn: {} is not written.", options.chart) << '\n';
    }
  }
  return wanted && !drawn ? worse(exit_code_of(*answer), kNo) : exit_code_of(*answer);
}

int change(const ChangeCall& options, const Streams& streams) {
  const ChangeRequest& request = options.request;
  if (options.all) {
    if (!request.set.empty() || !request.map.empty() || !request.built.empty() || !request.order.empty() ||
        !options.chart.empty()) {
      throw UsageError(say("--all sets whole designs side by side: it takes frames alone"));
    }
    return compare_designs(request.frames, request.people, options.json, streams);
  }
  if (request.set.size() == 1 && request.set[0].find("..") != std::string::npos) {
    if (!options.chart.empty()) throw UsageError(say("a chart is drawn of one change, not of a range"));
    return sweep_length(request, options.json, streams);
  }
  return price_change(options, streams);
}

}  // namespace

Job set_up_change(OptionList& list) {
  const auto options = std::make_shared<ChangeCall>();
  ChangeRequest& request = options->request;
  list.value("FRAMES", request.frames, "the old frame file and the new one; several with --all").required();
  list.value(
      "--set", request.set,
      "change one value instead of naming a new file: P5.length=8; P3+P8.length=8 changes both pipes; 4..12 tries "
      "every length between");
  list.value("--map", request.map, "take the old part for this new one: OLD=NEW");
  list.value("--built", request.built, "what is built: the first K steps, or a steps file of what is done");
  list.value("--order", request.order, "the order that it is built by: a steps file; else that of `dryfit order`");
  list.value("--by", options->by, "what to keep small").one_of({"moves", "effort"}).show_default();
  list.value("--people", request.people, "how many people build, for --by effort").range(1, 20).show_default();
  list.value(
          "--budget", request.budget,
          "half-built frames to look at before the answer is told as at least and at most; by effort a fifth of them")
      .range(1, 100'000'000)
      .show_default();
  list.flag("--all", options->all, "compare several designs side by side instead");
  list.value("-o,--output", options->chart, "also draw the cost step by step: a name that ends in .svg, .pdf or .png");
  add_units_option(list);
  list.flag("--json", options->json, "one JSON document instead of text");
  return [options](const Streams& streams) {
    ChangeCall call = *options;
    call.request.by_effort = call.by == "effort";
    return change(call, streams);
  };
}

}  // namespace dryfit::cli
