#pragma once
/// Text for people: tables, wrapped lines, numbers with the digits that mean something. Lines are at most
/// `text_width` wide.
#include <string>
#include <vector>

namespace clearstroke {

inline constexpr std::size_t text_width = 100;

using Lines = std::vector<std::string>;

/// Words of `text` in lines of at most `width`; a longer word stands alone.
[[nodiscard]] Lines wrap(const std::string& text, std::size_t width);

/// `label`, then `text` wrapped in the column beside it.
[[nodiscard]] Lines labelled(const std::string& label, const std::string& text, std::size_t label_width = 10);

/// A table with a heading; columns whose heading starts with '>' are set right, without that sign.
class Table {
public:
    explicit Table(std::vector<std::string> headings);
    void row(std::vector<std::string> cells);
    /// The last column is wrapped to what is left of the width.
    [[nodiscard]] Lines lines(std::size_t width = text_width) const;

private:
    std::vector<char> right_;
    std::vector<std::vector<std::string>> rows_;
};

[[nodiscard]] std::string join(const Lines&); ///< each with its line end
void append(Lines& to, const Lines& more);

[[nodiscard]] std::string ml_text(double cubic_metres); ///< "0.12", "3.4", "240"
[[nodiscard]] std::string mm_text(double metres);       ///< "41", "3.2"
[[nodiscard]] std::string minutes_text(double seconds); ///< "45 s", "12 min"
[[nodiscard]] std::string percent_text(double share);   ///< "80 %"
[[nodiscard]] std::string stroke_text(double strokes);  ///< "12.4"

} // namespace clearstroke
