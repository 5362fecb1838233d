#pragma once
/// Parts listed one by one: what the readers of each list share.
#include <fmt/format.h>

#include "scenarios/build/parts.hpp"

namespace clearstroke {

/// Keys of one listed part.
class PartKeys {
public:
    PartKeys(Inputs& in, std::string path) : in_(in), path_(std::move(path)) {}

    [[nodiscard]] std::string of(const char* key) const { return path_ + "." + key; }
    std::optional<double> stated(const char* key) { return in_.stated(of(key)); }
    void set(const char* key, double& target) {
        if (const auto x = stated(key)) target = *x;
    }
    void set_half(const char* key, double& target) {
        if (const auto x = stated(key)) target = 0.5 * *x;
    }
    void set(const char* key, int& target) {
        if (const auto x = in_.stated_count(of(key))) target = *x;
    }
    void set(const char* key, bool& target) {
        if (const auto x = in_.stated_truth(of(key))) target = *x;
    }
    void set(const char* key, std::string& target) {
        if (auto x = in_.stated_text(of(key))) target = std::move(*x);
    }
    /// As stated; when a new part leaves it out, the value that another key gives.
    template <class Default> void set_or(const char* key, double& target, bool is_new, Default usual) {
        if (const auto x = stated(key))
            target = *x;
        else if (is_new)
            target = usual();
    }
    void need(const char* key, bool is_new) {
        if (is_new && !in_.has(of(key)))
            in_.fault(of(key), fmt::format("missing; a new part needs it, {}",
                                           allowed_text(*find_key(of(key), in_.document().family))));
    }

private:
    Inputs& in_;
    std::string path_;
};

/// The opening that `text` names; a fault at `key` when there is none.
[[nodiscard]] std::optional<std::variant<PortRef, JunctionId>>
opening_or_fault(Inputs&, const Parts&, const std::string& key, const std::string& text);

// Each adds the part of that name, or changes what its entry gives.
void list_volume(Inputs&, Parts&, const std::string& name);
void list_tee(Inputs&, Parts&, const std::string& name);
void list_reservoir(Inputs&, Parts&, const std::string& name);
void list_pipe(Inputs&, Parts&, const std::string& name);
void list_actuator(Inputs&, Parts&, const std::string& name);
void list_screw(Inputs&, Parts&, const std::string& name);

} // namespace clearstroke
