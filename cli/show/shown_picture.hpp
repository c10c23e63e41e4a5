#pragma once
/// The picture that `show` draws, once or again and again.
#include <string>
#include <vector>

#include "cli/check/finding.hpp"
#include "cli/draw/picture/picture.hpp"
#include "cli/input/frame_file.hpp"
#include "cli/io/working.hpp"
#include "cli/json/json_answer.hpp"

namespace dryfit::cli {

/// As the command line has it.
struct ShowOptions {
  std::string frame;
  std::string file;
  int step = 0;  ///< 0: the whole frame
  std::vector<std::string> only;
  std::vector<double> view;  ///< empty, or azimuth and elevation in degrees
  double width = 180.0;
  double height = 0.0;
  double text = 0.0;  ///< size of the labels in mm; 0: by the width
  bool no_labels = false;
  bool no_title = false;
  bool watch = false;
  bool json = false;
};

/// What is to be drawn. With a step the finding must be buildable; its order is used up. Throws UsageError that names
/// what the frame has not got.
[[nodiscard]] PictureOptions shown_picture(const ShowOptions& options, const LoadedFrame& loaded, Finding& finding,
                                           Working* working = nullptr);

/// Adds `step`, `view`, `turned`, `labels`, `hidden`, `no_room` and `over_all_mm` to a document.
void add_drawn(Json& document, const ShowOptions& options, const model::Frame& frame, const PictureReport& report);

}  // namespace dryfit::cli
