#pragma once
/// How long work says how far it is, and learns that it is to end. The planner knows no clock, no terminal and no
/// signals: who asks for the work brings a foreman who does.

namespace dryfit::planner {

class Foreman {
 public:
  Foreman() = default;
  Foreman(const Foreman&) = delete;
  Foreman& operator=(const Foreman&) = delete;
  virtual ~Foreman() = default;
  /// Asked between two units of work, often. `done` of at most `most` units are behind. False: the work is to end now
  /// with the best that it has; from then on the answer is always false.
  [[nodiscard]] virtual bool go_on(long long done, long long most) = 0;
};

/// As the foreman says; true without one.
[[nodiscard]] inline bool may_go_on(Foreman* foreman, long long done, long long most) {
  return foreman == nullptr || foreman->go_on(done, most);
}

}  // namespace dryfit::planner
