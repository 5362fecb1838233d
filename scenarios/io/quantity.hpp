#pragma once
/// Quantities as text: "54 mm", "7/8 in", "1-1/16 in", "12 o'clock", "80 %", and with a band
/// "54 mm, 48 mm to 60 mm". Units are those of UDUNITS-2 plus "o'clock" and "deg".
#include <optional>
#include <string>
#include <string_view>

namespace clearstroke {

/// SI values; without a band low = high = usual.
struct Quantity {
    double usual{}, low{}, high{};
    bool banded{};
};

enum class QuantityFault { none, no_number, no_unit, unknown_unit, wrong_dimension, bad_band };

struct ReadQuantity {
    Quantity value;
    QuantityFault fault{QuantityFault::none};
};

/// Reads `text` as a quantity of the same dimension as `unit`; unit "1" also takes bare numbers.
[[nodiscard]] ReadQuantity read_quantity(std::string_view text, std::string_view unit);

/// SI unit that values shown in `unit` are held in ("mm" -> "m"); "1" for pure numbers.
[[nodiscard]] std::string si_unit(std::string_view unit);

/// "0.022225 m", "0.6 1": the shortest text that reads back as the same double.
[[nodiscard]] std::string exact(double si, std::string_view si_unit_name);

} // namespace clearstroke
