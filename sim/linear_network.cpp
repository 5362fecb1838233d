#include "sim/linear_network.hpp"

#include <algorithm>
#include <limits>
#include <numeric>
#include <ranges>

namespace clearstroke {

void LinearNetwork::reset(std::size_t nodes) {
    links_.clear();
    steps_.clear();
    couplings_.clear();
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
    for (std::size_t root = 0; root < n; ++root) {
        if (seen[root]) continue;
        seen[root] = 1;
        roots_.push_back({static_cast<std::uint32_t>(root), 0.0});
        queue.assign(1, root);
        for (std::size_t head = 0; head < queue.size(); ++head) {
            const std::size_t node = queue[head];
            for (std::size_t t = touching.first[node]; t < touching.first[node + 1]; ++t) {
                const std::size_t k = touching.links[t];
                const std::size_t other = links_[k].i == node ? links_[k].j : links_[k].i;
                if (seen[other]) continue;
                seen[other] = 1;
                steps_.push_back(
                    {static_cast<std::uint32_t>(other), static_cast<std::uint32_t>(node), 0.0, 0.0, 0.0});
                couplings_.push_back({entry(k, node), entry(k, other)});
                queue.push_back(other);
            }
        }
    }
    forest_ = steps_.size() == links_.size();
    std::ranges::reverse(steps_);
    std::ranges::reverse(couplings_);
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
    for (std::size_t s = 0; s < steps_.size(); ++s) {
        Step& step = steps_[s];
        const double from_parent = entries_[couplings_[s].from_parent];
        step.inverse = 1.0 / entries_[step.node];
        step.factor = entries_[couplings_[s].into_parent] * step.inverse;
        step.up = from_parent * step.inverse;
        entries_[step.parent] -= step.factor * from_parent;
    }
    for (Root& root : roots_) root.inverse = 1.0 / entries_[root.node];
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
    for (const Step& s : steps_) b[s.parent] -= s.factor * b[s.node];
    for (const Root& root : roots_) b[root.node] *= root.inverse;
    for (const Step& s : std::views::reverse(steps_)) b[s.node] = b[s.node] * s.inverse - s.up * b[s.parent];
}

} // namespace clearstroke
