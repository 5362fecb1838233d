#pragma once
/// Runs the built program as a person does.
#include <string>

namespace clearstroke::testing {

struct Ran {
    int status{};
    std::string out, err;
};

/// `clearstroke ARGUMENTS` in a shell, from the project's root; "$CS" stands for the program.
[[nodiscard]] Ran run(const std::string& arguments);
[[nodiscard]] Ran shell(const std::string& command);

[[nodiscard]] std::string text_in(const std::string& file);

} // namespace clearstroke::testing
