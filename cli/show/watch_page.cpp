#include "cli/show/watch_page.hpp"

#include <string_view>

#include "cli/words/html_text.hpp"
#include "cli/words/page_files.hpp"
#include "cli/words/say.hpp"

namespace dryfit::cli {

std::string watch_page(const WatchPage& page) {
  std::string faults;
  for (const std::string& fault : page.faults) faults += escaped(fault) + "\n";
  if (!faults.empty()) faults = "<pre>" + faults + "</pre>\n";
  // Within a page a drawing has no declaration of its own.
  std::string_view svg = page.svg;
  if (const auto begin = svg.find("<svg"); begin != std::string_view::npos) svg.remove_prefix(begin);
  return filled_in(page_file("watch.html"), {{"NAME", escaped(page.name)},
                                             {"CLASS", page.good ? "good" : "bad"},
                                             {"VERDICT", escaped(page.line)},
                                             {"FAULTS", faults},
                                             {"PICTURE", std::string(svg)},
                                             {"LANGUAGE", language_spoken()}});
}

}  // namespace dryfit::cli
