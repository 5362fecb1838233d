#include "analysis/hdf5_layout.hpp"

#include <algorithm>
#include <array>
#include <limits>
#include <optional>

#include <H5DSpublic.h>

namespace clearstroke::hdf5 {
namespace {

constexpr unsigned compression = 4;

void put_texts(H5::H5Object& object, const std::string& long_name, const std::string& units) {
    put_attribute(object, "long_name", long_name);
    put_attribute(object, "units", units);
}

std::vector<hsize_t> shape_of(const StoreLayout& layout, const Column& column, hsize_t rows) {
    std::vector<hsize_t> shape{rows};
    for (const std::size_t axis : column.axes) shape.push_back(layout.axes[axis].size());
    return shape;
}

H5::DSetCreatPropList properties(Form form, const std::vector<hsize_t>& shape) {
    H5::DSetCreatPropList list;
    H5Pset_obj_track_times(list.getId(), false); // same rows, same bytes
    if (form == Form::open) {
        list.setAllocTime(H5D_ALLOC_TIME_EARLY);
        list.setFillTime(H5D_FILL_TIME_ALLOC);
        return list;
    }
    std::vector<hsize_t> chunk = shape;
    chunk.front() = std::max<hsize_t>(1, std::min(chunk.front(), chunk_rows));
    list.setChunk(static_cast<int>(chunk.size()), chunk.data());
    list.setShuffle();
    list.setDeflate(compression);
    return list;
}

void attach(const H5::H5File& file, const H5::DataSet& to, const std::string& scale, std::size_t dimension) {
    const H5::DataSet axis = file.openDataSet(scale);
    if (H5DSattach_scale(to.getId(), axis.getId(), static_cast<unsigned>(dimension)) < 0)
        throw H5::DataSetIException("attach_scale", scale);
}

void make_scale(const H5::DataSet& set, const std::string& name) {
    if (H5DSset_scale(set.getId(), name.c_str()) < 0) throw H5::DataSetIException("set_scale", name);
}

// Cells of a dataset: in the file and in memory.
struct Part {
    H5::DataSpace file, memory;
    /// All cells of rows [first, first + count), or entry `k` of the second dimension alone.
    Part(const H5::DataSet& set, std::uint64_t first, std::uint64_t count, std::optional<std::size_t> k = {})
        : file(set.getSpace()) {
        std::vector<hsize_t> start(static_cast<std::size_t>(file.getSimpleExtentNdims())), size(start.size());
        file.getSimpleExtentDims(size.data());
        start.front() = first;
        size.front() = count;
        if (k) {
            start.at(1) = *k;
            size.at(1) = 1;
        }
        file.selectHyperslab(H5S_SELECT_SET, size.data(), start.data());
        memory = H5::DataSpace(static_cast<int>(size.size()), size.data());
    }
};

void add_rows_axis(H5::H5File& file, const StoreLayout& layout) {
    const hsize_t rows = layout.rows;
    H5::DataSet set = file.createDataSet(layout.row_name, H5::PredType::STD_U64LE, H5::DataSpace(1, &rows),
                                         properties(Form::open, {rows}));
    std::vector<std::uint64_t> numbers;
    for (std::uint64_t first = 0; first < rows; first += chunk_rows) {
        numbers.clear();
        for (std::uint64_t k = first; k < std::min<std::uint64_t>(rows, first + chunk_rows); ++k)
            numbers.push_back(layout.first + k * layout.stride);
        const Part part(set, first, numbers.size());
        set.write(numbers.data(), H5::PredType::NATIVE_UINT64, part.memory, part.file);
    }
    put_texts(set, layout.row_long_name, "1");
    make_scale(set, layout.row_name);
}

void add_column(H5::H5File& file, const StoreLayout& layout, const Column& column, Form form) {
    const std::vector<hsize_t> shape = shape_of(layout, column, layout.rows);
    H5::DSetCreatPropList list = properties(form, shape);
    const double none = std::numeric_limits<double>::quiet_NaN();
    if (column.text_length == 0) list.setFillValue(H5::PredType::NATIVE_DOUBLE, &none);
    const H5::DataSpace space(static_cast<int>(shape.size()), shape.data());
    H5::DataSet set = column.text_length == 0
                          ? file.createDataSet(column.name, H5::PredType::IEEE_F64LE, space, list)
                          : file.createDataSet(column.name, text_type(column.text_length), space, list);
    put_texts(set, column.long_name, column.units);
    attach(file, set, layout.row_name, 0);
    for (std::size_t k = 0; k < column.axes.size(); ++k)
        attach(file, set, layout.axes[column.axes[k]].name, k + 1);
}

void add_status(H5::H5File& file, const StoreLayout& layout, Form form) {
    const hsize_t rows = layout.rows;
    const H5::DataSpace space(1, &rows);
    H5::DataSet status =
        file.createDataSet("status", H5::PredType::STD_U8LE, space, properties(form, {rows}));
    put_texts(status, "0: not computed yet, 1: done, 2: failed, see reason", "1");
    attach(file, status, layout.row_name, 0);
    H5::DataSet reason =
        file.createDataSet("reason", text_type(reason_length), space, properties(form, {rows}));
    put_texts(reason, "why a row failed", "");
    attach(file, reason, layout.row_name, 0);
}

std::string padded(const std::string& text, std::size_t length) {
    std::string out = text.substr(0, length);
    while (!out.empty() && text.size() > length &&
           (static_cast<unsigned char>(text[out.size()]) & 0xc0) == 0x80)
        out.pop_back(); // not in the middle of a letter
    out.resize(length, '\0');
    return out;
}

void write_texts(OpenFile& file, const std::string& name, std::uint64_t first, std::uint64_t rows,
                 std::size_t length, const std::string& bytes) {
    const H5::DataSet& set = file.set(name);
    const Part part(set, first, rows);
    set.write(bytes.data(), text_type(length), part.memory, part.file);
}

std::vector<std::string> read_texts(OpenFile& file, const std::string& name, std::uint64_t first,
                                    std::uint64_t rows, std::size_t length, std::size_t cells) {
    std::string bytes(length * cells * rows, '\0');
    const H5::DataSet& set = file.set(name);
    const Part part(set, first, rows);
    set.read(bytes.data(), text_type(length), part.memory, part.file);
    std::vector<std::string> texts;
    for (std::size_t at = 0; at < bytes.size(); at += length)
        texts.emplace_back(bytes.substr(at, length).c_str());
    return texts;
}

} // namespace

H5::FileAccPropList access() {
    H5::FileAccPropList list;
    list.setSieveBufSize(0);     // a cell is in the file when its write returns
    list.setCache(0, 0, 0, 0.0); // the first figure is not used any more
    H5Pset_file_locking(list.getId(), false, true);
    return list;
}

H5::StrType text_type(std::size_t length) {
    H5::StrType type(H5::PredType::C_S1, std::max<std::size_t>(length, 1));
    type.setCset(H5T_CSET_UTF8);
    type.setStrpad(H5T_STR_NULLPAD);
    return type;
}

void put_attribute(H5::H5Object& object, const std::string& name, const std::string& text) {
    const H5::StrType type = text_type(text.size());
    const std::string bytes = text.empty() ? std::string(1, '\0') : text;
    object.createAttribute(name, type, H5::DataSpace(H5S_SCALAR)).write(type, bytes.data());
}

void add_axis(H5::H5File& file, const Axis& axis) {
    const hsize_t size = axis.size();
    const H5::DataSpace space(1, &size);
    const H5::DSetCreatPropList list = properties(Form::open, {size});
    H5::DataSet set;
    if (axis.labels.empty()) {
        set = file.createDataSet(axis.name, H5::PredType::IEEE_F64LE, space, list);
        set.write(axis.values.data(), H5::PredType::NATIVE_DOUBLE);
    } else {
        const std::size_t length =
            std::max<std::size_t>(1, std::ranges::max_element(axis.labels, {}, &std::string::size)->size());
        std::string bytes;
        for (const std::string& label : axis.labels) bytes += padded(label, length);
        set = file.createDataSet(axis.name, text_type(length), space, list);
        set.write(bytes.data(), text_type(length));
    }
    put_texts(set, axis.long_name, axis.units);
    make_scale(set, axis.name);
}

void add_table(H5::H5File& file, const std::vector<Axis>& all_axes, const StoreTable& table) {
    std::vector<hsize_t> shape;
    for (const std::size_t axis : table.axes) shape.push_back(all_axes[axis].size());
    H5::DataSet set = file.createDataSet(table.name, H5::PredType::IEEE_F64LE,
                                         H5::DataSpace(static_cast<int>(shape.size()), shape.data()),
                                         properties(Form::open, shape));
    set.write(table.values.data(), H5::PredType::NATIVE_DOUBLE);
    put_texts(set, table.long_name, table.units);
    for (std::size_t k = 0; k < table.axes.size(); ++k) attach(file, set, all_axes[table.axes[k]].name, k);
}

H5::H5File create(const std::string& path, const StoreLayout& layout, Form form) {
    H5::H5File file(path, H5F_ACC_TRUNC, H5::FileCreatPropList::DEFAULT, access());
    H5::Group root = file.openGroup("/");
    for (const auto& [name, text] : layout.attributes) put_attribute(root, name, text);
    add_rows_axis(file, layout);
    for (const Axis& axis : layout.axes) add_axis(file, axis);
    for (const Column& column : layout.columns) add_column(file, layout, column, form);
    add_status(file, layout, form);
    return file;
}

H5::DataSet& OpenFile::set(const std::string& name) {
    auto at = sets.find(name);
    if (at == sets.end()) at = sets.emplace(name, file.openDataSet(name)).first;
    return at->second;
}

std::vector<double> read_column(OpenFile& file, const std::string& name) {
    const H5::DataSet& set = file.set(name);
    std::vector<double> cells(static_cast<std::size_t>(set.getSpace().getSimpleExtentNpoints()));
    set.read(cells.data(), H5::PredType::NATIVE_DOUBLE);
    return cells;
}

std::vector<double> read_column(OpenFile& file, const std::string& name, std::size_t k) {
    const H5::DataSet& set = file.set(name);
    std::array<hsize_t, 2> shape{};
    set.getSpace().getSimpleExtentDims(shape.data());
    std::vector<double> cells(shape[0]);
    const Part part(set, 0, shape[0], k);
    set.read(cells.data(), H5::PredType::NATIVE_DOUBLE, part.memory, part.file);
    return cells;
}

std::pair<std::uint64_t, std::uint64_t> read_ends(OpenFile& file, const std::string& row_name) {
    const H5::DataSet& set = file.set(row_name);
    const auto rows = static_cast<std::uint64_t>(set.getSpace().getSimpleExtentNpoints());
    const auto number = [&](std::uint64_t row) {
        std::uint64_t n = 0;
        const Part part(set, row, 1);
        set.read(&n, H5::PredType::NATIVE_UINT64, part.memory, part.file);
        return n;
    };
    return {number(0), number(rows - 1)};
}

std::vector<RowStatus> read_status(OpenFile& file) {
    static_assert(sizeof(RowStatus) == 1);
    const H5::DataSet& status = file.set("status");
    std::vector<RowStatus> states(static_cast<std::size_t>(status.getSpace().getSimpleExtentNpoints()));
    status.read(states.data(), H5::PredType::NATIVE_UINT8);
    return states;
}

void write_rows(OpenFile& file, const StoreLayout& layout, std::uint64_t first,
                const std::vector<Row>& rows) {
    std::size_t number = 0, text = 0;
    for (const Column& column : layout.columns) {
        const std::size_t cells = layout.cells(column);
        if (column.text_length == 0) {
            std::vector<double> block;
            for (const Row& row : rows)
                block.insert(block.end(), row.numbers.begin() + static_cast<std::ptrdiff_t>(number),
                             row.numbers.begin() + static_cast<std::ptrdiff_t>(number + cells));
            const H5::DataSet& set = file.set(column.name);
            const Part part(set, first, rows.size());
            set.write(block.data(), H5::PredType::NATIVE_DOUBLE, part.memory, part.file);
            number += cells;
        } else {
            std::string block;
            for (const Row& row : rows)
                for (std::size_t k = 0; k < cells; ++k)
                    block += padded(row.texts[text + k], column.text_length);
            write_texts(file, column.name, first, rows.size(), column.text_length, block);
            text += cells;
        }
    }
    std::string reasons;
    std::vector<std::uint8_t> states;
    for (const Row& row : rows) {
        reasons += padded(row.reason, reason_length);
        states.push_back(static_cast<std::uint8_t>(row.status));
    }
    write_texts(file, "reason", first, rows.size(), reason_length, reasons);
    const H5::DataSet& status = file.set("status");
    const Part part(status, first, rows.size());
    status.write(states.data(), H5::PredType::NATIVE_UINT8, part.memory, part.file);
}

std::vector<Row> read_rows(OpenFile& file, const StoreLayout& layout, std::uint64_t first,
                           std::uint64_t count) {
    std::vector<Row> rows(count);
    for (const Column& column : layout.columns) {
        const std::size_t cells = layout.cells(column);
        if (column.text_length == 0) {
            const H5::DataSet& set = file.set(column.name);
            const Part part(set, first, count);
            std::vector<double> block(count * cells);
            set.read(block.data(), H5::PredType::NATIVE_DOUBLE, part.memory, part.file);
            for (std::size_t k = 0; k < count; ++k) {
                const auto from = block.begin() + static_cast<std::ptrdiff_t>(k * cells);
                rows[k].numbers.insert(rows[k].numbers.end(), from,
                                       from + static_cast<std::ptrdiff_t>(cells));
            }
        } else {
            const std::vector<std::string> texts =
                read_texts(file, column.name, first, count, column.text_length, cells);
            for (std::size_t k = 0; k < texts.size(); ++k) rows[k / cells].texts.push_back(texts[k]);
        }
    }
    const std::vector<std::string> reasons = read_texts(file, "reason", first, count, reason_length, 1);
    const H5::DataSet& status = file.set("status");
    const Part part(status, first, count);
    std::vector<std::uint8_t> states(count);
    status.read(states.data(), H5::PredType::NATIVE_UINT8, part.memory, part.file);
    for (std::size_t k = 0; k < count; ++k) {
        rows[k].reason = reasons[k];
        rows[k].status = static_cast<RowStatus>(states[k]);
    }
    return rows;
}

Row RowReader::row(OpenFile& file, const StoreLayout& layout, std::uint64_t row) {
    if (row < first_ || row >= first_ + block_.size()) {
        const auto rows = static_cast<std::uint64_t>(file.set("status").getSpace().getSimpleExtentNpoints());
        first_ = row / chunk_rows * chunk_rows;
        block_ = read_rows(file, layout, first_, std::min<std::uint64_t>(chunk_rows, rows - first_));
    }
    return block_[row - first_];
}

} // namespace clearstroke::hdf5
