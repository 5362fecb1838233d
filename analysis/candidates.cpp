#include "analysis/candidates.hpp"

#include <algorithm>

namespace clearstroke {
namespace {

std::vector<ScrewId> own_sequence(const Procedure& procedure) {
    std::vector<ScrewId> screws;
    for (const Visit& visit : procedure.visits) screws.push_back(visit.screw);
    return screws;
}

} // namespace

Candidates candidates_of(const Procedure& procedure, std::vector<std::vector<ScrewId>> screws) {
    Candidates all{std::move(screws), {}, {}};
    for (const std::vector<ScrewId>& sequence : all.screws) {
        OrderOfVisits& order = all.orders.emplace_back();
        const std::vector<Visit> visits = visits_in_order(procedure, sequence);
        for (std::size_t i = 0; i < visits.size(); ++i) {
            const std::size_t repeat = static_cast<std::size_t>(
                std::count(sequence.begin(), sequence.begin() + static_cast<std::ptrdiff_t>(i), sequence[i]));
            std::size_t k = 0, seen = 0; // the repeat-th visit to this screw
            for (; k < all.visits.size(); ++k)
                if (all.visits[k].screw == sequence[i] && seen++ == repeat) break;
            if (k == all.visits.size()) all.visits.push_back(visits[i]);
            order.push_back(k);
        }
    }
    return all;
}

std::vector<ScrewId> visited_screws(const Procedure& procedure) {
    std::vector<ScrewId> screws;
    for (const ScrewId screw : own_sequence(procedure))
        if (std::ranges::find(screws, screw) == screws.end()) screws.push_back(screw);
    return screws;
}

std::vector<Visit> visits_in_order(const Procedure& procedure, const std::vector<ScrewId>& screws) {
    std::vector<char> used(procedure.visits.size(), 0);
    std::vector<Visit> visits;
    for (const ScrewId screw : screws) {
        std::size_t i = 0;
        while (i < used.size() && (used[i] || procedure.visits[i].screw != screw)) ++i;
        if (i < used.size()) {
            used[i] = 1;
            visits.push_back(procedure.visits[i]);
        } else {
            visits.push_back({screw, {}, {}});
        }
    }
    return visits;
}

std::vector<KnownOrder> usual_orders(const Case& c) {
    const std::vector<ScrewId> points = visited_screws(c.procedure);
    std::vector<BleedPoint> used;
    for (const BleedPoint& p : bleed_points(c.network))
        if (std::ranges::find(points, p.screw) != points.end()) used.push_back(p);
    std::vector<KnownOrder> rules = known_orders(used);
    rules.push_back({files_own_order, own_sequence(c.procedure)});
    return rules;
}

std::vector<std::vector<ScrewId>> every_order(const Case& c, const OrderLimits& limits) {
    std::vector<ScrewId> sorted = visited_screws(c.procedure);
    std::ranges::sort(sorted);
    std::vector<std::vector<ScrewId>> all;
    for (const OrderOfVisits& order : OrderRules(limits, sorted).every()) {
        std::vector<ScrewId>& screws = all.emplace_back();
        for (const std::size_t i : order) screws.push_back(sorted[i]);
    }
    return all;
}

bool keeps(const OrderLimits& limits, const std::vector<ScrewId>& sequence) {
    std::vector<ScrewId> screws = sequence;
    std::ranges::sort(screws);
    screws.erase(std::unique(screws.begin(), screws.end()), screws.end());
    std::vector<std::size_t> positions;
    for (const ScrewId screw : sequence)
        positions.push_back(static_cast<std::size_t>(std::ranges::find(screws, screw) - screws.begin()));
    return OrderRules(limits, screws).kept_by(positions);
}

} // namespace clearstroke
