#include "tests/support/frames/generated_frames.hpp"

#include <fmt/format.h>

#include <array>
#include <iterator>
#include <random>

namespace dryfit::tests {
namespace {

using Out = std::back_insert_iterator<std::string>;

std::string head(const char* name) {
  return fmt::format(
      "dryfit: 1\nname: {}\npipe: {{standard: npt, size: 3/4}}\nsurfaces:\n"
      "  floor: {{normal: up, at: 0}}\nruns:\n",
      name);
}

}  // namespace

std::string rack_text(int units, int levels) {
  std::string text = head("Generated rack");
  Out out(text);
  const auto post = [&](int u, char side) {
    const bool left = side == 'L';
    fmt::format_to(out, "  post {}{}:\n    from: floor\n{}    go: up\n    parts:\n", side, u,
                   u == 0 && left ? "    at: [0, 0]\n" : "");
    fmt::format_to(out, "      - F{0}{1}: flange\n      - A{0}{1}: {{pipe: 6}}\n      - T{0}{1}: {{tee: {2}}}\n", side,
                   u, left ? "right" : "left");
    // The outermost branches stay open, so that all posts are made of the same pieces.
    fmt::format_to(out, "      - B{0}{1}: {{pipe: 4}}\n      - N{0}{1}: {{tee: {2}}}\n", side, u,
                   left ? "left" : "right");
    for (int k = 0; k < levels; ++k) {
      fmt::format_to(out, "      - C{0}{1}-{2}a: {{pipe: 6}}\n      - C{0}{1}-{2}: coupling\n", side, u, k);
    }
    fmt::format_to(out, "      - E{0}{1}: {{pipe: 6}}\n      - K{0}{1}: cap\n", side, u);
  };
  for (int u = 0; u < units; ++u) {
    post(u, 'L');
    fmt::format_to(
        out, "  rail {0}:\n    from: TL{0}.right\n    parts:\n      - R{0}: {{pipe: 30}}\n    to: TR{0}.left\n", u);
    post(u, 'R');
    if (u + 1 < units) {
      fmt::format_to(out,
                     "  link {0}:\n    from: NR{0}.right\n    parts:\n      - L{0}: {{pipe: 24}}\n    to: NL{1}.left\n",
                     u, u + 1);
    }
  }
  text += "boards:\n";
  for (int u = 0; u < units; ++u) {
    for (int k = 0; k < levels; ++k) {
      // The pipe above coupling k of each post is that of the next level, or the end pipe.
      const std::string left = k + 1 < levels ? fmt::format("CL{}-{}a", u, k + 1) : fmt::format("EL{}", u);
      const std::string right = k + 1 < levels ? fmt::format("CR{}-{}a", u, k + 1) : fmt::format("ER{}", u);
      fmt::format_to(out,
                     "  S{0}-{1}:\n    through: [{2}, {3}]\n    rests-on: [CL{0}-{1}, CR{0}-{1}]\n"
                     "    size: {{x: 36, y: 9-1/4, z: 3/4}}\n    reach: {{left: 2, front: 4-5/8}}\n",
                     u, k, left, right);
    }
  }
  return text;
}

int units_for(int parts) { return (parts + 57) / 58; }

std::string tower_text(int joints) {
  std::string text = head("Generated tower");
  Out out(text);
  text += "  post:\n    from: floor\n    at: [0, 0]\n    go: up\n    parts:\n      - F: flange\n";
  for (int k = 0; k < joints; ++k) {
    fmt::format_to(out, "      - P{0}: {{pipe: 6}}\n      - C{0}: coupling\n", k);
  }
  return text;
}

std::string ladder_text(int rungs, bool unions) {
  std::string text = head("Generated ladder");
  Out out(text);
  const auto stile = [&](char side) {
    fmt::format_to(out, "  stile {}:\n    from: floor\n{}    go: up\n    parts:\n      - F{}: flange\n", side,
                   side == 'L' ? "    at: [0, 0]\n" : "", side);
    for (int k = 0; k < rungs; ++k) {
      fmt::format_to(out, "      - P{0}{1}: {{pipe: 10}}\n      - T{0}{1}: {{tee: {2}}}\n", side, k,
                     side == 'L' ? "right" : "left");
    }
  };
  stile('L');
  for (int k = 0; k < rungs; ++k) {
    fmt::format_to(out, "  rung {0}:\n    from: TL{0}.right\n    parts:\n      - R{0}: {{pipe: 8}}\n", k);
    if (unions) {
      fmt::format_to(out, "      - U{0}: union\n      - Q{0}: {{pipe: 8}}\n", k);
    } else {
      fmt::format_to(out, "      - U{0}: coupling\n      - Q{0}: {{pipe: 8}}\n", k);
    }
    fmt::format_to(out, "    to: TR{0}.left\n", k);
  }
  stile('R');
  return text;
}

std::string grid_text(int columns, int rows) {
  std::string text = head("Generated grid");
  Out out(text);
  const auto bar = [&](const std::string& id) {
    fmt::format_to(out, "      - H{0}: {{pipe: 8}}\n      - U{0}: union\n      - J{0}: {{pipe: 8}}\n", id);
  };
  text += "  column 0:\n    go: up\n    at: [0, 0, 12]\n    parts:\n";
  for (int r = 0; r < rows; ++r) {
    if (r > 0) bar(fmt::format("v0-{}", r));
    fmt::format_to(out, "      - X0-{}: {{cross: , plane: xz}}\n", r);
  }
  for (int r = 0; r < rows; ++r) {
    fmt::format_to(out, "  row {0}:\n    from: X0-{0}.right\n    parts:\n", r);
    for (int c = 1; c < columns; ++c) {
      bar(fmt::format("h{}-{}", c, r));
      fmt::format_to(out, "      - X{}-{}: {{cross: , plane: xz}}\n", c, r);
    }
  }
  for (int c = 1; c < columns; ++c) {
    for (int r = 1; r < rows; ++r) {
      fmt::format_to(out, "  riser {0}-{1}:\n    from: X{0}-{2}.up\n    parts:\n", c, r, r - 1);
      bar(fmt::format("v{}-{}", c, r));
      fmt::format_to(out, "    to: X{0}-{1}.down\n", c, r);
    }
  }
  return text;
}

std::string mistaken_text(int posts, int rungs) {
  std::string text = head("Generated wall with mistakes");
  Out out(text);
  std::minstd_rand draw(5);  // the same everywhere
  const auto length = [&](double inches) {
    constexpr std::array kOff{0.125, -0.125, 0.25};
    const bool off = draw() % 5 == 0;
    return off ? inches + kOff[draw() % kOff.size()] : inches;
  };
  for (int p = 0; p < posts; ++p) {
    fmt::format_to(out, "  post {0}:\n    from: floor\n    at: [{1}, 0]\n    parts:\n      - F{0}: flange\n", p,
                   20 * p);
    for (int r = 0; r < rungs; ++r) {
      fmt::format_to(out, "      - P{}-{}: {{pipe: {}}}\n", p, r, length(8.0));
      const char* fitting = p == 0 ? "tee: right" : p + 1 == posts ? "tee: left" : "cross: , plane: xz";
      fmt::format_to(out, "      - T{}-{}: {{{}}}\n", p, r, fitting);
    }
    fmt::format_to(out, "      - E{0}: {{pipe: 4}}\n      - C{0}: cap\n", p);
  }
  for (int p = 0; p + 1 < posts; ++p) {
    for (int r = 0; r < rungs; ++r) {
      fmt::format_to(out, "  rung {0}-{1}:\n    from: T{0}-{1}.right\n    parts:\n      - R{0}-{1}: {{pipe: {2}}}\n", p,
                     r, length(18.0));
      fmt::format_to(out, "    to: T{}-{}.left\n", p + 1, r);
    }
  }
  return text;
}

}  // namespace dryfit::tests
