#include "models/contents.hpp"

#include <algorithm>
#include <cmath>
#include <optional>

namespace clearstroke {
namespace {

constexpr double near_equal = 0.08; // bubbly neighbours whose gas shares differ by less merge

double gas_share(const Parcel& p) { return p.gas / (p.gas + p.liquid); }

bool alike(const Parcel& a, const Parcel& b) {
    const ParcelKind kind = kind_of(a);
    return kind == kind_of(b) &&
           (kind != ParcelKind::bubbly || std::abs(gas_share(a) - gas_share(b)) < near_equal);
}

bool is_nothing(const Parcel& p) { return p.liquid <= 0.0 && p.gas <= 0.0; }

double size_of(const Parcel& p) { return p.liquid + p.gas; }

/// Nearest other parcel of kind `wanted`.
std::optional<std::size_t> nearest_of(const std::vector<Parcel>& parcels, std::size_t i, ParcelKind wanted) {
    for (std::size_t distance = 1; distance < parcels.size(); ++distance) {
        if (i >= distance && kind_of(parcels[i - distance]) == wanted) return i - distance;
        if (i + distance < parcels.size() && kind_of(parcels[i + distance]) == wanted) return i + distance;
    }
    return std::nullopt;
}

/// Nearest other parcel that holds every phase which parcel i holds.
std::optional<std::size_t> nearest_partner(const std::vector<Parcel>& parcels, std::size_t i) {
    const auto fits = [&](std::size_t j) {
        return (parcels[i].liquid == 0.0 || parcels[j].liquid > 0.0) &&
               (parcels[i].gas == 0.0 || parcels[j].gas > 0.0);
    };
    for (std::size_t distance = 1; distance < parcels.size(); ++distance) {
        if (i >= distance && fits(i - distance)) return i - distance;
        if (i + distance < parcels.size() && fits(i + distance)) return i + distance;
    }
    return std::nullopt;
}

template <double Parcel::*Phase> double take(std::vector<Parcel>& parcels, Side side, double amount) {
    double left = amount;
    const auto draw = [&](Parcel& p) {
        const double got = std::min(left, p.*Phase);
        p.*Phase -= got;
        left -= got;
        return left <= 0.0;
    };
    if (side == Side::from) {
        for (Parcel& p : parcels)
            if (draw(p)) break;
    } else {
        for (auto p = parcels.rbegin(); p != parcels.rend(); ++p)
            if (draw(*p)) break;
    }
    std::erase_if(parcels, is_nothing);
    return amount - left;
}

} // namespace

Parcel Train::total() const {
    Parcel sum;
    for (const Parcel& p : parcels_) {
        sum.liquid += p.liquid;
        sum.gas += p.gas;
    }
    return sum;
}

Parcel Train::next_out(Side side, double window) const {
    Parcel sum = end(side);
    for (std::size_t i = 1; i < parcels_.size() && size_of(sum) < window; ++i) {
        const Parcel& p = parcels_[side == Side::from ? i : parcels_.size() - 1 - i];
        const double share = std::min((window - size_of(sum)) / size_of(p), 1.0);
        sum.liquid += share * p.liquid;
        sum.gas += share * p.gas;
    }
    return sum;
}

void Train::push(Side side, Parcel p) {
    if (p.liquid <= 0.0 && p.gas <= 0.0) return;
    const bool front = side == Side::from;
    if (!parcels_.empty()) {
        Parcel& neighbour = front ? parcels_.front() : parcels_.back();
        if (alike(neighbour, p)) {
            neighbour.liquid += p.liquid;
            neighbour.gas += p.gas;
            return;
        }
    }
    parcels_.insert(front ? parcels_.begin() : parcels_.end(), p);
}

double Train::take_liquid(Side side, double amount) { return take<&Parcel::liquid>(parcels_, side, amount); }
double Train::take_gas(Side side, double amount) { return take<&Parcel::gas>(parcels_, side, amount); }

void Train::slip_liquid_behind(Side side, double amount) {
    const auto has_liquid = [](const Parcel& p) { return p.liquid > 0.0; };
    if (side == Side::from) {
        const auto it = std::find_if(parcels_.begin(), parcels_.end(), has_liquid);
        if (it != parcels_.end()) {
            it->liquid += amount;
            return;
        }
    } else {
        const auto it = std::find_if(parcels_.rbegin(), parcels_.rend(), has_liquid);
        if (it != parcels_.rend()) {
            it->liquid += amount;
            return;
        }
    }
    push(opposite(side), {amount, 0.0});
}

void Train::let_gas_advance(double amount) {
    const std::size_t n = parcels_.size();
    for (std::size_t i = 1; i + 1 < n; ++i) {
        if (kind_of(parcels_[i]) != ParcelKind::gas) continue;
        Parcel& ahead = parcels_[amount > 0.0 ? i + 1 : i - 1];
        Parcel& behind = parcels_[amount > 0.0 ? i - 1 : i + 1];
        if (kind_of(ahead) != ParcelKind::liquid || kind_of(behind) != ParcelKind::liquid) continue;
        const double moved = std::min(std::abs(amount), ahead.liquid);
        ahead.liquid -= moved;
        behind.liquid += moved;
    }
    std::erase_if(parcels_, is_nothing);
    merge_neighbours();
}

void Train::append(const Train& behind) {
    for (const Parcel& p : behind.parcels_) push(Side::to, p);
}

Train Train::split_front(double volume, double gas_per_free_air) {
    Train front;
    double room = volume;
    std::size_t used = 0;
    for (Parcel& p : parcels_) {
        const double holds = p.liquid + p.gas * gas_per_free_air;
        if (holds > room) {
            const double share = room / holds;
            const Parcel part{p.liquid * share, p.gas * share};
            front.push(Side::to, part);
            p.liquid -= part.liquid;
            p.gas -= part.gas;
            break;
        }
        front.push(Side::to, p);
        room -= holds;
        ++used;
    }
    parcels_.erase(parcels_.begin(), parcels_.begin() + static_cast<std::ptrdiff_t>(used));
    return front;
}

void Train::merge_neighbours() {
    const auto first = std::adjacent_find(parcels_.begin(), parcels_.end(), alike);
    if (first == parcels_.end()) return;
    auto kept = static_cast<std::size_t>(first - parcels_.begin());
    for (std::size_t i = kept + 1; i < parcels_.size(); ++i) {
        if (alike(parcels_[kept], parcels_[i])) {
            parcels_[kept].liquid += parcels_[i].liquid;
            parcels_[kept].gas += parcels_[i].gas;
        } else {
            parcels_[++kept] = parcels_[i];
        }
    }
    parcels_.resize(kept + 1);
}

Parcel Train::match(double liquid, double gas) {
    if (parcels_.size() == 1 && parcels_[0].gas == 0.0) { // most of a circuit
        double& held = parcels_[0].liquid;
        held = std::max(held + (liquid - held), 0.0);
        const Parcel all = parcels_[0];
        if (held == 0.0) parcels_.clear();
        return all;
    }
    Parcel sum;
    Parcel *most_liquid = nullptr, *most_gas = nullptr;
    for (Parcel& p : parcels_) {
        sum.liquid += p.liquid;
        sum.gas += p.gas;
        if (p.liquid > 0.0 && (!most_liquid || p.liquid > most_liquid->liquid)) most_liquid = &p;
        if (p.gas > 0.0 && (!most_gas || p.gas > most_gas->gas)) most_gas = &p;
    }
    if (most_liquid) most_liquid->liquid = std::max(most_liquid->liquid + (liquid - sum.liquid), 0.0);
    if (most_gas) most_gas->gas = std::max(most_gas->gas + (gas - sum.gas), 0.0);
    std::erase_if(parcels_, is_nothing);
    return total();
}

void Train::unmix(double below) {
    for (std::size_t i = 0; i < parcels_.size(); ++i) {
        if (kind_of(parcels_[i]) != ParcelKind::bubbly || size_of(parcels_[i]) >= below) continue;
        const auto liquid = nearest_of(parcels_, i, ParcelKind::liquid),
                   gas = nearest_of(parcels_, i, ParcelKind::gas);
        if (!liquid || !gas) continue;
        parcels_[*liquid].liquid += parcels_[i].liquid;
        parcels_[*gas].gas += parcels_[i].gas;
        parcels_.erase(parcels_.begin() + static_cast<std::ptrdiff_t>(i--));
    }
}

void Train::tidy(std::size_t most, double smallest, double unmixed) {
    if (unmixed > 0.0) unmix(unmixed);
    merge_neighbours();
    for (bool merged = true; merged && parcels_.size() > 1;) {
        merged = false;
        const bool crowded = parcels_.size() > most;
        // The smallest pure parcel that has a partner of its phase; the partner nearest to it takes it.
        std::size_t least = parcels_.size(), partner = 0;
        for (std::size_t i = 0; i < parcels_.size(); ++i) {
            if (!crowded && size_of(parcels_[i]) >= smallest) continue;
            if (least < parcels_.size() && size_of(parcels_[i]) >= size_of(parcels_[least])) continue;
            if (const auto found = nearest_partner(parcels_, i)) {
                least = i;
                partner = *found;
            }
        }
        if (least == parcels_.size()) break;
        parcels_[partner].liquid += parcels_[least].liquid;
        parcels_[partner].gas += parcels_[least].gas;
        parcels_.erase(parcels_.begin() + static_cast<std::ptrdiff_t>(least));
        merge_neighbours();
        merged = true;
    }
}

} // namespace clearstroke
