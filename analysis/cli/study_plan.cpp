#include "analysis/cli/study_plan.hpp"

#include <algorithm>
#include <charconv>
#include <limits>

#include <fmt/format.h>
#include <fmt/ranges.h>

#include "analysis/comparison.hpp"
#include "analysis/sobol_points.hpp"
#include "analysis/uncertain.hpp"
#include "scenarios/io/quantity.hpp"
#include "scenarios/units.hpp"

namespace clearstroke {
namespace {

constexpr std::size_t longest_attribute = 60000; // HDF5 takes 64 KiB [bytes]

// A point in the middle of everything.
constexpr double middle = 0.5;

template <class T> bool contains(const std::vector<T>& in, const T& what) {
    return std::ranges::find(in, what) != in.end();
}

void check_traces(const std::vector<std::string>& traces) {
    std::vector<std::string> known;
    for (const Measure& m : study_traces()) known.push_back(m.name);
    for (const std::string& trace : traces)
        if (!contains(known, trace))
            throw RequestError(
                fmt::format("traces: there is no \"{}\"; allowed: {}", trace, fmt::join(known, ", ")));
}

std::string tie_text(const TieWidth& tie) { return fmt::format("{} {}", tie.cost, tie.excess); }

} // namespace

const KeyValue* StudyPlan::Values::find(const std::string& path) const {
    const auto at = std::ranges::find(of, path, &std::pair<std::string, KeyValue>::first);
    return at == of.end() ? nullptr : &at->second;
}

StudyPlan::StudyPlan(StudyFile study, const std::string& version, std::optional<TieWidth> tie, int threads)
    : study_(std::move(study)), version_(version) {
    check_traces(study_.traces);
    find_inputs(tie, threads);
    const std::uint64_t d = names_.size();
    const std::uint64_t whole = (study_.samples + study_.scramblings - 1) / study_.scramblings;
    switch (study_.design) {
    case StudyDesign::usual:
        break;
    case StudyDesign::random:
        samples_ = study_.samples;
        break;
    case StudyDesign::sobol:
        samples_ = whole * study_.scramblings;
        break;
    case StudyDesign::indices:
        samples_ = whole * study_.scramblings * (d + 2);
        break;
    case StudyDesign::effects:
        samples_ = study_.samples * (d + 1);
        break;
    }
    if (study_.design != StudyDesign::usual && d == 0)
        throw RequestError(study_.path +
                           ": design.kind draws samples, but nothing varies; allowed: bands = true, "
                           "or a draw");
}

std::uint64_t StudyPlan::settings() const {
    std::uint64_t count = study_.bases.size();
    for (const StudyFactor& factor : study_.factors) count *= factor.values.size();
    return count;
}

// The values of the last factor run fastest, the bases slowest.
StudyPlan::Setting StudyPlan::setting(std::uint64_t number) const {
    Setting out{0, std::vector<KeyValue>(study_.factors.size())};
    for (std::size_t f = study_.factors.size(); f-- > 0;) {
        const std::vector<KeyValue>& values = study_.factors[f].values;
        out.values[f] = values[number % values.size()];
        number /= values.size();
    }
    out.base = number;
    return out;
}

std::vector<const StudyDraw*> StudyPlan::draws_of(std::size_t base) const {
    std::vector<const StudyDraw*> all;
    for (const StudyDraw& draw : study_.draws) all.push_back(&draw);
    for (const StudyDraw& draw : study_.bases[base].draws) all.push_back(&draw);
    return all;
}

void StudyPlan::add_input(const StudyKey& key) {
    if (std::ranges::find(inputs_, key.path, &StudyKey::path) == inputs_.end()) inputs_.push_back(key);
}

// What varies in any setting, the plans, and the ties of the bases.
void StudyPlan::find_inputs(std::optional<TieWidth> tie, int threads) {
    const auto add_name = [&](const std::string& name) {
        if (study_.design != StudyDesign::usual && !contains(names_, name)) names_.push_back(name);
    };
    for (const StudyFactor& factor : study_.factors) add_input(factor.key);
    for (std::size_t b = 0; b < study_.bases.size(); ++b)
        for (const StudyDraw* draw : draws_of(b)) {
            add_input(draw->key);
            add_name(draw->key.path);
        }
    std::vector<Scenario> usual;
    std::vector<bool> has_usual(study_.bases.size());
    std::optional<ScenarioError> refused; // its cases will be rows with their reason
    for (std::uint64_t k = 0; k < settings(); ++k) try {
            const Setting setting = this->setting(k);
            const Values values = stated(setting, {});
            Scenario scenario = this->scenario(setting, values);
            for (const Parameter& p : scenario.factory.parameters)
                if (p.low < p.high && is_drawn(values, p)) {
                    add_input({p.name, "drawn within its band", p.unit, ""});
                    add_name(p.group.empty() ? p.name : p.group);
                }
            const Case c = scenario.factory.make(usual_values(scenario.factory));
            for (const auto& known : usual_orders(c))
                order_length_ = std::max(order_length_, order_text(c.network, known.screws).size());
            if (usual.empty())
                plans_ = {static_cast<StudyPlans::Which>(study_.orders),
                          plan_labels(static_cast<StudyPlans::Which>(study_.orders), c, study_.listed),
                          cost_from(study_.cost),
                          {}};
            if (!has_usual[setting.base]) usual.push_back(std::move(scenario));
            has_usual[setting.base] = true;
        } catch (const ScenarioError& error) {
            refused = error;
        }
    if (usual.empty() && refused) throw ScenarioError(*refused);
    for (const std::string& label : plans_.labels) order_length_ = std::max(order_length_, label.size());
    if (!tie && study_.orders != StudyOrders::own) {
        std::vector<const CaseFactory*> factories;
        for (const Scenario& scenario : usual) factories.push_back(&scenario.factory);
        tie = widest_tie(factories, plans_.cost, threads);
    }
    plans_.tie = tie.value_or(TieWidth{});
}

bool StudyPlan::is_drawn(const Values& values, const Parameter& p) const {
    if (study_.design == StudyDesign::usual || values.find(p.name)) return false;
    return study_.all_bands || contains(study_.bands, p.name) ||
           (!p.group.empty() && contains(study_.bands, p.group));
}

double StudyPlan::coordinate(const std::string& name, const std::vector<double>& u) const {
    const auto at = std::ranges::find(names_, name);
    if (at == names_.end() || u.empty()) return middle;
    return u[static_cast<std::size_t>(at - names_.begin())];
}

std::vector<double> StudyPlan::point(std::uint64_t number) const {
    const std::uint64_t k = number % samples_;
    std::vector<double> u;
    switch (study_.design) {
    case StudyDesign::usual:
        break;
    case StudyDesign::random:
        for (std::size_t d = 0; d < names_.size(); ++d)
            u.push_back((static_cast<double>(mixed(scrambling_seed(study_.seed, k) + d) >> 12) + 0.5) *
                        0x1p-52);
        break;
    case StudyDesign::sobol: {
        const std::uint64_t points = samples_ / study_.scramblings;
        return SobolPoints(names_.size(), scrambling_seed(study_.seed, k / points)).point(k % points);
    }
    case StudyDesign::indices:
        return point_of(index_design(), k);
    case StudyDesign::effects:
        return point_of(effect_design(), k);
    }
    return u;
}

IndexDesign StudyPlan::index_design() const {
    return {names_.size(), (study_.samples + study_.scramblings - 1) / study_.scramblings, study_.scramblings,
            study_.seed};
}

EffectDesign StudyPlan::effect_design() const { return {names_.size(), study_.samples, study_.seed}; }

StudyPlan::Values StudyPlan::stated(const Setting& setting, const std::vector<double>& u) const {
    Values values;
    for (const StudyDraw* draw : draws_of(setting.base))
        values.of.emplace_back(draw->key.path, value_at(*draw, coordinate(draw->key.path, u)));
    for (std::size_t f = 0; f < study_.factors.size(); ++f)
        values.of.emplace_back(study_.factors[f].key.path, setting.values[f]);
    return values;
}

void StudyPlan::add_bands(const Setting& setting, const std::vector<double>& u, Values& values) const {
    if (!study_.all_bands && study_.bands.empty()) return;
    const Scenario before = scenario(setting, values);
    for (const Parameter& p : before.factory.parameters) {
        if (!(p.low < p.high) || !is_drawn(values, p)) continue;
        const double x = in_band(p, coordinate(p.group.empty() ? p.name : p.group, u));
        values.of.emplace_back(p.name, KeyValue{exact(x, p.unit), x, ""});
    }
}

Scenario StudyPlan::scenario(const Setting& setting, const Values& values) const {
    const StudyBase& base = study_.bases[setting.base];
    std::vector<std::string> overrides = base.set;
    for (const auto& [path, value] : values.of) overrides.push_back(override_of(path, value.written));
    return parse_scenario(base.text, base.file, overrides);
}

Scenario StudyPlan::scenario(std::uint64_t number) const {
    const Setting setting = this->setting(number / samples_);
    const std::vector<double> u = point(number);
    Values values = stated(setting, u);
    add_bands(setting, u, values);
    return scenario(setting, values);
}

Row StudyPlan::row(const StoreLayout& layout, std::uint64_t number) const {
    const Setting setting = this->setting(number / samples_);
    const std::vector<double> u = point(number);
    Values values = stated(setting, u);
    Row row = failed_row(layout, "");
    CaseCells cells;
    try {
        add_bands(setting, u, values);
        const Scenario own = scenario(setting, values);
        cells = run_study_case(own.factory.make(usual_values(own.factory)), plans_, study_.traces,
                               study_.trace_strokes);
        row.status = RowStatus::done;
    } catch (const std::exception& e) {
        row.reason = e.what();
    }
    row.texts[0] = study_.bases[setting.base].name;
    std::size_t number_at = 0, text_at = 1;
    for (const StudyKey& key : inputs_) {
        const KeyValue* value = values.find(key.path);
        if (key.unit.empty())
            row.texts[text_at++] = value ? value->text : "";
        else
            row.numbers[number_at++] = value ? value->number : std::numeric_limits<double>::quiet_NaN();
    }
    if (row.status == RowStatus::failed) return row;
    std::ranges::copy(cells.numbers, row.numbers.begin() + static_cast<std::ptrdiff_t>(number_at));
    std::ranges::copy(cells.orders, row.texts.begin() + static_cast<std::ptrdiff_t>(text_at));
    return row;
}

std::size_t StudyPlan::text_length(const std::string& path) const {
    std::size_t length = 1;
    const auto longer = [&](const std::vector<KeyValue>& values) {
        for (const KeyValue& v : values) length = std::max(length, v.text.size());
    };
    for (const StudyFactor& factor : study_.factors)
        if (factor.key.path == path) longer(factor.values);
    for (std::size_t b = 0; b < study_.bases.size(); ++b)
        for (const StudyDraw* draw : draws_of(b))
            if (draw->key.path == path) longer(draw->values);
    return length;
}

StoreLayout StudyPlan::layout(const Shard& shard) const {
    StoreLayout l{"case",
                  "number of the case",
                  (cases() + shard.of - shard.number) / shard.of,
                  shard.number - 1,
                  shard.of,
                  {{"plan", "order of the visits", "", plans_.labels, {}}},
                  {},
                  {{"title", study_.title},
                   {"program", "clearstroke"},
                   {"program_version", version_},
                   {"seed", std::to_string(study_.seed)},
                   {"study_name", std::filesystem::path(study_.path).filename().string()},
                   {"study_text", study_.text},
                   {"tie_width", tie_text(plans_.tie)}}};
    for (std::size_t b = 0; b < study_.bases.size(); ++b)
        l.attributes.emplace_back(fmt::format("base_text_{}", b), study_.bases[b].text);
    for (const auto& [name, text] : l.attributes)
        if (text.size() > longest_attribute)
            throw RequestError(fmt::format("{} is longer than {} bytes", name, longest_attribute));
    std::size_t base_length = 1;
    for (const StudyBase& base : study_.bases) base_length = std::max(base_length, base.name.size());
    l.columns.push_back({"base", "scenario that was changed", "", {}, base_length});
    for (const StudyKey& key : inputs_)
        l.columns.push_back(
            {key.path, key.meaning, key.unit, {}, key.unit.empty() ? text_length(key.path) : 0});
    for (const Measure& m : study_measures()) l.columns.push_back({m.name, m.long_name, m.units, {0}, 0});
    if (!study_.traces.empty()) {
        Axis strokes{"stroke", "stroke, counted over all visits", "1", {}, {}};
        for (std::uint64_t k = 1; k <= study_.trace_strokes; ++k)
            strokes.values.push_back(static_cast<double>(k));
        l.axes.push_back(std::move(strokes));
    }
    for (const Measure& m : study_traces())
        if (contains(study_.traces, m.name))
            l.columns.push_back({"trace_" + m.name, m.long_name, m.units, {0, 1}, 0});
    l.columns.push_back({"order", "screws in the order of the visits", "", {0}, order_length_});
    return l;
}

std::string StudyPlan::describe(std::uint64_t number) const {
    const Setting setting = this->setting(number / samples_);
    const std::vector<double> u = point(number);
    Values values = stated(setting, u);
    add_bands(setting, u, values);
    std::string text = fmt::format("base {}", study_.bases[setting.base].name);
    for (const auto& [path, value] : values.of) text += fmt::format("\n{} = {}", path, value.written);
    return text;
}

std::string StudyPlan::setting_name(std::uint64_t number) const {
    const Setting setting = this->setting(number);
    std::vector<std::string> words = {study_.bases[setting.base].name};
    for (std::size_t f = 0; f < setting.values.size(); ++f) {
        const StudyKey& key = study_.factors[f].key;
        const KeyValue& value = setting.values[f];
        words.push_back(fmt::format("{} {}", key.path,
                                    !value.text.empty()   ? value.text
                                    : key.read_in.empty() ? value.written
                                                          : shown(value.number, key.read_in)));
    }
    return fmt::format("{}", fmt::join(words, ", "));
}

std::uint64_t StudyPlan::part_of(std::uint64_t number) const {
    const std::uint64_t k = number % samples_;
    return study_.design == StudyDesign::sobol ? k / (samples_ / study_.scramblings) : k % study_.scramblings;
}

StudyPlan plan_of(const StoreReader& reader, const std::string& version) {
    const std::string text = reader.attribute("study_text"), made_by = reader.attribute("program_version");
    if (made_by != version)
        throw RequestError(
            fmt::format("made by version {}, this is {}: bits would differ", made_by, version));
    std::vector<std::string> base_texts;
    const StudyFile bare = parse_study(text, reader.attribute("study_name"), {});
    for (std::size_t b = 0; b < bare.bases.size(); ++b)
        base_texts.push_back(reader.attribute(fmt::format("base_text_{}", b)));
    const std::string tie = reader.attribute("tie_width");
    TieWidth width;
    const char* end = tie.data() + tie.size();
    const auto [space, fault] = std::from_chars(tie.data(), end, width.cost);
    if (fault == std::errc{} && space != end) std::from_chars(space + 1, end, width.excess);
    return StudyPlan(parse_study(text, bare.path, base_texts), version, width, 0);
}

Shard shard_from(const std::string& text) {
    if (text.empty()) return {};
    Shard shard{0, 0};
    const char *begin = text.data(), *end = begin + text.size();
    const auto number = std::from_chars(begin, end, shard.number);
    if (number.ec == std::errc{} && number.ptr != end && *number.ptr == '/') {
        const auto of = std::from_chars(number.ptr + 1, end, shard.of);
        if (of.ec == std::errc{} && of.ptr == end && shard.number >= 1 && shard.number <= shard.of)
            return shard;
    }
    throw RequestError(fmt::format("--shard: {}; allowed: i/N with i from 1 to N, such as 3/8", text));
}

} // namespace clearstroke
