#pragma once
/// HDF5 datasets of a StoreLayout. Internal to the store.
#include <map>
#include <string>

#include <H5Cpp.h>

#include "analysis/store.hpp"

namespace clearstroke::hdf5 {

enum class Form {
    open,    ///< at full size from the start, contiguous
    complete ///< chunked and compressed
};

/// Rows of one chunk.
inline constexpr hsize_t chunk_rows = 1024;

/// Without the library's own lock, so that others can look into a file while it grows; ours keeps writers
/// out. Without its cache of chunks, which grows with the rows: chunks are written and read whole.
[[nodiscard]] H5::FileAccPropList access();

/// Text of so many bytes, UTF-8, padded with zeros.
[[nodiscard]] H5::StrType text_type(std::size_t length);

/// The file with attributes, scales and empty columns.
[[nodiscard]] H5::H5File create(const std::string& path, const StoreLayout&, Form);

/// Adds a scale, or a table over scales of the file.
void add_axis(H5::H5File&, const Axis&);
void add_table(H5::H5File&, const std::vector<Axis>& all_axes, const StoreTable&);

void put_attribute(H5::H5Object&, const std::string& name, const std::string& text);

/// A file and its datasets, each opened once.
struct OpenFile {
    H5::H5File file;
    std::map<std::string, H5::DataSet> sets;
    H5::DataSet& set(const std::string& name);
};

/// Writes the cells of rows `first` ... into the columns, then their status.
void write_rows(OpenFile&, const StoreLayout&, std::uint64_t first, const std::vector<Row>&);

/// Rows `first` ... of them `count`.
[[nodiscard]] std::vector<Row> read_rows(OpenFile&, const StoreLayout&, std::uint64_t first,
                                         std::uint64_t count);

/// Reads rows of one file by its columns, in blocks of a chunk: rows asked for in order cost little.
class RowReader {
public:
    [[nodiscard]] Row row(OpenFile&, const StoreLayout&, std::uint64_t row);

private:
    std::uint64_t first_{};
    std::vector<Row> block_; ///< rows from `first_` on
};

/// All cells of a column of numbers.
[[nodiscard]] std::vector<double> read_column(OpenFile&, const std::string& name);

/// Cells of entry `k` of the only axis of a column of numbers, one per row.
[[nodiscard]] std::vector<double> read_column(OpenFile&, const std::string& name, std::size_t k);

/// First and last number of the rows of a file that has any.
[[nodiscard]] std::pair<std::uint64_t, std::uint64_t> read_ends(OpenFile&, const std::string& row_name);

/// Status of all rows.
[[nodiscard]] std::vector<RowStatus> read_status(OpenFile&);

inline constexpr std::size_t reason_length = 240; ///< [bytes]

} // namespace clearstroke::hdf5
