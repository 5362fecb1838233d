#include "scenarios/record.hpp"

#include <algorithm>
#include <array>
#include <charconv>

#include <fmt/format.h>
#include <fmt/ranges.h>

#include "scenarios/io/document.hpp"
#include "scenarios/io/parse_toml.hpp"
#include "scenarios/io/text_file.hpp"
#include "scenarios/io/toml_text.hpp"

namespace clearstroke {
namespace {

struct RecordKey {
    std::string_view path, unit; ///< no unit: text
};
constexpr RecordKey keys[] = {
    {"date", ""},
    {"circuit", ""},
    {"done_by", ""},
    {"checked_by", ""},
    {"fluid.grade", ""},
    {"fluid.opened", ""},
    {"gauge.force_error", "1"},
    {"gauge.ruler", "mm"},
    {"gauge.measure", "mL"},
    {"strokes.force", "N"},
    {"strokes.gap", "s"},
    {"strokes.second", "mm"},
    {"strokes.third", "mm"},
    {"rested.force", "N"},
    {"rested.after", "s"},
    {"rested.travel", "mm"},
    {"hold.force", "N"},
    {"hold.seconds", "s"},
    {"hold.sink", "mm"},
    {"hold.lost", "mL"},
    {"engine.force", "N"},
    {"engine.goes_down", "mm"},
    {"clamped.force", "N"},
    {"hand_brake.force", "N"},
    {"hand_brake.travel", "mm"},
};
constexpr std::array bubble_words{"none", "declined", "did not decline"};

class Reader {
public:
    Reader(JobRecord& record, std::vector<ScenarioFault>& faults) : record_(record), faults_(faults) {}

    void table(const toml::table& node, const std::string& path) {
        for (auto&& [key, value] : node) {
            const std::string name(key.str()), full = path.empty() ? name : path + "." + name;
            if (path == "travel" || path == "travel_before")
                by_force(name, value, full, path == "travel" ? record_.travel : record_.travel_before);
            else if (path == "clamped.travel")
                hose(name, value, full);
            else if (full == "screws")
                screws(value);
            else if (full == "seen.bubbles")
                bubbles(value, full);
            else if (full == "seen.wet" || full == "torque_done")
                truth(value, full, full == "seen.wet" ? record_.wet : record_.torque_done);
            else if (const auto* sub = value.as_table(); sub && is_table(full))
                table(*sub, full);
            else
                plain(value, full, key.source());
        }
    }

private:
    JobRecord& record_;
    std::vector<ScenarioFault>& faults_;

    static bool is_table(const std::string& path) {
        for (const char* name : {"travel", "travel_before", "clamped.travel", "seen"})
            if (path == name) return true;
        return std::ranges::any_of(keys, [&](const RecordKey& k) { return k.path.starts_with(path + "."); });
    }

    void fault(const toml::source_region& at, const std::string& key, std::string message) {
        faults_.push_back({record_.path, int(at.begin.line), int(at.begin.column), key, std::move(message)});
    }

    static bool left_out(const toml::node& node) { return node.value_exact<std::string>() == std::string(); }

    std::optional<double> quantity(const toml::node& node, const std::string& key, std::string_view unit) {
        if (left_out(node)) return std::nullopt;
        if (const auto text = node.value_exact<std::string>()) {
            const ReadQuantity read = read_quantity(*text, unit);
            if (read.fault == QuantityFault::none && read.value.usual >= 0.0) return read.value.usual;
        }
        fault(node.source(), key,
              fmt::format("is not a quantity in {} of zero or more; allowed: text such as \"35 {}\", or \"\" "
                          "when not measured",
                          unit, unit));
        return std::nullopt;
    }

    void by_force(const std::string& name, const toml::node& node, const std::string& key,
                  std::vector<std::pair<double, double>>& out) {
        const ReadQuantity force = read_quantity(name, "N");
        if (force.fault != QuantityFault::none || !(force.value.usual > 0.0))
            return fault(node.source(), key, "is not a force; allowed: \"200 N\" = \"41 mm\"");
        if (const auto value = quantity(node, key, "mm")) out.emplace_back(force.value.usual, *value);
    }

    void hose(const std::string& name, const toml::node& node, const std::string& key) {
        if (const auto value = quantity(node, key, "mm")) record_.clamped.emplace_back(name, *value);
    }

    void bubbles(const toml::node& node, const std::string& key) {
        if (left_out(node)) return;
        const auto text = node.value_exact<std::string>();
        if (!text || std::ranges::find(bubble_words, *text) == bubble_words.end())
            return fault(node.source(), key,
                         fmt::format("is not what can be seen; allowed: {}", fmt::join(bubble_words, ", ")));
        record_.bubbles = *text;
    }

    void truth(const toml::node& node, const std::string& key, std::optional<bool>& out) {
        if (left_out(node)) return;
        out = node.value_exact<bool>();
        const auto text = node.value_exact<std::string>(); // filled in between the quotes
        if (text == "true" || text == "false") out = text == "true";
        if (!out)
            fault(node.source(), key,
                  "is not true or false; allowed: true, false, or \"\" when not looked at");
    }

    void count(const toml::node& node, const std::string& key, std::optional<int>& out) {
        if (left_out(node)) return;
        constexpr int most = 10000;
        std::int64_t n = node.value_exact<std::int64_t>().value_or(-1);
        if (const auto text = node.value_exact<std::string>()) { // filled in between the quotes
            const char* end = text->data() + text->size();
            if (std::from_chars(text->data(), end, n).ptr != end) n = -1;
        }
        if (n >= 0 && n < most)
            out = static_cast<int>(n);
        else
            fault(node.source(), key, "is not a count; allowed: a whole number, or \"\" when not counted");
    }

