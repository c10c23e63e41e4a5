#include "cli/help/command_schema.hpp"

#include <fmt/ranges.h>

#include <memory>
#include <nlohmann/json.hpp>
#include <ostream>

#include "cli/io/exit_code.hpp"
#include "cli/io/usage_error.hpp"
#include "cli/json/json_answer.hpp"
#include "cli/json/schemas.hpp"
#include "cli/words/say.hpp"
#include "cli/words/words.hpp"
#include "model/text/nearest.hpp"

namespace dryfit::cli {
namespace {

int give_schema(const std::string& name, const Streams& streams) {
  const auto schema = schema_named(name);
  if (!schema) {
    const auto near = model::nearest_word(name, schema_names());
    throw UsageError(say("there is no schema '{}', expected {}{}", name, listed_or(schema_names()),
                         near ? say("; did you mean '{}'?", *near) : std::string()));
  }
  print(streams.out, *schema);
  return kYes;
}

}  // namespace

Job set_up_schema(OptionList& list) {
  const auto name = std::make_shared<std::string>("frame");
  list.value("NAME", *name, "frame for the frame file, or a command for what it prints with --json")
      .show_default()
      // Named for help and completions; a wrong one is told by give_schema, with the nearest word.
      .such_as(schema_names());
  return [name](const Streams& streams) { return give_schema(*name, streams); };
}

}  // namespace dryfit::cli
