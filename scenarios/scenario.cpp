#include "scenarios/scenario.hpp"

#include <algorithm>
#include <memory>
#include <stdexcept>
#include <tuple>

#include <fmt/format.h>
#include <fmt/ranges.h>

#include "scenarios/build/parts.hpp"
#include "scenarios/io/expand.hpp"
#include "scenarios/io/text_file.hpp"
#include "scenarios/units.hpp"

namespace clearstroke {
namespace {

/// The whole scenario at the values that `in` answers with.
Case build_case(Inputs& in) {
    Parts parts;
    build_conditions(in, parts);
    const std::string& family = in.document().family;
    if (family == "car") build_car(in, parts);
    if (family == "motorcycle") build_motorcycle(in, parts);
    if (family == "clutch") build_clutch(in, parts);
    build_listed_parts(in, parts);
    build_faults(in, parts);
    build_hand_brake(in, parts);
    build_contents(in, parts);
    Procedure procedure = build_procedure(in, parts);
    return {std::move(parts.net), std::move(parts.contents), std::move(procedure)};
}

/// Screws that no cylinder feeds, each at the place where the file sets it.
void fault_unfed_screws(Inputs& in, const Network& net) {
    const Circuits circuits = find_circuits(net);
    std::vector<int> fed;
    for (const Actuator& a : net.actuators)
        for (const Piston& p : a.pistons) fed.push_back(circuits.of_volume[p.chamber.index]);
    for (std::size_t s = 0; s < net.screws.size(); ++s)
        if (std::ranges::find(fed, circuits.of_screw[s]) == fed.end())
            in.fault("screws." + net.screws[s].name + ".at",
                     "is on no circuit that a cylinder feeds; allowed: a port or tee that pipes join to a "
                     "cylinder");
}

/// What to do with a key that the layout does not use: the key that says the same there, or none.
std::string instead_of(const std::string& path, const std::string& family) {
    if (family != "explicit") return "this layout and its parts do not use it; allowed: leave it out";
    if (path.ends_with(".travel"))
        return "listed actuators have their own; allowed: actuators.{name}.pad_travel";
    return "the listed parts do not use it; allowed: leave it out";
}

/// Keys that are known, but that this layout does not use.
void fault_unused(const Document& document, Noted& noted) {
    for (const auto& [path, entry] : document.entries)
        if (!noted.used.contains(path))
            noted.faults.push_back({entry.place.file, entry.place.line, entry.place.column, path,
                                    "has no effect here: " + instead_of(path, document.family)});
}

void throw_faults(std::vector<ScenarioFault> faults, const std::string& file) {
    if (faults.empty()) return;
    std::ranges::stable_sort(
        faults, {}, [&](const ScenarioFault& f) { return std::tuple(f.file != file, f.line, f.column); });
    throw ScenarioError(std::move(faults));
}

std::vector<ScrewId> named_screws(Inputs& in, const Network& net, const std::string& key,
                                  const std::vector<std::string>& names) {
    std::vector<ScrewId> screws;
    for (const std::string& name : names) {
        const auto at = std::ranges::find(net.screws, name, &Screw::name);
        if (at == net.screws.end()) {
            std::vector<std::string> known;
            for (const Screw& s : net.screws) known.push_back(s.name);
            in.fault(key, fmt::format("there is no screw \"{}\"; allowed: {}", name, fmt::join(known, ", ")));
        } else {
            screws.push_back({std::size_t(at - net.screws.begin())});
        }
    }
    return screws;
}

std::vector<ListedOrder> listed_orders(Inputs& in, const Network& net) {
    std::vector<ListedOrder> out;
    for (const std::string& name : in.children("orders"))
        out.push_back({name, named_screws(in, net, "orders." + name, in.texts("orders." + name))});
    return out;
}

/// "RR inner, RR outer" as two names.
std::vector<std::string> names_in(const std::string& text) {
    std::vector<std::string> names;
    for (std::size_t from = 0; from <= text.size();) {
        const std::size_t comma = std::min(text.find(',', from), text.size());
        const std::size_t first = std::min(text.find_first_not_of(' ', from), comma);
        names.push_back(text.substr(first, text.find_last_not_of(' ', comma - 1) + 1 - first));
        from = comma + 1;
    }
    return names;
}

std::vector<std::vector<ScrewId>> screws_by_wheel(const Network& net) {
    std::vector<std::vector<ScrewId>> groups;
    for (std::size_t i = 0; i < net.screws.size(); ++i) {
        auto group = std::ranges::find_if(groups, [&](const std::vector<ScrewId>& g) {
            return net.screws[g.front().index].wheel == net.screws[i].wheel;
        });
        if (group == groups.end()) group = groups.insert(group, std::vector<ScrewId>{});
        group->push_back({i});
    }
    return groups;
}

Sequence sequence_of(Inputs& in, const Network& net) {
    Sequence out;
    for (const std::string& group : in.texts("sequence.together")) {
        if (group == "wheels")
            out.together = screws_by_wheel(net);
        else
            out.together.push_back(named_screws(in, net, "sequence.together", names_in(group)));
    }
    out.first = named_screws(in, net, "sequence.first", in.texts("sequence.first"));
    out.last = named_screws(in, net, "sequence.last", in.texts("sequence.last"));
    for (const std::string& row : in.texts("sequence.before")) {
        const std::vector<ScrewId> screws = named_screws(in, net, "sequence.before", names_in(row));
        for (std::size_t i = 0; i + 1 < screws.size(); ++i) out.before.emplace_back(screws[i], screws[i + 1]);
    }
    return out;
}

/// Free air by place [m^3].
std::vector<std::pair<std::string, double>> air_by_place(const Case& c) {
    std::vector<std::pair<std::string, double>> out;
    const auto add = [&](const std::string& place, double gas) {
        const auto at = std::ranges::find(out, place, &std::pair<std::string, double>::first);
        if (at == out.end())
            out.emplace_back(place, gas);
        else
            at->second += gas;
    };
    for (std::size_t v = 0; v < c.network.volumes.size(); ++v)
        add(c.network.volumes[v].place, c.contents.volume_gas[v]);
    for (std::size_t l = 0; l < c.network.lines.size(); ++l)
        add(c.network.lines[l].place, gas_in_line(c.network, c.contents, {l}));
    return out;
}

/// Says where air is taken to stand: usual, and between the ends of the starting-air band.
void derive_air(Inputs& in, const CaseFactory& factory, const Case& usual) {
    std::vector<double> low, high;
    for (const Parameter& p : factory.parameters) {
        const bool air = p.group == "starting air";
        low.push_back(air ? p.low : p.usual);
        high.push_back(air ? p.high : p.usual);
    }
    const auto here = air_by_place(usual), least = air_by_place(factory.make(low)),
               most = air_by_place(factory.make(high));
    for (std::size_t i = 0; i < here.size(); ++i) {
        if (most[i].second <= 0.0) continue;
        const std::string band =
            least[i].second < most[i].second ? shown_band(least[i].second, most[i].second, "mL") : "";
        in.derived("work.air." + here[i].first, "free air at the start in " + here[i].first,
                   shown(here[i].second, "mL"), band, "derived from the work done (ours)");
    }
}

void warn_of_old_fluid(Inputs& in, const Case& c) {
    for (std::size_t s = 0; s < c.network.screws.size(); ++s) {
        const bool bled =
            std::ranges::any_of(c.procedure.visits, [&](const Visit& v) { return v.screw.index == s; });
        if (!bled)
            in.warn(
                fmt::format("screw \"{}\" is not bled in the file's own order", c.network.screws[s].name));
    }
}

AntiLock anti_lock_of(Inputs& in) {
    const std::string text = in.text("anti_lock");
    if (text == "yes")
        in.warn("anti-lock unit: its shut part is not modelled unless it is listed as a volume behind a shut "
                "valve; "
                "air in it stays until the maker's routine opens it");
    if (text == "unknown")
        in.warn("it is not known whether an anti-lock unit is in the circuit; look before work begins");
    return text == "yes" ? AntiLock::yes : text == "no" ? AntiLock::no : AntiLock::unknown;
}

/// Checks of the core on the usual case; what the reader has not caught belongs to the whole file.
void core_check(const Document& document, Noted& noted, const Case& c) {
    try {
        check(c.network, c.contents);
    } catch (const std::invalid_argument& error) {
        noted.faults.push_back({document.file, 1, 1, "layout", error.what()});
    }
}

} // namespace

std::string to_text(const ScenarioFault& f) {
    std::string out =
        f.line > 0 ? fmt::format("{}:{}:{}: ", f.file, f.line, f.column) : fmt::format("{}: ", f.file);
    if (!f.key.empty()) out += f.key + ": ";
    return out + f.message;
}

ScenarioError::ScenarioError(std::vector<ScenarioFault> faults) : faults_(std::move(faults)) {
    for (const ScenarioFault& f : faults_) text_ += (text_.empty() ? "" : "\n") + to_text(f);
}

Scenario parse_scenario(std::string_view text, std::string_view name,
                        std::span<const std::string> overrides) {
    std::vector<ScenarioFault> faults;
    const auto document = std::make_shared<const Document>(read_document(text, name, overrides, faults));
    throw_faults(faults, document->file);
    const auto noted = std::make_shared<Noted>();
    Inputs in(*document, *noted);
    for (const char* key : {"title", "layout"}) in.use(key);

    Scenario out;
    out.title = in.text("title");
    const Case usual = build_case(in);
    out.anti_lock = anti_lock_of(in);
    out.orders = listed_orders(in, usual.network);
    out.sequence = sequence_of(in, usual.network);
    if (noted->faults.empty()) fault_unfed_screws(in, usual.network);
    if (noted->faults.empty()) core_check(*document, *noted, usual);
    fault_unused(*document, *noted);
    throw_faults(noted->faults, document->file);

    warn_of_old_fluid(in, usual);
    warn_of_work(in, usual);
    out.path = name;
    out.text = text;
    out.overrides.assign(overrides.begin(), overrides.end());
    out.factory.title = out.title;
    out.factory.parameters = noted->parameters;
    out.factory.make = [document,
                        fixed = std::shared_ptr<const Noted>(noted)](std::span<const double> values) {
        if (values.size() != fixed->parameters.size())
            throw std::invalid_argument("one value for each parameter is needed");
        Inputs again(*document, *fixed, values);
        return build_case(again);
    };
    derive_air(in, out.factory, usual);
    out.assumptions = noted->assumptions;
    out.warnings = noted->warnings;
    out.expanded_toml = explicit_toml(*document, *noted, usual);
    return out;
}

Scenario read_scenario(const std::filesystem::path& path, std::span<const std::string> overrides) {
    return parse_scenario(text_of_file(path), path.generic_string(), overrides);
}

} // namespace clearstroke
