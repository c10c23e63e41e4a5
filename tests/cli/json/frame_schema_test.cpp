/// The schema of the frame file against the reader. What the reader knows is asked of the reader itself: it names all
/// the words that it expected when it meets one that it does not know.
#include <doctest/doctest.h>
#include <fmt/format.h>

#include <algorithm>
#include <functional>
#include <set>

#include "cli/json/schemas.hpp"
#include "model/frame/frame.hpp"
#include "model/frame/input_error.hpp"
#include "model/geometry/direction.hpp"
#include "model/placing/reader.hpp"
#include "tests/support/program/program.hpp"
#include "tests/support/program/schema_check.hpp"

using dryfit::tests::faults_by_schema;
using dryfit::tests::json_of_yaml;
using dryfit::tests::scenario_files;
using dryfit::tests::slurp;
using nlohmann::json;

namespace {

using Words = std::set<std::string>;

const json& schema() {
  static const json whole = json::parse(dryfit::cli::schema_named("frame")->dump());
  return whole;
}

/// The part of the schema at a JSON pointer, references followed on the way.
const json& at(const std::string& pointer) {
  const json* node = &schema();
  std::size_t begin = 1;
  const auto follow = [&] {
    while (true) {
      if (node->contains("$ref")) {
        node = &schema().at(json::json_pointer((*node)["$ref"].get<std::string>().substr(1)));
      } else if (node->contains("allOf")) {
        node = &(*node)["allOf"][0];
      } else {
        return;
      }
    }
  };
  follow();
  while (begin <= pointer.size()) {
    const std::size_t end = std::min(pointer.find('/', begin), pointer.size());
    const std::string step = pointer.substr(begin, end - begin);
    node = node->is_array() ? &node->at(std::stoul(step)) : &node->at(step);
    if (node->is_object()) follow();
    begin = end + 1;
  }
  return *node;
}

Words keys_at(const std::string& pointer) {
  Words keys;
  for (const auto& [key, value] : at(pointer + "/properties").items()) keys.insert(key);
  return keys;
}

Words enum_at(const std::string& pointer) {
  Words words;
  for (const json& word : at(pointer + "/enum")) words.insert(word.is_string() ? word.get<std::string>() : word.dump());
  return words;
}

/// The schema of a kind, by its title.
const json& kind(const std::string& word) {
  for (const json& one : at("/definitions/part/additionalProperties/anyOf")) {
    if (one.contains("title") && one["title"] == word) return one;
  }
  FAIL("the schema has no kind ", word);
  return schema();
}

/// What the reader says about a text, line by line.
std::vector<std::string> told(const std::string& text) {
  try {
    static_cast<void>(dryfit::model::read_frame(text, "f"));
  } catch (const dryfit::model::InputError& error) {
    std::vector<std::string> lines;
    const std::string all = error.what();
    for (std::size_t begin = 0; begin < all.size();) {
      const std::size_t end = std::min(all.find('\n', begin), all.size());
      lines.push_back(all.substr(begin, end - begin));
      begin = end + 1;
    }
    return lines;
  }
  return {};
}

/// The words that the reader expected instead of 'qqq'.
Words expected_instead(const std::string& text) {
  for (const std::string& line : told(text)) {
    if (line.find("'qqq'") == std::string::npos) continue;
    const std::size_t begin = line.find("expected ");
    REQUIRE(begin != std::string::npos);
    std::string list = line.substr(begin + 9);
    list = list.substr(0, list.find(';'));
    Words words;
    for (std::size_t from = 0; from <= list.size();) {
      std::size_t end = std::min({list.find(", ", from), list.find(" or ", from), list.size()});
      words.insert(list.substr(from, end - from));
      from = end + (end < list.size() && list[end] == ',' ? 2 : 4);
    }
    return words;
  }
  FAIL("the reader did not complain about 'qqq' in: ", text);
  return {};
}

std::string frame_with(const std::string& parts, const std::string& more = "") {
  return "dryfit: 1\npipe: {standard: npt, size: 1/2}\nruns: {a: {go: up, at: [0, 0, 0], parts: [" + parts + "]}}\n" +
         more;
}

std::vector<std::string> scenario_texts() {
  std::vector<std::string> texts;
  for (const std::string& file : scenario_files()) texts.push_back(slurp(file));
  return texts;
}

/// Texts that differ from `text` by one key, which is misspelt or whose pair is gone with its line.
std::vector<std::string> spoilt(const std::string& text) {
  std::vector<std::string> texts;
  for (std::size_t colon = text.find(':'); colon != std::string::npos; colon = text.find(':', colon + 1)) {
    std::string other = text;
    other.insert(colon, "q");
    texts.push_back(std::move(other));
  }
  for (std::size_t begin = 0; begin < text.size();) {
    const std::size_t end = std::min(text.find('\n', begin), text.size() - 1) + 1;
    texts.push_back(text.substr(0, begin) + text.substr(end));
    begin = end;
  }
  return texts;
}

}  // namespace

