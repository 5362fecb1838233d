#include "analysis/cli/text.hpp"

#include <algorithm>
#include <cmath>
#include <sstream>

#include <fmt/format.h>

namespace clearstroke {
namespace {

std::string digits(double x) {
    const double size = std::abs(x);
    if (size < 0.005) return "0.00"; // of either sign
    return fmt::format("{:.{}f}", x, size < 0.995 ? 2 : size < 99.5 ? 1 : 0);
}

std::string padded(const std::string& cell, std::size_t width, bool right) {
    return right ? fmt::format("{:>{}}", cell, width) : fmt::format("{:<{}}", cell, width);
}

void trim_end(std::string& line) { line.erase(line.find_last_not_of(' ') + 1); }

} // namespace

Lines wrap(const std::string& text, std::size_t width) {
    Lines lines;
    std::istringstream words(text);
    for (std::string word; words >> word;) {
        if (lines.empty() || lines.back().size() + 1 + word.size() > width)
            lines.push_back(word);
        else
            lines.back() += ' ' + word;
    }
    return lines;
}

Lines labelled(const std::string& label, const std::string& text, std::size_t label_width) {
    Lines lines = wrap(text, text_width - label_width);
    if (lines.empty()) lines.emplace_back();
    for (std::size_t i = 0; i < lines.size(); ++i)
        lines[i] = padded(i == 0 ? label : "", label_width, false) + lines[i];
    return lines;
}

Table::Table(std::vector<std::string> headings) {
    for (std::string& heading : headings) {
        right_.push_back(heading.starts_with('>'));
        if (right_.back()) heading.erase(0, 1);
    }
    rows_.push_back(std::move(headings));
}

void Table::row(std::vector<std::string> cells) {
    cells.resize(right_.size());
    rows_.push_back(std::move(cells));
}

Lines Table::lines(std::size_t width) const {
    const std::size_t last = right_.size() - 1;
    std::size_t used = 0;
    std::vector<std::size_t> widths(last);
    for (std::size_t c = 0; c < last; ++c) {
        for (const auto& row : rows_) widths[c] = std::max(widths[c], row[c].size());
        used += widths[c] + 2;
    }
    Lines lines;
    for (const auto& row : rows_) {
        std::string line;
        for (std::size_t c = 0; c < last; ++c) line += padded(row[c], widths[c], right_[c]) + "  ";
        Lines tail = wrap(row[last], width > used + 20 ? width - used : 20);
        if (tail.empty()) tail.emplace_back();
        for (std::size_t i = 0; i < tail.size(); ++i) {
            std::string whole = (i == 0 ? line : std::string(used, ' ')) + tail[i];
            trim_end(whole);
            lines.push_back(std::move(whole));
        }
    }
    return lines;
}

std::string join(const Lines& lines) {
    std::string text;
    for (const std::string& line : lines) text += line + '\n';
    return text;
}

void append(Lines& to, const Lines& more) { to.insert(to.end(), more.begin(), more.end()); }

std::string ml_text(double cubic_metres) { return digits(cubic_metres * 1e6); }
std::string mm_text(double metres) { return digits(metres * 1e3); }
std::string minutes_text(double seconds) {
    return seconds < 90.0 ? fmt::format("{:.0f} s", seconds) : fmt::format("{:.0f} min", seconds / 60.0);
}
std::string percent_text(double share) { return fmt::format("{:.0f} %", 100.0 * share); }
std::string stroke_text(double strokes) { return fmt::format("{:.1f}", strokes); }

} // namespace clearstroke
