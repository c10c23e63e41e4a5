#include "cli/edit/command_edit.hpp"

#include <fmt/format.h>

#include <memory>
#include <nlohmann/json.hpp>
#include <ostream>
#include <stdexcept>

#include "cli/call/declare.hpp"
#include "cli/edit/choices.hpp"
#include "cli/edit/connect.hpp"
#include "cli/edit/copy_all.hpp"
#include "cli/edit/cured.hpp"
#include "cli/edit/insert.hpp"
#include "cli/edit/offers.hpp"
#include "cli/edit/put_board.hpp"
#include "cli/edit/put_on.hpp"
#include "cli/io/atomic_file.hpp"
#include "cli/io/exit_code.hpp"
#include "cli/io/text_file.hpp"
#include "cli/io/usage_error.hpp"
#include "cli/json/json_answer.hpp"
#include "cli/words/said.hpp"
#include "cli/words/say.hpp"
#include "model/editing/edit.hpp"
#include "model/editing/take_off.hpp"

namespace dryfit::cli {
namespace {

struct EditCall {
  std::string frame, start;
  std::vector<std::string> rename, set, swap, insert, take_off, take_off_all, surface, cure, add, join, copy, mirror,
      copy_all, mirror_all, board, fix;
  std::string offers;
  std::string file;
  bool json = false;

  [[nodiscard]] bool changes() const {
    for (const auto* list : {&rename, &set, &swap, &insert, &take_off, &take_off_all, &surface, &cure, &add, &join,
                             &copy, &mirror, &copy_all, &mirror_all, &board, &fix}) {
      if (!list->empty()) return true;
    }
    return !start.empty();
  }
};

/// A text on its way through the changes that were asked for, in the order of the options in help.
class EditRun {
 public:
  EditRun(std::string text, std::string name) : name_(std::move(name)) { made_.text = std::move(text); }

  void change_words(const EditCall& call) {
    try {
      if (!call.start.empty()) made_.text = started(made_.text, call.start);
      for (const std::string& one : call.rename) {
        const auto [was, now] = two_sides("--rename", one);
        made_.text = model::with_name(made_.text, was, now);
      }
      for (const std::string& one : call.set) {
        const auto [target, value] = two_sides("--set", one);
        made_.text = model::with_values(made_.text, target, value);
      }
      for (const std::string& one : call.swap) {
        const auto [part, what] = two_sides("--swap", one);
        const bool plain = what.find(':') == std::string::npos || what.front() == '{';
        made_.text = model::with_part_swapped(made_.text, part, plain ? what : "{" + what + "}");
      }
      for (const std::string& one : call.insert) take(fitting_put_in(made_.text, name_, one));
      for (const std::string& part : call.take_off) made_.text = model::without_last_part(made_.text, part);
      for (const std::string& part : call.take_off_all) take(taken_off_with_all(made_.text, name_, part));
      for (const std::string& one : call.surface) made_.text = with_surface_at(made_.text, one);
      for (const std::string& one : call.cure) take(cure_made(made_.text, name_, one));
    } catch (const std::invalid_argument& error) {
      throw UsageError(said(error));
    }
  }

  void put_more_on(const EditCall& call) {
    for (const std::string& addition : call.add) {
      const auto [place, what] = two_sides("--add", addition);
      PutOn on = put_on(made_.text, name_, place, what);
      made_.text = std::move(on.text);
      made_.added.push_back(std::move(on.id));
    }
    try {
      for (const std::string& one : call.join) {
        const auto [end, target] = two_sides("--join", one);
        made_.text = joined_to(made_.text, name_, end, target);
      }
      for (const std::string& one : call.copy) copy("--copy", one, false);
      for (const std::string& one : call.mirror) copy("--mirror", one, true);
      for (const std::string& one : call.copy_all) copy_all("--copy-all", one, false);
      for (const std::string& one : call.mirror_all) copy_all("--mirror-all", one, true);
      for (const std::string& one : call.board) take(board_put_in(made_.text, name_, one));
      for (const std::string& one : call.fix) made_.text = board_fixed(made_.text, name_, one);
    } catch (const std::invalid_argument& error) {
      throw UsageError(said(error));
    }
  }

  [[nodiscard]] const EditMade& made() const { return made_; }

