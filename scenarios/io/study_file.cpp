#include "scenarios/study_file.hpp"

#include <algorithm>
#include <cmath>
#include <functional>
#include <numeric>
#include <sstream>

#include <fmt/format.h>
#include <fmt/ranges.h>

#include "scenarios/io/parse_toml.hpp"
#include "scenarios/io/text_file.hpp"
#include "scenarios/io/toml_text.hpp"
#include "scenarios/io/values.hpp"

namespace clearstroke {
namespace {

using BaseText = std::function<std::string(const std::string& file, std::size_t number)>;

struct KindName {
    const char* name;
    StudyDraw::Kind kind;
    std::size_t numbers;
};
constexpr KindName kinds[] = {{"uniform", StudyDraw::Kind::uniform, 2},
                              {"log_uniform", StudyDraw::Kind::log_uniform, 2},
                              {"triangular", StudyDraw::Kind::triangular, 3},
                              {"normal", StudyDraw::Kind::normal, 2},
                              {"one_of", StudyDraw::Kind::one_of, 0}};

const KeyRow* row_of(const std::string& path) {
    for (const char* family : {"car", "motorcycle", "clutch", "explicit"})
        if (const KeyRow* row = find_key(path, family)) return row;
    return nullptr;
}

KeyValue key_value(const Entry& entry, const toml::node& node) {
    const KeyRow& row = *entry.row;
    switch (row.kind) {
    case KeyKind::quantity: {
        const std::string unit = si_unit(row.unit);
        return {exact(entry.quantity.usual, unit), entry.quantity.usual, ""};
    }
    case KeyKind::count:
        return {std::to_string(entry.count), static_cast<double>(entry.count), ""};
    default:
        break;
    }
    std::ostringstream written; // texts, truths and lists, as TOML writes them
    node.visit([&](const auto& value) { written << value; });
    std::string text = entry.text;
    if (row.kind == KeyKind::truth) text = entry.truth ? "true" : "false";
    if (row.kind == KeyKind::texts) text = fmt::format("{}", fmt::join(entry.texts, ", "));
    return {row.kind == KeyKind::text || row.kind == KeyKind::choice ? toml_string(entry.text)
                                                                     : written.str(),
            std::numeric_limits<double>::quiet_NaN(), text};
}

class Reader {
public:
    Reader(StudyFile& study, std::vector<ScenarioFault>& faults) : study_(study), faults_(faults) {}

    void all(const toml::table& root, const BaseText& base_text) {
        known(root, "",
              {"title", "seed", "cost", "orders", "traces", "trace_strokes", "base", "factors", "design"});
        study_.title = text(root, "title", "");
        study_.seed = whole(root, "seed", "", 1, 0);
        study_.cost = choice(root, "cost", "", {"strokes", "time", "fluid"}, "strokes");
        study_.traces = texts(root, "traces", "");
        study_.trace_strokes = whole(root, "trace_strokes", "", 100, 1);
        orders(root);
        if (const toml::table* factors = table(root, "factors", "")) read_factors(*factors);
        if (const toml::table* design = table(root, "design", "")) read_design(*design);
        bases(root, base_text);
    }

private:
    StudyFile& study_;
    std::vector<ScenarioFault>& faults_;

    void fault(const toml::node& at, const std::string& key, std::string message) {
        const auto begin = at.source().begin;
        faults_.push_back({study_.path, int(begin.line), int(begin.column), key, std::move(message)});
    }
    static std::string joined(const std::string& path, std::string_view key) {
        return path.empty() ? std::string(key) : fmt::format("{}.{}", path, key);
    }

    void known(const toml::table& in, const std::string& path, const std::vector<std::string>& names) {
        for (auto&& [key, node] : in) {
            const std::string name(key.str());
            if (std::ranges::find(names, name) != names.end()) continue;
            const std::string near = nearest(name, names);
            fault(node, joined(path, name),
                  fmt::format("unknown key; {}known here: {}",
                              near.empty() ? "" : fmt::format("did you mean \"{}\"? ", near),
                              fmt::join(names, ", ")));
        }
    }

