#pragma once
/// Where it is no matter why something does not go, only what that rests on. Private to planner/.

namespace dryfit::planner {

/// While one of these lives, who asks an undoer in brief (Undoer::try_briefly) may be told why a slide did not go in a
/// state before, where all that it rested on is still made: it is as true, and saves looking again. Which of several
/// reasons is told then depends on what was asked before, so not for what is told to people. Of this thread alone.
class AnyRefusal {
 public:
  AnyRefusal() { ++count(); }
  ~AnyRefusal() { --count(); }
  AnyRefusal(const AnyRefusal&) = delete;
  AnyRefusal& operator=(const AnyRefusal&) = delete;
  [[nodiscard]] static bool will_do() { return count() > 0; }

 private:
  static int& count() {
    thread_local int living = 0;
    return living;
  }
};

}  // namespace dryfit::planner
