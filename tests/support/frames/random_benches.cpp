#include "tests/support/frames/random_benches.hpp"

#include <algorithm>
#include <cmath>

#include "model/geometry/at.hpp"
#include "model/geometry/convex.hpp"
#include "model/placing/reader.hpp"
#include "model/standards/standards.hpp"
#include "planner/state/overlap.hpp"
#include "tests/support/frames/frame_draft.hpp"
#include "tests/support/frames/near_holes.hpp"

namespace dryfit::test {
namespace {

using model::Dimension;

struct Post {
  std::string carrier;  ///< what a board on this post lies on
  std::string pipe;     ///< what goes through it
  std::string top;      ///< cap or coupling on top, or nothing
  Vec3 at;
};

/// Draws one bench; what has to be true of it for the whole is kept in `traits`.
class Bench {
 public:
  explicit Bench(std::mt19937& rng) : d_(rng) {
    const auto standard = d_.spec.standard == "iso7" ? model::Standard::iso7 : model::Standard::npt;
    const int pipe_size = model::nominal_size(d_.spec.size).value();
    const auto of = [&](Dimension which) { return model::dimension(standard, pipe_size, which).value().value; };
    foot_ = of(Dimension::flange_height) -
            of(d_.spec.make_up == "hand" ? Dimension::hand_engagement : Dimension::wrench_engagement);
  }

  FrameSpec draw(BenchTraits& traits) {
    d_.spec.name = "random bench";
    on_floor_ = !d_.one_in(3);
    if (on_floor_) d_.spec.surfaces.push_back({"floor", model::kUp, 0.0});
    const int count = 1 + below(d_.rng, 3);
    lower_ = d_.length(80, 200);
    const double gap = d_.length(140, 320);
    for (int p = 0; p < count; ++p) post(p, Vec3{p * gap, p == 2 && d_.one_in(2) ? d_.length(60, 120) : 0.0, 0.0});
    board(traits);
    const bool topped = std::any_of(posts_.begin(), posts_.end(), [](const Post& post) { return !post.top.empty(); });
    if (topped && d_.one_in(2)) lay();
    if (d_.one_in(2)) stake(traits);
    return d_.spec;
  }

 private:
  /// How much higher a further carrier stands, mm.
  double unevenness() { return d_.one_in(2) ? 0.0 : d_.one_of<double>({0.7, 2, 5, 11, 18, 24, -3, -11}); }

  void post(int number, Vec3 at) {
    RunSpec r{.id = d_.id("post"), .from = {}, .at = at, .go = model::kUp, .parts = {}, .to = {}};
    const bool stands = on_floor_ && !d_.one_in(4);
    if (stands) r.from = LinkSpec{"floor", {}, ""};
    const bool flanged = stands && !d_.one_in(4);
    if (flanged) r.parts.push_back(d_.plain("FL", "flange"));
    // Without a flange the pipe starts lower: carriers agree but for what is drawn here.
    constexpr double kInTheAir = 25.0;
    const double raised = on_floor_ && !stands ? kInTheAir : 0.0;
    r.at->z = raised;
    Post made;
    made.at = at;
    r.parts.push_back(d_.pipe(lower_ + (flanged ? 0.0 : foot_) - raised + (number > 0 ? unevenness() : 0.0)));
    r.parts.push_back(d_.plain("C", "coupling"));
    made.carrier = r.parts.back().id;
    r.parts.push_back(d_.pipe(d_.length(90, 160)));
    made.pipe = r.parts.back().id;
    if (!d_.one_in(3)) {
      r.parts.push_back(d_.plain("K", d_.one_in(3) ? "coupling" : "cap"));
      made.top = r.parts.back().id;
    }
    posts_.push_back(made);
    loose_ = loose_ || !stands;
    d_.spec.runs.push_back(r);
  }

  void board(BenchTraits& traits) {
    BoardSpec b;
    b.id = d_.id("S");
    left_ = d_.length(50, 120);
    front_ = d_.length(50, 120);
    const double last = posts_.back().at.x;
    const double deep = posts_.back().at.y;
    b.size = {last + left_ + d_.length(50, 120), front_ + deep + d_.length(50, 120), d_.one_in(3) ? 25.0 : 19.0};
    b.reach = {{model::kLeft, left_}, {model::kFront, front_}};
    const Direction common = edge();
    const bool mixed = d_.one_in(3);
    for (std::size_t p = 0; p < posts_.size(); ++p) {
      b.rests_on.push_back(posts_[p].carrier);
      if (d_.one_in(3)) {
        b.through.push_back(posts_[p].pipe);
      } else {
        b.notches.emplace_back(posts_[p].pipe, mixed ? edge() : common);
      }
    }
    // Distances are taken from the first drilled pipe.
    for (const Post& post : posts_) {
      if (b.through.empty() || post.pipe != b.through.front()) continue;
      b.reach = {{model::kLeft, left_ + post.at.x}, {model::kFront, front_ + post.at.y}};
    }
    if (d_.one_in(3)) {
      d_.spec.surfaces.push_back({"wall", model::kFront, b.size.y - front_});
      if (!d_.one_in(4)) b.fix.emplace_back("wall");
    }
    traits.hole_and_slot = !b.through.empty() && !b.notches.empty();
    traits.fixed_slots = !b.fix.empty() && !b.notches.empty();
    for (const auto& notch : b.notches) {
      traits.slots_differ = traits.slots_differ || notch.second != b.notches.front().second;
    }
    traits.loose_post = loose_;
    size_ = b.size;
    d_.spec.boards.push_back(b);
  }

