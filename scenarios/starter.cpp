#include "scenarios/starter.hpp"

#include <algorithm>
#include <regex>
#include <sstream>
#include <stdexcept>

#include <fmt/format.h>
#include <fmt/ranges.h>

#include "scenarios/io/toml_text.hpp"
#include "scenarios/schema.hpp"

namespace clearstroke {
namespace {

constexpr std::string_view front_rear_body = R"(
[master_cylinder]
bore = "22.2 mm"            # cast on the body

# Lengths along the pipe, laid out with a string, hose included.
[lines]
front = { to_tee = "0.5 m", LF = "0.9 m", RF = "1.7 m" }
rear  = { to_tee = "3.2 m", LR = "0.7 m", RR = "1.5 m" }

[calipers]
front = { bore = "54 mm", screw_at = "12 o'clock" }
rear  = { bore = "38 mm", screw_at = "12 o'clock" }
)";

constexpr std::string_view diagonal_body = R"(
[master_cylinder]
bore = "22.2 mm"            # cast on the body

# Lengths along the pipe from the cylinder, laid out with a string, hose included.
[lines]
LF = "0.9 m"
RF = "1.7 m"
LR = "4.1 m"
RR = "4.6 m"

[calipers]
front = { bore = "54 mm", screw_at = "12 o'clock" }
rear  = { bore = "38 mm", screw_at = "12 o'clock" }
)";

constexpr std::string_view motorcycle_body = R"(
[motorcycle]
front_discs = 2
rear = true

[lever]
bore = "16 mm"              # cast on the body

[lines]                     # along the hoses
to_splitter = "0.55 m"
LF = "0.45 m"
RF = "0.5 m"
R  = "0.6 m"
)";

constexpr std::string_view clutch_body = R"(
[master_cylinder]
bore = "17.5 mm"            # cast on the body

[slave]
bore = "20.6 mm"
screw_at = "12 o'clock"

[lines]
to_slave = "1.4 m"          # along the pipe, hose included
)";

constexpr std::string_view explicit_body = R"(
# One cylinder, one pipe, one caliper. Add parts, and join them with pipes.
[[reservoirs]]
name = "reservoir"
capacity = "200 mL"
floor_height = "0.8 m"

[[volumes]]
name = "cylinder"
content = "14 mL"
height = "0.75 m"
bore = "22.2 mm"
compliance = "0 mL/bar"
settling_volume = "0 mL"
ports = [{ name = "outlet", at = "3 o'clock" }, { name = "feed", at = "12 o'clock", axial = 1 }]

[[volumes]]
name = "caliper"
content = "12 mL"
height = "0.3 m"
bore = "54 mm"
gas = "1 mL"
ports = [{ name = "hose", at = "3 o'clock" }, { name = "screw", at = "12 o'clock", radial = 0.85 }]

[[pipes]]
name = "pipe"
length = "1.5 m"
from = "cylinder:outlet"
to = "caliper:hose"

[[actuators]]
name = "pedal"
kind = "single"
pistons = [{ chamber = "cylinder", stroke = "30 mm", opening = "feed", reservoir = "reservoir" }]

[[screws]]
name = "screw"
at = "caliper:screw"
)";

std::string_view body_of(const std::string& layout) {
    if (layout == "front/rear") return front_rear_body;
    if (layout == "diagonal") return diagonal_body;
    if (layout == "motorcycle") return motorcycle_body;
    if (layout == "clutch") return clutch_body;
    return explicit_body;
}

void require_choice(std::string_view key, const std::string& value) {
    const auto choices = choices_of(*find_key(key, "car"));
    if (std::ranges::find(choices, value) == choices.end())
        throw std::invalid_argument(
            fmt::format("{}: \"{}\"; allowed: {}", key, value, fmt::join(choices, ", ")));
}

std::string work_of(const StarterChoices& c) {
    if (!c.condition.empty())
        return fmt::format("condition = {}      # state at the start\n", toml_string(c.condition));
    std::string out = "\n[work]                      # what was done; where air stands follows from it\n";
    out += "renewed = " + toml_list(c.renewed) + "\n";
    out += "opened = " + toml_list(c.opened) + "\n";
    return out + "reservoir_ran_dry = false\nfluid_change = false\n";
}

} // namespace

std::string starter_scenario(const StarterChoices& c) {
    require_choice("layout", c.layout);
    require_choice("fluid", c.fluid);
    require_choice("anti_lock", c.anti_lock);
    if (!c.method.empty()) require_choice("method", c.method);
    if (!c.condition.empty()) require_choice("condition", c.condition);
    std::string out =
        "# The question this file asks stands in its title. What is left out is assumed and reported.\n";
    out += fmt::format("title = {}\nlayout = {}\nfluid = {}\n", toml_string(c.title), toml_string(c.layout),
                       toml_string(c.fluid));
    if (!c.method.empty()) out += fmt::format("method = {}\n", toml_string(c.method));
    out += fmt::format("anti_lock = {:<15} # yes, no, unknown\n", toml_string(c.anti_lock));
    return out + work_of(c) + std::string(body_of(c.layout));
}

std::vector<StarterValue> values_of_starter(const std::string& text) {
    static const std::regex table(R"(^\[(\w+)\])"), group(R"(^(\w+)\s*=\s*\{)"),
        pair(R"re((\w+) = "([^"]*)")re");
    std::vector<StarterValue> values;
    std::string section;
    std::size_t start = 0;
    std::istringstream lines(text);
    for (std::string line; std::getline(lines, line); start += line.size() + 1) {
        std::smatch found;
        if (std::regex_search(line, found, table)) section = found[1];
        if (section.empty()) continue;
        const std::string prefix =
            std::regex_search(line, found, group) ? section + "." + found[1].str() + "." : section + ".";
        for (std::sregex_iterator it(line.begin(), line.end(), pair), end; it != end; ++it)
            values.push_back(
                {prefix + (*it)[1].str(), (*it)[2].str(), start + static_cast<std::size_t>(it->position(2))});
    }
    return values;
}

} // namespace clearstroke
