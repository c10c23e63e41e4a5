#include "tests/support/oracle/oracle.hpp"

#include <algorithm>
#include <random>
#include <stdexcept>
#include <unordered_map>

#include "tests/support/oracle/oracle_rules.hpp"

namespace dryfit::test {
namespace {

struct Search {
  Rules& rules;
  OracleResult& out;
  long long most_states;
  std::unordered_map<State, bool> seen;
  std::set<std::string> first_knot;
  bool stuck = false;

  void stuck_at(const State& made) {
    const std::set<std::string> knot = rules.names(made);
    if (stuck && knot != first_knot) out.one_knot = false;
    if (!stuck) first_knot = knot;
    stuck = true;
  }

  /// Depth first over all states that can be reached; false when there are too many.
  bool every_sequence() {
    std::vector<State> open{rules.all()};
    seen[open.back()] = true;
    while (!open.empty()) {
      const State made = open.back();
      open.pop_back();
      const std::vector<UndoMove> moves = rules.legal_undo_moves(made);
      out.moves += static_cast<long long>(moves.size());
      if (moves.empty()) stuck_at(made);
      for (const UndoMove& move : moves) {
        const State next = made & ~move.undone;
        if (seen.emplace(next, true).second) open.push_back(next);
      }
      out.states = static_cast<long long>(seen.size());
      if (out.states > most_states) return false;
    }
    return true;
  }

  void random_sequences(int count) {
    std::mt19937 rng(20240229);
    for (int i = 0; i < count; ++i) {
      State made = rules.all();
      while (true) {
        const std::vector<UndoMove> moves = rules.legal_undo_moves(made);
        ++out.states;
        out.moves += static_cast<long long>(moves.size());
        if (moves.empty()) break;
        made &= ~moves[rng() % moves.size()].undone;
      }
      stuck_at(made);
    }
  }
};

}  // namespace

struct Oracle::Impl {
  explicit Impl(const model::Frame& frame) : rules(frame) {}
  Rules rules;
};

Oracle::Oracle(const model::Frame& frame) : impl_(std::make_unique<Impl>(frame)) {}
Oracle::~Oracle() = default;

const std::vector<std::string>& Oracle::ids() const { return impl_->rules.ids(); }
State Oracle::all() const { return impl_->rules.all(); }
std::set<std::string> Oracle::names(const State& state) const { return impl_->rules.names(state); }
std::vector<UndoMove> Oracle::legal_undo_moves(const State& made) { return impl_->rules.legal_undo_moves(made); }
bool Oracle::borderline() const { return !impl_->rules.doubt().empty(); }
const std::string& Oracle::borderline_why() const { return impl_->rules.doubt(); }

State Oracle::state_of(const std::set<std::string>& made) const {
  State state;
  std::size_t found = 0;
  for (std::size_t i = 0; i < ids().size(); ++i) {
    if (made.contains(ids()[i])) {
      state.set(i);
      ++found;
    }
  }
  if (found != made.size()) throw std::invalid_argument("a contact id is not in the frame");
  return state;
}

OracleResult Oracle::solve(long long most_states) {
  OracleResult out;
  Search search{impl_->rules, out, most_states, {}, {}, false};
  if (!search.every_sequence()) {
    out.exhaustive = false;
    search.random_sequences(24);
  }
  out.knot = search.first_knot;
  out.buildable = out.knot.empty();
  out.borderline = borderline();
  return out;
}

OracleResult solve(const model::Frame& frame) { return Oracle(frame).solve(); }

}  // namespace dryfit::test
