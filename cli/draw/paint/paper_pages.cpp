#include "cli/draw/paint/paper_pages.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cctype>

#include "cli/io/atomic_file.hpp"
#include "cli/words/say.hpp"

namespace dryfit::cli {
namespace {

/// The ending of the name with its dot, in small letters.
std::string ending_of(const std::string& path) {
  std::string ending = path.size() > 4 ? path.substr(path.size() - 4) : "";
  std::transform(ending.begin(), ending.end(), ending.begin(),
                 [](unsigned char c) { return static_cast<char>(std::tolower(c)); });
  return ending;
}

}  // namespace

PictureFormat paper_format_for(const std::string& path) {
  const std::string ending = ending_of(path);
  if (ending == ".pdf") return PictureFormat::pdf;
  if (ending == ".svg") return PictureFormat::svg;
  throw DrawError(
      say("'{}': there may be several pages, so the name ends in .pdf, or in .svg for a picture of each page", path));
}

PaperPages::PaperPages(PictureFormat format, const std::string& title) : title_(title) {
  if (format == PictureFormat::png) throw DrawError(say("pages to print are PDF or SVG"));
  if (format == PictureFormat::pdf) pdf_.emplace(title);
}

Canvas& PaperPages::new_page(double width_mm, double height_mm) {
  if (pdf_) return pdf_->new_page(width_mm, height_mm);
  if (svg_) drawn_.push_back(svg_->finish());
  return svg_.emplace(width_mm, height_mm, title_);
}

std::vector<std::string> PaperPages::finish() {
  if (pdf_) return {pdf_->finish()};
  if (svg_) drawn_.push_back(svg_->finish());
  return std::move(drawn_);
}

std::vector<std::string> write_documents(const std::string& path, const std::vector<std::string>& documents) {
  std::vector<std::string> names;
  for (const std::string& document : documents) {
    const std::size_t stem = path.size() - 4;  // of ".svg"
    names.push_back(ending_of(path) == ".svg"
                        ? fmt::format("{}-{}{}", path.substr(0, stem), names.size() + 1, path.substr(stem))
                        : path);
    write_file(names.back(), document);
  }
  return names;
}

std::string documents_text(const std::vector<std::string>& files) {
  return files.size() == 1 ? files.front() : say("{0} to {1}", files.front(), files.back());
}

}  // namespace dryfit::cli