TEST_CASE("every scenario is valid by the schema of the frame file") {
  const auto texts = scenario_texts();
  CHECK(texts.size() >= 12);  // a floor set by hand, so that an empty folder cannot pass
  for (const std::string& text : texts) {
    CAPTURE(text);
    CHECK(faults_by_schema("frame", json_of_yaml(text)) == std::vector<std::string>{});
  }
}

TEST_CASE("the schema knows every key that the reader knows, and no other") {
  CHECK(expected_instead(frame_with("P: {pipe: 6}", "qqq: 1")) == keys_at(""));
  CHECK(expected_instead("dryfit: 1\npipe: {standard: npt, qqq: 1}\n") == keys_at("/properties/pipe"));
  CHECK(expected_instead("surfaces: {floor: {qqq: 1}}") == keys_at("/properties/surfaces/additionalProperties"));
  CHECK(expected_instead("runs: {a: {qqq: 1}}") == keys_at("/definitions/run"));
  CHECK(expected_instead("boards: {B: {qqq: 1}}") == keys_at("/definitions/board"));
  CHECK(expected_instead("boards: {B: {size: {qqq: 1}}}") == keys_at("/definitions/board/properties/size"));
}

TEST_CASE("the schema knows every kind of part, its options and its dimensions, and no other") {
  Words kinds;
  for (const json& one : at("/definitions/part/additionalProperties/anyOf")) {
    if (one.contains("title")) kinds.insert(one["title"].get<std::string>());
  }
  CHECK(expected_instead(frame_with("P: qqq")) == kinds);
  for (const std::string& word : kinds) {
    CAPTURE(word);
    const json& one = kind(word);
    Words options, dimensions;
    for (const auto& [key, value] : one["properties"].items()) options.insert(key);
    CHECK(expected_instead(frame_with(fmt::format("P: {{{}: , qqq: 1}}", word))) == options);
    // A kind may stand alone exactly when the schema lists it among the bare ones.
    const Words bare = enum_at("/definitions/part/additionalProperties/anyOf/0");
    const auto lines = told(frame_with("P: " + word));
    const bool refused = std::any_of(lines.begin(), lines.end(), [](const std::string& line) {
      return line.find(" needs its ") != std::string::npos || line.find("is missing") != std::string::npos;
    });
    CHECK(refused == (bare.count(word) == 0));
    if (!one["properties"].contains("measured")) continue;
    for (const auto& [key, value] : one["properties"]["measured"]["properties"].items()) dimensions.insert(key);
    CHECK(expected_instead(frame_with(fmt::format("P: {{{}: , measured: {{qqq: 1}}}}", word))) == dimensions);
  }
  CHECK(expected_instead(frame_with("P: {pipe: 6, turns: {qqq: 1}}")) == Words{"start", "end"});
  CHECK(kind("pipe")["properties"]["turns"]["properties"].size() == 2);
}

