// Solves on trees, forests and rings against dense elimination, whatever the numbering.
#include "sim/linear_network.hpp"

#include <gtest/gtest.h>

#include <Eigen/LU>
#include <algorithm>
#include <numeric>
#include <random>

namespace clearstroke {
namespace {

using Links = std::vector<std::pair<std::size_t, std::size_t>>;

double number(std::mt19937& engine) { return double(engine()) / double(std::mt19937::max()); }

/// A diagonally dominant system on these links and its dense twin.
struct Pair {
    LinearNetwork network;
    Eigen::MatrixXd dense;
    Eigen::VectorXd rhs;

    Pair(std::size_t n, const Links& links, const std::vector<std::size_t>& name, unsigned seed)
        : dense(Eigen::MatrixXd::Zero(Eigen::Index(n), Eigen::Index(n))), rhs(Eigen::Index(n)) {
        network.reset(n);
        std::vector<std::size_t> numbers;
        for (const auto& [i, j] : links) numbers.push_back(network.link(name[i], name[j]));
        network.close();
        network.set_zero();
        std::mt19937 engine(seed);
        for (std::size_t i = 0; i < n; ++i) put(name[i], 0.1 + number(engine));
        for (std::size_t k = 0; k < links.size(); ++k) {
            const std::size_t i = name[links[k].first], j = name[links[k].second];
            const double a = number(engine), b = number(engine); // not symmetric
            put(i, b), put(j, a);
            network.add(network.entry(numbers[k], i), -a), network.add(network.entry(numbers[k], j), -b);
            dense(Eigen::Index(i), Eigen::Index(j)) -= a, dense(Eigen::Index(j), Eigen::Index(i)) -= b;
        }
        for (std::size_t i = 0; i < n; ++i) rhs[Eigen::Index(name[i])] = number(engine) - 0.5;
    }
    void put(std::size_t i, double value) {
        network.add(network.diagonal(i), value);
        dense(Eigen::Index(i), Eigen::Index(i)) += value;
    }
    Eigen::VectorXd solved() {
        Eigen::VectorXd x = rhs;
        network.factor();
        network.solve({x.data(), static_cast<std::size_t>(x.size())});
        return x;
    }
    Eigen::VectorXd expected() const { return dense.partialPivLu().solve(rhs); }
};

std::vector<std::size_t> in_order(std::size_t n) {
    std::vector<std::size_t> out(n);
    std::iota(out.begin(), out.end(), std::size_t{0});
    return out;
}

std::vector<std::size_t> shuffled(std::size_t n, unsigned seed) {
    std::vector<std::size_t> out = in_order(n);
    std::mt19937 engine(seed);
    for (std::size_t i = n; i > 1; --i) std::swap(out[i - 1], out[engine() % i]);
    return out;
}

Links random_tree(std::size_t n, unsigned seed) {
    std::mt19937 engine(seed);
    Links out;
    for (std::size_t i = 1; i < n; ++i) out.emplace_back(engine() % i, i);
    return out;
}

TEST(LinearNetwork, TreesAgreeWithDenseElimination) {
    for (unsigned seed = 1; seed <= 20; ++seed) {
        const std::size_t n = 2 + seed * 3;
        Pair p(n, random_tree(n, seed), in_order(n), seed);
        ASSERT_TRUE(p.network.is_forest());
        EXPECT_LT((p.solved() - p.expected()).norm(), 1e-12 * p.expected().norm()) << "seed " << seed;
    }
}

TEST(LinearNetwork, ForestsAndLonelyNodesAgreeWithDenseElimination) {
    Pair p(7, {{0, 1}, {1, 2}, {4, 5}}, in_order(7), 5);
    ASSERT_TRUE(p.network.is_forest());
    EXPECT_LT((p.solved() - p.expected()).norm(), 1e-12);
}

TEST(LinearNetwork, RingsAgreeWithDenseElimination) {
    for (unsigned seed = 1; seed <= 10; ++seed) {
        const std::size_t n = 5 + seed * 2;
        Links links = random_tree(n, seed);
        links.emplace_back(0, n - 1);
        links.emplace_back(1, n - 1);
        Pair p(n, links, in_order(n), seed);
        ASSERT_FALSE(p.network.is_forest());
        EXPECT_LT((p.solved() - p.expected()).norm(), 1e-12 * p.expected().norm()) << "seed " << seed;
    }
}

TEST(LinearNetwork, NumberingDoesNotMatter) {
    const std::size_t n = 30;
    for (const bool ring : {false, true}) {
        Links links = random_tree(n, 7);
        if (ring) links.emplace_back(0, n - 1);
        Pair plain(n, links, in_order(n), 3);
        const Eigen::VectorXd x = plain.solved();
        for (unsigned seed = 1; seed <= 5; ++seed) {
            const std::vector<std::size_t> name = shuffled(n, seed);
            Pair other(n, links, name, 3);
            const Eigen::VectorXd y = other.solved();
            for (std::size_t i = 0; i < n; ++i)
                EXPECT_NEAR(y[Eigen::Index(name[i])], x[Eigen::Index(i)], 1e-12) << "seed " << seed;
        }
    }
}

TEST(LinearNetwork, ALinkIsFoundAgainFromEitherEnd) {
    LinearNetwork m;
    m.reset(3);
    const std::size_t k = m.link(2, 0);
    EXPECT_EQ(m.link(0, 2), k);
    EXPECT_NE(m.link(0, 1), k);
}

TEST(LinearNetwork, SaysNotANumberWhereARingHasNoSolution) {
    LinearNetwork m;
    m.reset(3);
    for (const auto& [i, j] : {std::pair{0, 1}, std::pair{1, 2}, std::pair{2, 0}})
        m.link(std::size_t(i), std::size_t(j));
    m.close();
    m.set_zero(); // all rows empty
    m.factor();
    Eigen::VectorXd x = Eigen::Vector3d(1.0, 2.0, 3.0);
    m.solve({x.data(), static_cast<std::size_t>(x.size())});
    EXPECT_TRUE(x.hasNaN());
}

TEST(LinearNetwork, FactorsAgainWithNewNumbers) {
    LinearNetwork m;
    m.reset(2);
    const std::size_t k = m.link(0, 1);
    m.close();
    for (const double a : {0.5, 0.25}) {
        m.set_zero();
        m.add(m.diagonal(0), 1.0), m.add(m.diagonal(1), 1.0);
        m.add(m.entry(k, 0), -a), m.add(m.entry(k, 1), -a);
        m.factor();
        Eigen::VectorXd x = Eigen::Vector2d(1.0, 0.0); // x = (1, a) / (1 - a^2)
        m.solve({x.data(), static_cast<std::size_t>(x.size())});
        EXPECT_NEAR(x[0], 1.0 / (1.0 - a * a), 1e-14);
        EXPECT_NEAR(x[1], a / (1.0 - a * a), 1e-14);
    }
}

} // namespace
} // namespace clearstroke
