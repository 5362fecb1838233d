#include "tests/docs/text_files.hpp"

#include <algorithm>
#include <fstream>
#include <sstream>

namespace clearstroke::docs {

std::string text_of(const std::filesystem::path& path) {
    std::ifstream in(path, std::ios::binary);
    std::ostringstream text;
    text << in.rdbuf();
    return text.str();
}

std::vector<std::string> lines_of(const std::string& text) {
    std::istringstream in(text);
    std::vector<std::string> out;
    for (std::string line; std::getline(in, line);) out.push_back(line);
    return out;
}

std::vector<std::filesystem::path> files_in(const std::filesystem::path& root, const std::string& extension) {
    std::vector<std::filesystem::path> out;
    for (const auto& entry : std::filesystem::recursive_directory_iterator(root))
        if (entry.is_regular_file() && entry.path().extension() == extension) out.push_back(entry.path());
    std::ranges::sort(out);
    return out;
}

std::vector<std::string> matches(const std::string& text, const std::regex& pattern) {
    std::vector<std::string> out;
    for (std::sregex_iterator it(text.begin(), text.end(), pattern), end; it != end; ++it)
        out.push_back((*it)[1]);
    return out;
}

} // namespace clearstroke::docs
