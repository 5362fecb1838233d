#include "analysis/cli/browser.hpp"

#include <array>
#include <cerrno>
#include <cstdlib>
#include <filesystem>
#include <sstream>
#include <vector>

#include <fcntl.h>
#include <fmt/format.h>
#include <fmt/ranges.h>
#include <spawn.h>
#include <sys/wait.h>
#include <unistd.h>

#include "analysis/cli/request.hpp"
#include "analysis/orders.hpp"

extern char** environ;

namespace clearstroke {
namespace {

constexpr std::array browsers{"chromium", "chromium-browser", "google-chrome", "google-chrome-stable"};

// Runs a program with its output thrown away; its exit status.
int run_quietly(const std::vector<std::string>& words) {
    std::vector<char*> arguments;
    for (const std::string& word : words) arguments.push_back(const_cast<char*>(word.c_str()));
    arguments.push_back(nullptr);
    posix_spawn_file_actions_t files;
    posix_spawn_file_actions_init(&files);
    for (const int stream : {STDOUT_FILENO, STDERR_FILENO})
        posix_spawn_file_actions_addopen(&files, stream, "/dev/null", O_WRONLY, 0);
    pid_t child{};
    const int refused = posix_spawn(&child, arguments[0], &files, nullptr, arguments.data(), environ);
    posix_spawn_file_actions_destroy(&files);
    int status = 0;
    if (refused != 0) return refused;
    while (waitpid(child, &status, 0) < 0)
        if (errno != EINTR) return errno;
    return WIFEXITED(status) ? WEXITSTATUS(status) : 1;
}

} // namespace

std::optional<std::string> find_browser() {
    const char* path = std::getenv("PATH");
    std::istringstream folders(path ? path : "");
    for (std::string folder; std::getline(folders, folder, ':');)
        for (const char* name : browsers) {
            const std::string file = (std::filesystem::path(folder) / name).string();
            if (access(file.c_str(), X_OK) == 0) return file;
        }
    return std::nullopt;
}

void print_page(const std::string& page, const std::string& pdf) {
    const auto browser = find_browser();
    if (!browser)
        throw RequestError(
            fmt::format("--pdf: needs one of these browsers: {}. Without one, open the page in any browser "
                        "and print it from there",
                        fmt::join(browsers, ", ")));
    const auto target = std::filesystem::absolute(pdf);
    const std::string part = target.string() + ".part";
    std::vector<std::string> words{*browser,
                                   "--headless",
                                   "--disable-gpu",
                                   "--no-first-run",
                                   "--no-pdf-header-footer",
                                   "--virtual-time-budget=5000",
                                   "--print-to-pdf=" + part,
                                   "file://" + std::filesystem::absolute(page).string() + "#print-all"};
    if (geteuid() == 0) words.insert(words.begin() + 1, "--no-sandbox"); // a browser refuses root otherwise
    std::error_code ignored;
    const int status = run_quietly(words);
    if (status != 0 || !std::filesystem::exists(part, ignored)) {
        std::filesystem::remove(part, ignored);
        throw WriteError(fmt::format("{}: {} could not print it (status {})", pdf, *browser, status));
    }
    std::filesystem::rename(part, target);
}

} // namespace clearstroke
