#include "analysis/study_run.hpp"

#include <algorithm>
#include <atomic>
#include <exception>
#include <mutex>
#include <thread>

#include <tbb/parallel_for.h>
#include <tbb/task_arena.h>
#include <tbb/task_group.h>

namespace clearstroke {
namespace {

// Calls `work` once per thread of the arena, at the same time.
void on_every_thread(const std::function<void()>& work) {
    const int threads = tbb::this_task_arena::max_concurrency();
    tbb::task_group group;
    for (int i = 0; i < threads; ++i) group.run([&] { work(); });
    group.wait();
}

// The rows to compute and where they go.
struct Queue {
    Store& store;
    const StoreLayout& layout;
    const Progress& progress;
    const std::function<bool()>& stop;
    const std::vector<RowStatus> before;
    std::size_t there; // rows that are in the store
    std::atomic<std::size_t> handed_out{0};
    std::mutex writing;
    std::atomic<bool> stopped{false}; // a row could not be written

    Queue(Store& s, const StoreLayout& l, const Progress& p, const std::function<bool()>& asked)
        : store(s), layout(l), progress(p), stop(asked), before(s.status()),
          there(before.size() - static_cast<std::size_t>(std::ranges::count(before, RowStatus::missing))) {}

    std::optional<std::uint64_t> next() {
        while (!stopped && !(stop && stop())) {
            const std::size_t k = handed_out++;
            if (k >= before.size()) break;
            if (before[k] == RowStatus::missing) return layout.first + k * layout.stride;
        }
        return std::nullopt;
    }

    void take(std::uint64_t number, const Row& row) {
        const std::lock_guard lock(writing);
        try {
            store.write((number - layout.first) / layout.stride, row);
        } catch (...) {
            stopped = true;
            throw;
        }
        ++there;
        if (progress) progress(there, before.size());
    }
};

} // namespace

Row run_row(const StoreLayout& layout, const RunRow& run, std::uint64_t number) {
    try {
        Row row;
        // Waiting threads must not begin another row within this one.
        tbb::this_task_arena::isolate([&] { row = run(number); });
        return row;
    } catch (const std::exception& e) {
        return failed_row(layout, e.what());
    }
}

void run_missing(Store& store, const StoreLayout& layout, const RunRow& run, int threads,
                 const Progress& progress, Ranks* ranks, const std::function<bool()>& stop) {
    Queue queue(store, layout, progress, stop);
    const auto work = [&] {
        while (const auto number = queue.next()) queue.take(*number, run_row(layout, run, *number));
    };
    tbb::task_arena arena(threads > 0 ? threads : tbb::task_arena::automatic);
    if (!ranks) {
        arena.execute([&] { on_every_thread(work); });
        return;
    }
    std::exception_ptr here, there;
    std::thread local([&] {
        try {
            arena.execute([&] { on_every_thread(work); });
        } catch (...) {
            here = std::current_exception();
        }
    });
    try {
        ranks->hand_out([&] { return queue.next(); },
                        [&](std::uint64_t number, const Row& row) { queue.take(number, row); });
    } catch (...) {
        there = std::current_exception();
    }
    local.join();
    if (here) std::rethrow_exception(here);
    if (there) std::rethrow_exception(there);
}

void serve_rows(const StoreLayout& layout, const RunRow& run, int threads, Ranks& ranks) {
    with_threads(threads, [&] {
        on_every_thread([&] {
            std::optional<std::pair<std::uint64_t, Row>> done;
            while (const auto number = ranks.next(done)) done.emplace(*number, run_row(layout, run, *number));
        });
    });
    ranks.leave();
}

} // namespace clearstroke
