#include <algorithm>
#include <filesystem>
#include <ostream>

#include <fmt/format.h>

#include "analysis/cli/study_view.hpp"
#include "analysis/study_run.hpp"

namespace clearstroke {
namespace {

constexpr std::uint64_t most_settings_shown = 100; // on the screen; more are in JSON and in the file

void expect_output(const StudyArgs& args) {
    if (args.output.empty()) throw RequestError("study writes an HDF5 file; name it with -o FILE");
}

void report(const StudyArgs& args, const StudyPlan& plan, const Store& store, const StoreLayout& layout,
            std::ostream& out) {
    const StudySummary summary = summary_of(
        plan, layout, store.status(), [&](std::uint64_t row) { return store.row(row).reason; },
        [&](const std::string& name, std::size_t which) { return store.column(name, which); },
        args.json ? plan.settings() : most_settings_shown);
    out << (args.json ? document(summary_json(plan, summary, args.output))
                      : join(summary_lines(plan, summary)));
    if (!out.flush()) throw WriteError("standard output cannot be written");
}

void finish(const StudyPlan& plan, const Shard& shard, Store& store) {
    const Sensitivity more =
        shard.of > 1 ? Sensitivity{} : sensitivity_of(plan, [&](const std::string& name, std::size_t which) {
            return store.column(name, which);
        });
    store.finish(more.axes, more.tables);
}

int run(const StudyArgs& args, std::ostream& out, std::ostream& err) {
    if (args.file.empty()) throw RequestError("study needs a study file");
    const std::unique_ptr<Ranks> ranks = Ranks::find();
    const bool first = !ranks || ranks->first();
    const Shard shard = shard_from(args.shard);
    const StudyPlan plan(read_study(args.file), args.version, std::nullopt, args.threads);
    const StoreLayout layout = plan.layout(shard);
    const RunRow row = [&](std::uint64_t number) { return plan.row(layout, number); };
    if (!first) {
        if (!ranks->agree(true)) return exit_file;
        serve_rows(layout, row, args.threads, *ranks);
        return exit_done;
    }
    std::unique_ptr<Store> store;
    try {
        expect_output(args);
        store = std::make_unique<Store>(args.output, layout);
    } catch (...) {
        if (ranks) (void)ranks->agree(false);
        throw;
    }
    if (ranks) (void)ranks->agree(true);
    run_missing(*store, layout, row, args.threads, progress_on(args.progress, err, "cases"), ranks.get(),
                args.stop);
    if (const std::vector<RowStatus> rows = store->status();
        std::ranges::find(rows, RowStatus::missing) != rows.end()) {
        err << fmt::format(
            "{}: stopped with {} of {} cases; the same command goes on from there\n", args.output,
            rows.size() - static_cast<std::size_t>(std::ranges::count(rows, RowStatus::missing)),
            rows.size());
        return exit_done;
    }
    finish(plan, shard, *store);
    report(args, plan, *store, layout, out);
    return exit_done;
}

// Row of every case from the files of all shards.
class Shards {
public:
    Shards(const std::vector<std::string>& files, const StudyPlan& plan) : plan_(plan), of_(files.size()) {
        for (std::uint64_t i = 1; i <= of_; ++i) layouts_.push_back(plan.layout({i, of_}));
        readers_.resize(of_);
        for (const std::string& file : files) {
            auto reader = std::make_unique<StoreReader>(file);
            const auto first = static_cast<std::uint64_t>(reader->column("case").front());
            if (first >= of_ || readers_[first])
                throw RequestError(fmt::format(
                    "{}: is no further shard of {}; allowed: each of the {} shards once", file, of_, of_));
            reader->expect(layouts_[first]);
            for (std::uint64_t k = 0; k < reader->rows(); ++k)
                if (reader->status(k) == RowStatus::missing)
                    throw RequestError(
                        fmt::format("{}: lacks rows; run this shard again to complete it", file));
            readers_[first] = std::move(reader);
        }
    }
    [[nodiscard]] Row row(std::uint64_t number) const {
        return readers_[number % of_]->row(layouts_[number % of_], number / of_);
    }
    [[nodiscard]] std::vector<double> column(const std::string& name, std::size_t which) const {
        std::vector<double> all(plan_.cases());
        for (std::uint64_t i = 0; i < of_; ++i) {
            const std::vector<double> part = readers_[i]->column(name, which);
            for (std::size_t k = 0; k < part.size(); ++k) all[k * of_ + i] = part[k];
        }
        return all;
    }

private:
    const StudyPlan& plan_;
    std::uint64_t of_;
    std::vector<StoreLayout> layouts_;
    std::vector<std::unique_ptr<StoreReader>> readers_;
};

int join_shards(const StudyArgs& args, std::ostream& out) {
    expect_output(args);
    const FileLock lock(args.output);
    if (std::filesystem::exists(args.output))
        throw RequestError(args.output + ": is there already; allowed: a new file");
    const StudyPlan plan = plan_of(StoreReader(args.join.front()), args.version);
    const Shards shards(args.join, plan);
    const Sensitivity more = sensitivity_of(
        plan, [&](const std::string& name, std::size_t which) { return shards.column(name, which); });
    write_complete(
        args.output, plan.layout(), [&](std::uint64_t number) { return shards.row(number); }, more.axes,
        more.tables);
    out << fmt::format("{}: {} cases of {} shards\n", args.output, plan.cases(), args.join.size());
    return exit_done;
}

int extract(const StudyArgs& args, std::ostream& out) {
    const StudyPlan plan = plan_of(StoreReader(args.file), args.version);
    if (*args.extract >= plan.cases())
        throw RequestError(fmt::format("--extract: {}; allowed: 0 to {}", *args.extract, plan.cases() - 1));
    std::string text = fmt::format("case {} of the study \"{}\": {}", *args.extract, plan.study().title,
                                   plan.describe(*args.extract));
    for (std::size_t at = 0; (at = text.find('\n', at)) != std::string::npos; at += 3)
        text.replace(at, 1, "\n# ");
    text = "# " + text + "\n" + plan.scenario(*args.extract).expanded_toml;
    if (args.output.empty())
        out << text;
    else
        write_file(args.output, text);
    return exit_done;
}

} // namespace

int run_study(const StudyArgs& args, std::ostream& out, std::ostream& err) {
    return guarded(err, [&] {
        if (args.extract) return extract(args, out);
        return args.join.empty() ? run(args, out, err) : join_shards(args, out);
    });
}

} // namespace clearstroke
