#pragma once
/// Linear system with the pattern of a network: one unknown per node, entries only on links.
///
/// When the links form a forest it is eliminated from the leaves to the roots, O(n) without pivoting
/// (rows are diagonally dominant: each is a compliance plus conductances). With a ring Eigen's sparse
/// LU takes over; its pattern is analysed once.
#include <Eigen/SparseCore>
#include <Eigen/SparseLU>
#include <cstddef>
#include <memory>
#include <span>
#include <vector>

namespace clearstroke {

class LinearNetwork {
public:
    /// Forgets everything; `nodes` unknowns, no links.
    void reset(std::size_t nodes);
    /// Adds (or finds) the link between two different nodes and returns its number.
    std::size_t link(std::size_t i, std::size_t j);
    /// Fixes the pattern. No link may be added afterwards.
    void close();

    void set_zero();
    /// Where entry (i, i) stands, and entry (row, column) of a link that joins the two.
    [[nodiscard]] std::size_t diagonal(std::size_t i) const { return i; }
    [[nodiscard]] std::size_t entry(std::size_t link, std::size_t row) const {
        return size() + 2 * link + (row == links_[link].i ? 0 : 1);
    }
    /// An entry that belongs to no equation.
    [[nodiscard]] std::size_t nowhere() const { return size() + 2 * links_.size(); }
    void add(std::size_t entry, double value) { entries_[entry] += value; }

    void factor();
    /// Overwrites the right-hand side with the solution; with not-a-number where the matrix has none.
    void solve(std::span<double> rhs);

    [[nodiscard]] bool is_forest() const { return forest_; }
    [[nodiscard]] std::size_t size() const { return nodes_; }

private:
    struct Link {
        std::size_t i, j;
    }; // i < j
    struct Step {
        std::size_t node, parent, into_parent, from_parent;
    }; // the last two are entries
    std::size_t nodes_{};
    std::vector<Link> links_;
    std::vector<double> entries_; // the diagonal, then (i, j) and (j, i) of each link
    std::vector<double> pivot_, inverse_, factor_, up_;
    std::vector<Step> order_; // leaves first; roots left out
    std::vector<std::size_t> roots_;
    bool forest_{true}, solvable_{true};
    struct Sparse {
        Eigen::SparseMatrix<double> matrix;
        Eigen::SparseLU<Eigen::SparseMatrix<double>> lu;
    };
    std::unique_ptr<Sparse> sparse_; // of no forest

    /// Links at every node: those of node i from first[i] up to first[i + 1].
    struct Touching {
        std::vector<std::size_t> first, links;
    };
    [[nodiscard]] Touching touching_links() const;
    void plan_elimination();
    void plan_sparse();
};

} // namespace clearstroke
