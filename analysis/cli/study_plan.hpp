#pragma once
/// A study file as numbered cases: which values each has, what is run and what is kept.
///
/// Cases are numbered setting by setting (base, then every combination of factors), samples within. Sample k
/// is the same point in every setting, so settings are compared on the same samples.
#include <optional>

#include "analysis/cli/request.hpp"
#include "analysis/sensitivity.hpp"
#include "analysis/study_case.hpp"
#include "scenarios/study_file.hpp"

namespace clearstroke {

/// Of how many equal parts of a study one is.
struct Shard {
    std::uint64_t number{1}, of{1};
};

class StudyPlan {
public:
    /// `tie`: measured before; none: to be measured.
    StudyPlan(StudyFile, const std::string& version, std::optional<TieWidth> tie, int threads);

    [[nodiscard]] const StudyFile& study() const { return study_; }
    [[nodiscard]] std::uint64_t cases() const { return settings() * samples_; }
    [[nodiscard]] std::uint64_t settings() const;
    [[nodiscard]] StoreLayout layout(const Shard& = {}) const;

    /// Runs a case. What goes wrong in it is its reason.
    [[nodiscard]] Row row(const StoreLayout&, std::uint64_t number) const;
    /// The scenario of a case, all its values stated.
    [[nodiscard]] Scenario scenario(std::uint64_t number) const;
    [[nodiscard]] std::string describe(std::uint64_t number) const; ///< "condition: dry, seed 1, ..."

    [[nodiscard]] const StudyPlans& plans() const { return plans_; }
    [[nodiscard]] std::string setting_name(std::uint64_t number) const;
    [[nodiscard]] const std::vector<std::string>& coordinates() const { return names_; }
    [[nodiscard]] std::uint64_t samples_per_setting() const { return samples_; }
    /// Independent part of the samples that a case belongs to; their spread gives errors.
    [[nodiscard]] std::uint64_t part_of(std::uint64_t number) const;
    [[nodiscard]] IndexDesign index_design() const;
    [[nodiscard]] EffectDesign effect_design() const;

private:
    struct Setting {
        std::size_t base{};
        std::vector<KeyValue> values; ///< of the factors
    };
    /// Values of a case by key path.
    struct Values {
        std::vector<std::pair<std::string, KeyValue>> of;
        [[nodiscard]] const KeyValue* find(const std::string& path) const;
    };
    StudyFile study_;
    std::string version_;
    std::vector<std::string> names_; ///< of the coordinates
    std::vector<StudyKey> inputs_;   ///< that vary
    std::uint64_t samples_{1};
    std::size_t order_length_{1};
    StudyPlans plans_;

    [[nodiscard]] Setting setting(std::uint64_t number) const;
    void find_inputs(std::optional<TieWidth> tie, int threads);
    void add_input(const StudyKey&);
    [[nodiscard]] std::vector<const StudyDraw*> draws_of(std::size_t base) const;
    [[nodiscard]] std::size_t text_length(const std::string& path) const; ///< longest text of a key [bytes]
    [[nodiscard]] std::vector<double> point(std::uint64_t number) const;
    [[nodiscard]] Values stated(const Setting&, const std::vector<double>& u) const;
    void add_bands(const Setting&, const std::vector<double>& u, Values&) const;
    [[nodiscard]] bool is_drawn(const Values&, const Parameter&) const;
    [[nodiscard]] Scenario scenario(const Setting&, const Values&) const;
    [[nodiscard]] double coordinate(const std::string& name, const std::vector<double>& u) const;
};

/// The study that a stored file tells of, with the tie it was run with.
[[nodiscard]] StudyPlan plan_of(const StoreReader&, const std::string& version);

/// "3/8" as a shard; throws RequestError.
[[nodiscard]] Shard shard_from(const std::string& text);

} // namespace clearstroke
