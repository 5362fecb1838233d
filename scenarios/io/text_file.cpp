#include "scenarios/io/text_file.hpp"

#include <cerrno>
#include <fstream>
#include <sstream>
#include <system_error>

namespace clearstroke {

std::string text_of_file(const std::filesystem::path& path) {
    const auto refused = [&path](int reason) {
        throw std::filesystem::filesystem_error("cannot be read", path,
                                                std::error_code(reason, std::generic_category()));
    };
    std::error_code ignored;
    if (std::filesystem::is_directory(path, ignored)) refused(EISDIR);
    errno = 0;
    std::ifstream file(path, std::ios::binary);
    if (!file) refused(errno != 0 ? errno : EIO);
    std::ostringstream text;
    if (file.peek() != std::ifstream::traits_type::eof()) text << file.rdbuf();
    if (file.bad() || text.fail()) refused(EIO);
    return text.str();
}

} // namespace clearstroke
