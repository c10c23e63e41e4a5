#include "planner/judge/replay_words.hpp"

#include <algorithm>
#include <cmath>
#include <numeric>
#include <utility>

#include <fmt/format.h>

#include "model/text/length.hpp"

namespace dryfit::planner::judge {

Message called(const Scene& scene, int vertex) {
  if (vertex < 0 || vertex == scene.list().room()) return message("the room");
  const model::Part& part = scene.part(vertex);
  return Message::as_it_is(part.label.empty() ? part.id : part.label);
}

Message surface_called(const Scene& scene, int surface) {
  if (surface < 0) return message("the room");
  const std::string& id = scene.frame().surface(surface).id;
  if (id == "wall") return message("the wall");
  if (id == "floor") return message("the floor");
  if (id == "ceiling") return message("the ceiling");
  return message("the {}", id);
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

Message called(ContactKind kind) {
  switch (kind) {
    case ContactKind::thread: return message("a thread");
    case ContactKind::hole: return message("a hole");
    case ContactKind::notch: return message("a notch");
    case ContactKind::rest: return message("a rest");
    case ContactKind::fastening: return message("a fastening");
    case ContactKind::nut: return message("a nut");
  }
  return {};
}

namespace {

/// "28.6 mm", with the mark between ones and tenths that the language has.
Message metric_said(const std::string& text) {
  const std::size_t mark = text.find('.'), unit = text.find(' ');
  if (mark == std::string::npos || unit == std::string::npos || unit < mark) return Message::as_it_is(text);
  const std::string ones = text.substr(0, mark), tenths = text.substr(mark + 1, unit - mark - 1);
  if (text.substr(unit) == " mm") return message("{}.{} mm", ones, tenths);
  if (text.substr(unit) == " cm") return message("{}.{} cm", ones, tenths);
  return Message::as_it_is(text);
}

Message inches_said(double mm) {
  const double parts = std::round(std::abs(mm) / model::kMmPerInch * 64.0);
  if (parts > 1e12) return Message::as_it_is(model::in_units(mm, model::Units::in));
  const auto count = static_cast<long long>(parts);
  const long long whole = count / 64, rest = count % 64;
  const long long divisor = std::gcd(rest, 64LL);
  const std::string sign = mm < 0 && count > 0 ? "-" : "";
  if (rest == 0) return message("{} in", fmt::format("{}{}", sign, whole));
  if (whole == 0) return message("{} in", fmt::format("{}{}/{}", sign, rest / divisor, 64 / divisor));
  return message("{} in", fmt::format("{}{}-{}/{}", sign, whole, rest / divisor, 64 / divisor));
}

Message length_in(double mm, model::Units units) {
  return units == model::Units::in ? inches_said(mm) : metric_said(model::in_units(mm, units));
}

Message both_said(const Message& inches, const Message& metric) {
  return inches + Message::as_it_is(" (") + metric + Message::as_it_is(")");
}

}  // namespace

Message shop_length(double mm, const Scene& scene) {
  const model::Units units = scene.frame().units;
  if (!scene.both_units()) return length_in(mm, units);
  return both_said(inches_said(mm), length_in(mm, units == model::Units::in ? model::Units::mm : units));
}

namespace {

/// A play in inches is told against 1/64 in, for no rule shows more. The half millimetre that a part needs is 1.26/64 in
/// and told as "just over": what is less than 1.259/64 is not.
Message play_inches(double mm) {
  constexpr double kNear = 0.259;
  const double parts = mm / model::kMmPerInch * 64.0, nearest = std::round(parts);
  if (parts < 1.0 - kNear) return message("under {}", message("{} in", "1/64"));
  const Message mark = inches_said(nearest * model::kMmPerInch / 64.0);
  if (std::abs(parts - nearest) <= kNear) return message("about {}", mark);
  return parts > nearest ? message("just over {}", mark) : message("just under {}", mark);
}

Message play_length(double mm, const Scene& scene) {
  const model::Units units = scene.frame().units;
  if (units == model::Units::in && !scene.both_units()) return play_inches(mm);
  const Message metric = metric_said(fmt::format("{:.1f} mm", mm));
  return scene.both_units() ? both_said(play_inches(mm), metric) : metric;
}

}  // namespace

Message against_hole(double width, double hole, const Message& called, const Scene& scene) {
  const double play = hole - width;
  constexpr double kSeen = 0.05;  // mm: what is less is told as nothing
  const Message both = message("{} against {}", shop_length(width, scene), shop_length(hole, scene));
  if (play <= -model::kTouch) return message("is wider than {} ({})", called, both);
  const Message left = play < kSeen ? message("no play") : message("{} of play", play_length(play, scene));
  // With less room than usual even what is wide enough does not go.
  if (play >= model::kTouch) return message("has only {} in {} ({})", left, called, both);
  return message("is too tight in {} ({}: {}, and it takes {})", called, both, left, play_length(model::kTouch, scene));
}

namespace {

/// A word of a direction's name.
Message side_said(const std::string& word) {
  if (word == "up") return message("up");
  if (word == "down") return message("down");
  if (word == "left") return message("left");
  if (word == "right") return message("right");
  return word == "back" ? message("back") : message("front");
}

}  // namespace

Message coming_from(model::Direction undo) {
  if (undo == model::kUp) return message("from above");
  if (undo == model::kDown) return message("from below");
  const std::string name = undo.name();
  if (!undo.along_axis()) {
    const std::size_t hyphen = name.find('-');
    const Message side =
        side_said(name.substr(0, hyphen)) + Message::as_it_is("-") + side_said(name.substr(hyphen + 1));
    return message("from the {} side", side);
  }
  if (name == "left") return message("from the left");
  if (name == "right") return message("from the right");
  return name == "back" ? message("from the back") : message("from the front");
}

Message listed(const std::vector<Message>& names, std::size_t most) {
  Message text;
  const std::size_t shown = std::min(names.size(), most);
  for (std::size_t i = 0; i < shown; ++i) {
    if (i == 0) {
      text = names[i];
    } else if (i + 1 == names.size()) {
      text = message("{} and {}", text, names[i]);
    } else {
      text += Message::as_it_is(", ");
      text += names[i];
    }
  }
  return shown < names.size() ? message("{} and {} more", text, names.size() - shown) : text;
}

void name_next(std::vector<Message>& names, Message name) {
  if (names.empty() || names.back().english() != name.english()) names.push_back(std::move(name));
}

Message with_reason(const Message& cannot, const Message& reason) {
  return cannot + Message::as_it_is(": ") + reason;
}

Message between(const Scene& scene, int from, const std::vector<ContactId>& way) {
  const int room = scene.list().room();
  std::vector<Message> names;
  int vertex = from;
  for (std::size_t i = 0; i < way.size(); ++i) {
    const Contact& c = scene.contact(way[i]);
    const int a = scene.list().vertex(c.a), b = scene.list().vertex(c.b);
    vertex = a == vertex ? b : a;
    if (i + 1 == way.size()) break;
    if (vertex != room) {
      name_next(names, called(scene, vertex));
      continue;
    }
    for (const std::size_t k : {i, i + 1}) {
      const int fastening = scene.contact(way[k]).fastening;
      const int surface = fastening < 0 ? model::kNone : scene.frame().fastening(fastening).surface;
      name_next(names, surface_called(scene, surface));
    }
  }
  if (names.empty()) {
    for (const ContactId id : way) names.push_back(Message::as_it_is(scene.contact(id).id));
  }
  return listed(names);
}

}  // namespace dryfit::planner::judge
