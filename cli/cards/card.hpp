#pragma once
/// A deck of build cards as plain data: one card a step, what comes before the first step and after the last.
#include <string>
#include <vector>

#include "cli/draw/picture/picture.hpp"
#include "cli/draw/sheet/swap_table.hpp"

namespace dryfit::cli {

/// One step.
struct Card {
  int number = 0;
  std::string strip;               ///< "Piece A", or "" for the main work
  std::string pose;                ///< "upside down"; "" where the frame is too large to plan
  std::string seen;                ///< the view has changed since the card before: where it is seen from now
  std::vector<std::string> first;  ///< what is done before it: a piece that begins, the work being turned
  std::string text;                ///< the instruction, as `order` gives it
  std::vector<std::string> traps;  ///< what is easily forgotten here or closed out here, with what that costs
  std::vector<std::string> facts;  ///< a few words each: which side turns, turns, people
  std::vector<std::string> notes;  ///< what it must come before, what it joins on
  std::vector<std::string> stop;     ///< what becomes of the work when people stop after it, where that needs care
  std::vector<std::string> missing;  ///< what can be done all the same when a part that it brings is missing
  std::vector<std::string> cautions;
  PictureOptions picture;  ///< the work as it stands, the new piece emphasised
};

/// Something to tick that belongs to no step.
struct Chore {
  std::string text;
  std::vector<std::string> cautions;
};

struct Deck {
  std::string name;
  std::string summary;               ///< steps, parts, weight
  std::string size;                  ///< width, depth and height over all
  std::vector<Dimension> sizes;      ///< the same, for the picture of the whole
  std::vector<std::string> lay_out;  ///< pieces to lay out, one kind a line
  std::vector<std::string> tools;
  std::vector<std::string> safety;
  std::vector<std::string> tapes;  ///< labels to cut out, each once
  std::vector<int> tape_steps;     ///< per label: the step that brings it, or first takes hold of it; 0: none does
  std::vector<Chore> before;
  std::vector<Card> cards;
  std::vector<Chore> after;              ///< level, fastening, tightness, turns to give or take
  std::vector<std::string> closing;      ///< notes and what the order costs
  std::vector<SwapRow> swaps;            ///< what taking each pipe and board out again costs, by steps done
  std::vector<std::string> about_swaps;  ///< how to read that
};

}  // namespace dryfit::cli
