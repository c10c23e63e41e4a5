#pragma once
/// What lines a PDF really holds, in mm on the page: read back from its own content streams.
#include <string>
#include <vector>

namespace dryfit::tests {

struct PdfPoint {
  double x = 0.0;  ///< from the left edge of the page
  double y = 0.0;  ///< from the top edge
};

/// A drawn path; curves are kept by their end points.
struct PdfPath {
  std::vector<PdfPoint> points;
  bool closed = false;
  bool rectangle = false;  ///< points are two opposite corners
};

struct PdfPage {
  double height = 0.0;
  std::vector<PdfPath> paths;
  std::string text;  ///< all strings shown, in order, one after the other
};

/// Pages in file order. Understands what cairo writes: deflated streams, q Q cm m l c re h and shown strings.
[[nodiscard]] std::vector<PdfPage> read_pdf(const std::string& bytes);

}  // namespace dryfit::tests
