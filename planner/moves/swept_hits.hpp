#pragma once
/// What bodies hit that slide straight along a way, whatever is made. Private to planner/moves. The geometry of a pair
/// is the same in every state, and a piece is asked about as long as it stays.
#include <map>
#include <utility>
#include <vector>

#include "planner/state/body_index.hpp"

namespace dryfit::planner {

class SweptHits {
 public:
  /// All must outlive this. `remembers`: keeps what it found; else frames are so large that little is asked twice.
  SweptHits(const model::Frame& frame, const ContactList& list, const BodyIndex& index, bool remembers)
      : frame_(frame), list_(list), index_(index), known_(remembers ? index.bodies().size() : 0) {}

  enum class Hits : char { not_asked, yes, no };
  struct Near {
    int body = 0;
    Hits hits = Hits::not_asked;
  };
  /// Bodies whose bounds one meets that goes `travel` mm along `way`, ascending. Stands until the next question.
  [[nodiscard]] std::vector<Near>& near(int body, model::Direction way, double travel);
  /// It hits that one and does not part from it so: a pipe may be drawn straight out of the fitting that it was
  /// unscrewed from, and a board leaves its carrier. `near`: of the same body, way and travel.
  [[nodiscard]] bool hit(int body, model::Direction way, double travel, Near& near) const;

 private:
  /// Questions that are kept.
  static constexpr std::size_t kMostKept = 50000;
  void find(int body, model::Direction way, double travel, std::vector<Near>& near);

  const model::Frame& frame_;
  const ContactList& list_;
  const BodyIndex& index_;
  std::vector<std::map<std::pair<model::Direction, double>, std::vector<Near>>> known_;  ///< per body
  std::size_t kept_ = 0;
  std::vector<int> candidates_;
  std::vector<Near> found_;  ///< where nothing is kept
};

}  // namespace dryfit::planner
