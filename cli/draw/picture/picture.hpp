#pragma once
/// A picture of a frame, whole or in part, with labels and an arrow for the next move.
#include <map>
#include <optional>
#include <string>
#include <vector>

#include "cli/draw/body/view.hpp"
#include "cli/draw/paint/canvas.hpp"
#include "cli/draw/paint/stamp_sheet.hpp"
#include "cli/draw/paint/surface.hpp"
#include "cli/draw/picture/arrow.hpp"
#include "cli/draw/picture/dimensions.hpp"
#include "cli/draw/picture/figures.hpp"
#include "cli/draw/picture/labels.hpp"
#include "model/frame/frame.hpp"

namespace dryfit::cli {

/// What moves in a step, drawn where it comes from.
struct Start {
  std::vector<model::PartId> parts;
  Vec3 by;                  ///< from where they end to where they are drawn
  std::vector<Vec3> seats;  ///< where they end: a dashed line goes to each of them
};

/// A screw beside the hole that it goes into.
struct Screw {
  model::PartId part = model::kNone;  ///< what it holds, whose tone it has
  Vec3 tip;
  Vec3 into;  ///< length 1
};

/// A post under what would fall, in the frame's own room.
struct Prop {
  model::PartId under = model::kNone;
  Vec3 foot;
  Vec3 head;
};

/// Help that a step needs: its figure is led to one of the parts.
struct Help {
  Figure figure = Figure::person;
  std::vector<model::PartId> parts;
};

struct PictureOptions {
  std::vector<model::PartId> shown;       ///< empty: all parts
  std::vector<model::PartId> emphasised;  ///< in the accent colour, with a heavy outline and a dark label
  std::optional<Arrow> arrow;
  std::string piece;                       ///< a name for all of several parts; "": each has its label
  std::vector<model::PartId> piece_parts;  ///< these; they move, or something comes to them
  std::optional<Start> start;              ///< the arrow begins there too
  std::vector<Screw> screws;
  std::vector<model::PartId> open_unions;      ///< halves whose nut is not on yet
  std::map<model::PartId, std::string> notes;  ///< said after the name on the label
  std::vector<model::PartId> held;             ///< the mark of what is held goes on their labels
  std::vector<Help> help;
  std::vector<Prop> props;
  std::vector<Dimension> dimensions;
  bool labels = true;
  std::vector<model::PartId> labelled;  ///< empty: all that is shown
  /// Floor, walls, straps and clips that are drawn, by index into fixtures_of(frame); none: all that belong to what is
  /// shown.
  std::optional<std::vector<int>> fixtures;
  /// Of these: straps and clips are emphasised, floors and walls get a label.
  std::vector<int> new_fixtures;
  bool signs = false;         ///< the axes of the room, and where up is when it is finished if it does not lie so
  bool lens = true;           ///< a round enlargement where the emphasised parts come out very small
  std::optional<View> view;   ///< none: chosen so that the emphasised parts are seen; how it lies is not taken from it
  model::Attitude lies{};     ///< in the room, which is where the view and the words of directions are
  bool room_for_all = false;  ///< scaled and placed as if all parts were shown: steps of one order match
  double width_mm = 180.0;    ///< write_picture: size of the page
  double height_mm = 0.0;     ///< of the page; 0: as the picture needs, from 0.4 to 1.4 times its width
  double text_mm = 0.0;       ///< size of labels; 0: by the picture's width, never under 2.2 mm
  std::string title;          ///< "": none
  std::string caption;        ///< small line at the foot; "": none
};

/// What came out: for captions, and for tests.
struct PictureReport {
  View view;
  bool turned = false;     ///< another view than the usual one was needed
  double visible = 1.0;    ///< how much of the emphasised parts is seen, 0 to 1
  bool enlarged = false;   ///< a lens was drawn
  double lens_over = 0.0;  ///< mm of other parts that its line runs over
  double trouble = 0.0;    ///< how far labels, lens and signs are from what one would wish; 0: nothing is amiss
  double scale = 1.0;      ///< page mm per room mm in the plane of the picture
  PageMap map{Projection(View{}), 1.0, 0.0, 0.0};
  std::vector<RectMm> insets;         ///< lens, axes and "up when finished": on free paper
  std::vector<PageMap::Point> bench;  ///< corners of what the work lies on; none without it
  std::vector<PlacedLabel> labels;
  std::vector<std::string> texts;     ///< of the labels, one for one
  std::vector<std::string> hidden;    ///< labels of parts that nothing is seen of
  std::vector<std::string> left_out;  ///< labels for which there was no room
};

/// A view for each of several pictures that are looked at one after the other, see choose_views.
[[nodiscard]] std::vector<View> views_in_a_row(const model::Frame& frame,
                                               const std::vector<const PictureOptions*>& pictures);

/// Height of a page of the options' width on which the picture, title and caption fit well, mm: from 0.4 to 1.4 times
/// the width, and room for the words.
[[nodiscard]] double natural_height(const model::Frame& frame, const PictureOptions& options);

/// Draws into `area` of the page; user units of `canvas` are mm. Throws DrawError when an option names no part of the
/// frame, there is nothing to draw, or the canvas fails.
PictureReport draw_picture(Canvas& canvas, RectMm area, const model::Frame& frame, const PictureOptions& options);

/// The bytes of a picture on a page of its own. Throws as draw_picture.
[[nodiscard]] std::string picture_bytes(PictureFormat format, const model::Frame& frame, const PictureOptions& options,
                                        PictureReport* report = nullptr);

/// The same as SVG that shares what looks alike with other pictures of a page (stamp_canvas.hpp): the markup inside an
/// `<svg>` whose viewBox is that of `stamped_box`. Throws as draw_picture.
[[nodiscard]] std::string stamped_picture(StampSheet& sheet, const model::Frame& frame, const PictureOptions& options,
                                          PictureReport* report = nullptr);
[[nodiscard]] std::string stamped_box(const model::Frame& frame, const PictureOptions& options);

/// Writes the picture; its format is the ending of the name (.svg, .pdf, .png). The file appears whole or not at
/// all. Throws DrawError, and UsageError when the file cannot be written.
PictureReport write_picture(const std::string& path, const model::Frame& frame, const PictureOptions& options);

}  // namespace dryfit::cli