    std::string text(const toml::table& in, const char* key, const std::string& path) {
        const toml::node* node = in.get(key);
        if (!node) return "";
        if (const auto given = node->value_exact<std::string>()) return *given;
        fault(*node, joined(path, key), "is no text; allowed: text");
        return "";
    }

    std::string choice(const toml::table& in, const char* key, const std::string& path,
                       const std::vector<std::string>& allowed, const std::string& usual) {
        const std::string given = text(in, key, path);
        if (given.empty()) return usual;
        if (std::ranges::find(allowed, given) == allowed.end())
            fault(*in.get(key), joined(path, key),
                  fmt::format("\"{}\" is not one of the choices; allowed: {}", given,
                              fmt::join(allowed, ", ")));
        return given;
    }

    std::uint64_t whole(const toml::table& in, const char* key, const std::string& path, std::uint64_t usual,
                        std::int64_t least) {
        const toml::node* node = in.get(key);
        if (!node) return usual;
        const auto given = node->value_exact<std::int64_t>();
        if (given && *given >= least) return static_cast<std::uint64_t>(*given);
        fault(*node, joined(path, key), fmt::format("allowed: a whole number of at least {}", least));
        return usual;
    }

    std::vector<std::string> texts(const toml::table& in, const char* key, const std::string& path) {
        const toml::node* node = in.get(key);
        std::vector<std::string> out;
        if (!node) return out;
        const toml::array* list = node->as_array();
        for (std::size_t i = 0; list && i < list->size(); ++i)
            if (const auto one = (*list)[i].value_exact<std::string>()) out.push_back(*one);
        if (!list || out.size() != list->size()) fault(*node, joined(path, key), "allowed: a list of texts");
        return out;
    }

    const toml::table* table(const toml::table& in, const char* key, const std::string& path) {
        const toml::node* node = in.get(key);
        if (node && !node->is_table()) fault(*node, joined(path, key), "is no table");
        return node ? node->as_table() : nullptr;
    }

    void orders(const toml::table& root) {
        const toml::node* node = root.get("orders");
        if (node && node->is_array()) {
            study_.orders = StudyOrders::listed;
            for (const std::string& order : texts(root, "orders", "")) {
                std::istringstream stream(order);
                std::vector<std::string>& screws = study_.listed.emplace_back();
                for (std::string name; std::getline(stream >> std::ws, name, ',');) screws.push_back(name);
            }
            return;
        }
        const std::string word = choice(root, "orders", "", {"own", "rules", "all"}, "own");
        study_.orders = word == "all"     ? StudyOrders::all
                        : word == "rules" ? StudyOrders::rules
                                          : StudyOrders::own;
    }

    const KeyRow* key_row(const std::string& path, const toml::node& node, const std::string& where) {
        const KeyRow* row = row_of(path);
        if (!row) {
            std::vector<std::string> names;
            for (const KeyRow& one : key_table()) names.emplace_back(one.path);
            const std::string near = nearest(path, names);
            fault(node, where,
                  fmt::format("\"{}\" is no key of a scenario{}; allowed: a key of the key reference", path,
                              near.empty() ? "" : fmt::format(" (did you mean \"{}\"?)", near)));
        }
        return row;
    }

    static StudyKey study_key(const std::string& path, const KeyRow& row) {
        const std::string unit = row.kind == KeyKind::quantity ? si_unit(row.unit)
                                 : row.kind == KeyKind::count  ? "1"
                                                               : "";
        return {path, std::string(row.meaning), unit,
                row.kind == KeyKind::quantity ? std::string(row.unit) : ""};
    }

    std::optional<KeyValue> value(const toml::node& node, const KeyRow& row, const std::string& where) {
        Entry entry;
        entry.row = &row;
        const std::string wrong = read_value(node, row, entry);
        if (wrong.empty()) return key_value(entry, node);
        fault(node, where, wrong + "; " + allowed_text(row));
        return std::nullopt;
    }