  void lay() {
    BoardSpec b;
    b.id = d_.id("B");
    for (const Post& post : posts_) {
      if (!post.top.empty()) b.rests_on.push_back(post.top);
    }
    b.size = {size_.x, size_.y, d_.one_in(2) ? 19.0 : 12.0};
    double first = 0.0, deep = 0.0;
    for (const Post& post : posts_) {
      if (post.top == b.rests_on.front()) first = post.at.x, deep = post.at.y;
    }
    b.reach = {{model::kLeft, left_ + first}, {model::kFront, front_ + deep}};
    d_.spec.boards.push_back(b);
  }

  /// A stake beside the board, bare or with an arm over it.
  void stake(BenchTraits& traits) {
    const bool arm = !d_.one_in(3);
    const double x = 10.0 * below(d_.rng, static_cast<int>((size_.x + 100.0) / 10.0)) - left_;
    RunSpec r{.id = d_.id("stake"), .from = {}, .at = {}, .go = model::kUp, .parts = {}, .to = {}};
    const double off = d_.one_of<double>({30, 60, 120});
    const bool behind = d_.one_in(2);
    r.at = Vec3{x, behind ? size_.y - front_ + off : -front_ - off, 0.0};
    if (on_floor_) r.from = LinkSpec{"floor", {}, ""};
    if (on_floor_) r.parts.push_back(d_.plain("FL", "flange"));
    r.parts.push_back(d_.pipe(lower_ + d_.length(60, 240)));
    if (arm) {
      r.parts.push_back(d_.aimed("E", "elbow", behind ? model::kFront : model::kBack));
      r.parts.push_back(d_.pipe(d_.length(60, 200)));
      traits.overhead = true;
    }
    d_.spec.runs.push_back(r);
  }

  Direction edge() {
    return d_.one_of<Direction>({model::kFront, model::kFront, model::kBack, model::kLeft, model::kRight});
  }

  Draft d_;
  std::vector<Post> posts_;
  bool on_floor_ = false;
  bool loose_ = false;
  double lower_ = 0.0, left_ = 0.0, front_ = 0.0;
  double foot_ = 0.0;  ///< from the floor to the end of a pipe in a floor flange
  Vec3 size_;
};

bool only_carriers_disagree(const model::Frame& frame) {
  return std::all_of(frame.closures.begin(), frame.closures.end(), [](const model::Closure& c) {
    return c.kind == model::Closure::Kind::carrier || norm(c.gap) < 0.01;
  });
}

void look_at_levels(const model::Frame& frame, BenchTraits& traits) {
  for (const model::Closure& c : frame.closures) {
    if (c.kind != model::Closure::Kind::carrier || norm(c.gap) < model::kTouch) continue;
    const model::Part& part = frame.parts[dryfit::at(c.part)];
    const bool laid = frame.boards[dryfit::at(part.board)].laid();
    (laid ? traits.uneven_laid : traits.uneven_drilled) = true;
  }
}

}  // namespace

RandomBench random_bench(std::uint32_t seed, FrameSize size, Rejects* rejects) {
  std::mt19937 rng(seed);
  NearHoles near_holes(seed);
  Rejects none;
  Rejects& count = rejects != nullptr ? *rejects : none;
  while (true) {
    RandomBench out;
    out.spec = Bench(rng).draw(out.traits);
    if (below(rng, 2) == 0) out.spec = turned(out.spec, kMirror);
    for (int i = below(rng, 4); i > 0; --i) out.spec = turned(out.spec, kQuarterTurn);
    out.traits.near_hole = near_holes.draw(out.spec);
    out.text = yaml_of(out.spec);
    try {
      out.frame = model::read_frame(out.text, "random.yaml");
    } catch (const model::InputError& error) {
      ++count.unreadable;
      count.last_fault = std::string(error.what()) + "\n" + out.text;
      continue;
    }
    const int contacts = contact_count(out.frame);
    if (contacts < size.least_contacts || contacts > size.most_contacts) {
      ++count.wrong_size;
      continue;
    }
    if (!only_carriers_disagree(out.frame) ||
        !planner::overlaps_of(out.frame, planner::contacts_of(out.frame)).empty()) {
      ++count.overlapping;
      continue;
    }
    look_at_levels(out.frame, out.traits);
    return out;
  }
}

}  // namespace dryfit::test
