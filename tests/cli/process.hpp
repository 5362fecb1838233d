#pragma once
/// Runs the built program as a person does.
#include <filesystem>
#include <string>

namespace clearstroke::testing {

struct Ran {
    int status{};
    std::string out, err;
};

/// `clearstroke ARGUMENTS` in a shell, from the project's root; "$CS" stands for the program.
[[nodiscard]] Ran run(const std::string& arguments);
[[nodiscard]] Ran shell(const std::string& command);

/// A folder of its own for the running test, empty at first and removed at its end.
class Folder {
public:
    Folder();
    ~Folder();
    Folder(const Folder&) = delete;
    Folder& operator=(const Folder&) = delete;
    [[nodiscard]] std::string file(const std::string& name, const std::string& text = "") const;
    [[nodiscard]] bool holds_only(const std::string& name) const;
    [[nodiscard]] std::string path() const { return path_.string(); }

private:
    std::filesystem::path path_;
};

[[nodiscard]] std::string text_in(const std::string& file);

} // namespace clearstroke::testing
