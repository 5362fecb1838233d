#include "analysis/store.hpp"

#include <algorithm>
#include <cerrno>
#include <cstring>
#include <filesystem>
#include <limits>

#include <fcntl.h>
#include <fmt/format.h>
#include <sys/file.h>
#include <sys/stat.h>
#include <unistd.h>

#include "analysis/hdf5_layout.hpp"

namespace clearstroke {
namespace {

namespace fs = std::filesystem;

constexpr double mebibyte = 1024.0 * 1024.0;

[[noreturn]] void fail(const std::string& path, const std::string& what) {
    throw StoreError(path + ": " + what);
}

// Runs `work` on the HDF5 library; what it throws becomes a StoreError.
template <class Work> auto with_hdf5(const std::string& path, const std::string& what, Work work) {
    H5::Exception::dontPrint();
    try {
        return work();
    } catch (const H5::Exception&) {
        fail(path, what);
    }
}

// Upper bound of the bytes of a file of that layout, and then some for structure.
std::uintmax_t bytes_of(const StoreLayout& layout) {
    std::uintmax_t per_row = 8 + 1 + hdf5::reason_length, others = 1u << 18;
    for (const Column& c : layout.columns) {
        per_row += layout.cells(c) * (c.text_length == 0 ? 8 : c.text_length);
        others += 4096;
    }
    for (const auto& [name, text] : layout.attributes) others += name.size() + text.size();
    return layout.rows * per_row + others;
}

// Sees whether the disk takes so many bytes at `path`, before HDF5 meets a full one in the midst of its work.
void reserve(const std::string& path, std::uintmax_t bytes) {
    const int file = ::open(path.c_str(), O_CREAT | O_TRUNC | O_WRONLY | O_CLOEXEC, 0666);
    if (file < 0) fail(path, std::strerror(errno));
    const int fault = ::posix_fallocate(file, 0, static_cast<off_t>(bytes));
    ::close(file);
    if (fault == 0) return;
    std::error_code ignored;
    fs::remove(path, ignored);
    fail(path, fmt::format("{:.1f} MB cannot be reserved: {}", static_cast<double>(bytes) / mebibyte,
                           std::strerror(fault)));
}

// Writes a file beside `path` by `work` and renames it; leaves nothing behind when that fails.
template <class Work> void beside(const std::string& path, std::uintmax_t bytes, Work work) {
    const std::string part = path + ".part";
    reserve(part, bytes);
    try {
        with_hdf5(path, "cannot be written", [&] { work(part); });
        fs::rename(part, path);
    } catch (const std::exception&) {
        std::error_code ignored;
        fs::remove(part, ignored);
        throw;
    }
}

std::string text_attribute(const H5::H5File& file, const std::string& name) {
    const H5::Attribute a = file.openGroup("/").openAttribute(name);
    std::string text(a.getStorageSize(), '\0');
    a.read(hdf5::text_type(text.size()), text.data());
    return text.c_str();
}

void expect_layout(const std::string& path, hdf5::OpenFile& open, const StoreLayout& layout) {
    const H5::H5File& file = open.file;
    for (const auto& [name, text] : layout.attributes)
        if (text_attribute(file, name) != text)
            fail(path, fmt::format("holds another study: {} differs; allowed: another output file", name));
    const auto expect_cells = [&](const std::string& name, hsize_t cells) {
        if (static_cast<hsize_t>(file.openDataSet(name).getSpace().getSimpleExtentNpoints()) != cells)
            fail(path, fmt::format("holds another study or shard: size of {} differs", name));
    };
    expect_cells("status", layout.rows);
    expect_cells("reason", layout.rows);
    for (const Column& c : layout.columns) expect_cells(c.name, layout.rows * layout.cells(c));
    if (layout.rows == 0) return;
    expect_cells(layout.row_name, layout.rows);
    if (hdf5::read_ends(open, layout.row_name) !=
        std::pair(layout.first, layout.first + (layout.rows - 1) * layout.stride))
        fail(path, "holds another shard; allowed: another output file");
}

hdf5::OpenFile open_file(const std::string& path, unsigned mode) {
    if (!fs::exists(path)) fail(path, "there is no such file");
    if (fs::is_regular_file(path) && fs::is_empty(path))
        fail(path, "is empty, and so no study file; allowed: one that a study wrote, or a new one");
    return with_hdf5(path, "is damaged, or no study file", [&] {
        return hdf5::OpenFile{H5::H5File(path, mode, H5::FileCreatPropList::DEFAULT, hdf5::access()), {}};
    });
}

bool is_complete(const H5::H5File& file) {
    return file.openDataSet("status").getCreatePlist().getLayout() == H5D_CHUNKED;
}

} // namespace

std::size_t StoreLayout::cells(const Column& column) const {
    std::size_t n = 1;
    for (const std::size_t axis : column.axes) n *= axes[axis].size();
    return n;
}

Row failed_row(const StoreLayout& layout, std::string reason) {
    Row row{RowStatus::failed, std::move(reason), {}, {}};
    for (const Column& c : layout.columns) {
        if (c.text_length == 0)
            row.numbers.resize(row.numbers.size() + layout.cells(c),
                               std::numeric_limits<double>::quiet_NaN());
        else
            row.texts.resize(row.texts.size() + layout.cells(c));
    }
    return row;
}

FileLock::FileLock(const std::string& path) : path_(path + ".lock") {
    for (;;) {
        descriptor_ = ::open(path_.c_str(), O_CREAT | O_RDWR | O_CLOEXEC, 0666);
        if (descriptor_ < 0) fail(path, fmt::format("cannot be written there: {}", std::strerror(errno)));
        if (::flock(descriptor_, LOCK_EX | LOCK_NB) != 0) {
            ::close(descriptor_);
            fail(path, "another run is writing it; allowed: wait for it, or another output file");
        }
        struct stat here {
        }, there{}; // the former owner may have removed the file that we locked
        if (::fstat(descriptor_, &here) == 0 && ::stat(path_.c_str(), &there) == 0 &&
            here.st_ino == there.st_ino)
            return;
        ::close(descriptor_);
    }
}

FileLock::~FileLock() {
    ::unlink(path_.c_str());
    ::close(descriptor_);
}

struct Store::Impl {
    std::string path;
    StoreLayout layout;
    FileLock lock;
    std::optional<hdf5::OpenFile> file;

