#include "sim/procedure.hpp"

namespace clearstroke {

Method one_person_hose_in_bottle() {
    return {"one person, hose end in the bottle", {OpenScrew{}}, {Press{}, Release{}}, {CloseScrew{}}};
}

Method two_people_closed_before_release() {
    return {"two people, closed before release", {}, {OpenScrew{}, Press{}, CloseScrew{}, Release{}}, {}};
}

Method gravity(double watch) { return {"gravity", {OpenScrew{}}, {Wait{watch}}, {CloseScrew{}}}; }

std::vector<std::string> method_names() { return {"one person", "two people", "gravity"}; }

std::optional<Method> find_method(const std::string& name) {
    if (name == "one person") return one_person_hose_in_bottle();
    if (name == "two people") return two_people_closed_before_release();
    if (name == "gravity") return gravity();
    return std::nullopt;
}

}  // namespace clearstroke
