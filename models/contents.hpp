#pragma once
/// What stands in a lump of line: an ordered train of parcels from its `from` end to its `to` end.
///
/// A parcel is liquid, gas, or bubbly (both). Amounts are conserved quantities: liquid at ambient
/// pressure and gas as free air [m^3]. Within a phase order is kept; a gas plug may pass through
/// liquid (run-ahead, rise), never the other way round. Neighbours of one kind merge; near-equal
/// bubbly neighbours merge; above a cap the smallest parcel joins the nearest one that holds the same
/// phases. Both phases are conserved.
/// Source: ours.
#include <cstddef>
#include <vector>

namespace clearstroke {

struct Parcel {
    double liquid{}; ///< [m^3] at ambient pressure
    double gas{};    ///< [m^3] free air
    friend bool operator==(const Parcel&, const Parcel&) = default;
};

enum class ParcelKind { liquid, gas, bubbly };
[[nodiscard]] inline ParcelKind kind_of(const Parcel& p) {
    return p.gas == 0.0 ? ParcelKind::liquid : p.liquid == 0.0 ? ParcelKind::gas : ParcelKind::bubbly;
}

enum class Side { from, to };
[[nodiscard]] inline Side opposite(Side s) { return s == Side::from ? Side::to : Side::from; }

class Train {
public:
    Train() = default;
    explicit Train(Parcel p) {
        if (p.liquid > 0.0 || p.gas > 0.0) parcels_.push_back(p);
    }

    [[nodiscard]] bool empty() const { return parcels_.empty(); }
    [[nodiscard]] std::size_t size() const { return parcels_.size(); }
    [[nodiscard]] const std::vector<Parcel>& parcels() const { return parcels_; }
    [[nodiscard]] const Parcel& end(Side s) const {
        return s == Side::from ? parcels_.front() : parcels_.back();
    }
    [[nodiscard]] Parcel total() const;
    /// What leaves next at an end: its parcel, or the mixture of the first `window` [m^3] when that parcel
    /// is smaller.
    [[nodiscard]] Parcel next_out(Side, double window) const;

    /// Adds a parcel at an end, merging with a neighbour of its kind.
    void push(Side, Parcel);
    /// Takes `amount` of liquid (gas) from the parcels nearest to an end that hold any; returns what it got.
    double take_liquid(Side, double amount);
    double take_gas(Side, double amount);
    /// Adds liquid to the nearest parcel with liquid seen from an end (behind the gas there), else at that
    /// end.
    void slip_liquid_behind(Side, double amount);
    /// Moves `amount` of liquid past every gas parcel that has liquid on both sides, towards `from` for
    /// amount > 0 (the gas advances towards `to`): run-ahead and rise inside the lump.
    void let_gas_advance(double amount);
    /// Joins the train `behind` at its `to` end.
    void append(const Train& behind);
    /// Cuts off the first share of liquid and gas that occupies `volume`, gas at `gas_per_free_air`
    /// [m^3/m^3].
    [[nodiscard]] Train split_front(double volume, double gas_per_free_air);

    /// Makes the sums equal to these inventories (rounding goes to the largest parcel of the phase); returns them.
    Parcel match(double liquid, double gas);
    /// Merges and caps; parcels below `smallest` [m^3] join the nearest one of their phases, bubbly ones
    /// below `unmixed` part into the nearest liquid and the nearest gas where there are both.
    void tidy(std::size_t most, double smallest, double unmixed = 0.0);

    friend bool operator==(const Train&, const Train&) = default;

private:
    std::vector<Parcel> parcels_;
    void merge_neighbours();
    void unmix(double below);
};

} // namespace clearstroke
