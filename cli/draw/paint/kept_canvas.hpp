#pragma once
/// A drawing that is kept until it is known whether it is wanted.
#include <functional>
#include <string>
#include <utility>
#include <vector>

#include "cli/draw/paint/canvas.hpp"

namespace dryfit::cli {

/// Keeps all that is drawn, so that it can be drawn later, or never. Text is measured on the canvas that it is meant
/// for, which must outlive this one. Memory: a hundred bytes or so for each call.
class KeptCanvas : public Canvas {
 public:
  explicit KeptCanvas(Canvas& meant) : meant_(meant) {}
  /// Draws what was kept, in the same order.
  void draw() const {
    for (const Call& call : calls_) call(meant_);
  }

  void move_to(double x, double y) override {
    keep([=](Canvas& on) { on.move_to(x, y); });
  }
  void line_to(double x, double y) override {
    keep([=](Canvas& on) { on.line_to(x, y); });
  }
  void close() override {
    keep([](Canvas& on) { on.close(); });
  }
  void fill() override {
    keep([](Canvas& on) { on.fill(); });
  }
  void clip() override {
    keep([](Canvas& on) { on.clip(); });
  }
  void save() override {
    keep([](Canvas& on) { on.save(); });
  }
  void restore() override {
    keep([](Canvas& on) { on.restore(); });
  }
  void begin() override {
    keep([](Canvas& on) { on.begin(); });
  }
  void arc(double x, double y, double radius, double from, double to) override {
    keep([=](Canvas& on) { on.arc(x, y, radius, from, to); });
  }
  void box(double x, double y, double width, double height) override {
    keep([=](Canvas& on) { on.box(x, y, width, height); });
  }
  void fill_and_keep() override {
    keep([](Canvas& on) { on.fill_and_keep(); });
  }
  void stroke() override {
    keep([](Canvas& on) { on.stroke(); });
  }
  void use(look::Tone tone) override {
    keep([=](Canvas& on) { on.use(tone); });
  }
  void line_width(double width) override {
    keep([=](Canvas& on) { on.line_width(width); });
  }
  void round_ends(bool round) override {
    keep([=](Canvas& on) { on.round_ends(round); });
  }
  void round_corners() override {
    keep([](Canvas& on) { on.round_corners(); });
  }
  void dashes(double dash, double gap) override {
    keep([=](Canvas& on) { on.dashes(dash, gap); });
  }
  void translate(double x, double y) override {
    keep([=](Canvas& on) { on.translate(x, y); });
  }
  void rotate(double radians) override {
    keep([=](Canvas& on) { on.rotate(radians); });
  }
  [[nodiscard]] double text_width(const std::string& text, const TextStyle& style) override {
    return meant_.text_width(text, style);
  }
  void text(double x, double y, const std::string& text, const TextStyle& style, look::Tone tone) override {
    keep([=](Canvas& on) { on.text(x, y, text, style, tone); });
  }
  void begin_body(double scale) override {
    keep([=](Canvas& on) { on.begin_body(scale); });
  }
  void end_body() override {
    keep([](Canvas& on) { on.end_body(); });
  }
  void check(const char* doing) const override { meant_.check(doing); }

 private:
  using Call = std::function<void(Canvas&)>;
  void keep(Call call) { calls_.push_back(std::move(call)); }
  Canvas& meant_;
  std::vector<Call> calls_;
};

}  // namespace dryfit::cli
