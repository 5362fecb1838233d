#include <cmath>
#include <filesystem>
#include <fstream>
#include <functional>
#include <iterator>
#include <limits>

#include <gtest/gtest.h>
#include <sched.h>
#include <sys/mount.h>
#include <sys/resource.h>
#include <sys/wait.h>
#include <unistd.h>

#include "analysis/sobol_points.hpp"
#include "analysis/store.hpp"
#include "analysis/study_run.hpp"
#include "tests/folder.hpp"

namespace clearstroke {
namespace {

namespace fs = std::filesystem;
using testing::Folder;

StoreLayout layout_of(std::uint64_t rows, std::uint64_t first = 0, std::uint64_t stride = 1) {
    return {"case",
            "number of the case",
            rows,
            first,
            stride,
            {{"plan", "order", "", {"a", "bb"}, {}}, {"stroke", "stroke", "1", {}, {1, 2, 3}}},
            {{"strokes", "strokes", "1", {0}, 0},
             {"air", "air left", "mL", {0, 1}, 0},
             {"name", "name", "", {}, 8}},
            {{"title", "a test"}, {"seed", "1"}}};
}

Row row_of(std::uint64_t number) {
    Row row{RowStatus::done, "", {}, {"row " + std::to_string(number % 100)}};
    for (std::uint64_t k = 0; k < 8; ++k)
        row.numbers.push_back(static_cast<double>(mixed(8 * number + k) >> 11) / 1e3);
    return row;
}

std::string bytes_of(const std::string& path) {
    std::ifstream file(path, std::ios::binary);
    return {std::istreambuf_iterator<char>(file), {}};
}

void write_missing(Store& store, const StoreLayout& layout, const std::function<void()>& written) {
    const std::vector<RowStatus> before = store.status();
    for (std::uint64_t k = 0; k < before.size(); ++k) {
        if (before[k] != RowStatus::missing) continue;
        store.write(k, row_of(layout.first + k * layout.stride));
        written();
    }
}

void fill(const std::string& path, const StoreLayout& layout) {
    Store store(path, layout);
    write_missing(store, layout, [] {});
    store.finish({}, {});
}

TEST(Store, RowsComeBackAsWritten) {
    const Folder folder;
    const StoreLayout layout = layout_of(3000);
    fill(folder / "a.h5", layout);
    const StoreReader reader(folder / "a.h5");
    EXPECT_EQ(reader.rows(), 3000u);
    for (const std::uint64_t k : {0u, 1023u, 1024u, 2999u}) {
        EXPECT_EQ(reader.status(k), RowStatus::done);
        EXPECT_EQ(reader.row(layout, k).numbers, row_of(k).numbers);
        EXPECT_EQ(reader.row(layout, k).texts, row_of(k).texts);
    }
    EXPECT_EQ(reader.attribute("title"), "a test");
    EXPECT_EQ(reader.column("strokes").size(), 6000u);
    EXPECT_EQ(std::distance(fs::directory_iterator(folder.path()), fs::directory_iterator()), 1)
        << "no lock, no part left";
}

TEST(Store, AnInterruptedFileIsSoundAndGoesOnToTheSameBytes) {
    const Folder folder;
    const StoreLayout layout = layout_of(40);
    fill(folder / "whole.h5", layout);
    {
        Store store(folder / "cut.h5", layout);
        for (std::uint64_t k = 39; k > 20; k -= 3) store.write(k, row_of(k));
        const StoreReader reader(folder / "cut.h5"); // while the writer lives
        EXPECT_EQ(reader.status(39), RowStatus::done);
        EXPECT_EQ(reader.status(38), RowStatus::missing);
        EXPECT_TRUE(std::isnan(reader.row(layout, 38).numbers.front()));
        EXPECT_FALSE(store.complete());
    }
    fill(folder / "cut.h5", layout);
    EXPECT_EQ(bytes_of(folder / "cut.h5"), bytes_of(folder / "whole.h5"));
}

// The writer is killed at any instant, from creation to the last rename; what it left is always read or
// absent, never lacks a row that was written, and goes on to the same bytes.
TEST(Store, SurvivesBeingKilledAtAnyInstant) {
    const Folder folder;
    const StoreLayout layout = layout_of(300);
    const std::string path = folder / "killed.h5";
    fill(folder / "whole.h5", layout);
    const std::string whole = bytes_of(folder / "whole.h5");
    int cut_short = 0;
    for (std::uint64_t run = 0; run < 20; ++run) {
        fs::remove(path);
        int told[2];
        ASSERT_EQ(pipe(told), 0);
        const pid_t child = fork();
        if (child == 0) {
            Store store(path, layout);
            write_missing(store, layout, [&] {
                if (write(told[1], "x", 1) != 1) _exit(1);
            });
            store.finish({}, {});
            _exit(0);
        }
        close(told[1]);
        const std::uint64_t before = mixed(run) % layout.rows; // rows told of when the signal is sent
        std::uint64_t written = 0;
        char x = 0;
        while (written < before && read(told[0], &x, 1) == 1) ++written;
        kill(child, SIGKILL);
        waitpid(child, nullptr, 0);
        while (read(told[0], &x, 1) == 1) ++written;
        close(told[0]);
        if (fs::exists(path)) {
            const StoreReader reader(path);
            std::uint64_t there = 0;
            for (std::uint64_t k = 0; k < layout.rows; ++k)
                if (reader.status(k) == RowStatus::done) {
                    ++there;
                    EXPECT_EQ(reader.row(layout, k).numbers, row_of(k).numbers);
                }
            EXPECT_GE(there, written);
            EXPECT_LE(there, written + 1);
            cut_short += there < layout.rows ? 1 : 0;
        } else {
            EXPECT_EQ(written, 0u);
        }
        fill(path, layout);
        EXPECT_EQ(bytes_of(path), whole) << run;
    }
    EXPECT_GT(cut_short, 0);
}

/// Most memory that a process takes to compute and finish a study of so many rows [bytes].
long peak_of(const std::string& path, std::uint64_t rows) {
    const pid_t child = fork();
    if (child == 0) {
        const StoreLayout layout = layout_of(rows);
        Store store(path, layout);
        run_missing(store, layout, row_of, 1, {});
        store.finish({}, {});
        _exit(0);
    }
    int status = 0;
    rusage used{};
    EXPECT_EQ(wait4(child, &status, 0, &used), child);
    EXPECT_EQ(status, 0);
    return 1024L * used.ru_maxrss;
}

// Of a row only its status stays in memory, a byte; the rest is noise of about a megabyte.
TEST(Store, MemoryDoesNotGrowWithTheRows) {
    const Folder folder;
    constexpr std::uint64_t few = 1u << 13, many = 1u << 17;
    const long before = peak_of(folder / "few.h5", few), after = peak_of(folder / "many.h5", many);
    EXPECT_LT(after - before, static_cast<long>(16 * (many - few))); // a row takes 88 bytes in the file
}

TEST(Store, ASecondWriterIsRefused) {
    const Folder folder;
    const Store first(folder / "a.h5", layout_of(4));
    try {
        const Store second(folder / "a.h5", layout_of(4));
        FAIL();
    } catch (const StoreError& e) {
        EXPECT_NE(std::string(e.what()).find("another run is writing it"), std::string::npos) << e.what();
    }
}

TEST(Store, AnotherStudyIsNotOverwritten) {
    const Folder folder;
    fill(folder / "a.h5", layout_of(4));
    StoreLayout other = layout_of(4);
    other.attributes.back().second = "2";
    EXPECT_THROW(Store(folder / "a.h5", other), StoreError);
    EXPECT_THROW(Store(folder / "a.h5", layout_of(5)), StoreError);
    EXPECT_THROW(Store(folder / "a.h5", layout_of(4, 1, 2)), StoreError);
    EXPECT_NO_THROW(fill(folder / "a.h5", layout_of(4)));
}

TEST(Store, ShardsJoinToTheBytesOfAWholeRun) {
    const Folder folder;
    fill(folder / "whole.h5", layout_of(25));
    std::vector<std::unique_ptr<StoreReader>> shards;
    for (std::uint64_t i = 0; i < 3; ++i) {
        const std::string path = folder / ("shard" + std::to_string(i) + ".h5");
        fill(path, layout_of((25 - i + 2) / 3, i, 3));
        shards.push_back(std::make_unique<StoreReader>(path));
    }
    write_complete(folder / "joined.h5", layout_of(25),
                   [&](std::uint64_t k) { return shards[k % 3]->row(layout_of(25), k / 3); });
    EXPECT_EQ(bytes_of(folder / "joined.h5"), bytes_of(folder / "whole.h5"));
}

// A file size limit stands for a full disk: both refuse further blocks.
TEST(Store, AFullDiskIsReportedAndWhatIsThereStays) {
    const Folder folder;
    const StoreLayout layout = layout_of(2000);
    {
        Store store(folder / "a.h5", layout);
        for (std::uint64_t k = 0; k < 10; ++k) store.write(k, row_of(k));
    }
    const pid_t child = fork();
    if (child == 0) {
        signal(SIGXFSZ, SIG_IGN);
        const rlimit limit{300000, 300000};
        setrlimit(RLIMIT_FSIZE, &limit);
        int refused = 0;
        try {
            Store(folder / "b.h5", layout);
        } catch (const StoreError&) {
            ++refused;
        }
        try {
            Store(folder / "a.h5", layout).finish({}, {});
        } catch (const StoreError&) {
            ++refused;
        }
        _exit(refused);
    }
    int status = 0;
    waitpid(child, &status, 0);
    ASSERT_TRUE(WIFEXITED(status));
    EXPECT_EQ(WEXITSTATUS(status), 2);
    EXPECT_FALSE(fs::exists(folder / "b.h5"));
    EXPECT_FALSE(fs::exists(folder / "b.h5.part"));
    EXPECT_EQ(StoreReader(folder / "a.h5").row(layout, 9).numbers, row_of(9).numbers);
}

// Each damaged file is read in a process of its own, so that a crash would show as one.
int read_apart(const std::string& path, const StoreLayout& layout) {
    const pid_t child = fork();
    if (child == 0) {
        try {
            const StoreReader reader(path);
            reader.expect(layout);
            for (std::uint64_t k = 0; k < layout.rows; ++k) (void)reader.row(layout, k);
        } catch (const StoreError&) {
            _exit(1);
        }
        _exit(0);
    }
    int status = 0;
    waitpid(child, &status, 0);
    return WIFEXITED(status) ? WEXITSTATUS(status) : -1;
}

/// A disk of 400 kB at `folder`, for this process alone; false where it may not mount one.
bool mount_small_disk(const std::string& folder) {
    if (unshare(CLONE_NEWNS) != 0) return false;
    mount(nullptr, "/", nullptr, MS_REC | MS_PRIVATE, nullptr);
    return mount("tmpfs", folder.c_str(), "tmpfs", 0, "size=400k") == 0;
}

// The same on a disk that is really full: no room for a new file, none to finish the one there, its rows are kept.
TEST(Store, ASmallDiskIsReportedAndKeepsTheRows) {
    const Folder folder;
    constexpr int no_disk = 99, all_held = 7;
    const pid_t child = fork();
    if (child == 0) {
        if (!mount_small_disk(folder.path())) _exit(no_disk);
        const StoreLayout layout = layout_of(20);
        int held = 0;
        {
            Store store(folder / "a.h5", layout);
            for (std::uint64_t k = 0; k < 10; ++k) store.write(k, row_of(k));
            std::ofstream(folder / "filler") << std::string(1 << 20, 'x'); // until the disk is full
            for (std::uint64_t k = 10; k < 20; ++k) store.write(k, row_of(k));
            try {
                store.finish({}, {});
            } catch (const StoreError&) {
                held |= 1;
            }
        }
        try {
            Store(folder / "b.h5", layout);
        } catch (const StoreError&) {
            held |= fs::exists(folder / "b.h5") || fs::exists(folder / "b.h5.part") ? 0 : 2;
        }
        if (StoreReader(folder / "a.h5").row(layout, 19).numbers == row_of(19).numbers) held |= 4;
        _exit(held);
    }
    int status = 0;
    waitpid(child, &status, 0);
    ASSERT_TRUE(WIFEXITED(status));
    if (WEXITSTATUS(status) == no_disk) GTEST_SKIP() << "no disk may be mounted here";
    EXPECT_EQ(WEXITSTATUS(status), all_held);
}

TEST(Store, ADamagedFileIsReportedAndNeverACrash) {
    const Folder folder;
    const StoreLayout layout = layout_of(20);
    fill(folder / "a.h5", layout);
    const std::string whole = bytes_of(folder / "a.h5");
    const auto damaged = [&](const std::string& bytes) {
        std::ofstream(folder / "d.h5", std::ios::binary) << bytes;
        return read_apart(folder / "d.h5", layout);
    };
    EXPECT_EQ(damaged(whole), 0);
    EXPECT_EQ(damaged(""), 1);
    EXPECT_EQ(damaged("no HDF5 at all"), 1);
    EXPECT_EQ(damaged(whole.substr(0, whole.size() / 2)), 1);
    EXPECT_EQ(damaged(whole.substr(0, whole.size() - 1)), 1);
    for (std::uint64_t i = 0; i < 60; ++i) {
        std::string bytes = whole;
        for (std::uint64_t k = 0; k < 16; ++k)
            bytes[mixed(100 * i + k) % bytes.size()] ^= static_cast<char>(mixed(7 * i + k));
        EXPECT_GE(damaged(bytes), 0) << i;
    }
}

} // namespace
} // namespace clearstroke
