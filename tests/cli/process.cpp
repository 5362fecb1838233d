#include "tests/cli/process.hpp"

#include <cstdio>
#include <fstream>
#include <sstream>

#include <gtest/gtest.h>
#include <sys/wait.h>

#include "tests/folder.hpp"

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

} // namespace clearstroke::testing
