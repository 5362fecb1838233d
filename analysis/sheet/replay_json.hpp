#pragma once
/// The layout and a film of it as the page reads them.
///
/// Instants hold only what changed since the one before. Keys: t seconds, k visit, n strokes over, e end of a
/// stroke, o turns of the screw, s screw, a air by circuit [mL], r reservoirs [mL], p rods, v parts
/// {part: [air mL, level, fresh, roll deg]}, l lines {line: [begin, end, gas, ...]}, f fresh of lines, h
/// hose, w pitch and roll [deg]. Shares are whole thousandths.
#include <nlohmann/json.hpp>

#include "analysis/sheet/recording.hpp"

namespace clearstroke {

/// Parts, pipes and their heights [m]; amounts [mL], lengths in mm where their key says so.
[[nodiscard]] nlohmann::ordered_json layout_json(const Network&);
[[nodiscard]] nlohmann::ordered_json film_json(const Network&, const Film&);

} // namespace clearstroke
