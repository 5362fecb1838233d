#include <array>

#include <fmt/format.h>
#include <fmt/ranges.h>

#include "scenarios/build/acts.hpp"
#include "scenarios/schema.hpp"

namespace clearstroke {
namespace {

std::string_view kind_text(const KeyRow& row) {
    switch (row.kind) {
    case KeyKind::quantity:
        return row.unit == "1" ? "number" : row.unit;
    case KeyKind::count:
        return "whole number";
    case KeyKind::truth:
        return "true or false";
    case KeyKind::text:
        return "text";
    case KeyKind::choice:
        return "choice";
    case KeyKind::texts:
        return "list of texts";
    case KeyKind::quantities:
        return "list";
    }
    return "";
}

/// Text inside a cell of a table.
std::string cell(std::string_view text) {
    std::string out;
    for (const char c : text) out += c == '|' ? std::string("\\|") : std::string(1, c);
    return out;
}

std::string row_text(const KeyRow& row) {
    const std::string path =
        fmt::format("`{}`{}", row.path, row.family.empty() ? "" : fmt::format(" ({})", row.family));
    const std::string usual = row.usual.empty() ? "" : fmt::format("`{}`", row.usual);
    const std::string_view grade = name_of(row.grade);
    const std::string source = row.grade == SourceGrade::stated ? ""
                               : row.source == grade            ? std::string(grade)
                                                                : fmt::format("{}: {}", grade, row.source);
    return fmt::format("| {} | {} | {} | {} | {} | {} | {} |\n", path, kind_text(row), cell(usual),
                       cell(row.allowed), cell(source), cell(row.meaning), cell(row.measure));
}

struct Page {
    std::string_view heading, words;
    std::span<const KeyRow> rows;
};

constexpr std::string_view opening =
    R"(# Keys of a scenario file

Printed from the table that the reader itself uses (`build/tests/scenarios/regenerate_docs` writes it anew).

A scenario is a TOML file. A quantity is text with its unit: `"3.2 m"`, `"7/8 in"`, `"1-1/16 in"`, `"14 mL"`, `"20 degC"`,
`"12 o'clock"`, `"15 psi"`. A pure number may be a number, or text such as `"80 %"`. Any quantity may carry the band
that you believe it lies in: `"54 mm, 53 mm to 55 mm"`. What a file leaves out is assumed, with the default and band
below, and reported as assumed.

LF is the left front as seen from the driver's seat. Heights are above ground with the vehicle level. Clock positions
are seen from outboard. Lengths to a wheel include its hose unless `lines.lengths_include_hose = false`.

`{corner}` stands for `front`, `rear`, `LF`, `RF`, `LR`, `RR` (motorcycle: `F`, `LF`, `RF`, `R`); a wheel's own key
counts before that of its axle. `{name}` stands for any name, `{n}` for an entry of a list. A default with a
family in brackets holds for that family of layouts only.
)";

} // namespace

std::string key_reference_markdown() {
    const std::array<Page, 8> pages{
        Page{"General", "Question, fluid, conditions, person, stop rule, clear hose, screws, method.",
             general_keys()},
        Page{"Work done and where air stands",
             "Say what was done; amounts and places follow. All bands of `starting air` move together. A "
             "renewed or opened "
             "part is taken to hold a share of its content, and the pipes at its joints a length of air, as "
             "below; the "
             "larger of several causes counts. The rules are common practice, the amounts ours.",
             work_keys()},
        Page{"Cylinder, pedal, reservoir", "", cylinder_keys()},
        Page{"Pipes, hoses, heights", "", line_keys()},
        Page{"Calipers and drums", "", wheel_keys()},
        Page{"Motorcycle and clutch", "", other_layout_keys()},
        Page{"Booster and faults",
             "A vacuum booster on every foot pedal, when `[booster]` is there. Faults change the pedal "
             "(`clearstroke pedal`); the bleeding run feels them too, except pistons knocked back.",
             fault_keys()},
        Page{"Explicit form",
             "Every part by name, in lists of tables (`[[volumes]] name = \"LF caliper\"`) or as a table "
             "(`[volumes.\"LF caliper\"]`). An entry with the name of a part that the shorthand made changes "
             "only the keys it "
             "gives; any other adds a part. `inspect --expand` prints any scenario in this form.",
             explicit_keys()}};
    std::string out(opening);
    out += fmt::format("\nActs, in `[acts]` and `before`: {}.\n", acts_allowed);
    for (const Page& page : pages) {
        out += fmt::format("\n## {}\n\n{}{}", page.heading, page.words, page.words.empty() ? "" : "\n\n");
        out +=
            "| key | takes | default, band | allowed | source of the default | meaning | how to measure |\n";
        out += "|---|---|---|---|---|---|---|\n";
        for (const KeyRow& row : page.rows) out += row_text(row);
    }
    return out;
}

} // namespace clearstroke
