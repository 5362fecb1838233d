#pragma once
/// Strong indices: which volume, line, junction ... of a Network. An index only, no arithmetic.
#include <compare>
#include <cstddef>

namespace clearstroke {

template <class Tag> struct Id {
    std::size_t index{};
    friend auto operator<=>(const Id&, const Id&) = default;
};

using VolumeId = Id<struct VolumeTag>;
using LineId = Id<struct LineTag>;
using JunctionId = Id<struct JunctionTag>;
using ScrewId = Id<struct ScrewTag>;
using ReservoirId = Id<struct ReservoirTag>;
using ActuatorId = Id<struct ActuatorTag>;

} // namespace clearstroke
