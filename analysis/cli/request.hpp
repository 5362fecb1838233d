#pragma once
/// What the commands share: reading the scenario, writing the result whole or not at all, exit statuses.
#include <functional>
#include <iosfwd>
#include <stdexcept>
#include <string>

#include "analysis/cautions.hpp"
#include "analysis/cli/commands.hpp"
#include "analysis/sampling.hpp"
#include "scenarios/scenario.hpp"

namespace clearstroke {

struct WriteError : std::runtime_error {
    using std::runtime_error::runtime_error;
};
struct ComputationError : std::runtime_error {
    using std::runtime_error::runtime_error;
};

/// Calls `command` and turns what it throws into a message on `err` and an exit status.
int guarded(std::ostream& err, const std::function<int()>& command);

/// The scenario that the arguments name, with their overrides; `file` instead of theirs when given.
[[nodiscard]] Scenario load(const CommonArgs&, const std::string& file = {});

[[nodiscard]] Cost cost_from(const std::string& word); ///< throws RequestError

/// The case at the usual values.
[[nodiscard]] Case usual_case(const Scenario&);

[[nodiscard]] AntiLockUnit anti_lock_of(const Scenario&);

/// Writes `text` to a new file beside `path` and renames it when all of it is there; what is no regular file
/// (a device, a pipe) is written to directly. Throws WriteError.
void write_file(const std::string& path, const std::string& text);

/// Writes the result where the arguments say. Throws WriteError.
void emit(const CommonArgs&, std::ostream& out, const std::string& text);

/// How much is done, how fast, and the time left; at most a few times a second, and gone when all is done.
/// Nothing when `wanted` is false. `what` are the things counted.
[[nodiscard]] Progress progress_on(bool wanted, std::ostream& err, const std::string& what);

[[nodiscard]] SampleRequest sampling_of(const SampleArgs&, bool progress, std::ostream& err);

} // namespace clearstroke
