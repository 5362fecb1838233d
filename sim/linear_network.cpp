#include "sim/linear_network.hpp"

#include <algorithm>
#include <limits>
#include <numeric>

namespace clearstroke {

void LinearNetwork::reset(std::size_t nodes) {
    links_.clear();
    order_.clear();
    roots_.clear();
    sparse_.reset();
    nodes_ = nodes;
}

std::size_t LinearNetwork::link(std::size_t i, std::size_t j) {
    const auto [low, high] = std::minmax(i, j);
    for (std::size_t k = 0; k < links_.size(); ++k)
        if (links_[k].i == low && links_[k].j == high) return k;
    links_.push_back({low, high});
    return links_.size() - 1;
}

void LinearNetwork::close() {
    entries_.assign(nowhere() + 1, 0.0);
    plan_elimination();
    if (!forest_) plan_sparse();
}

LinearNetwork::Touching LinearNetwork::touching_links() const {
    Touching out{std::vector<std::size_t>(size() + 1, 0), std::vector<std::size_t>(2 * links_.size())};
    for (const Link& l : links_) {
        ++out.first[l.i + 1];
        ++out.first[l.j + 1];
    }
    std::partial_sum(out.first.begin(), out.first.end(), out.first.begin());
    std::vector<std::size_t> next(out.first);
    for (std::size_t k = 0; k < links_.size(); ++k) {
        out.links[next[links_[k].i]++] = k;
        out.links[next[links_[k].j]++] = k;
    }
    return out;
}

void LinearNetwork::plan_elimination() {
    const std::size_t n = size();
    const Touching touching = touching_links();
    std::vector<char> seen(n, 0);
    std::vector<std::size_t> queue;
    std::vector<Step> forward;
    forward.reserve(n);
    for (std::size_t root = 0; root < n; ++root) {
        if (seen[root]) continue;
        seen[root] = 1;
        roots_.push_back(root);
        queue.assign(1, root);
        for (std::size_t head = 0; head < queue.size(); ++head) {
            const std::size_t node = queue[head];
            for (std::size_t t = touching.first[node]; t < touching.first[node + 1]; ++t) {
                const std::size_t k = touching.links[t];
                const std::size_t other = links_[k].i == node ? links_[k].j : links_[k].i;
                if (seen[other]) continue;
                seen[other] = 1;
                forward.push_back({other, node, entry(k, node), entry(k, other)});
                queue.push_back(other);
            }
        }
    }
    forest_ = forward.size() == links_.size();
    order_.assign(forward.rbegin(), forward.rend());
    pivot_.assign(n, 0.0);
    inverse_.assign(n, 0.0);
    factor_.assign(order_.size(), 0.0);
    up_.assign(order_.size(), 0.0);
}

void LinearNetwork::plan_sparse() {
    std::vector<Eigen::Triplet<double>> entries;
    const auto index = [](std::size_t i) { return static_cast<int>(i); };
    for (std::size_t i = 0; i < size(); ++i) entries.emplace_back(index(i), index(i), 1.0);
    for (const Link& l : links_) {
        entries.emplace_back(index(l.i), index(l.j), 1.0);
        entries.emplace_back(index(l.j), index(l.i), 1.0);
    }
    sparse_ = std::make_unique<Sparse>();
    sparse_->matrix.resize(index(size()), index(size()));
    sparse_->matrix.setFromTriplets(entries.begin(), entries.end());
    sparse_->lu.analyzePattern(sparse_->matrix);
}

void LinearNetwork::set_zero() { std::ranges::fill(entries_, 0.0); }

void LinearNetwork::factor() {
    if (!forest_) {
        const auto index = [](std::size_t i) { return static_cast<int>(i); };
        auto& [matrix, lu] = *sparse_;
        for (std::size_t i = 0; i < size(); ++i) matrix.coeffRef(index(i), index(i)) = entries_[i];
        for (std::size_t k = 0; k < links_.size(); ++k) {
            matrix.coeffRef(index(links_[k].i), index(links_[k].j)) = entries_[entry(k, links_[k].i)];
            matrix.coeffRef(index(links_[k].j), index(links_[k].i)) = entries_[entry(k, links_[k].j)];
        }
        lu.factorize(matrix);
        solvable_ = lu.info() == Eigen::Success;
        return;
    }
    std::copy_n(entries_.begin(), nodes_, pivot_.begin());
    for (std::size_t s = 0; s < order_.size(); ++s) {
        const Step& step = order_[s];
        inverse_[step.node] = 1.0 / pivot_[step.node];
        factor_[s] = entries_[step.into_parent] * inverse_[step.node];
        pivot_[step.parent] -= factor_[s] * entries_[step.from_parent];
        up_[s] = entries_[step.from_parent] * inverse_[step.node];
    }
    for (const std::size_t root : roots_) inverse_[root] = 1.0 / pivot_[root];
}

void LinearNetwork::solve(std::span<double> b) {
    if (!forest_) {
        Eigen::Map<Eigen::VectorXd> rhs(b.data(), static_cast<Eigen::Index>(b.size()));
        if (solvable_)
            rhs = sparse_->lu.solve(rhs).eval();
        else
            rhs.setConstant(std::numeric_limits<double>::quiet_NaN());
        return;
    }
    // Local views: what is stored in a loop then moves none of them.
    const std::span<const Step> order(order_);
    const std::span<const double> factor(factor_), up(up_), inverse(inverse_);
    for (std::size_t s = 0; s < order.size(); ++s) b[order[s].parent] -= factor[s] * b[order[s].node];
    for (std::size_t i = 0; i < inverse.size(); ++i) b[i] *= inverse[i];
    for (std::size_t s = order.size(); s-- > 0;) b[order[s].node] -= up[s] * b[order[s].parent];
}

} // namespace clearstroke
