#include "cli/show/show_watch.hpp"

#include <fmt/format.h>
#include <fmt/ostream.h>

#include <algorithm>
#include <array>
#include <cctype>
#include <ctime>
#include <nlohmann/json.hpp>
#include <optional>
#include <ostream>
#include <sstream>

#include "cli/check/headline.hpp"
#include "cli/io/atomic_file.hpp"
#include "cli/io/exit_code.hpp"
#include "cli/io/file_watch.hpp"
#include "cli/io/log.hpp"
#include "cli/io/text_file.hpp"
#include "cli/io/usage_error.hpp"
#include "cli/json/inch_fields.hpp"
#include "cli/json/json_answer.hpp"
#include "cli/sentences/frame_difference.hpp"
#include "cli/show/watch_page.hpp"
#include "cli/words/lengths.hpp"
#include "cli/words/said.hpp"
#include "cli/words/say.hpp"
#include "cli/words/trade_words.hpp"
#include "cli/words/words.hpp"
#include "model/frame/input_error.hpp"

namespace dryfit::cli {
namespace {

std::string now_as(const char* pattern) {
  const std::time_t now = std::time(nullptr);
  std::tm local{};
  ::localtime_r(&now, &local);
  std::array<char, 64> text{};
  return {text.data(), std::strftime(text.data(), text.size(), pattern, &local)};
}

bool is_page(const std::string& file) {
  std::string ending = file.substr(std::min(file.size(), file.rfind('.')));
  std::transform(ending.begin(), ending.end(), ending.begin(),
                 [](char c) { return static_cast<char>(std::tolower(static_cast<unsigned char>(c))); });
  return ending == ".html" || ending == ".htm";
}

/// What a "no" rests on, in a few words: " S1 and P3 are in the same place."
std::string reason(const model::Frame& frame, const Finding& finding) {
  const auto more = [](std::size_t all) { return all > 1 ? say(", and {} more", all - 1) : std::string(); };
  if (!finding.overlaps.empty()) {
    const planner::Overlap& first = finding.overlaps.front();
    const std::string where =
        first.surface != model::kNone
            ? say("{0} reaches behind {1}", name_of(frame, first.a), the_surface(frame.surface(first.surface).id))
            : say("{0} and {1} are in the same place", name_of(frame, first.a), name_of(frame, first.b));
    return fmt::format(" {}{}.", where, more(finding.overlaps.size()));
  }
  if (finding.verdict == Verdict::locked) {
    return " " + say_n(static_cast<long long>(finding.order.knot.size()), "{} joint is locked.",
                       "{} joints lock each other.");
  }
  std::vector<std::string> open;
  for (const planner::ClosureFit& closure : finding.fit.closures) {
    if (closure.state != planner::FitState::open) continue;
    open.push_back(listed(frame.closure(closure.closure).between));
  }
  return open.empty() ? "" : " " + say("Doesn't line up: {0}{1}.", open.front(), more(open.size()));
}

/// The first few; a line is a line.
std::string briefly(const std::vector<std::string>& changed) {
  constexpr std::size_t kMost = 6;
  const std::size_t shown = changed.size() > kMost ? kMost - 1 : changed.size();
  std::string text =
      fmt::format("{}", fmt::join(changed.begin(), changed.begin() + static_cast<std::ptrdiff_t>(shown), "; "));
  if (shown < changed.size()) text += say("; and {} more", changed.size() - shown);
  return text;
}

class Watcher {
 public:
  Watcher(const ShowOptions& options, const Streams& streams)
      : options_(options), streams_(streams), page_wanted_(is_page(options.file)) {}

  /// Reads the file and, when its bytes are others than last time, says and draws what comes of them.
  void look() {
    std::string text;
    try {
      text = read_text(options_.frame, streams_.in);
    } catch (const UsageError& error) {
      if (first_) throw;
      if (text_) gone(error.what());
      text_.reset();
      return;
    }
    if (text_ == text) return;
    text_ = std::move(text);
    try {
      LoadedFrame loaded = loaded_from(*text_, options_.frame);
      checked(std::move(loaded));
    } catch (const model::InputError& error) {
      faulty(error);
    }
    first_ = false;
  }

