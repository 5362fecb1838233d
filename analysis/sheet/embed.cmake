# Writes OUT, a source file that holds the files of ASSETS (a list, relative to ROOT) as text.
cmake_minimum_required(VERSION 3.25)
set(entries "")
foreach(name IN LISTS ASSETS)
  file(READ "${ROOT}/${name}" text)
  string(APPEND entries "    {\"${name}\", R\"~sheet~(${text})~sheet~\"sv},\n")
endforeach()
file(WRITE "${OUT}" "#include <array>
#include <span>

#include \"analysis/sheet/page.hpp\"

namespace clearstroke {
std::span<const SheetAsset> sheet_assets();

namespace {
using namespace std::string_view_literals; // they know their length without counting
constexpr auto assets = std::to_array<SheetAsset>({
${entries}});
} // namespace

std::span<const SheetAsset> sheet_assets() { return assets; }

} // namespace clearstroke
")
