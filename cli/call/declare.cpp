#include "cli/call/declare.hpp"

#include <memory>

#include "cli/io/log.hpp"
#include "cli/io/working.hpp"
#include "cli/words/lengths.hpp"
#include "cli/words/say.hpp"

namespace dryfit::cli {

Job declare(const Command& command, OptionList& list) {
  struct Asked {
    bool help = false;  // the parser answers it; it is declared so that manual pages and completions know it
    bool verbose = false;
  };
  const auto asked = std::make_shared<Asked>();
  list.flag("-h,--help", asked->help, "this text");
  list.flag("-v,--verbose", asked->verbose, "also report on standard error what the program is doing");
  const Job job = command.set_up(list);
  list.value("--language", speak, "en or de; as LC_ALL, LC_MESSAGES or LANG has it when not given").one_of(languages());
  return [asked, job](const Streams& streams) {
    log_details(asked->verbose);
    if (asked->verbose && streams.working != nullptr) streams.working->be_quiet();
    return job(streams);
  };
}

void add_units_option(OptionList& list) {
  list.value("--units", show_lengths_in, "show lengths in inches, mm or both; as in the frame file when not given")
      .one_of({"in", "mm", "both"});
}

}  // namespace dryfit::cli