    Impl(std::string p, StoreLayout l) : path(std::move(p)), layout(std::move(l)), lock(path) {}
};

Store::Store(std::string path, StoreLayout layout)
    : impl_(std::make_unique<Impl>(std::move(path), std::move(layout))) {
    if (!fs::exists(impl_->path))
        beside(impl_->path, bytes_of(impl_->layout),
               [&](const std::string& part) { hdf5::create(part, impl_->layout, hdf5::Form::open).close(); });
    impl_->file.emplace(open_file(impl_->path, H5F_ACC_RDWR));
    with_hdf5(impl_->path, "is damaged, or no study file",
              [&] { expect_layout(impl_->path, *impl_->file, impl_->layout); });
}

Store::~Store() = default;

std::vector<RowStatus> Store::status() const {
    return with_hdf5(impl_->path, "is damaged", [&] { return hdf5::read_status(*impl_->file); });
}

std::vector<double> Store::column(const std::string& name, std::size_t k) const {
    return with_hdf5(impl_->path, "is damaged", [&] { return hdf5::read_column(*impl_->file, name, k); });
}

Row Store::row(std::uint64_t row) const {
    return with_hdf5(impl_->path, "is damaged",
                     [&] { return hdf5::read_rows(*impl_->file, impl_->layout, row, 1).front(); });
}

bool Store::complete() const {
    return with_hdf5(impl_->path, "is damaged", [&] { return is_complete(impl_->file->file); });
}

void Store::write(std::uint64_t row, const Row& cells) {
    with_hdf5(impl_->path, "cannot be written; rows before are kept",
              [&] { hdf5::write_rows(*impl_->file, impl_->layout, row, {cells}); });
}

void Store::finish(const std::vector<Axis>& more_axes, const std::vector<StoreTable>& tables) {
    if (complete()) return;
    hdf5::RowReader rows;
    write_complete(
        impl_->path, impl_->layout,
        [&](std::uint64_t row) { return rows.row(*impl_->file, impl_->layout, row); }, more_axes, tables);
    impl_->file.emplace(open_file(impl_->path, H5F_ACC_RDWR));
}

struct StoreReader::Impl {
    std::string path;
    hdf5::OpenFile file;
    std::vector<RowStatus> status;
    hdf5::RowReader rows;
};

StoreReader::StoreReader(const std::string& path)
    : impl_(std::make_unique<Impl>(Impl{path, open_file(path, H5F_ACC_RDONLY), {}, {}})) {
    with_hdf5(path, "is damaged, or no study file", [&] { impl_->status = hdf5::read_status(impl_->file); });
}

StoreReader::~StoreReader() = default;

std::string StoreReader::attribute(const std::string& name) const {
    return with_hdf5(impl_->path, "is no study file: it lacks " + name,
                     [&] { return text_attribute(impl_->file.file, name); });
}

std::uint64_t StoreReader::rows() const { return impl_->status.size(); }

RowStatus StoreReader::status(std::uint64_t row) const { return impl_->status.at(row); }

Row StoreReader::row(const StoreLayout& layout, std::uint64_t row) const {
    return with_hdf5(impl_->path, "is damaged", [&] { return impl_->rows.row(impl_->file, layout, row); });
}

std::vector<double> StoreReader::column(const std::string& name) const {
    return with_hdf5(impl_->path, "has no column " + name,
                     [&] { return hdf5::read_column(impl_->file, name); });
}

std::vector<double> StoreReader::column(const std::string& name, std::size_t k) const {
    return with_hdf5(impl_->path, "has no column " + name,
                     [&] { return hdf5::read_column(impl_->file, name, k); });
}

void StoreReader::expect(const StoreLayout& layout) const {
    with_hdf5(impl_->path, "is damaged, or no study file",
              [&] { expect_layout(impl_->path, impl_->file, layout); });
}

void write_complete(const std::string& path, const StoreLayout& layout,
                    const std::function<Row(std::uint64_t)>& row, const std::vector<Axis>& more_axes,
                    const std::vector<StoreTable>& tables) {
    beside(path, bytes_of(layout), [&](const std::string& part) {
        hdf5::OpenFile out{hdf5::create(part, layout, hdf5::Form::complete), {}};
        for (std::uint64_t first = 0; first < layout.rows; first += hdf5::chunk_rows) {
            std::vector<Row> batch;
            for (std::uint64_t k = first; k < std::min<std::uint64_t>(layout.rows, first + hdf5::chunk_rows);
                 ++k)
                batch.push_back(row(k));
            hdf5::write_rows(out, layout, first, batch);
        }
        std::vector<Axis> axes = layout.axes;
        for (const Axis& axis : more_axes) {
            hdf5::add_axis(out.file, axis);
            axes.push_back(axis);
        }
        for (const StoreTable& table : tables) hdf5::add_table(out.file, axes, table);
        out.sets.clear();
        out.file.close();
    });
}

} // namespace clearstroke
