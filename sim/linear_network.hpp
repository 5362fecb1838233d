#pragma once
/// Linear system with the pattern of a network: one unknown per node, entries only on links.
///
/// When the links form a forest it is eliminated from the leaves to the roots, O(n) without pivoting
/// (rows are diagonally dominant: each is a compliance plus conductances). With a ring Eigen's sparse
/// LU takes over; its pattern is analysed once.
#include <Eigen/SparseCore>
#include <Eigen/SparseLU>
#include <cstddef>
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
    void add_diagonal(std::size_t i, double value) { diagonal_[i] += value; }
    /// Entry (row, column) of a link that joins the two.
    void add(std::size_t link, std::size_t row, double value) { (row == links_[link].i ? upper_ : lower_)[link] += value; }

    void factor();
    /// Overwrites the right-hand side with the solution; with not-a-number where the matrix has none.
    void solve(Eigen::VectorXd& rhs);

    [[nodiscard]] bool is_forest() const { return forest_; }
    [[nodiscard]] std::size_t size() const { return diagonal_.size(); }

  private:
    struct Link { std::size_t i, j; };  // i < j; upper_ is entry (i, j), lower_ is (j, i)
    struct Step { std::size_t node, parent, link; };
    std::vector<Link> links_;
    std::vector<double> diagonal_, upper_, lower_, pivot_, factor_, up_;
    std::vector<Step> order_;  // leaves first; roots left out
    bool forest_{true}, solvable_{true};
    Eigen::SparseMatrix<double> matrix_;
    Eigen::SparseLU<Eigen::SparseMatrix<double>> lu_;

    void plan_elimination();
    void plan_sparse();
};

}  // namespace clearstroke
