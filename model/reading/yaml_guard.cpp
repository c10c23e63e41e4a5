#include "model/reading/yaml_guard.hpp"

#include <fmt/format.h>
#include <yaml-cpp/eventhandler.h>
#include <yaml-cpp/exceptions.h>
#include <yaml-cpp/parser.h>

#include <algorithm>
#include <array>
#include <optional>
#include <sstream>
#include <unordered_map>

#include "model/frame/plain_text.hpp"
#include "model/geometry/at.hpp"
#include "model/reading/surrogates.hpp"

namespace dryfit::model {
namespace {

SourcePos pos_of(const YAML::Mark& mark) { return {mark.line + 1, mark.column + 1}; }

[[noreturn]] void refuse(const std::string& file, SourcePos where, const Message& text) {
  throw FaultsError(file, {{where, Subject{"file", {}}.said(), text}});
}

/// Builds the tree from the parser's events. Weights and heights are kept per node, so that an alias costs nothing but
/// a pointer and what it would expand to is known all the same.
class TreeBuilder final : public YAML::EventHandler {
 public:
  TreeBuilder(std::string_view text, const std::string& file, YamlTree& tree) : text_(text), file_(file), tree_(tree) {}

  void OnDocumentStart(const YAML::Mark& mark) override {
    if (++documents_ > 1) {
      refuse(file_, pos_of(mark), message("a second YAML document begins here, expected one document per file"));
    }
  }
  void OnDocumentEnd() override {}

  void OnNull(const YAML::Mark& mark, YAML::anchor_t anchor) override {
    YamlNode& node = add(mark, YamlNode::Kind::null, anchor);
    node.text = written_null(mark);
    close(&node, 1, 1, anchor);
  }

  void OnAlias(const YAML::Mark& mark, YAML::anchor_t anchor) override {
    const auto found = anchors_.find(anchor);
    if (found == anchors_.end() || !found->second.closed) {
      refuse(file_, pos_of(mark), message("an alias (*) stands inside of what it repeats"));
    }
    const Anchored& to = found->second;
    alias_nodes_ += to.weight;
    if (alias_nodes_ > kMaxAliasNodes) {
      refuse(file_, pos_of(mark), message("aliases expand to more than {} nodes", kMaxAliasNodes));
    }
    if (static_cast<int>(open_.size()) + to.height > kMaxNesting) refuse_nesting(mark);
    hand_up(to.node, to.weight, to.height);
  }

  void OnScalar(const YAML::Mark& mark, const std::string& tag, YAML::anchor_t anchor,
                const std::string& value) override {
    check_tag(mark, tag);
    // What the file writes as an escape ("\\u202e") is no better than the character itself.
    if (const auto unfit = first_unfit(value))
      refuse(file_, pos_of(mark), message("written as an escape: {}", unfit->what));
    YamlNode& node = add(mark, YamlNode::Kind::scalar, anchor);
    node.text = value;
    node.quoted = tag == "!";
    close(&node, 1, 1, anchor);
  }

  void OnSequenceStart(const YAML::Mark& mark, const std::string& tag, YAML::anchor_t anchor,
                       YAML::EmitterStyle::value) override {
    open(mark, tag, YamlNode::Kind::sequence, anchor);
  }
  void OnSequenceEnd() override { close_open(); }
  void OnMapStart(const YAML::Mark& mark, const std::string& tag, YAML::anchor_t anchor,
                  YAML::EmitterStyle::value) override {
    open(mark, tag, YamlNode::Kind::map, anchor);
  }
  void OnMapEnd() override { close_open(); }

  [[nodiscard]] int documents() const { return documents_; }

 private:
  struct Open {
    YamlNode* node;
    std::size_t weight;
    int height;
    YAML::anchor_t anchor;
  };
  struct Anchored {
    const YamlNode* node = nullptr;
    std::size_t weight = 0;
    int height = 0;
    bool closed = false;
  };

