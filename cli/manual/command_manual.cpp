#include "cli/manual/command_manual.hpp"

#include <fmt/ostream.h>

#include <filesystem>
#include <memory>
#include <nlohmann/json.hpp>
#include <ostream>

#include "cli/io/atomic_file.hpp"
#include "cli/io/exit_code.hpp"
#include "cli/io/usage_error.hpp"
#include "cli/json/schemas.hpp"
#include "cli/manual/completions.hpp"
#include "cli/manual/man_page.hpp"
#include "cli/words/say.hpp"

namespace dryfit::cli {
namespace {

struct ManualCall {
  std::string name;
  std::string folder;
};

struct Page {
  std::string name;  ///< with its folder, as it is installed
  std::string text;
};

std::vector<Page> all_pages(std::span<const Command> table) {
  const std::vector<CommandWords> commands = all_command_words(table);
  std::vector<Page> pages{{"man1/dryfit.1", program_page(commands)}};
  for (const CommandWords& command : commands) {
    pages.push_back({"man1/dryfit-" + command.name + ".1", command_page(command)});
  }
  pages.push_back({"bash/dryfit", bash_completions(commands)});
  pages.push_back({"zsh/_dryfit", zsh_completions(commands)});
  pages.push_back({"fish/dryfit.fish", fish_completions(commands)});
  for (const std::string& name : schema_names()) {
    pages.push_back({"schemas/" + name + ".json", schema_named(name)->dump(2) + "\n"});
  }
  return pages;
}

int give_manual(const ManualCall& options, std::span<const Command> table, const Streams& streams) {
  const std::vector<Page> pages = all_pages(table);
  if (!options.folder.empty()) {
    for (const Page& page : pages) {
      const std::filesystem::path path = std::filesystem::path(options.folder) / page.name;
      std::error_code error;
      std::filesystem::create_directories(path.parent_path(), error);
      if (error) throw UsageError(say("cannot make '{}': {}", path.parent_path().string(), error.message()));
      write_file(path.string(), page.text);
    }
    return kYes;
  }
  for (const Page& page : pages) {
    if (options.name.empty()) {
      fmt::print(streams.out, "{}\n", page.name);
    } else if (options.name == page.name) {
      streams.out << page.text;
      return kYes;
    }
  }
  if (!options.name.empty()) throw UsageError(say("there is no page '{}'", options.name));
  return kYes;
}

}  // namespace

Job set_up_manual(OptionList& list, std::span<const Command> table) {
  const auto options = std::make_shared<ManualCall>();
  list.value("NAME", options->name, "the page to print; when not given, their names");
  list.value("-o,--output", options->folder, "write all of them into this folder");
  return [options, table](const Streams& streams) { return give_manual(*options, table, streams); };
}

}  // namespace dryfit::cli