 private:
  void checked(LoadedFrame loaded) {
    Finding finding = find_out(loaded.frame, loaded.contacts);
    const std::string word = word_for(verdict_of(finding));
    std::vector<std::string> changed;
    if (last_) {
      if (word != word_) changed.push_back(say("was {}", word_));
      const Lengths lengths(loaded.frame.units);
      for (std::string& text : differences(last_->frame, loaded.frame, lengths)) changed.push_back(std::move(text));
    }
    std::string line = headline(loaded.frame, finding) + reason(loaded.frame, finding);
    Json document = envelope("show", loaded.frame, word);
    const bool drawn = draw(loaded, finding, document);
    if (!changed.empty()) {
      line += " " + say("Changed: {}.", briefly(changed));
    } else if (last_) {
      line += " " + say("The frame is unchanged.");
    }
    page_.name = loaded.frame.name;
    page_.good = code_of(finding) == kYes;
    page_.faults.clear();
    last_ = std::move(loaded);
    word_ = word;
    tell(std::move(document), line, changed, drawn);
  }

  void faulty(const model::InputError& error) {
    const std::string told = said(error);
    streams_.err << told << '\n';
    page_.faults.clear();
    std::istringstream lines(told);
    for (std::string line; std::getline(lines, line);) page_.faults.push_back(line);
    no_frame("faulty",
             say_n(static_cast<long long>(page_.faults.size()), "{1}: {0} fault.", "{1}: {0} faults.", options_.frame));
  }

  void gone(const char* why) {
    page_.faults.clear();
    no_frame("gone", say("{}; waiting for it.", why));
  }

  void no_frame(const char* word, const std::string& line) {
    if (page_.name.empty()) page_.name = options_.frame;
    page_.good = false;
    tell({{"dryfit", 1}, {"command", "show"}, {"frame", page_.name}, {"verdict", word}}, line, {}, false);
  }

  /// False: the picture stays as it was, and the reason has been told.
  bool draw(const LoadedFrame& loaded, Finding& finding, Json& document) {
    if (options_.step > 0 && finding.verdict != Verdict::buildable) {
      log_error(say("{} has no build order, so no step can be shown", loaded.frame.name));
      return false;
    }
    try {
      const PictureOptions picture = shown_picture(options_, loaded, finding);
      PictureReport report;
      const PictureFormat format = page_wanted_ ? PictureFormat::svg : format_for(options_.file);
      std::string bytes = picture_bytes(format, loaded.frame, picture, &report);
      if (page_wanted_) {
        page_.svg = std::move(bytes);
      } else {
        write_file(options_.file, bytes);
      }
      drawn_at_ = now_as("%H:%M:%S");
      add_drawn(document, options_, loaded.frame, report);
      return true;
    } catch (const UsageError& error) {  // a part of --only that is gone, a full disk
      if (first_) throw;
      log_error(error.what());
      return false;
    }
  }

  void tell(Json document, const std::string& text, const std::vector<std::string>& changed, bool drawn) {
    std::string line = fmt::format("{} {}", now_as("%H:%M:%S"), text);
    if (!drawn) {
      line += " " + (drawn_at_.empty() ? say("No picture yet.") : say("The picture stays as of {}.", drawn_at_));
    }
    page_.line = line;
    if (page_wanted_) write_page();
    if (!options_.json) {
      streams_.out << line << '\n';
      return;
    }
    document["file"] = options_.file;
    document["time"] = now_as("%Y-%m-%dT%H:%M:%S%z");
    document["text"] = text;
    document["changed"] = changed;
    document["faults"] = page_.faults;
    document["drawn"] = drawn;
    print_line(streams_.out, with_inches(document, lengths_asked()));
  }

  void write_page() {
    try {
      write_file(options_.file, watch_page(page_));
    } catch (const UsageError& error) {
      if (first_) throw;
      log_error(error.what());
    }
  }

  const ShowOptions& options_;
  const Streams& streams_;
  bool page_wanted_;
  bool first_ = true;
  std::optional<std::string> text_;  ///< as read last; none: the file is gone
  std::optional<LoadedFrame> last_;  ///< the last one without faults
  std::string word_;                 ///< its verdict
  std::string drawn_at_;
  WatchPage page_;
};

}  // namespace

int watch_frame(const ShowOptions& options, const Streams& streams) {
  if (options.frame == "-")
    throw UsageError(say("--watch follows a file as it is saved, and standard input is not a file"));
  if (!is_page(options.file)) static_cast<void>(format_for(options.file));
  const EndQuietly end;
  FileWatch watch(options.frame);
  Watcher watcher(options, streams);
  if (streams.terminal && !options.json) {
    fmt::print(streams.err, "{}\n", say("Watching {}; Ctrl-C ends.", options.frame));
  }
  do {
    watcher.look();
  } while (streams.out.flush() && watch.wait());
  return kYes;
}

}  // namespace dryfit::cli
