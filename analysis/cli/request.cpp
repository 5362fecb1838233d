#include "analysis/cli/request.hpp"

#include <chrono>
#include <filesystem>
#include <fstream>
#include <memory>
#include <mutex>
#include <optional>
#include <ostream>

#include <fmt/format.h>

#include "analysis/cli/text.hpp"
#include "analysis/orders.hpp"
#include "analysis/store.hpp"

namespace clearstroke {
namespace {

int failed(std::ostream& err, int status, const char* what) {
    err << what << '\n';
    return status;
}

void write_stream(std::ofstream& stream, const std::string& path, const std::string& text) {
    if (stream) stream << text;
    stream.close(); // flushes; sets the state when that fails
    if (!stream) throw WriteError(fmt::format("{}: cannot be written", path));
}

// Overrides are numbered from --set:1 on, those of options of their own first: names each by its option.
ScenarioError headed_by_option(const ScenarioError& error, const std::vector<std::string>& options) {
    std::vector<ScenarioFault> faults = error.faults();
    for (ScenarioFault& fault : faults) {
        if (fault.file != "--set" || fault.line < 1) continue;
        const auto which = static_cast<std::size_t>(fault.line) - 1;
        if (which < options.size()) {
            fault.file = options[which];
            fault.line = fault.column = 0;
            fault.key.clear();
        } else {
            fault.line -= static_cast<int>(options.size());
        }
    }
    return ScenarioError(std::move(faults));
}

} // namespace

int guarded(std::ostream& err, const std::function<int()>& command) {
    try {
        return command();
    } catch (const ScenarioError& e) {
        return failed(err, exit_request, e.what());
    } catch (const RequestError& e) {
        return failed(err, exit_request, e.what());
    } catch (const std::invalid_argument& e) {
        return failed(err, exit_request, e.what());
    } catch (const std::filesystem::filesystem_error& e) {
        return failed(err, exit_file, fmt::format("{}: {}", e.path1().string(), e.code().message()).c_str());
    } catch (const WriteError& e) {
        return failed(err, exit_file, e.what());
    } catch (const StoreError& e) {
        return failed(err, exit_file, e.what());
    } catch (const std::exception& e) {
        return failed(err, exit_computation, e.what());
    }
}

Scenario load(const CommonArgs& args, const std::string& file) {
    std::vector<std::string> overrides, options;
    const auto replace = [&](const char* key, const std::string& value) {
        if (value.empty()) return;
        overrides.push_back(fmt::format("{}={}", key, value));
        options.push_back(fmt::format("--{}", key));
    };
    replace("condition", args.condition);
    replace("method", args.method);
    overrides.insert(overrides.end(), args.set.begin(), args.set.end());
    try {
        return read_scenario(file.empty() ? args.file : file, overrides);
    } catch (const ScenarioError& error) {
        throw headed_by_option(error, options);
    }
}

Case usual_case(const Scenario& scenario) { return scenario.factory.make(usual_values(scenario.factory)); }

Cost cost_from(const std::string& word) {
    if (word == "strokes") return Cost::strokes;
    if (word == "time") return Cost::time;
    if (word == "fluid") return Cost::fluid;
    throw RequestError(fmt::format("--cost: {}; allowed: strokes, time, fluid", word));
}

AntiLockUnit anti_lock_of(const Scenario& scenario) {
    switch (scenario.anti_lock) {
    case AntiLock::yes:
        return AntiLockUnit::yes;
    case AntiLock::no:
        return AntiLockUnit::no;
    case AntiLock::unknown:
        break;
    }
    return AntiLockUnit::unknown;
}

void write_file(const std::string& path, const std::string& text) {
    std::error_code ignored;
    if (std::filesystem::exists(path, ignored) && !std::filesystem::is_regular_file(path, ignored)) {
        std::ofstream stream(path, std::ios::binary);
        write_stream(stream, path, text);
        return;
    }
    const std::string part = path + ".part";
    try {
        std::ofstream stream(part, std::ios::binary);
        write_stream(stream, path, text);
        std::filesystem::rename(part, path);
    } catch (...) {
        std::filesystem::remove(part, ignored);
        throw;
    }
}

void emit(const CommonArgs& args, std::ostream& out, const std::string& text) {
    if (!args.output.empty()) return write_file(args.output, text);
    out << text;
    if (!out.flush()) throw WriteError("standard output cannot be written");
}

Progress progress_on(bool wanted, std::ostream& err, const std::string& what) {
    if (!wanted) return {};
    using Clock = std::chrono::steady_clock;
    struct Shown {
        std::mutex mutex;
        Clock::time_point begun = Clock::now(), last = begun;
        std::optional<std::size_t> first; // done before the clock started: a resumed run
    };
    const auto shown = std::make_shared<Shown>();
    return [&err, what, shown](std::size_t done, std::size_t total) {
        const std::lock_guard lock(shown->mutex);
        const auto now = Clock::now();
        if (!shown->first) {
            shown->first = done - 1;
        } else if (done == 1) { // another count
            shown->begun = shown->last = now;
            shown->first = 0;
        }
        if (done < total && now - shown->last < std::chrono::milliseconds(250)) return;
        shown->last = now;
        const double seconds = std::chrono::duration<double>(now - shown->begun).count();
        const double rate = static_cast<double>(done - *shown->first) / seconds;
        const std::string text = fmt::format("{} of {} {}, {:.3g} a second, {} left", done, total, what, rate,
                                             minutes_text(static_cast<double>(total - done) / rate));
        err << fmt::format("\r{:<70}", done < total ? text : "") << (done < total ? "" : "\r");
        err.flush();
    };
}

SampleRequest sampling_of(const SampleArgs& args, bool progress, std::ostream& err) {
    SampleRequest request;
    request.samples = args.samples;
    request.seed = args.seed;
    request.progress = progress_on(progress, err, "samples");
    return request;
}

} // namespace clearstroke
