#include <ostream>

#include <fmt/format.h>
#include <fmt/ranges.h>

#include "analysis/cli/evidence_view.hpp"
#include "analysis/cli/json.hpp"
#include "analysis/cli/request.hpp"
#include "analysis/cli/text.hpp"
#include "analysis/comparison.hpp"
#include "analysis/orders.hpp"

namespace clearstroke {
namespace {

struct Entry {
    std::string label;
    Scenario scenario;
};

std::string base_name(const std::string& file) { return file.substr(file.find_last_of('/') + 1); }

// "a=1;b=2" as overrides of one alternative.
std::vector<std::string> overrides_of(const std::string& alternative) {
    std::vector<std::string> parts;
    for (std::size_t from = 0; from <= alternative.size();) {
        const std::size_t to = std::min(alternative.find(';', from), alternative.size());
        parts.push_back(alternative.substr(from, to - from));
        from = to + 1;
    }
    return parts;
}

// Every file by every method; of each also the alternatives.
std::vector<Entry> entries_of(const CompareArgs& args) {
    std::vector<Entry> entries;
    std::vector<std::string> methods = args.methods;
    if (methods.empty()) methods.emplace_back();
    for (const std::string& file : args.files)
        for (const std::string& method : methods) {
            CommonArgs one = args;
            one.set.clear();
            one.method = method;
            std::vector<std::string> words;
            if (args.files.size() > 1 || (methods.size() == 1 && args.set.empty()))
                words.push_back(base_name(file));
            if (methods.size() > 1) words.push_back(method);
            const std::string label =
                words.empty() ? "as written" : fmt::format("{}", fmt::join(words, ", "));
            entries.push_back({label, load(one, file)});
            for (const std::string& alternative : args.set) {
                one.set = overrides_of(alternative);
                entries.push_back(
                    {words.empty() ? alternative : label + ", " + alternative, load(one, file)});
            }
        }
    if (entries.size() < 2)
        throw RequestError(
            "compare needs two things to compare: more files, --method A,B or --set KEY=VALUE");
    return entries;
}

std::string travel_text(const PlanResult& r) {
    return r.pedals.empty() || r.pedals.front().travel.empty() ? "-"
                                                               : mm_text(r.pedals.front().travel.front());
}

Lines table_of(const std::vector<Compared>& compared) {
    Table table({"", ">strokes", ">carried air", ">to target", ">fluid mL", ">time", ">air at start",
                 ">air left", ">can't move", ">pedal mm", "ended"});
    for (const Compared& c : compared) {
        const PlanResult& r = c.result;
        table.row({c.label, fmt::format("{}", r.strokes), fmt::format("{}", r.carried),
                   r.to_target ? stroke_text(*r.to_target) : "never", ml_text(r.drawn),
                   minutes_text(r.duration), ml_text(r.air_start), ml_text(r.air_left),
                   ml_text(r.beyond_reach), travel_text(r),
                   (r.target_met ? "target met, " : "target missed, ") + r.stopped_because});
    }
    return table.lines(160);
}

Json compare_json(const std::vector<Entry>& entries, const std::vector<Compared>& compared) {
    Json json = {{"schema", "clearstroke/compare/1"},
                 {"finding", comparison_sentence(compared)},
                 {"cases", Json::array()}};
    for (std::size_t i = 0; i < compared.size(); ++i) {
        const Compared& c = compared[i];
        Json one = {{"label", c.label},
                    {"scenario", scenario_json(entries[i].scenario)},
                    {"method", c.usual.procedure.method.name}};
        one.update(plan_json(c.usual.network, c.result));
        one["balance"] = balance_json(c.result.balance);
        json["cases"].push_back(one);
    }
    json["cautions"] = cautions_json(compared.front().usual, anti_lock_of(entries.front().scenario), {});
    return json;
}

std::optional<Evidence> evidence_on(const std::vector<Entry>& entries, const CompareArgs& args,
                                    std::ostream& err) {
    if (args.samples == 0) return std::nullopt;
    std::vector<const CaseFactory*> factories;
    for (const Entry& entry : entries) factories.push_back(&entry.scenario.factory);
    SampleRequest request = sampling_of(args, args.progress, err);
    request.threads = args.threads;
    return sample_scenarios(factories, request);
}

} // namespace

int run_compare(const CompareArgs& args, std::ostream& out, std::ostream& err) {
    return guarded(err, [&]() -> int {
        const std::vector<Entry> entries = entries_of(args);
        std::vector<std::pair<std::string, Case>> cases;
        for (const Entry& entry : entries) cases.emplace_back(entry.label, usual_case(entry.scenario));
        const std::vector<Compared> compared = compare_cases(cases, args.threads);
        const std::optional<Evidence> evidence = evidence_on(entries, args, err);
        std::vector<std::string> labels;
        for (const Entry& entry : entries) labels.push_back(entry.label);
        if (args.json) {
            Json json = compare_json(entries, compared);
            if (evidence) json["evidence"] = evidence_json(*evidence, labels, args.seed);
            emit(args, out, document(json));
            return exit_done;
        }
        Lines lines = wrap(comparison_sentence(compared), text_width);
        lines.emplace_back();
        append(lines, table_of(compared));
        if (evidence) {
            lines.emplace_back();
            append(lines, evidence_lines(*evidence, labels, 0));
        }
        emit(args, out, join(lines));
        return exit_done;
    });
}

} // namespace clearstroke
