// The program itself, killed at random instants.
#include <csignal>
#include <fcntl.h>
#include <spawn.h>
#include <sys/wait.h>

#include "analysis/sobol_points.hpp"
#include "analysis/store.hpp"
#include "tests/study/support.hpp"

extern char** environ;

namespace clearstroke {
namespace {

using testing::base;
using testing::bytes_of;
using testing::Scratch;

pid_t start(const std::vector<std::string>& arguments) {
    std::vector<char*> argv;
    for (const std::string& a : arguments) argv.push_back(const_cast<char*>(a.c_str()));
    argv.push_back(nullptr);
    posix_spawn_file_actions_t quiet;
    posix_spawn_file_actions_init(&quiet);
    posix_spawn_file_actions_addopen(&quiet, 1, "/dev/null", O_WRONLY, 0);
    posix_spawn_file_actions_addopen(&quiet, 2, "/dev/null", O_WRONLY, 0);
    pid_t child = 0;
    EXPECT_EQ(posix_spawn(&child, argv.front(), &quiet, nullptr, argv.data(), environ), 0);
    posix_spawn_file_actions_destroy(&quiet);
    return child;
}

int status_of(pid_t child) {
    int status = 0;
    waitpid(child, &status, 0);
    return WIFEXITED(status) ? WEXITSTATUS(status) : -1;
}

std::uint64_t rows_done(const std::string& path) {
    if (!std::filesystem::exists(path)) return 0;
    const StoreReader reader(path);
    std::uint64_t done = 0;
    for (std::uint64_t k = 0; k < reader.rows(); ++k) done += reader.status(k) != RowStatus::missing;
    return done;
}

// Twenty kills of one study, each run going on where the last was stopped, then one to its end.
TEST(Kill, TwentyKillsLoseNoRowAndEndInTheSameBytes) {
    const Scratch scratch;
    const std::string study =
        scratch.study(base("hydraulic_clutch", "set = [\"operator.push_speed=\\\"80 mm/s\\\"\"]") +
                      "[factors]\n\"lines.to_slave\" = { from = \"0.8 m\", to = \"2.5 m\", steps = 16 }\n");
    const std::vector<std::string> whole = {CLEARSTROKE_PROGRAM, "study", study, "-o", scratch / "whole.h5"},
                                   cut = {CLEARSTROKE_PROGRAM, "study", study, "-o", scratch / "cut.h5"};
    ASSERT_EQ(status_of(start(whole)), 0);
    std::uint64_t before = 0;
    for (std::uint64_t i = 0; i < 20; ++i) {
        const pid_t child = start(cut);
        usleep(static_cast<useconds_t>(20000 + mixed(i) % 300000));
        kill(child, SIGKILL);
        waitpid(child, nullptr, 0);
        const std::uint64_t done = rows_done(scratch / "cut.h5");
        EXPECT_GE(done, before) << i;
        before = done;
    }
    ASSERT_EQ(status_of(start(cut)), 0);
    EXPECT_EQ(bytes_of(scratch / "cut.h5"), bytes_of(scratch / "whole.h5"));
}

TEST(Kill, ASecondRunOnTheSameFileIsRefused) {
    const Scratch scratch;
    const std::string study = scratch.study(base("hydraulic_clutch"));
    const FileLock lock(scratch / "a.h5");
    EXPECT_EQ(status_of(start({CLEARSTROKE_PROGRAM, "study", study, "-o", scratch / "a.h5"})), exit_file);
    EXPECT_FALSE(std::filesystem::exists(scratch / "a.h5"));
}

} // namespace
} // namespace clearstroke
