#include "tests/support/frames/frame_draft.hpp"

#include <cmath>

#include "model/geometry/at.hpp"
#include "model/standards/standards.hpp"

namespace dryfit::test {

using model::Dimension;

Draft::Draft(std::mt19937& source) : rng(source) {
  const bool metric = one_in(4);
  spec.standard = metric ? "iso7" : "npt";
  spec.size = one_of({"1/2", "3/4", "3/4", "1", "1-1/4", "1-1/2"});
  spec.make_up = one_in(4) ? "wrench" : "hand";
  const auto standard = metric ? model::Standard::iso7 : model::Standard::npt;
  const int size = model::nominal_size(spec.size).value();
  const auto of = [&](Dimension which) { return model::dimension(standard, size, which).value().value; };
  engaged_ = of(spec.make_up == "hand" ? Dimension::hand_engagement : Dimension::wrench_engagement);
  centre_to_end_ = of(Dimension::centre_to_end);
  coupling_ = of(Dimension::coupling_length);
  union_ = of(Dimension::union_length);
  union_radius_ = 1.25 * of(Dimension::band) / 2.0;
}

std::string Draft::id(const std::string& letters) { return letters + std::to_string(next_++); }

PartSpec Draft::plain(const std::string& letters, const std::string& kind) {
  PartSpec p;
  p.id = id(letters);
  p.kind = kind;
  return p;
}

PartSpec Draft::aimed(const std::string& letters, const std::string& kind, Direction toward) {
  PartSpec p = plain(letters, kind);
  p.toward = toward;
  return p;
}

PartSpec Draft::pipe(double length) {
  PartSpec p = plain("P", "pipe");
  p.length = length;
  return p;
}

PartSpec Draft::side_elbow(const std::string& name, Direction toward, Direction side) {
  PartSpec p;
  p.id = name;
  p.kind = "side-elbow";
  p.toward = toward;
  p.side = side;
  return p;
}

double Draft::corner_gap() const { return 2.0 * (centre_to_end_ - engaged_); }

std::vector<PartSpec> Draft::joined(double total, const std::string& fitting) {
  if (fitting == "union tee") {
    // The tee goes into one half of what the union leaves; either half.
    std::vector<PartSpec> parts = joined(total, "union");
    if (parts.size() != 3) return parts;
    const bool last = one_in(2);
    const PartSpec half = last ? parts[2] : parts[0];
    const std::vector<PartSpec> split = joined(*half.length, "tee");
    parts.erase(last ? parts.end() - 1 : parts.begin());
    parts.insert(last ? parts.end() : parts.begin(), split.begin(), split.end());
    return parts;
  }
  if (fitting.empty()) return {pipe(total)};
  const double between = (fitting == "union"      ? union_
                          : fitting == "coupling" ? coupling_
                                                  : 2.0 * centre_to_end_) -
                         2.0 * engaged_;
  const double room = total - between;
  const double least = fitting == "union" ? 28.0 : 50.0;
  if (room < 2.0 * least) return {pipe(total)};
  double first = fitting == "union" && one_in(2) ? least : length(50, 120);
  if (room - first < least) first = least;
  if (fitting == "union") {
    // A union's face bulges past its mate when it swings about a corner: by more than the 3 mm that are allowed near
    // the corner, by less far from it. In between nobody could say, so no union is put there.
    const auto doubtful = [&](double pipe_length) {
      const double face = centre_to_end_ - 2.0 * engaged_ + pipe_length + union_ / 2.0;
      const double bulge = std::hypot(face, union_radius_) - face;
      return bulge > 2.3 && bulge < 4.2;
    };
    int tries = 0;
    while (doubtful(first) || doubtful(room - first)) {
      if (++tries > 20) return {pipe(total)};
      first = least + below(rng, static_cast<int>(room - 2.0 * least) + 1);
    }
  }
  PartSpec middle = plain(fitting == "union" ? "U" : fitting == "coupling" ? "C" : "T", fitting);
  if (fitting == "tee") {
    middle.toward = one_in(2) ? model::kFront : model::kBack;
    stubs.emplace_back(middle.id, *middle.toward);
  }
  std::vector<PartSpec> parts{pipe(first), middle, pipe(room - first)};
  if (one_in(2)) std::swap(parts[0], parts[2]);
  return parts;
}

BoardSpec Draft::board(std::vector<std::string> pipes, double first, double last) {
  BoardSpec b;
  b.id = id("S");
  const double left = length(50, 140);
  const double front = length(50, 140);
  b.size = {last - first + left + length(50, 140), front + length(50, 140), one_in(3) ? 25.0 : 19.0};
  b.reach = {{model::kLeft, left}, {model::kFront, front}};
  const bool all_notched = one_in(6);
  const Direction open = one_of<Direction>({model::kFront, model::kBack, model::kFront, model::kLeft, model::kRight});
  for (std::size_t i = 0; i < pipes.size(); ++i) {
    if (all_notched || (i + 1 == pipes.size() && i > 0 && one_in(5))) {
      b.notches.emplace_back(pipes[i], open);
    } else {
      b.through.push_back(pipes[i]);
    }
  }
  return b;
}

void Draft::lay_on(const std::vector<std::string>& carriers) {
  BoardSpec b;
  b.id = id("B");
  b.rests_on = carriers;
  const double left = length(40, 120);
  const double front = length(40, 120);
  b.size = {left + length(40, 260), front + length(40, 120), 19};
  b.reach = {{model::kLeft, left}, {model::kFront, front}};
  if (carriers.size() == 1 && one_in(2)) b.strap.emplace_back(carriers[0], 1 + below(rng, 2));
  spec.boards.push_back(b);
}

Direction Draft::square_turn(Direction heading) {
  std::vector<Direction> square;
  for (const Direction d : model::all_directions()) {
    if (d.along_axis() && model::square(d, heading)) square.push_back(d);
  }
  return square[at(below(rng, static_cast<int>(square.size())))];
}

void Draft::walk(std::vector<PartSpec>& parts, Direction heading, int pipes) {
  for (int i = 0; i < pipes; ++i) {
    parts.push_back(pipe(length(50, 260)));
    const bool last = i + 1 == pipes;
    if (last && one_in(2)) return;
    const int choice = below(rng, 10);
    if (choice < 4) {
      const Direction to = square_turn(heading);
      parts.push_back(aimed("E", "elbow", to));
      heading = to;
    } else if (choice < 6) {
      const Direction branch = square_turn(heading);
      parts.push_back(aimed("T", "tee", branch));
      stubs.emplace_back(parts.back().id, branch);
    } else if (choice == 6 && heading.along_axis()) {
      const Direction to = square_turn(heading);
      const Direction between{heading.x + to.x, heading.y + to.y, heading.z + to.z};
      parts.push_back(aimed("E", "elbow45", between));
      parts.push_back(pipe(length(60, 160)));
      parts.push_back(aimed("E", "elbow45", one_in(2) ? to : heading));
      heading = *parts.back().toward;
    } else if (choice == 7) {
      const Direction to = square_turn(heading);
      parts.push_back(aimed("SE", "street-elbow", to));
      parts.push_back(plain("C", "coupling"));
      heading = to;
    } else if (choice == 8 && last) {
      parts.push_back(plain("K", "cap"));
      return;
    } else {
      parts.push_back(plain("C", "coupling"));
    }
  }
}

void Draft::fill_stubs() {
  // Walks may leave new stubs; what they leave stays free.
  const auto open = stubs;
  for (const auto& [fitting, facing] : open) {
    if (one_in(3)) continue;
    RunSpec r;
    r.id = id("branch");
    r.from = LinkSpec{fitting, facing, ""};
    switch (below(rng, 4)) {
      case 0: r.parts.push_back(plain("G", "plug")); break;
      case 1:
        r.parts.push_back(pipe(length(40, 200)));
        r.parts.push_back(plain("K", "cap"));
        break;
      case 2: r.parts.push_back(pipe(length(40, 260))); break;
      default: walk(r.parts, facing, 1 + below(rng, 2)); break;
    }
    spec.runs.push_back(r);
  }
}

}  // namespace dryfit::test
