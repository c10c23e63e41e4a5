#include "cli/show/watch_page.hpp"

#include <fmt/format.h>

#include <string_view>

#include "cli/words/html_text.hpp"
#include "cli/words/say.hpp"

namespace dryfit::cli {
namespace {

/// {0} name, {1} class of the verdict, {2} verdict, {3} faults, {4} picture, {5} language. A refresh by the page's own
/// head keeps the place it is scrolled to, needs no script and works from file://.
constexpr const char* kPage = R"(<!doctype html>
<html lang="{5}">
<head>
<meta charset="utf-8">
<meta http-equiv="refresh" content="1">
<meta name="viewport" content="width=device-width, initial-scale=1">
<title>{0}</title>
<style>
body {{ margin: 0; height: 100vh; display: flex; flex-direction: column; font: 16px/1.4 system-ui, sans-serif; color: #1a1c21; background: #fff; }}
p {{ margin: 0; padding: 0.6em 1em; border-left: 0.6em solid #b3261e; background: #f3f3f1; }}
p.good {{ border-color: #2e7d32; }}
pre {{ margin: 0; padding: 0.6em 1.6em; white-space: pre-wrap; color: #b3261e; }}
svg {{ flex: 1; min-height: 40vh; width: 100%; }}
</style>
</head>
<body>
<p role="status" class="{1}">{2}</p>
{3}{4}</body>
</html>
)";

}  // namespace

std::string watch_page(const WatchPage& page) {
  std::string faults;
  for (const std::string& fault : page.faults) faults += escaped(fault) + "\n";
  if (!faults.empty()) faults = "<pre>" + faults + "</pre>\n";
  // Within a page a drawing has no declaration of its own.
  std::string_view svg = page.svg;
  if (const auto begin = svg.find("<svg"); begin != std::string_view::npos) svg.remove_prefix(begin);
  return fmt::format(kPage, escaped(page.name), page.good ? "good" : "bad", escaped(page.line), faults, svg,
                     language_spoken());
}

}  // namespace dryfit::cli