    std::vector<KeyValue> values(const toml::node& node, const KeyRow& row, const std::string& where) {
        std::vector<KeyValue> out;
        const toml::array* list = node.as_array();
        if (!list || list->empty()) {
            fault(node, where, "allowed: a list of values");
            return out;
        }
        for (const toml::node& one : *list)
            if (auto read = value(one, row, where)) out.push_back(*read);
        return out;
    }

    void read_factors(const toml::table& in) {
        for (auto&& [key, node] : in) {
            const std::string path(key.str()), where = "factors." + path;
            const KeyRow* row = key_row(path, node, where);
            if (!row) continue;
            StudyFactor factor{study_key(path, *row), {}};
            if (const toml::table* grid = node.as_table())
                factor.values = steps(*grid, *row, where);
            else
                factor.values = values(node, *row, where);
            study_.factors.push_back(std::move(factor));
        }
    }

    // { from = "1 m", to = "6 m", steps = 6 }, evenly or by equal factors.
    std::vector<KeyValue> steps(const toml::table& in, const KeyRow& row, const std::string& where) {
        known(in, where, {"from", "to", "steps", "log"});
        const toml::node *from = in.get("from"), *to = in.get("to");
        const std::uint64_t count = whole(in, "steps", where, 2, 2);
        if (!from || !to || row.kind != KeyKind::quantity) {
            fault(in, where, "allowed: a list of values, or for quantities from, to and steps");
            return {};
        }
        const auto low = value(*from, row, where), high = value(*to, row, where);
        if (!low || !high) return {};
        const bool log = in["log"].value_or(false);
        if (log && !(low->number > 0.0 && high->number > 0.0)) {
            fault(in, where, "equal factors need ends above 0");
            return {};
        }
        std::vector<KeyValue> out;
        for (std::uint64_t i = 0; i < count; ++i) {
            const double share = static_cast<double>(i) / static_cast<double>(count - 1);
            const double x = log ? low->number * std::pow(high->number / low->number, share)
                                 : low->number + share * (high->number - low->number);
            out.push_back({exact(x, si_unit(row.unit)), x, ""});
        }
        return out;
    }

    std::vector<StudyDraw> draws(const toml::table& in, const std::string& in_path) {
        std::vector<StudyDraw> out;
        for (auto&& [key, node] : in) {
            const std::string path(key.str()), where = joined(in_path, path);
            const KeyRow* row = key_row(path, node, where);
            const toml::table* how = node.as_table();
            const auto kind =
                std::ranges::find_if(kinds, [&](const KindName& k) { return how && how->get(k.name); });
            if (row && kind == std::end(kinds))
                fault(node, where, "allowed: uniform, log_uniform, triangular, normal or one_of = [ ... ]");
            if (!row || kind == std::end(kinds)) continue;
            known(*how, where, {kind->name, "weights"});
            StudyDraw draw{
                study_key(path, *row), kind->kind, {}, values(*how->get(kind->name), *row, where), {}};
            if (check(draw, *kind, *how, where)) out.push_back(std::move(draw));
        }
        return out;
    }

    bool check(StudyDraw& draw, const KindName& kind, const toml::table& how, const std::string& where) {
        if (draw.values.empty()) return false; // said already
        if (draw.kind == StudyDraw::Kind::one_of) return read_weights(draw, how, where);
        for (const KeyValue& v : draw.values) draw.numbers.push_back(v.number);
        draw.values.clear();
        const bool rising = draw.kind == StudyDraw::Kind::normal ? draw.numbers.back() >= 0.0
                                                                 : std::ranges::is_sorted(draw.numbers);
        const bool positive = draw.kind != StudyDraw::Kind::log_uniform || draw.numbers.front() > 0.0;
        if (draw.numbers.size() == kind.numbers && rising && positive && draw.key.unit != "" &&
            row_of(draw.key.path)->kind == KeyKind::quantity)
            return true;
        fault(how, where, fmt::format("allowed for {}: {} quantities, rising", kind.name, kind.numbers));
        return false;
    }

