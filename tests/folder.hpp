#pragma once
/// Where a test may write.
#include <filesystem>
#include <string>

namespace clearstroke::testing {

/// A folder of its own for the running test, empty at first and removed at its end; no other test, of this
/// program or another that runs meanwhile, is given the same one.
class Folder {
public:
    Folder();
    ~Folder();
    Folder(const Folder&) = delete;
    Folder& operator=(const Folder&) = delete;
    [[nodiscard]] std::string operator/(const std::string& name) const { return (path_ / name).string(); }
    /// Writes the text and returns the file's path.
    [[nodiscard]] std::string file(const std::string& name, const std::string& text) const;
    [[nodiscard]] bool holds_only(const std::string& name) const;
    [[nodiscard]] std::string path() const { return path_.string(); }

private:
    std::filesystem::path path_;
};

} // namespace clearstroke::testing
