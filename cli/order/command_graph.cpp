#include "cli/order/command_graph.hpp"

#include <fmt/ostream.h>

#include <algorithm>
#include <memory>
#include <nlohmann/json.hpp>
#include <ostream>

#include "cli/check/as_built.hpp"
#include "cli/check/evidence.hpp"
#include "cli/check/finding.hpp"
#include "cli/input/frame_file.hpp"
#include "cli/io/exit_code.hpp"
#include "cli/json/json_answer.hpp"
#include "model/geometry/at.hpp"
#include "planner/early/precedence.hpp"

namespace dryfit::cli {
namespace {

struct GraphCall {
  std::string frame;
  bool all = false;
  bool json = false;
};

/// A text in double quotes as DOT wants it.
std::string in_quotes(const std::string& text) {
  std::string out = "\"";
  for (const char c : text) {
    if (c == '"' || c == '\\') out += '\\';
    out += c;
  }
  return out + '"';
}

/// The arrows to show.
std::vector<planner::MustPrecede> links_of(const planner::Precedence& precedence, bool all) {
  if (!all) return planner::reduced(precedence);
  std::vector<planner::MustPrecede> links;
  for (std::size_t later = 0; later < precedence.classes.size(); ++later) {
    for (const planner::ContactId first : precedence.before[dryfit::at(precedence.classes[later].front())]) {
      links.push_back({precedence.class_of[dryfit::at(first)], static_cast<int>(later)});
    }
  }
  std::sort(links.begin(), links.end());
  links.erase(std::unique(links.begin(), links.end()), links.end());
  return links;
}

void print_dot(const LoadedFrame& loaded, const planner::Precedence& precedence,
               const std::vector<planner::MustPrecede>& links, std::ostream& out) {
  fmt::print(out, "digraph {} {{\n  rankdir=BT;\n  node [shape=box];\n", in_quotes(loaded.frame.name));
  fmt::print(out,
             "  // An arrow leads from what every order makes first to what it makes later (or in the same move).\n");
  for (std::size_t c = 0; c < precedence.classes.size(); ++c) {
    std::string label;
    for (const planner::ContactId id : precedence.classes[c]) {
      label += (label.empty() ? "" : "\n") + loaded.contacts.contact(id).id;
    }
    std::string escaped = in_quotes(label);
    for (std::size_t at = 0; (at = escaped.find('\n', at)) != std::string::npos; at += 2) escaped.replace(at, 1, "\\n");
    fmt::print(out, "  c{} [label={}];\n", c, escaped);
  }
  for (const planner::MustPrecede& link : links) fmt::print(out, "  c{} -> c{};\n", link.earlier, link.later);
  out << "}\n";
}

int refuse(const LoadedFrame& loaded, const Finding& finding, const GraphCall& options, const Streams& streams) {
  if (options.json) {
    Json document = envelope("graph", loaded.frame, word_for(finding.verdict));
    add_evidence(document, finding, loaded.frame, loaded.contacts);
    print(streams.out, document);
  } else {
    fmt::print(streams.err, "{}: {}, so nothing comes first in it.\n", loaded.frame.name, word_for(finding.verdict));
    streams.err << evidence_text(finding, loaded.frame, loaded.contacts);
  }
  return finding.code;
}

int give_graph(const GraphCall& options, const Streams& streams) {
  const LoadedFrame loaded = load_frame(options.frame, streams);
  const Finding finding = find_out(loaded.frame, loaded.contacts);
  if (finding.verdict != Verdict::buildable) return refuse(loaded, finding, options, streams);
  const LoadedFrame stands = as_built(loaded, finding);
  planner::Undoer undoer(stands.frame, stands.contacts);
  const planner::Precedence precedence = planner::precedence_of(undoer);
  const std::vector<planner::MustPrecede> links = links_of(precedence, options.all);
  if (!options.json) {
    print_dot(loaded, precedence, links, streams.out);
    return kYes;
  }
  Json document = envelope("graph", loaded.frame, word_for(finding.verdict));
  document["classes"] = Json::array();
  for (const auto& members : precedence.classes) document["classes"].push_back(contact_ids(loaded.contacts, members));
  document["links"] = Json::array();
  for (const planner::MustPrecede& link : links) {
    document["links"].push_back({{"first", link.earlier}, {"later", link.later}});
  }
  print(streams.out, document);
  return kYes;
}

}  // namespace

Job set_up_graph(OptionList& list) {
  const auto options = std::make_shared<GraphCall>();
  list.value("FRAME", options->frame, "the frame file; - for standard input").required();
  list.flag("--all", options->all, "every arrow, also those that follow from others");
  list.flag("--json", options->json, "one JSON document instead of DOT");
  return [options](const Streams& streams) { return give_graph(*options, streams); };
}

}  // namespace dryfit::cli