 private:
  void take(EditMade made) {
    made_.text = std::move(made.text);
    made_.added.insert(made_.added.end(), made.added.begin(), made.added.end());
    made_.off.insert(made_.off.end(), made.off.begin(), made.off.end());
  }
  void copy(const char* option, const std::string& given, bool mirror) {
    const auto [run, place] = two_sides(option, given);
    take(run_copied_to(made_.text, name_, run, place, mirror));
  }
  void copy_all(const char* option, const std::string& given, bool mirror) {
    const auto [run, place] = two_sides(option, given);
    take(run_copied_with_all(made_.text, name_, run, place, mirror));
  }

  std::string name_;
  EditMade made_;
};

int edit_frame(const EditCall& call, const Streams& streams) {
  if (!call.changes() && call.offers.empty()) {
    throw UsageError(say("nothing to change: --set, --add, --take-off or another change is needed"));
  }
  const std::string name = plain_name(call.frame);
  EditRun edits(read_text(call.frame, streams.in), name);
  edits.change_words(call);
  edits.put_more_on(call);
  const EditMade& made = edits.made();
  // Nothing is given out that the reader refuses.
  const LoadedFrame changed = loaded_from(made.text, fmt::format("{} as changed", name));
  std::optional<Offers> offers;
  std::optional<Choices> choices;
  if (call.offers.find('.') != std::string::npos) {
    offers = offers_at(changed, name, call.offers);
  } else if (!call.offers.empty()) {
    choices = choices_of(changed, name, call.offers);
  }
  if (!call.file.empty()) write_file(call.file, made.text);
  if (call.json) {
    Json document = envelope("edit", changed.frame, "edited");
    document["added"] = made.added;
    document["taken_off"] = made.off;
    if (offers) document["offers"] = offers_json(*offers);
    if (choices) document["choices"] = choices_json(*choices);
    document["text"] = made.text;
    print(streams.out, document);
  } else if (offers) {
    streams.out << offers_text(*offers, changed.frame.units);
  } else if (choices) {
    streams.out << choices_text(*choices, changed.frame.units);
  } else if (call.file.empty()) {
    streams.out << made.text;
  } else {
    streams.out << say("{}: written", call.file) << '\n';
  }
  return kYes;
}

}  // namespace

Job set_up_edit(OptionList& list) {
  const auto call = std::make_shared<EditCall>();
  list.value("FRAME", call->frame, "the frame file; - for standard input").required();
  list.value("--start", call->start, "the first lines of an empty file: \"npt 3/4\", \"iso7 1/2 cm\"");
  list.value("--rename", call->rename, "another name wherever the file says it: P3=upright");
  list.value("--set", call->set,
             "another value: P9.length=24, P3+P8.length=12 (both), S1.size.x=40, S1.stock=oak, pipe.size=1/2");
  list.value("--swap", call->swap, "another kind in its place: C1=union, T1=\"tee: left\"");
  list.value("--insert", call->insert, "a fitting in a pipe, which becomes two: P3=union, P3@4=\"tee: left\"");
  list.value("--take-off", call->take_off, "a part that is the last of its run");
  list.value("--take-off-all", call->take_off_all, "a part or board with all that hangs on it");
  list.value("--surface", call->surface, "where a surface is: wall=4-5/8, ceiling=96, side=\"left 30\"");
  list.value("--cure", call->cure, "what `check --json` names as a cure: \"notch S1 back P3 P8\", \"let-go rail\"");
  list.value(
      "--add", call->add,
      "a part on a free end or a surface: P5.end=coupling, T1.right=\"pipe: 12\", floor@0,24=flange; it is named");
  list.value("--join", call->join, "the end of a run screwed into an open port: R1.end=T2.left");
  list.value("--copy", call->copy,
             "a run once more, mirrored where it has to be: post=floor@24,0, post=R1.end, rung=T2.right");
  list.value("--mirror", call->mirror, "a run once more, mirrored: post=floor@24,0");
  list.value("--copy-all", call->copy_all, "a run once more with all that branches off it: post=floor@24,0");
  list.value("--mirror-all", call->mirror_all, "the same, mirrored");
  list.value("--board", call->board,
             "a board, as much of it as you say: \"through: [P3, P8]\", \"rests-on: [R1, R2], stock: oak\", "
             "\"wall@12,48, size: {x: 30}\"");
  list.value("--fix", call->fix, "a board screwed to a surface: S1=wall");
  list.value("--offers", call->offers,
             "what can go on a free end, and what each length comes to: T1.right; what a part could be instead: P6");
  list.value("-o,--output", call->file, "write the changed file here instead of printing it");
  list.flag("--json", call->json, "one JSON document that holds the changed text");
  return [call](const Streams& streams) { return edit_frame(*call, streams); };
}

}  // namespace dryfit::cli