  YamlNode& add(const YAML::Mark& mark, YamlNode::Kind kind, YAML::anchor_t anchor) {
    if (tree_.nodes.size() >= kMaxYamlNodes) {
      refuse(file_, pos_of(mark), message("more than {} values in one file", kMaxYamlNodes));
    }
    tree_.nodes.emplace_back();
    YamlNode& node = tree_.nodes.back();
    node.kind = kind;
    node.where = pos_of(mark);
    if (anchor != 0) anchors_[anchor] = {&node, 0, 0, false};
    return node;
  }

  void open(const YAML::Mark& mark, const std::string& tag, YamlNode::Kind kind, YAML::anchor_t anchor) {
    check_tag(mark, tag);
    if (static_cast<int>(open_.size()) >= kMaxNesting) refuse_nesting(mark);
    open_.push_back({&add(mark, kind, anchor), 1, 1, anchor});
  }

  void close_open() {
    const Open done = open_.back();
    open_.pop_back();
    close(done.node, done.weight, done.height, done.anchor);
  }

  void close(const YamlNode* node, std::size_t weight, int height, YAML::anchor_t anchor) {
    if (anchor != 0) anchors_[anchor] = {node, weight, height, true};
    hand_up(node, weight, height);
  }

  void hand_up(const YamlNode* node, std::size_t weight, int height) {
    if (open_.empty()) {
      tree_.root = node;
      return;
    }
    Open& parent = open_.back();
    parent.node->items.push_back(node);
    parent.weight += weight;
    parent.height = std::max(parent.height, height + 1);
  }

  void check_tag(const YAML::Mark& mark, const std::string& tag) const {
    // "?" is a plain scalar or an untagged collection, "!" a quoted scalar.
    if (tag.empty() || tag == "?" || tag == "!") return;
    refuse(file_, pos_of(mark), message("a YAML tag ('{}') has no meaning here: leave it out", shown(tag)));
  }

  [[noreturn]] void refuse_nesting(const YAML::Mark& mark) const {
    refuse(file_, pos_of(mark), message("nesting is deeper than {} levels", kMaxNesting));
  }

  [[nodiscard]] std::string written_null(const YAML::Mark& mark) const {
    if (mark.pos < 0 || dryfit::at(mark.pos) >= text_.size()) return {};
    const std::string_view rest = text_.substr(dryfit::at(mark.pos));
    for (const std::string_view word : {"null", "Null", "NULL", "~"}) {
      if (rest.starts_with(word)) return std::string(word);
    }
    return {};
  }