    void screws(const toml::node& node) {
        const auto* list = node.as_array();
        if (!list) return fault(node.source(), "screws", "is not a list of tables; allowed: [[screws]]");
        for (const toml::node& entry : *list) {
            const auto* one = entry.as_table();
            if (!one) {
                fault(entry.source(), "screws", "is not a table; allowed: [[screws]]");
                continue;
            }
            ScrewRecord screw;
            for (auto&& [key, value] : *one) {
                const std::string name(key.str()), full = "screws." + name;
                if (name == "name")
                    screw.name = value.value_or(std::string());
                else if (name == "strokes" || name == "last_bubble")
                    count(value, full, name == "strokes" ? screw.strokes : screw.last_bubble);
                else if (name == "fluid")
                    screw.fluid = quantity(value, full, "mL");
                else
                    fault(key.source(), full, "unknown key; known here: name, strokes, last_bubble, fluid");
            }
            record_.screws.push_back(std::move(screw));
        }
    }

    void plain(const toml::node& node, const std::string& path, const toml::source_region& at) {
        const auto* key = std::ranges::find(keys, path, &RecordKey::path);
        if (key == std::end(keys)) return unknown(path, at);
        if (!key->unit.empty()) {
            if (const auto value = quantity(node, path, key->unit)) record_.numbers[path] = *value;
        } else if (const auto text = node.value_exact<std::string>()) {
            if (!text->empty()) record_.facts.emplace_back(path, *text);
        } else {
            fault(node.source(), path, "is not text; allowed: text in quotes");
        }
    }

    void unknown(const std::string& path, const toml::source_region& at) {
        std::vector<std::string> known{"travel",   "travel_before", "clamped.travel", "seen.bubbles",
                                       "seen.wet", "screws",        "torque_done"};
        for (const RecordKey& k : keys) known.emplace_back(k.path);
        const std::string near = nearest(path, known);
        fault(at, path,
              near.empty() ? fmt::format("unknown key; known in a record: {}", fmt::join(known, ", "))
                           : fmt::format("unknown key; did you mean \"{}\"?", near));
    }
};

} // namespace

std::optional<double> JobRecord::number(std::string_view key) const {
    const auto at = numbers.find(key);
    return at == numbers.end() ? std::nullopt : std::optional(at->second);
}

JobRecord parse_record(std::string_view text, std::string_view name) {
    JobRecord record;
    record.path = name;
    std::vector<ScenarioFault> faults;
    if (const auto root = parse_toml(text, record.path, faults)) Reader(record, faults).table(*root, "");
    std::ranges::stable_sort(faults, {}, [](const ScenarioFault& f) { return std::pair(f.line, f.column); });
    if (!faults.empty()) throw ScenarioError(std::move(faults));
    for (auto* list : {&record.travel, &record.travel_before}) std::ranges::sort(*list);
    return record;
}

JobRecord read_record(const std::filesystem::path& path) {
    return parse_record(text_of_file(path), path.generic_string());
}

std::string record_template(const std::vector<std::string>& screws, const std::vector<std::string>& hoses) {
    std::string out = R"(# Job record. Fill in what you did and measured; leave "" what you did not.
# Read it against a scenario with: clearstroke pedal SCENARIO --measured THIS_FILE
date = ""
circuit = ""
done_by = ""
checked_by = ""
torque_done = ""              # true when every screw and joint was tightened to its torque

[fluid]
grade = ""
opened = ""                   # date the bottle was opened

# The pedal. Vehicle stationary and chocked, nobody beneath it. Stop at any wetness. The person who presses reads no
# scale: a second person does. Ruler beside the pad, force gauge between foot and pad, engine off, booster emptied.
[gauge]
force_error = "5 %"           # of one reading
ruler = "1 mm"
measure = "1 mL"

[travel_before]               # before the work: first stroke after a rest, pressed slowly to rising forces
"100 N" = ""
"200 N" = ""
"400 N" = ""

[travel]                      # the same now
"100 N" = ""
"200 N" = ""
"400 N" = ""

[strokes]                     # let go quickly and pressed again, twice
force = "200 N"
gap = "0.5 s"
second = ""
third = ""

[rested]                      # a stroke after a rest
force = "200 N"
after = "120 s"
travel = ""

[hold]                        # held; what it sinks after the first two seconds, what the reservoirs lose
force = "200 N"
seconds = "60 s"
sink = ""
lost = ""

[engine]                      # foot on the pedal, engine started
force = "200 N"
goes_down = ""

[hand_brake]                  # hand brake on
force = "200 N"
travel = ""

[clamped]                     # one flexible hose clamped at a time, with a proper clamp, only if its maker allows it
force = "200 N"
[clamped.travel]
)";
    for (const std::string& hose : hoses) out += toml_string(hose) + " = \"\"\n";
    out += R"(
[seen]
bubbles = ""                  # while bleeding: none, declined, did not decline
wet = ""                      # true when any part was wet

# The screws, in the order they were bled: strokes, stroke of the last bubble, fluid that came out.
)";
    for (const std::string& screw : screws)
        out += fmt::format("[[screws]]\nname = {}\nstrokes = \"\"\nlast_bubble = \"\"\nfluid = \"\"\n",
                           toml_string(screw));
    return out;
}

std::string record_template(const Network& net, const std::vector<ScrewId>& screws) {
    std::vector<std::string> names, hoses;
    for (const ScrewId screw : screws) names.push_back(net.screws[screw.index].name);
    for (const Line& line : net.lines)
        if (line.elastic_hose) hoses.push_back(line.name);
    return record_template(names, hoses);
}

} // namespace clearstroke