TEST_CASE("the schema knows every word that the reader takes as a value, and no other") {
  CHECK(expected_instead("units: qqq") == enum_at("/properties/units"));
  CHECK(expected_instead("make-up: qqq") == enum_at("/properties/make-up"));
  CHECK(expected_instead("pipe: {standard: qqq}") == enum_at("/properties/pipe/properties/standard"));
  CHECK(expected_instead("boards: {B: {stock: qqq}}") == enum_at("/definitions/board/properties/stock"));
  CHECK(expected_instead("surfaces: {s: {normal: qqq}}") == enum_at("/definitions/axis"));
  const auto option = [](const char* of, const char* name) {
    Words words;
    for (const json& word : kind(of)["properties"][name]["enum"]) {
      words.insert(word.is_string() ? word.get<std::string>() : word.dump());
    }
    return words;
  };
  CHECK(expected_instead(frame_with("P: {pipe: 6, plain: qqq}")) == option("pipe", "plain"));
  CHECK(expected_instead(frame_with("P: {cross: , plane: qqq}")) == option("cross", "plane"));
  CHECK(expected_instead(frame_with("P: {street-elbow: up, reverse: qqq}")) == option("street-elbow", "reverse"));
  CHECK(expected_instead(frame_with("P: {tee: up, entry: qqq}")) == option("tee", "entry"));
  Words directions;
  for (const auto d : dryfit::model::all_directions()) directions.insert(d.name());
  CHECK(directions == enum_at("/definitions/direction"));
  Words sizes;
  for (std::string size : dryfit::model::nominal_sizes()) {
    sizes.insert(size);
    std::replace(size.begin(), size.end(), '-', ' ');
    sizes.insert(size);
  }
  CHECK(sizes == enum_at("/definitions/size"));
}

TEST_CASE("whatever the schema refuses, the reader refuses too") {
  int by_schema = 0, by_reader = 0, made = 0;
  for (const std::string& text : scenario_texts()) {
    for (const std::string& other : spoilt(text)) {
      json document;
      try {
        document = json_of_yaml(other);
      } catch (const std::exception&) {
        continue;  // no YAML any more
      }
      ++made;
      const bool reader = !told(other).empty();
      const bool refused = !faults_by_schema("frame", document).empty();
      by_reader += reader ? 1 : 0;
      by_schema += refused ? 1 : 0;
      if (refused && !reader)
        FAIL_CHECK("only the schema refuses this: ", faults_by_schema("frame", document).back(), "\n", other);
    }
  }
  CHECK(made > 1000);           // a floor set by hand
  CHECK(by_schema > made / 4);  // a schema that takes everything would be no help
  CHECK(by_reader >= by_schema);
}

TEST_CASE("the schema refuses what an editor should underline") {
  const std::string good = frame_with("P: {pipe: 4-1/2}, E: {elbow: right}, Q: {pipe: 9.5 in}");
  REQUIRE(told(good).empty());
  CHECK(faults_by_schema("frame", json_of_yaml(good)).empty());
  for (const std::string parts : {"P: {pipe: 4-1/2, tee: up}", "P: {pipe: nonsense}", "P: {pipe: 0}", "P: {pipe: -3}",
                                  "P: {elbow: rigth}", "P: {cross: }", "P: {side-tee: up}", "P: {coupling: 4}",
                                  "P: pipe", "no: {pipe: 6}", "8P: {pipe: 6}", "P: {pipe: 6, size: 5/8}", ""}) {
    CAPTURE(parts);
    CHECK_FALSE(faults_by_schema("frame", json_of_yaml(frame_with(parts))).empty());
    CHECK_FALSE(told(frame_with(parts)).empty());
  }
}

TEST_CASE("every key of the frame file has a description that an editor can show") {
  int keys = 0;
  const std::function<void(const json&)> walk = [&](const json& node) {
    if (node.is_array()) {
      for (const json& item : node) walk(item);
    } else if (node.is_object()) {
      if (node.contains("properties") && node["properties"].is_object()) {
        for (const auto& [key, value] : node["properties"].items()) {
          CAPTURE(key);
          ++keys;
          CHECK((value.contains("description") || value.contains("$ref")));
        }
      }
      for (const auto& [key, value] : node.items()) walk(value);
    }
  };
  walk(schema());
  CHECK(keys > 80);  // a floor set by hand, so that the walk cannot miss the schema
}
