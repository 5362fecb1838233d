#include "tests/folder.hpp"

#include <cstdlib>
#include <fstream>
#include <stdexcept>

namespace clearstroke::testing {

Folder::Folder() {
    std::string name = (std::filesystem::temp_directory_path() / "clearstroke-XXXXXX").string();
    if (!mkdtemp(name.data())) throw std::runtime_error("no folder");
    path_ = name;
}

Folder::~Folder() {
    std::error_code ignored;
    std::filesystem::remove_all(path_, ignored);
}

std::string Folder::file(const std::string& name, const std::string& text) const {
    std::string path = *this / name;
    std::ofstream(path, std::ios::binary) << text;
    return path;
}

bool Folder::holds_only(const std::string& name) const {
    for (const auto& entry : std::filesystem::directory_iterator(path_))
        if (entry.path().filename() != name) return false;
    return true;
}

} // namespace clearstroke::testing
