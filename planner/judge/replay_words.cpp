#include "planner/judge/replay_words.hpp"

#include <algorithm>
#include <cmath>
#include <numeric>

#include <fmt/format.h>

#include "model/text/length.hpp"

namespace dryfit::planner::judge {

std::string called(const Scene& scene, int vertex) {
  if (vertex < 0 || vertex == scene.list().room()) return "the room";
  const model::Part& part = scene.part(vertex);
  return part.label.empty() ? part.id : part.label;
}

std::string surface_called(const Scene& scene, int surface) {
  if (surface < 0) return "the room";
  return "the " + scene.frame().surface(surface).id;
}

std::string called(Action action) {
  switch (action) {
    case Action::screw: return "screw";
    case Action::slide: return "slide";
    case Action::pass: return "pass";
    case Action::lay: return "lay";
    case Action::join: return "join";
    case Action::fasten: return "fasten";
  }
  return "";
}

std::string called(ContactKind kind) {
  switch (kind) {
    case ContactKind::thread: return "a thread";
    case ContactKind::hole: return "a hole";
    case ContactKind::notch: return "a notch";
    case ContactKind::rest: return "a rest";
    case ContactKind::fastening: return "a fastening";
    case ContactKind::nut: return "a nut";
  }
  return "";
}

namespace {

std::string length_in(double mm, model::Units units) {
  if (units != model::Units::in) return model::in_units(mm, units);
  const double parts = std::round(std::abs(mm) / model::kMmPerInch * 64.0);
  if (parts > 1e12) return model::in_units(mm, units);
  const auto count = static_cast<long long>(parts);
  const long long whole = count / 64, rest = count % 64;
  const long long divisor = std::gcd(rest, 64LL);
  const std::string sign = mm < 0 && count > 0 ? "-" : "";
  if (rest == 0) return fmt::format("{}{} in", sign, whole);
  if (whole == 0) return fmt::format("{}{}/{} in", sign, rest / divisor, 64 / divisor);
  return fmt::format("{}{}-{}/{} in", sign, whole, rest / divisor, 64 / divisor);
}

}  // namespace

std::string shop_length(double mm, const Scene& scene) {
  const model::Units units = scene.frame().units;
  if (!scene.both_units()) return length_in(mm, units);
  return fmt::format("{} ({})", length_in(mm, model::Units::in),
                     model::in_units(mm, units == model::Units::in ? model::Units::mm : units));
}

namespace {

/// A play in inches is told against 1/64 in, for no rule shows more. The half millimetre that a part needs is 1.26/64 in
/// and told as "just over": what is less than 1.259/64 is not.
std::string play_inches(double mm) {
  constexpr double kNear = 0.259;
  const double parts = mm / model::kMmPerInch * 64.0, nearest = std::round(parts);
  if (parts < 1.0 - kNear) return "under 1/64 in";
  const std::string mark = length_in(nearest * model::kMmPerInch / 64.0, model::Units::in);
  if (std::abs(parts - nearest) <= kNear) return "about " + mark;
  return (parts > nearest ? "just over " : "just under ") + mark;
}

std::string play_length(double mm, const Scene& scene) {
  const std::string inches = play_inches(mm);
  const model::Units units = scene.frame().units;
  if (scene.both_units()) return fmt::format("{} ({:.1f} mm)", inches, mm);
  return units == model::Units::in ? inches : fmt::format("{:.1f} mm", mm);
}

}  // namespace

std::string against_hole(double width, double hole, const std::string& called, const Scene& scene) {
  const double play = hole - width;
  constexpr double kSeen = 0.05;  // mm: what is less is told as nothing
  const std::string both = fmt::format("{} against {}", shop_length(width, scene), shop_length(hole, scene));
  if (play <= -model::kTouch) return fmt::format("is wider than {} ({})", called, both);
  const std::string left = play < kSeen ? "no play" : play_length(play, scene) + " of play";
  // With less room than usual even what is wide enough does not go.
  if (play >= model::kTouch) return fmt::format("has only {} in {} ({})", left, called, both);
  return fmt::format("is too tight in {} ({}: {}, and it takes {})", called, both, left,
                     play_length(model::kTouch, scene));
}

std::string coming_from(model::Direction undo) {
  if (undo == model::kUp) return "above";
  if (undo == model::kDown) return "below";
  return undo.along_axis() ? "the " + undo.name() : "the " + undo.name() + " side";
}

std::string listed(const std::vector<std::string>& names, std::size_t most) {
  std::string text;
  const std::size_t shown = names.size() > most ? most : names.size();
  for (std::size_t i = 0; i < shown; ++i) {
    if (i > 0) text += i + 1 == names.size() ? " and " : ", ";
    text += names[i];
  }
  if (shown < names.size()) text += fmt::format(" and {} more", names.size() - shown);
  return text;
}

std::string between(const Scene& scene, int from, const std::vector<ContactId>& way) {
  const int room = scene.list().room();
  std::vector<std::string> names;
  const auto add = [&](const std::string& name) {
    if (names.empty() || names.back() != name) names.push_back(name);
  };
  int vertex = from;
  for (std::size_t i = 0; i < way.size(); ++i) {
    const Contact& c = scene.contact(way[i]);
    const int a = scene.list().vertex(c.a), b = scene.list().vertex(c.b);
    vertex = a == vertex ? b : a;
    if (i + 1 == way.size()) break;
    if (vertex != room) {
      add(called(scene, vertex));
      continue;
    }
    for (const std::size_t k : {i, i + 1}) {
      const int fastening = scene.contact(way[k]).fastening;
      const int surface = fastening < 0 ? model::kNone : scene.frame().fastening(fastening).surface;
      add(surface_called(scene, surface));
    }
  }
  if (names.empty()) {
    for (const ContactId id : way) names.push_back(scene.contact(id).id);
  }
  return listed(names);
}

}  // namespace dryfit::planner::judge
