#pragma once
/// Cautions that go with any guidance. Every act and every method owns one; a result carries those of what it
/// used and the general ones, of no act that it does not use.
///
/// Sources: Army TB 9-2320-335-13&P, TM 10-3930-633-12 and TM 10-3930-618-20 (eyes, blocking, bled fluid),
/// SAE J1705 (silicone) [verified in the text]; the rest common practice, in our own words.
#include <string>
#include <string_view>
#include <vector>

#include "models/fluid.hpp"
#include "sim/parameter.hpp"

namespace clearstroke {

struct Caution {
    std::string_view topic; ///< "eyes and skin"
    std::string_view text;
    std::string_view brief; ///< a few words for a screen
};

/// Whether the circuit has a unit that pumps by itself.
enum class AntiLockUnit { no, yes, unknown };

/// The caution of one act, whatever its kind.
[[nodiscard]] Caution caution_of(const Act&);

/// The caution of a method, by its name or its short name; of "own" that of plain acts.
[[nodiscard]] Caution caution_of_method(std::string_view name);

/// Before work starts.
[[nodiscard]] std::vector<Caution> cautions_before(FluidFamily, AntiLockUnit);
/// When the work is done.
[[nodiscard]] std::vector<Caution> cautions_after();

/// All cautions of a case in the order of the work; `suggested` are acts that its advice speaks of.
[[nodiscard]] std::vector<Caution> cautions_of(const Case&, AntiLockUnit,
                                               const std::vector<Act>& suggested = {});

/// "Eyes and skin: ..."
[[nodiscard]] std::string to_text(const Caution&);

} // namespace clearstroke
