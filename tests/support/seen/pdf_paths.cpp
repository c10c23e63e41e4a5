#include "tests/support/seen/pdf_paths.hpp"

#include <zlib.h>

#include <array>
#include <cctype>
#include <cstdlib>
#include <utility>

namespace dryfit::tests {
namespace {

constexpr double kMmPerPoint = 25.4 / 72.0;

std::string inflated(const std::string& data) {
  std::string out;
  z_stream stream{};
  if (inflateInit(&stream) != Z_OK) return out;
  std::string input = data;
  stream.next_in = reinterpret_cast<Bytef*>(input.data());
  stream.avail_in = static_cast<uInt>(input.size());
  std::array<char, 16384> chunk{};
  int result = Z_OK;
  while (result == Z_OK) {
    stream.next_out = reinterpret_cast<Bytef*>(chunk.data());
    stream.avail_out = static_cast<uInt>(chunk.size());
    result = inflate(&stream, Z_NO_FLUSH);
    out.append(chunk.data(), chunk.size() - stream.avail_out);
  }
  inflateEnd(&stream);
  return result == Z_STREAM_END ? out : "";
}

/// x' = a x + c y + e, y' = b x + d y + f.
struct Matrix {
  double a = 1, b = 0, c = 0, d = 1, e = 0, f = 0;
};

/// First m, then n.
Matrix then(const Matrix& m, const Matrix& n) {
  return {m.a * n.a + m.b * n.c, m.a * n.b + m.b * n.d,       m.c * n.a + m.d * n.c,
          m.c * n.b + m.d * n.d, m.e * n.a + m.f * n.c + n.e, m.e * n.b + m.f * n.d + n.f};
}

class Reader {
 public:
  explicit Reader(const std::string& text) : text_(text) {}

  PdfPage read() {
    while (at_ < text_.size()) {
      const char c = text_[at_];
      if (std::isspace(static_cast<unsigned char>(c)) != 0 || c == '[' || c == ']') {
        ++at_;
      } else if (c == '(') {
        string();
      } else if (c == '<' || c == '>' || c == '/') {
        ++at_;
        word();
      } else if (std::isdigit(static_cast<unsigned char>(c)) != 0 || c == '-' || c == '.' || c == '+') {
        numbers_.push_back(std::strtod(word().c_str(), nullptr));
      } else {
        act(word());
        numbers_.clear();
      }
    }
    return std::move(page_);
  }

 private:
  std::string word() {
    std::string out;
    while (at_ < text_.size() && std::string_view(" \t\r\n[]()<>/").find(text_[at_]) == std::string_view::npos) {
      out += text_[at_++];
    }
    if (out.empty()) ++at_;
    return out;
  }

  void string() {
    int depth = 0;
    for (; at_ < text_.size(); ++at_) {
      const char c = text_[at_];
      if (c == '\\') {
        page_.text += text_[++at_];
        continue;
      }
      if (c == '(' && depth++ == 0) continue;
      if (c == ')' && --depth == 0) break;
      page_.text += c;
    }
    ++at_;
  }

  PdfPoint point(std::size_t from) {
    const double x = numbers_[from];
    const double y = numbers_[from + 1];
    const double px = matrix_.a * x + matrix_.c * y + matrix_.e;
    const double py = matrix_.b * x + matrix_.d * y + matrix_.f;
    return {px * kMmPerPoint, page_.height - py * kMmPerPoint};
  }

  void act(const std::string& op) {
    const std::size_t n = numbers_.size();
    if (op == "q") saved_.push_back(matrix_);
    if (op == "Q" && !saved_.empty()) {
      matrix_ = saved_.back();
      saved_.pop_back();
    }
    if (op == "cm" && n >= 6) {
      const Matrix m{numbers_[n - 6], numbers_[n - 5], numbers_[n - 4],
                     numbers_[n - 3], numbers_[n - 2], numbers_[n - 1]};
      // The first matrix of a page turns it upside down, so it tells how high the page is.
      if (page_.height == 0.0) page_.height = m.f * kMmPerPoint;
      matrix_ = then(m, matrix_);
    }
    if (op == "m" && n >= 2) paths_.push_back({{point(n - 2)}, false, false});
    if (op == "l" && n >= 2 && !paths_.empty()) paths_.back().points.push_back(point(n - 2));
    if (op == "c" && n >= 6 && !paths_.empty()) paths_.back().points.push_back(point(n - 2));
    if (op == "h" && !paths_.empty()) paths_.back().closed = true;
    if (op == "re" && n >= 4) {
      const PdfPoint a = point(n - 4);
      numbers_[n - 2] += numbers_[n - 4];
      numbers_[n - 1] += numbers_[n - 3];
      paths_.push_back({{a, point(n - 2)}, true, true});
    }
    if (op == "S" || op == "f" || op == "f*" || op == "B") {
      for (PdfPath& path : paths_) {
        if (path.points.size() > 1) page_.paths.push_back(std::move(path));
      }
      paths_.clear();
    }
    if (op == "n") paths_.clear();  // only a clip
  }

  const std::string& text_;
  std::size_t at_ = 0;
  std::vector<double> numbers_;
  Matrix matrix_;
  std::vector<Matrix> saved_;
  std::vector<PdfPath> paths_;
  PdfPage page_;
};

}  // namespace

std::vector<PdfPage> read_pdf(const std::string& bytes) {
  std::vector<PdfPage> out;
  std::size_t at = 0;
  while ((at = bytes.find("stream\n", at)) != std::string::npos) {
    const std::size_t from = at + 7;
    const bool is_end = at >= 3 && bytes.compare(at - 3, 3, "end") == 0;
    at = from;
    if (is_end) continue;
    const std::size_t end = bytes.find("endstream", from);
    if (end == std::string::npos) break;
    const std::string text = inflated(bytes.substr(from, end - from));
    // cairo begins every page by turning it upside down.
    if (text.rfind("1 0 0 -1 0 ", 0) == 0) out.push_back(Reader(text).read());
    at = end + 9;
  }
  return out;
}

}  // namespace dryfit::tests
