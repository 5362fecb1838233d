#pragma once
/// Rows of numbers and texts in an HDF5 file that opens in any HDF5 tool, survives a kill at any instant, and
/// has the same bytes however its rows came about.
///
/// While rows are computed, every dataset stands in the file at its full size, uncompressed, filled with NaN:
/// all structure is written before the first row, and a row only overwrites its own cells, its status last.
/// So a killed run leaves a sound file that lacks at most the rows in flight, and a full disk shows before
/// any work is done. finish() copies the rows into a chunked and compressed file and renames it over the
/// first. A lock file keeps other writers out and vanishes with its process.
#include <cstdint>
#include <functional>
#include <memory>
#include <optional>
#include <stdexcept>
#include <string>
#include <utility>
#include <vector>

namespace clearstroke {

/// A file that cannot be read or written, or is not what it should be; what() begins with its path.
struct StoreError : std::runtime_error {
    using std::runtime_error::runtime_error;
};

/// A dimension beside the rows, with its scale: either texts or numbers.
struct Axis {
    std::string name, long_name, units;
    std::vector<std::string> labels;
    std::vector<double> values; ///< used when there are no labels
    [[nodiscard]] std::size_t size() const { return labels.empty() ? values.size() : labels.size(); }
};

/// A dataset with one cell per row, or one per row and entry of its axes.
struct Column {
    std::string name, long_name, units;
    std::vector<std::size_t> axes; ///< positions in StoreLayout::axes
    std::size_t text_length{};     ///< bytes of each text; 0: numbers
};

struct StoreLayout {
    std::string row_name, row_long_name;      ///< of the row dimension
    std::uint64_t rows{}, first{}, stride{1}; ///< row k is number first + k stride
    std::vector<Axis> axes;
    std::vector<Column> columns;
    std::vector<std::pair<std::string, std::string>> attributes; ///< what makes two files the same study
    [[nodiscard]] std::size_t cells(const Column&) const;        ///< per row
};

enum class RowStatus : std::uint8_t { missing, done, failed };

/// Cells of all columns of a row, one after the other; numbers NaN and texts empty when it failed.
struct Row {
    RowStatus status{RowStatus::missing};
    std::string reason; ///< why it failed
    std::vector<double> numbers;
    std::vector<std::string> texts;
};
[[nodiscard]] Row failed_row(const StoreLayout&, std::string reason);

/// A result of all rows, stored beside them when they are complete.
struct StoreTable {
    std::string name, long_name, units;
    std::vector<std::size_t> axes;
    std::vector<double> values;
};

/// Keeps a second writer out while it lives. Throws StoreError when there is one.
class FileLock {
public:
    explicit FileLock(const std::string& path); ///< of the file that is written; the lock stands beside it
    ~FileLock();
    FileLock(const FileLock&) = delete;
    FileLock& operator=(const FileLock&) = delete;

private:
    std::string path_;
    int descriptor_{-1};
};

/// A file being written.
class Store {
public:
    /// Creates it, or goes on with one of the same layout. Throws StoreError, also when it is another
    /// study's.
    Store(std::string path, StoreLayout);
    ~Store();

    [[nodiscard]] bool complete() const;       ///< all rows are there, and the file is in its last form
    void write(std::uint64_t row, const Row&); ///< not from two threads at once
    /// Cells of entry `k` of a column's only axis, one per row.
    [[nodiscard]] std::vector<double> column(const std::string& name, std::size_t k) const;
    [[nodiscard]] std::vector<RowStatus> status() const;
    [[nodiscard]] Row row(std::uint64_t row) const;
    void finish(const std::vector<Axis>& more_axes, const std::vector<StoreTable>&);

private:
    struct Impl;
    std::unique_ptr<Impl> impl_;
};

/// A file to read from.
class StoreReader {
public:
    explicit StoreReader(const std::string& path); ///< throws StoreError
    ~StoreReader();
    [[nodiscard]] std::string attribute(const std::string& name) const;
    [[nodiscard]] std::uint64_t rows() const;
    [[nodiscard]] RowStatus status(std::uint64_t row) const;
    [[nodiscard]] Row row(const StoreLayout&, std::uint64_t row) const;
    [[nodiscard]] std::vector<double> column(const std::string& name) const; ///< all its cells
    /// Cells of entry `k` of a column's only axis, one per row.
    [[nodiscard]] std::vector<double> column(const std::string& name, std::size_t k) const;
    /// Throws StoreError unless attributes, rows and columns are those of the layout.
    void expect(const StoreLayout&) const;

private:
    struct Impl;
    std::unique_ptr<Impl> impl_;
};

/// Writes rows, asked for in order, into a compressed file beside `path` and renames it to `path`.
void write_complete(const std::string& path, const StoreLayout&, const std::function<Row(std::uint64_t)>&,
                    const std::vector<Axis>& more_axes = {}, const std::vector<StoreTable>& = {});

} // namespace clearstroke