  std::string_view text_;
  const std::string& file_;
  YamlTree& tree_;
  std::vector<Open> open_;
  std::unordered_map<YAML::anchor_t, Anchored> anchors_;
  std::size_t alias_nodes_ = 0;
  int documents_ = 0;
};

/// Refuses what would hide text from people or make it look like other text.
void check_text(std::string_view text, const std::string& file) {
  if (const auto unfit = first_unfit(text)) refuse(file, place_of(text, unfit->at), unfit->what);
}

/// The tab that indents the last line up to `line` which has one: it is what most of the parser's complaints about
/// that line and the next come from.
std::optional<SourcePos> indenting_tab(std::string_view text, int line) {
  std::optional<SourcePos> found;
  int number = 1;
  constexpr int kBefore = 1;
  for (std::size_t begin = 0; begin < text.size() && number <= line; ++number) {
    const std::size_t end = std::min(text.find('\n', begin), text.size());
    const std::size_t indent = std::min(text.find_first_not_of(" \t", begin), end);
    const std::size_t tab = text.find('\t', begin);
    if (tab < indent && number >= line - kBefore) found = SourcePos{number, static_cast<int>(tab - begin) + 1};
    begin = end + 1;
  }
  return found;
}

/// A word alone on the line before `line`, indented less: its colon is missing.
struct LoneWord {
  SourcePos where;
  std::string word;
};

std::optional<LoneWord> word_without_colon(std::string_view text, int line) {
  std::optional<LoneWord> last;
  int number = 1;
  for (std::size_t begin = 0; begin < text.size() && number < line; ++number) {
    const std::size_t end = std::min(text.find('\n', begin), text.size());
    const std::string_view whole = text.substr(begin, end - begin);
    const std::size_t from = whole.find_first_not_of(' ');
    begin = end + 1;
    if (from == std::string_view::npos || whole[from] == '#') continue;
    last.reset();
    const std::string_view word = whole.substr(from, whole.find_last_not_of(" \r") + 1 - from);
    if (word.find_first_of(":#-[]{},\"'") == std::string_view::npos) {
      last = LoneWord{{number, static_cast<int>(from) + 1}, std::string(word)};
    }
  }
  return last;
}

/// What the parser says, and what it mostly comes from.
Message in_plain_words(const std::string& said) {
  struct Saying {
    std::string_view said;
    Message plain;
  };
  const std::array<Saying, 9> sayings{
      {{"end of map flow not found", message("a bracket '{}' is never closed", "{")},
       {"end of sequence flow not found", message("a bracket '{}' is never closed", "[")},
       {"illegal map value", message("a colon too many on this line, or the line is indented too far")},
       {"illegal map key", message("this line does not go with the one above: look at its indentation")},
       {"illegal block entry", message("a dash cannot stand here: look at the indentation")},
       {"illegal flow end", message("a closing bracket without its opening one")},
       {"end of map not found",
        message("this line does not go with those above: look at its indentation, and for a missing colon")},
       {"end of sequence not found",
        message("this line does not go with the list above: look at its indentation, and for a missing dash")},
       {"illegal EOF in scalar", message("a quotation mark is never closed")}}};
  for (const Saying& saying : sayings) {
    if (said == saying.said) return message("cannot be read as YAML: {}", saying.plain);
  }
  return message("cannot be read as YAML: {}", shown(said));
}

/// Refuses too many or too deep brackets before the parser sees them: it looks ahead over a whole list or map to find
/// out whether that is a key, and would hold all of it in memory. A light reading of the text, which knows quotes and
/// comments; an opening bracket counts where a value can begin, a closing one anywhere.
void check_brackets(std::string_view text, const std::string& file) {
  SourcePos at{1, 0};
  int depth = 0;
  std::size_t marks = 0;
  char quote = 0;
  bool comment = false;
  char before = '\n';
  for (std::size_t i = 0; i < text.size(); ++i) {
    const char c = text[i];
    ++at.column;
    const bool starts = std::string_view(" \t\n\r[{,:").find(before) != std::string_view::npos;
    if (c == '\n') {
      comment = false;
      ++at.line;
      at.column = 0;
    } else if (comment) {
      // Nothing counts up to the end of the line.
    } else if (quote != 0) {
      if (c == '\\' && quote == '"') {
        ++i;
        if (i < text.size() && text[i] == '\n') {
          ++at.line;
          at.column = 0;
        } else {
          ++at.column;
        }
      } else if (c == '\'' && quote == '\'' && i + 1 < text.size() && text[i + 1] == '\'') {
        ++i;  // '' stands for one quote
        ++at.column;
      } else if (c == quote) {
        quote = 0;
      }
    } else if ((c == '"' || c == '\'') && starts) {
      quote = c;
    } else if (c == '#' && starts) {
      comment = true;
    } else if (c == '[' || c == '{' || c == ']' || c == '}' || c == ',') {
      if ((c == '[' || c == '{') && starts && ++depth > kMaxNesting) {
        refuse(file, at, message("nesting is deeper than {} levels", kMaxNesting));
      }
      if ((c == ']' || c == '}') && depth > 0) --depth;
      if (++marks > kMaxYamlNodes) refuse(file, at, message("more than {} values in one file", kMaxYamlNodes));
    }
    before = c;
  }
}

void check_keys_of(const YamlNode& map, Faults& faults) {
  static constexpr Subject kSubject{"file", {}};
  // Nearly all maps are a part or its options: there, looking back beats hashing.
  constexpr std::size_t kFew = 12;
  const bool few = map.pairs() <= kFew;
  std::unordered_map<std::string_view, const YamlNode*> seen;
  const auto earlier = [&](std::size_t i) -> const YamlNode* {
    const YamlNode& key = map.key(i);
    if (!few) {
      const auto [first, fresh] = seen.emplace(key.text, &key);
      return fresh ? nullptr : first->second;
    }
    for (std::size_t k = 0; k < i; ++k) {
      const YamlNode& before = map.key(k);
      if (before.text == key.text && !before.is_map() && !before.is_sequence()) return &before;
    }
    return nullptr;
  };
  for (std::size_t i = 0; i < map.pairs(); ++i) {
    const YamlNode& key = map.key(i);
    if (key.is_map() || key.is_sequence()) {
      faults.add(key.where, kSubject, message("a key must be a word, got {}", key.described()));
      continue;
    }
    if (key.text == "<<" && !key.quoted) {
      faults.add(key.where, kSubject, message("'<<' (a merge key) is not read: write the keys out"));
      continue;
    }
    if (const YamlNode* first = earlier(i)) {
      faults.add(key.where, kSubject,
                 message("'{}' is given twice, first at line {}, column {}", shown(key.text), first->where.line,
                         first->where.column));
    }
  }
}

}  // namespace

const YamlNode* YamlNode::find(std::string_view key_text) const {
  for (std::size_t i = 0; i < pairs(); ++i) {
    if (key(i).text == key_text) return &value(i);
  }
  return nullptr;
}

Message YamlNode::described() const {
  switch (kind) {
    case Kind::null: return text.empty() ? message("nothing") : Message::as_it_is("'" + shown(text) + "'");
    case Kind::scalar: return Message::as_it_is("'" + shown(text) + "'");
    case Kind::sequence: return message("a list");
    case Kind::map: return message("a map");
  }
  return {};
}

YamlTree read_yaml(std::string_view bytes, const std::string& file, Faults& faults) {
  if (bytes.size() > kMaxFileBytes) {
    refuse(file, {}, message("{} bytes long, expected at most {} (16 MiB)", bytes.size(), kMaxFileBytes));
  }
  const std::string text = with_joined_pairs(with_plain_lines(std::string(bytes)));
  check_text(text, file);
  check_brackets(text, file);
  YamlTree tree;
  TreeBuilder builder(text, file, tree);
  try {
    std::istringstream stream{text};
    YAML::Parser parser(stream);
    while (parser.HandleNextDocument(builder)) {
    }
  } catch (const YAML::Exception& error) {
    const SourcePos where = error.mark.is_null() ? SourcePos{} : pos_of(error.mark);
    if (const auto tab = indenting_tab(text, where.line)) {
      refuse(file, *tab, message("a tab at the beginning of the line; YAML takes blanks only: replace it"));
    }
    if (const auto lone = word_without_colon(text, where.line)) {
      refuse(file, lone->where, message("a colon is missing behind '{}'", shown(lone->word)));
    }
    refuse(file, where, in_plain_words(error.msg));
  }
  if (tree.root == nullptr || tree.root->is_null()) {
    refuse(file, {}, message("is empty, expected a map that begins with 'dryfit: 1'"));
  }
  if (!tree.root->is_map()) {
    refuse(file, tree.root->where,
           message("expected a map that begins with 'dryfit: 1', got {}", tree.root->described()));
  }
  for (const YamlNode& node : tree.nodes) {
    if (node.is_map()) check_keys_of(node, faults);
  }
  return tree;
}

}  // namespace dryfit::model
