#pragma once
/// How far bodies may move straight along a direction before they meet others, whatever is made. Private to
/// planner/moves. The geometry of a pair is the same in every state, and turns about one axis ask for it again and
/// again.
#include <map>
#include <optional>
#include <tuple>
#include <vector>

#include "planner/state/body_index.hpp"

namespace dryfit::planner {

class GapsAlong {
 public:
  /// All must outlive this.
  GapsAlong(const model::Frame& frame, const ContactList& list, const BodyIndex& index)
      : frame_(frame), list_(list), index_(index) {}

  struct Gap {
    int body = 0;       ///< of another part
    double free = 0.0;  ///< mm until it is met; less than was asked for
  };
  /// What `body` meets within `limit` mm along `d`, by body. In a hole of its own size and in what it was screwed into
  /// it moves freely. Stands until the next question.
  [[nodiscard]] const std::vector<Gap>& of(int body, model::Direction d, double limit);

  long long tests = 0;  ///< work counter: pairs looked at

 private:
  [[nodiscard]] std::vector<Gap> found(int body, model::Direction d, double limit);
  [[nodiscard]] double gap(int body, int other, model::Direction d, double limit);
  [[nodiscard]] std::optional<double> gap_on_line(int board_body, int other, model::Direction d, double limit) const;

  const model::Frame& frame_;
  const ContactList& list_;
  const BodyIndex& index_;
  std::map<std::tuple<int, model::Direction, double>, std::vector<Gap>> known_;
  std::vector<Gap> found_;  ///< once enough is known
};

}  // namespace dryfit::planner
