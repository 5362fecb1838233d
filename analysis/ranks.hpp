#pragma once
/// Processes of one run on several machines (MPI), the first of which hands out numbers and takes rows. Built
/// without MPI there are none.
#include <cstdint>
#include <functional>
#include <memory>
#include <optional>
#include <utility>

#include "analysis/store.hpp"

namespace clearstroke {

class Ranks {
public:
    /// The ranks of this run; none unless an MPI launcher started more than one process.
    [[nodiscard]] static std::unique_ptr<Ranks> find();
    ~Ranks();
    Ranks(const Ranks&) = delete;
    Ranks& operator=(const Ranks&) = delete;

    [[nodiscard]] bool first() const;

    /// At the first rank: `go` is false when it gave up before any row was handed out. Elsewhere: what it
    /// said.
    [[nodiscard]] bool agree(bool go);

    /// At the first rank: answers the others until all of them have left.
    void hand_out(const std::function<std::optional<std::uint64_t>()>& next,
                  const std::function<void(std::uint64_t, Row)>& take);

    /// Elsewhere, from any thread: delivers a row, if any, and gets the next number; none when none is left.
    [[nodiscard]] std::optional<std::uint64_t> next(const std::optional<std::pair<std::uint64_t, Row>>& done);
    void leave(); ///< elsewhere: no thread will ask again

private:
    struct Impl;
    explicit Ranks(std::unique_ptr<Impl>);
    std::unique_ptr<Impl> impl_;
};

} // namespace clearstroke
