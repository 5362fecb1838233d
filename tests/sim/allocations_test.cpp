/// What stepping asks of the heap: every call of operator new in this program is counted (Eigen's vectors call malloc
/// themselves and are not).
#include <gtest/gtest.h>

#include <atomic>
#include <cstdlib>
#include <new>
#include <vector>

#include "tests/sim/small_circuits.hpp"

namespace {

std::atomic<long> allocations{0};

void* counted(std::size_t size) {
    ++allocations;
    if (void* p = std::malloc(size == 0 ? 1 : size)) return p;
    throw std::bad_alloc();
}

} // namespace

void* operator new(std::size_t size) { return counted(size); }
void* operator new[](std::size_t size) { return counted(size); }
void operator delete(void* p) noexcept { std::free(p); }
void operator delete[](void* p) noexcept { std::free(p); }
void operator delete(void* p, std::size_t) noexcept { std::free(p); }
void operator delete[](void* p, std::size_t) noexcept { std::free(p); }

namespace clearstroke {
namespace {

struct Count {
    int steps{};
    long allocations{};
};

/// Takes the shape of a circuit: which ports are open and where its cells of line end.
void take_shape(const State& s, std::vector<int>& out) {
    out.clear();
    for (const char open : s.actuators[0].port_open) out.push_back(open);
    for (const auto& cells : s.lines)
        for (const Cell& c : cells) out.push_back(c.end);
    if (s.hose)
        for (const Cell& c : s.hose->cells) out.push_back(c.end);
}

/// The second stroke, screw shut or open, without the steps at whose start a structure is built: the first of
/// every stretch of time and those in and behind a change of shape.
Count second_stroke(const Contents& contents, bool open) {
    const Network n = testing::one_wheel();
    Simulation sim(n);
    State s = sim.start(contents);
    const auto act = [&](const Act& a) { EXPECT_TRUE(sim.act(s, a, Operator{}, ScrewId{0}).usable()); };
    if (open) act(OpenScrew{});
    const std::vector<Act> stroke{Press{{}, {}, {}, 0.0}, Wait{1.0}, Release{{}, {}, 0.0}, Wait{2.0}};
    for (const Act& a : stroke) act(a);
    Count out;
    std::vector<int> shape, before, now;
    for (std::vector<int>* v : {&shape, &before, &now}) v->reserve(1000);
    bool first = true;
    long seen = 0;
    sim.observe([&](const State& at, Moment m) {
        if (m != Moment::step) return;
        const long used = allocations - seen;
        take_shape(at, now);
        if (!first && shape == before && now == shape) {
            ++out.steps;
            out.allocations += used;
        }
        before.assign(shape.begin(), shape.end());
        shape.assign(now.begin(), now.end());
        first = false;
        seen = allocations;
    });
    for (const Act& a : stroke) {
        first = true;
        act(a);
    }
    return out;
}

Contents pocket() {
    Contents c = testing::full(testing::one_wheel());
    c.volume_gas[1] = 3e-6;
    return c;
}

TEST(Allocations, AreCounted) {
    const Network n = testing::one_wheel();
    const long before = allocations;
    const Simulation sim(n);
    EXPECT_GT(allocations, before);
}

TEST(Allocations, NoneInAStepOfALiquidFullCircuit) {
    for (const bool open : {false, true}) {
        const Count c = second_stroke(testing::full(testing::one_wheel()), open);
        EXPECT_GT(c.steps, 20);
        EXPECT_EQ(c.allocations, 0);
    }
}

TEST(Allocations, NoneInAStepWithAPocketInTheCaliper) {
    for (const bool open : {false, true}) {
        const Count c = second_stroke(pocket(), open);
        EXPECT_GT(c.steps, 20);
        EXPECT_EQ(c.allocations, 0);
    }
}

} // namespace
} // namespace clearstroke
