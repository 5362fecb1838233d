#pragma once
/// Units as people write them: text to SI and back.
#include <string>
#include <string_view>

namespace clearstroke {

/// Value of `si` in `unit` ("mm", "degC", "o'clock", "%"); throws std::invalid_argument if it is not a unit.
[[nodiscard]] double in_unit(double si, std::string_view unit);

/// "54 mm", "12 o'clock", "0.5": an SI value as a person reads it, to four digits.
[[nodiscard]] std::string shown(double si, std::string_view unit);

/// "48 to 60 mm".
[[nodiscard]] std::string shown_band(double low, double high, std::string_view unit);

} // namespace clearstroke
