// mutate ROOT: prepares a copy of the project for mutation testing, in place.
// Every floating literal, every root and every power written as a product in the formulas of models/ becomes
// one that the variable CLEARSTROKE_MUTANT can change by 5 %; the list goes to standard output: number, file,
// code of the line, what changes. One build serves all.
#include <algorithm>
#include <filesystem>
#include <fstream>
#include <iostream>
#include <iterator>
#include <regex>
#include <string>
#include <vector>

namespace {

namespace fs = std::filesystem;

int mutants = 0;

// What is no formula: rows of tables and defaults of parts, which carry bands, and names of sizes.
const std::regex
    data("^\\s*(\\{\"|row\\(|glycol_slope|0\\.034|100\\.0|-8e-5|const double "
         "glycol_slope)|Restriction passage|^\\s*(double|int) \\w+\\{|_in_service =|s\\.thread =");

/// Constants become variables and constant functions ordinary ones, since they are to change at run time;
/// static ones where no function stands around them or a lambda may use them uncaptured.
std::string unfixed(std::string line) {
    if (line.find("static_assert(") != std::string::npos) return "";
    for (const char* fixed :
         {"constexpr int ", "constexpr std::size_t ", "static constexpr ", "if constexpr "})
        if (line.find(fixed) != std::string::npos) return line;
    const std::size_t at = line.find("constexpr ");
    if (at == std::string::npos || line.find("//") < at) return line;
    static const std::regex function("constexpr [\\w:<>,&* ]+ [\\w:]+\\(");
    const bool is_function = std::regex_search(line, function) && line.find('=') > line.find('(');
    const bool inline_already = line.find("inline ") < at;
    const bool const_already = line.compare(at + 10, 6, "const ") == 0;
    line.replace(at, 10,
                 is_function      ? (inline_already ? "" : "inline ")
                 : const_already  ? ""
                 : inline_already ? "const "
                                  : "static const ");
    return line;
}

/// Code of a line without its indent, its comment and the spaces before that.
std::string trimmed(const std::string& line) {
    const std::string code = line.substr(0, line.find("//"));
    const std::size_t from = code.find_first_not_of(' ');
    return from == std::string::npos ? "" : code.substr(from, code.find_last_not_of(' ') + 1 - from);
}

void list(const std::string& file, const std::string& line, const std::string& what) {
    std::cout << ++mutants << '\t' << file << '\t' << trimmed(line) << '\t' << what << '\n';
}

bool part_of_name(char c) { return std::isalnum(static_cast<unsigned char>(c)) || c == '_' || c == '.'; }

/// The text of `x * x * x` that starts here, empty when none does or when it stands behind a division.
std::string power_at(const std::string& line, std::size_t at, std::size_t end) {
    static const std::regex product("([A-Za-z_][\\w.]*)( \\* \\1)+(?![\\w.(\\[])");
    const std::size_t before = at == 0 ? std::string::npos : line.find_last_not_of(' ', at - 1);
    if ((at > 0 && part_of_name(line[at - 1])) || (before != std::string::npos && line[before] == '/'))
        return "";
    std::smatch found;
    const std::string rest = line.substr(at, end - at);
    return std::regex_search(rest, found, product, std::regex_constants::match_continuous) ? found.str() : "";
}

std::string mutated(const std::string& file, const std::string& line) {
    const std::size_t end = std::min(line.find("//"), line.size());
    if (std::regex_search(line, data) || line.find("#include") == 0) return line;
    std::string out;
    bool quoted = false;
    for (std::size_t i = 0; i < line.size();) {
        if (line[i] == '"') quoted = !quoted;
        const bool code = i < end && !quoted;
        if (code && (line.compare(i, 10, "std::sqrt(") == 0 || line.compare(i, 10, "std::cbrt(") == 0)) {
            list(file, line, line.substr(i, 9));
            out += "mutated_root(" + std::to_string(mutants) + (line[i + 5] == 's' ? ", 2.0, " : ", 3.0, ");
            i += 10;
            continue;
        }
        if (const std::string power = code ? power_at(line, i, end) : ""; !power.empty()) {
            const std::string base = power.substr(0, power.find(' '));
            const auto degree = 1 + std::ranges::count(power, '*');
            list(file, line, power);
            out += "mutated_power<" + std::to_string(degree) + ">(" + std::to_string(mutants) + ", " + base +
                   ")";
            i += power.size();
            continue;
        }
        if (code && std::isdigit(static_cast<unsigned char>(line[i])) &&
            (i == 0 || !part_of_name(line[i - 1]))) {
            std::size_t stop = i;
            while (stop < end && (part_of_name(line[stop]) ||
                                  ((line[stop] == '-' || line[stop] == '+') && line[stop - 1] == 'e')))
                ++stop;
            const std::string literal = line.substr(i, stop - i);
            i = stop;
            if (literal.find_first_of(".e") == std::string::npos || std::stod(literal) == 0.0) {
                out += literal;
                continue;
            }
            list(file, line, literal);
            out += "mutated(" + std::to_string(mutants) + ", " + literal + ")";
            continue;
        }
        out += line[i++];
    }
    return out;
}

void rewrite(const fs::path& root, const fs::path& path) {
    std::ifstream in(path);
    const std::string file = fs::relative(path, root).generic_string();
    const bool formulas =
        file.starts_with("models/") && file != "models/contents.hpp" && file != "models/contents.cpp";
    std::string text, line;
    bool opened = false;
    while (std::getline(in, line)) {
        line = unfixed(line);
        const std::size_t first = line.find_first_not_of(' ');
        const bool comment = first != std::string::npos && line.compare(first, 2, "//") == 0;
        if (formulas && opened && !comment) line = mutated(file, line);
        text += line + '\n';
        if (formulas && !opened && line.find("namespace clearstroke {") != std::string::npos) opened = true;
    }
    if (formulas) {
        const std::size_t at = file.ends_with(".hpp") ? text.find("#pragma once") + 13 : 0;
        text.insert(at, "#include \"models/mutation.hpp\"\n");
    }
    std::ofstream(path) << text;
}

} // namespace

int main(int, char** argv) {
    const fs::path root = argv[1];
    std::vector<fs::path> files;
    for (const char* folder : {"models", "sim", "scenarios", "analysis", "tests"})
        for (const auto& entry : fs::recursive_directory_iterator(root / folder))
            if ((entry.path().extension() == ".cpp" || entry.path().extension() == ".hpp") &&
                entry.path().string().find("tests/mutations") == std::string::npos)
                files.push_back(entry.path());
    std::ranges::sort(files);
    for (const fs::path& file : files) rewrite(root, file);
    fs::copy_file(root / "tests/mutations/mutation.hpp", root / "models/mutation.hpp",
                  fs::copy_options::overwrite_existing);
}
