/// Structures of an Assembly that recur: a few, that ports, screws and gas in lines make in turn.
#include <algorithm>
#include <utility>

#include "sim/assembly.hpp"

namespace clearstroke {

/// What a structure follows from, exactly; what changes most comes first.
void Assembly::note_structure(const State& s) {
    auto& out = wanted_structure_;
    out.clear();
    const auto add = [&](const auto& numbers) {
        for (const auto n : numbers) out.push_back(static_cast<double>(n));
    };
    const auto add_cells = [&](const std::vector<Cell>& cells) {
        for (const Cell& c : cells) out.push_back(c.end);
        out.push_back(-1.0);
    };
    for (const ActuatorState& a : s.actuators) add(a.port_open);
    add(s.screw_turns);
    for (const auto& cells : s.lines) add_cells(cells);
    out.push_back(s.hose ? static_cast<double>(s.hose->screw.index) : -1.0);
    if (s.hose) add_cells(s.hose->cells);
    add(std::array{s.hose_submerged, s.hose_one_way});
    add(s.line_capped);
    add(s.valve_held);
    add(std::array{s.pitch, s.roll});
    add(s.volume_roll);
    add(s.volume_lift);
}

/// Nodes and edges as they were made for the wanted structure; false where it is not among those kept.
bool Assembly::bring_back_structure() {
    const auto kept = std::ranges::find(structures_, wanted_structure_, &Structure::follows_from);
    if (kept == structures_.end()) return false;
    use_matrix_of(static_cast<std::size_t>(kept - structures_.begin()));
    made() = kept->made;
    return true;
}

/// Room for a structure that is to be made, in place of the oldest where many are kept.
void Assembly::make_room() {
    constexpr std::size_t most = 16;
    if (structures_.size() < most) structures_.emplace_back();
    use_matrix_of(next_structure_);
    next_structure_ = (next_structure_ + 1) % most;
    structures_[present_structure_].follows_from = wanted_structure_;
}

/// The matrices of all structures but the present one lie with them.
void Assembly::use_matrix_of(std::size_t structure) {
    std::swap(matrix_, structures_[present_structure_].matrix);
    std::swap(matrix_, structures_[structure].matrix);
    present_structure_ = structure;
}

} // namespace clearstroke
