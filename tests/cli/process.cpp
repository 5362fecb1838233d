#include "tests/cli/process.hpp"

#include <cstdio>
#include <cstdlib>
#include <fstream>
#include <sstream>

#include <gtest/gtest.h>
#include <sys/wait.h>

namespace clearstroke::testing {

std::string text_in(const std::string& file) {
    std::ifstream stream(file, std::ios::binary);
    std::ostringstream text;
    text << stream.rdbuf();
    return text.str();
}

Ran shell(const std::string& command) {
    const Folder folder;
    const std::string errors = folder.path() + "/stderr";
    const std::string all = "export CS='" CLEARSTROKE_PROGRAM "'; exec 2>'" + errors + "'; " + command;
    Ran ran;
    FILE* pipe = popen(all.c_str(), "r");
    if (!pipe) throw std::runtime_error("no shell");
    char part[4096];
    for (std::size_t n = 0; (n = fread(part, 1, sizeof part, pipe)) > 0;) ran.out.append(part, n);
    const int status = pclose(pipe);
    ran.status = WIFEXITED(status) ? WEXITSTATUS(status) : 128 + WTERMSIG(status);
    ran.err = text_in(errors);
    return ran;
}

Ran run(const std::string& arguments) { return shell("\"$CS\" " + arguments); }

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
    const std::string path = (path_ / name).string();
    if (!text.empty()) std::ofstream(path, std::ios::binary) << text;
    return path;
}

bool Folder::holds_only(const std::string& name) const {
    for (const auto& entry : std::filesystem::directory_iterator(path_))
        if (entry.path().filename() != name) return false;
    return true;
}

} // namespace clearstroke::testing
