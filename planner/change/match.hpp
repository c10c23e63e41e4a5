#pragma once
/// Which part of an old design is which part of a new one, and which contacts may stay made.
#include <map>
#include <string>
#include <vector>

#include "planner/state/contacts.hpp"

namespace dryfit::planner {

/// How a pair of parts was found.
enum class MatchedBy { none, given, id, structure };

struct Matching {
  std::vector<PartId> new_of_old;  ///< per old part: the new part, or kNone
  std::vector<PartId> old_of_new;  ///< per new part: the old part, or kNone
  std::vector<MatchedBy> by;       ///< per old part
  /// Per old contact: the contact of the new design that it may stay as, or kNone when it has to be undone.
  std::vector<ContactId> kept_as;
  /// Boards of the old design (parts) that need a new hole, slot or size in the new one: they must come off.
  std::vector<PartId> redrilled;
  /// Per old part: not one of its contacts may stay, so that it can be laid otherwise. See let_turn.
  std::vector<char> may_turn;
};

/// Two parts are the same piece when kind, sizes, lengths and measured dimensions agree; the way a fitting points does
/// not matter, nor do a board's holes. O(ports).
[[nodiscard]] bool same_piece(const model::Frame& old_frame, PartId a, const model::Frame& new_frame, PartId b);

/// Pairs parts by `given` ids (old to new), then by id where the piece is the same, then by structure: the same piece
/// at the same opening of a neighbour that is matched. A contact may stay when both its parts are matched and lie to
/// each other as before (turned as a whole or moved as a whole is allowed; a fastening to the room stays only where
/// it is), and when its board needs no new hole. Throws std::invalid_argument, with the id, when a given id is unknown
/// or the two pieces are not the same. O(n log n).
[[nodiscard]] Matching match_designs(const model::Frame& old_frame, const ContactList& old_list,
                                     const model::Frame& new_frame, const ContactList& new_list,
                                     const std::map<std::string, std::string>& given = {});

/// Once it is planned which old contacts stay made (`kept`): a part that is in none of them comes off anyway, and can be
/// laid otherwise too. O(contacts).
void let_turn(const ContactList& old_list, const std::vector<ContactId>& kept, Matching& matching);

}  // namespace dryfit::planner
