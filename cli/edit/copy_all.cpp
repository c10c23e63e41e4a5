#include "cli/edit/copy_all.hpp"

#include <optional>

#include "cli/edit/connect.hpp"
#include "model/editing/copy.hpp"
#include "model/editing/grow.hpp"
#include "model/editing/outline.hpp"

namespace dryfit::cli {
namespace {

/// "T1.right" in the copy: "T3.left"; nullopt for what is not copied.
std::optional<std::string> twin_of(const std::string& link, const RunCopy& copy) {
  const std::size_t dot = link.find('.');
  const auto name = copy.names.find(link.substr(0, std::min(dot, link.find('~'))));
  if (name == copy.names.end()) return std::nullopt;
  if (dot == std::string::npos) return name->second;
  const std::string port = link.substr(dot + 1);
  const auto direction = model::direction_named(port);
  return name->second + "." + (direction ? model::turned(copy.turning, *direction).name() : port);
}

class CopyingAll {
 public:
  CopyingAll(std::string name, RunCopy copy, const model::Frame& before)
      : name_(std::move(name)), copy_(std::move(copy)) {
    text_ = copy_.made.text;
    for (const model::Run& run : before.runs) {
      if (run.id != copy_.run) left_.push_back(run.id);
    }
    for (const model::Board& board : before.boards) boards_.push_back(before.part(board.part).id);
  }

  EditMade all() {
    while (one_more_branch()) {
    }
    for (const std::string& board : boards_) copy_board(board);
    copy_.made.text = text_;
    return copy_.made;
  }

 private:
  /// The next run that begins at what is copied.
  bool one_more_branch() {
    for (std::size_t i = 0; i < left_.size(); ++i) {
      const std::string run = left_[i];
      const auto from = twin_of(model::said_of_run(text_, run, "from"), copy_);
      if (!from) continue;
      left_.erase(left_.begin() + static_cast<std::ptrdiff_t>(i));
      const auto loaded = read_if_sound(text_, name_);
      const auto end = loaded ? end_named(loaded->frame, *from) : std::nullopt;
      if (end && port_of(loaded->frame, *end).joint == model::kNone) copy_branch(loaded->frame, run, *from);
      return true;
    }
    return false;
  }

  void copy_branch(const model::Frame& frame, const std::string& run, const std::string& from) {
    std::set<std::string> taken = names_taken(frame);
    for (const model::NewPart& part : model::parts_of_run(text_, run)) {
      copy_.made.added.push_back(copy_.names[part.id] = name_like(taken, part.id));
    }
    model::NewRun branch = model::run_copied(text_, run, copy_.names, copy_.turning);
    branch.id = run_named(&frame, run);
    branch.from = from;
    const std::string to = model::said_of_run(text_, run, "to");
    const auto end = twin_of(to, copy_);
    const bool surface = to.find('.') == std::string::npos;
    branch.to = end ? *end : surface ? to : "";
    text_ = model::with_run(text_, branch);
    if (branch.to.empty() && !to.empty()) end_where_it_reaches(branch.id);
  }

  void end_where_it_reaches(const std::string& run) {
    const auto loaded = read_if_sound(text_, name_);
    if (!loaded) return;
    for (const PartEnd open : open_ends(loaded->frame)) {
      const int own = run_going_on(loaded->frame, open);
      if (own == model::kNone || loaded->frame.runs[at(own)].id != run) continue;
      if (const auto reached = reached_by(loaded->frame, open)) {
        text_ = model::with_run_ended(text_, run, end_name(loaded->frame, *reached));
      }
      return;
    }
  }

  void copy_board(const std::string& board) {
    const auto keys = model::board_copied(text_, board, copy_.names, copy_.turning);
    const auto loaded = keys ? read_if_sound(text_, name_) : std::nullopt;
    if (!loaded) return;
    std::set<std::string> taken = names_taken(loaded->frame);
    const std::string id = name_like(taken, board);
    const std::string longer = model::with_board(text_, id, *keys);
    // A board that finds no place there is left out.
    if (!read_if_sound(longer, name_)) return;
    text_ = longer;
    copy_.made.added.push_back(id);
  }

  std::string name_, text_;
  RunCopy copy_;
  std::vector<std::string> left_, boards_;
};

}  // namespace

EditMade run_copied_with_all(const std::string& text, const std::string& name, const std::string& run,
                             const std::string& place, bool mirror) {
  const LoadedFrame before = loaded_from(text, name);
  return CopyingAll(name, copy_of_run(before.frame, text, name, run, place, mirror), before.frame).all();
}

}  // namespace dryfit::cli
