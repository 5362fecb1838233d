// write_book RECORDS BIBLIOGRAPHY PAGE [--check]: writes the page, or says where it is stale.
#include <fstream>
#include <iostream>
#include <iterator>

#include "tests/book/page.hpp"

namespace {

std::string text_of(const std::string& file) {
    std::ifstream in(file);
    if (!in) throw std::runtime_error(file + " cannot be read");
    return {std::istreambuf_iterator<char>(in), {}};
}

std::vector<std::string> lines_of(const std::string& file) {
    std::ifstream in(file);
    std::vector<std::string> out;
    for (std::string line; std::getline(in, line);) out.push_back(line);
    return out;
}

int run(const std::vector<std::string>& args) {
    using namespace clearstroke::book;
    std::ifstream records(args.at(0));
    const std::vector<Check> checks = read_records(records);
    std::vector<std::string> complaints = faults(checks, keys_of(text_of(args.at(1))));
    if (args.size() > 3) {
        for (std::string& line : stale_lines(checks, lines_of(args.at(2))))
            complaints.push_back(std::move(line));
        if (!complaints.empty())
            complaints.push_back("If the change is meant: cmake --build build --target verification_book");
    } else if (complaints.empty()) {
        std::ofstream page(args.at(2));
        for (const std::string& line : page_lines(checks)) page << line << '\n';
    }
    for (const std::string& c : complaints) std::cerr << c << '\n';
    return complaints.empty() ? 0 : 1;
}

} // namespace

int main(int argc, char** argv) {
    try {
        return run({argv + 1, argv + argc});
    } catch (const std::exception& e) {
        std::cerr << e.what() << '\n';
        return 1;
    }
}