    bool read_weights(StudyDraw& draw, const toml::table& how, const std::string& where) {
        draw.weights.assign(draw.values.size(), 1.0);
        if (const toml::array* given = how["weights"].as_array()) {
            draw.weights.clear();
            for (const toml::node& w : *given) draw.weights.push_back(w.value<double>().value_or(-1.0));
        }
        const double sum = std::accumulate(draw.weights.begin(), draw.weights.end(), 0.0);
        const bool sound = draw.weights.size() == draw.values.size() && sum > 0.0 &&
                           std::ranges::all_of(draw.weights, [](double w) { return w >= 0.0; });
        if (!sound) fault(how, where, "allowed: one weight, at least 0, for each of one_of");
        for (double& w : draw.weights) w /= sum;
        return sound;
    }

    void read_design(const toml::table& in) {
        known(in, "design", {"kind", "samples", "scramblings", "bands", "draw"});
        const std::vector<std::string> names = {"usual", "random", "sobol", "indices", "effects"};
        const std::string kind = choice(in, "kind", "design", names, "usual");
        study_.design = static_cast<StudyDesign>(std::ranges::find(names, kind) - names.begin());
        study_.samples = whole(in, "samples", "design", 1, 1);
        study_.scramblings = whole(in, "scramblings", "design", 8, 2);
        if (const toml::node* bands = in.get("bands")) {
            if (const auto all = bands->value_exact<bool>())
                study_.all_bands = *all;
            else
                study_.bands = texts(in, "bands", "design");
        }
        if (const toml::table* draw = table(in, "draw", "design")) study_.draws = draws(*draw, "design.draw");
    }

    void bases(const toml::table& root, const BaseText& base_text) {
        const toml::node* node = root.get("base");
        const toml::array* list = node ? node->as_array() : nullptr;
        if (!list || !list->is_array_of_tables())
            return fault(node ? *node : root, "base", "missing; allowed: [[base]] tables, each with a file");
        for (std::size_t i = 0; i < list->size(); ++i) {
            const toml::table& in = *(*list)[i].as_table();
            const std::string path = fmt::format("base.{}", i);
            known(in, path, {"name", "file", "set", "draw"});
            StudyBase base{text(in, "name", path), text(in, "file", path), "", texts(in, "set", path), {}};
            if (base.file.empty())
                fault(in, path + ".file", "missing; allowed: a scenario, relative to the study");
            if (base.name.empty()) base.name = std::filesystem::path(base.file).stem().string();
            if (const toml::table* draw = table(in, "draw", path)) base.draws = draws(*draw, path + ".draw");
            if (!base.file.empty()) base.text = base_text(base.file, i);
            study_.bases.push_back(std::move(base));
        }
    }
};

StudyFile parse(std::string_view text, const std::string& name, const BaseText& base_text) {
    StudyFile study;
    study.path = name;
    study.text = text;
    std::vector<ScenarioFault> faults;
    if (const auto root = parse_toml(text, name, faults)) Reader(study, faults).all(*root, base_text);
    std::ranges::stable_sort(faults, {}, &ScenarioFault::line);
    if (!faults.empty()) throw ScenarioError(std::move(faults));
    return study;
}

} // namespace

StudyFile read_study(const std::filesystem::path& path) {
    return parse(text_of_file(path), path.generic_string(), [&](const std::string& file, std::size_t) {
        return text_of_file(path.parent_path() / file);
    });
}

StudyFile parse_study(std::string_view text, const std::string& name,
                      const std::vector<std::string>& base_texts) {
    return parse(text, name, [&](const std::string&, std::size_t i) {
        return i < base_texts.size() ? base_texts[i] : std::string();
    });
}

} // namespace clearstroke
