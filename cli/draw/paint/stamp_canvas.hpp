#pragma once
/// Pictures of one page as SVG in which what looks alike is written once, whatever the scale of the picture: bodies are
/// kept in the page's StampSheet in units of their own, pictures put them in their places.
#include <optional>
#include <string>
#include <vector>

#include "cli/draw/paint/markup_canvas.hpp"
#include "cli/draw/paint/stamp_sheet.hpp"

namespace dryfit::cli {

/// One picture. Outside bodies a unit is a hundredth of a mm; inside, a power of two of room mm, so that it comes out
/// at no more than 0.03 mm on the page: places are that true.
class StampCanvas final : public MarkupCanvas {
 public:
  static constexpr double kUnit = 0.01;
  explicit StampCanvas(StampSheet& sheet);

  void move_to(double x, double y) override;
  void line_to(double x, double y) override;
  void close() override;
  void fill() override;
  void clip() override;
  void save() override;
  void restore() override;

  void fill_and_keep() override;
  void stroke() override;

  void text(double x, double y, const std::string& text, const TextStyle& style, look::Tone tone) override;

  void begin_body(double scale) override;
  void end_body() override;

  /// What stands inside an `<svg>` whose viewBox counts hundredths of a mm. Nothing can be drawn after that.
  [[nodiscard]] std::string finish();

 private:
  struct Bounds {
    Place lo{1e300, 1e300}, hi{-1e300, -1e300};
    void add(Place p, double reach = 0.0);
    void add(const Bounds& other);
    [[nodiscard]] bool meets(const Bounds& other) const;
  };
  /// A step of an outline: M, L, A or Z.
  struct Stroke {
    char kind = 'M';
    Place to;
    double radius = 0.0;
    bool wide = false;
  };
  struct Saved {
    Setting setting;
    std::optional<Bounds> seen;
  };
  /// What is being written: the page, or a body.
  struct Level {
    double unit = kUnit;
    std::optional<Place> origin;  ///< of a body: its first point
    std::string markup;
    std::string last;        ///< class of the line that the markup ends with; "" where nothing can be added to it
    long long x = 0, y = 0;  ///< where that line's path ends, and where its last part began
    long long from_x = 0, from_y = 0;
    Bounds bounds;
  };

  void arc_to(Place to, double radius, bool wide) override;
  /// The path in the units of the level that is being written, after what stands there.
  [[nodiscard]] std::string path_text(bool adding);
  [[nodiscard]] std::string stroke_class();
  void paint_path(const std::string& name, bool line);
  /// The page has room-unit bodies in a group of their own scale; 0: none.
  void page_group(double unit);
  void finish_path();

  StampSheet& sheet_;
  std::vector<Level> levels_{1};
  std::vector<Stroke> path_;
  std::size_t filled_to_ = 0;  ///< where the markup ends with the path that is kept, filled; 0: it does not
  double group_ = 0.0;
  std::optional<Bounds> seen_;  ///< what page-level clips leave
  std::vector<Saved> saved_;
};

}  // namespace dryfit::cli
