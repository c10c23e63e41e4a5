#include "cli/pocket/command_pocket.hpp"

#include <filesystem>
#include <memory>
#include <ostream>

#include "cli/call/declare.hpp"
#include "cli/input/frame_file.hpp"
#include "cli/io/atomic_file.hpp"
#include "cli/io/exit_code.hpp"
#include "cli/io/text_file.hpp"
#include "cli/io/usage_error.hpp"
#include "cli/pocket/pocket_file.hpp"
#include "cli/words/say.hpp"

namespace dryfit::cli {
namespace {

struct PocketCall {
  std::string frame;
  std::string file;
};

int write_pocket(const PocketCall& call, const Streams& streams) {
  const std::string where = pocket_file();
  if (where.empty()) {
    throw UsageError(say("the page did not come with this program; DRYFIT_POCKET=FILE names it where it is elsewhere"));
  }
  std::string page = read_text(where, streams.in);
  if (call.frame.empty()) {
    write_file(call.file, page);
    streams.out << say("{}: all of dryfit in one page; open it with a browser", call.file) << '\n';
    return kYes;
  }
  const LoadedFrame loaded = load_frame(call.frame, streams);
  const std::string name = call.frame == "-" ? "frame.yaml" : std::filesystem::path(call.frame).filename().string();
  write_file(call.file, pocket_with(std::move(page), name, loaded.text));
  streams.out << say("{0}: all of dryfit in one page, with {1} in it; open it with a browser", call.file,
                     loaded.frame.name)
              << '\n';
  return kYes;
}

}  // namespace

Job set_up_pocket(OptionList& list) {
  const auto call = std::make_shared<PocketCall>();
  list.value("FRAME", call->frame, "the frame file that the page opens; - for standard input");
  list.value("-o,--output", call->file, "the page to write, .html").required();
  return [call](const Streams& streams) { return write_pocket(*call, streams); };
}

}  // namespace dryfit::cli
