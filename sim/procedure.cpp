#include "sim/procedure.hpp"

#include <array>
#include <utility>

namespace clearstroke {
namespace {

using MethodMaker = Method (*)();
constexpr std::array<std::pair<const char*, MethodMaker>, 13> makers{{
    {"one person", one_person_hose_in_bottle},
    {"two people", two_people_closed_before_release},
    {"gravity", [] { return gravity(); }},
    {"one-way hose", one_way_hose},
    {"pump and hold", [] { return pump_and_hold(); }},
    {"reservoir pressure", [] { return reservoir_pressure(); }},
    {"vacuum", [] { return vacuum_at_the_screw(); }},
    {"injection", [] { return injection_at_the_screw(); }},
    {"long hold", [] { return long_hold_and_release(); }},
    {"small strokes", [] { return small_strokes(); }},
    {"joint", at_a_joint},
    {"prime in place", prime_in_place},
    {"several screws", several_screws},
}};

} // namespace

Method one_person_hose_in_bottle() {
    return {"one person, hose end in the bottle", {OpenScrew{}}, {Press{}, Release{}}, {CloseScrew{}}};
}

Method two_people_closed_before_release() {
    return {"two people, closed before release", {}, {OpenScrew{}, Press{}, CloseScrew{}, Release{}}, {}};
}

Method gravity(double watch) { return {"gravity", {OpenScrew{}}, {Wait{watch}}, {CloseScrew{}}}; }

Method one_way_hose() {
    return {"one-way hose",
            {OneWayHose{true}, OpenScrew{}},
            {Press{}, Release{}},
            {CloseScrew{}, OneWayHose{false}}};
}

Method pump_and_hold(int pumps) {
    constexpr double between = 0.3; // a pump is let go and pressed again at once [s]
    Method m{"pump and hold", {}, {}, {}};
    for (int i = 0; i < pumps; ++i) {
        m.stroke.emplace_back(Press{{}, {}, {}, 0.0});
        m.stroke.emplace_back(Release{{}, {}, between});
    }
    // The foot goes down again with the fluid that leaves.
    for (const Act& act : std::initializer_list<Act>{Press{}, OpenScrew{}, Press{}, CloseScrew{}, Release{}})
        m.stroke.push_back(act);
    return m;
}

Method reservoir_pressure(double gauge, double watch) {
    return {"reservoir pressure",
            {ReservoirPressure{gauge}, OpenScrew{}},
            {Wait{watch}},
            {CloseScrew{}, ReservoirPressure{0.0}}};
}

Method vacuum_at_the_screw(double suction, double watch) {
    return {
        "vacuum", {HosePressure{-suction}, OpenScrew{}}, {Wait{watch}}, {CloseScrew{}, HosePressure{0.0}}};
}

Method injection_at_the_screw(double gauge, double watch) {
    return {"injection",
            {FillHose{}, HosePressure{gauge}, OpenScrew{}},
            {Wait{watch}, DrawOff{}},
            {CloseScrew{}, HosePressure{0.0}},
            true};
}

Method long_hold_and_release(double hold) {
    constexpr double sudden = 1.0; // the pedal flies up [m/s]
    return {"long hold", {}, {Press{{}, {}, {}, hold}, Release{{}, sudden, {}}}, {}, true};
}

Method small_strokes(double share) {
    constexpr double settle = 1.0; // for a bubble to leave the port [s]
    return {"small strokes", {}, {Press{{}, share, {}, 0.0}, Release{{}, {}, settle}}, {}, true};
}

Method at_a_joint() {
    constexpr double short_stroke = 0.3;
    return {"joint", {}, {OpenScrew{}, Press{{}, short_stroke, {}, {}}, CloseScrew{}, Release{}}, {}};
}

Method prime_in_place() {
    return {"prime in place",
            {CapAround{true}, OpenScrew{}},
            {Press{}, Release{}},
            {CloseScrew{}, CapAround{false}}};
}

Method several_screws() { return {"several screws", {}, {OpenAll{}, Press{}, CloseAll{}, Release{}}, {}}; }

std::vector<std::string> method_names() {
    std::vector<std::string> out;
    for (const auto& [name, make] : makers) out.emplace_back(name);
    return out;
}

std::optional<Method> find_method(const std::string& name) {
    for (const auto& [known, make] : makers)
        if (name == known) return make();
    return std::nullopt;
}

} // namespace clearstroke
