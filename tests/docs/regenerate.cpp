// Writes docs/reference_keys.md from the key table. Run from the project's root.
#include <cstdio>
#include <fstream>

#include "scenarios/schema.hpp"

int main() {
    const char* path = "docs/reference_keys.md";
    std::ofstream out(path, std::ios::binary);
    out << clearstroke::key_reference_markdown();
    out.flush();
    if (!out) std::fprintf(stderr, "%s cannot be written; run from the project's root\n", path);
    return out ? 0 : 4;
}
