#pragma once
/// What is too wide for a hole on its line, whatever is made. Private to planner/moves.
#include <array>
#include <optional>
#include <vector>

#include "planner/state/body_index.hpp"

namespace dryfit::planner {

/// The geometry of a board and what its pipe goes on in is the same in every state, and slides ask for it again and
/// again.
class WideOnLine {
 public:
  /// All must outlive this. `remembers`: keeps what it found; else frames are so large that little is asked twice.
  WideOnLine(const model::Frame& frame, const ContactList& list, const BodyIndex& index, bool remembers)
      : frame_(frame), list_(list), index_(index), known_(remembers ? list.contacts.size() : 0) {}

  struct Wide {
    int body = 0;
    double tail = 0.0;  ///< how far along the way its near end is, mm
  };
  struct Ahead {
    double front = 0.0;        ///< how far along the way the board's face is, mm
    std::vector<Wide> bodies;  ///< that reach beyond it and do not go through the hole, by line
  };
  /// For the hole or slot of a contact whose board goes `leaving`, along the pipe. Stands until the next question.
  [[nodiscard]] const Ahead& of(ContactId contact, model::Direction leaving);

 private:
  [[nodiscard]] Ahead found(const Contact& contact, model::Vec3 leaving) const;

  const model::Frame& frame_;
  const ContactList& list_;
  const BodyIndex& index_;
  std::vector<std::array<std::optional<Ahead>, 2>> known_;  ///< per contact, along its axis and against it
  Ahead found_;                                             ///< where nothing is kept
};

}  // namespace dryfit::planner
