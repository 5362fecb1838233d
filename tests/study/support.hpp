#pragma once
/// Shared by the study tests: scratch folders, small studies, the command without a process.
#include <filesystem>
#include <fstream>
#include <iterator>
#include <sstream>

#include <gtest/gtest.h>

#include "analysis/cli/commands.hpp"
#include "tests/folder.hpp"

namespace clearstroke::testing {

struct Scratch : Folder {
    /// Writes a study of the shipped clutch, with these lines added.
    [[nodiscard]] std::string study(const std::string& lines) const {
        return file("study.toml", "title = \"test\"\n" + lines);
    }
};

/// [[base]] of a shipped scenario.
inline std::string base(const std::string& name, const std::string& more = "") {
    const std::string file = (std::filesystem::current_path() / "scenarios" / (name + ".toml")).string();
    return "[[base]]\nfile = \"" + file + "\"\n" + more + "\n";
}

inline std::string bytes_of(const std::string& path) {
    std::ifstream file(path, std::ios::binary);
    return {std::istreambuf_iterator<char>(file), {}};
}

struct Ran {
    int status{};
    std::string out, err;
};

inline Ran run(StudyArgs args) {
    args.version = "test";
    std::ostringstream out, err;
    const int status = run_study(args, out, err);
    return {status, out.str(), err.str()};
}

inline Ran run(const std::string& study, const std::string& output, int threads = 0,
               const std::string& shard = "") {
    StudyArgs args;
    args.file = study;
    args.output = output;
    args.threads = threads;
    args.shard = shard;
    return run(args);
}

/// Two quick cases.
inline const std::string quick_factors = "[factors]\n\"operator.push_speed\" = [\"40 mm/s\", \"80 mm/s\"]\n";

} // namespace clearstroke::testing
