#pragma once
/// What the builders ask for. The first time, while a scenario is read, every answer is noted: a
/// quantity becomes a Parameter, a missing key an assumption, a nonsense a fault. From then on the
/// same builders run on other values of those parameters; then nothing is noted and a fault throws.
#include <map>
#include <optional>
#include <set>
#include <span>
#include <string>
#include <vector>

#include "scenarios/io/document.hpp"
#include "sim/parameter.hpp"

namespace clearstroke {

/// What the first run noted.
struct Noted {
    std::vector<Parameter> parameters;
    std::map<std::string, std::size_t, std::less<>> index; ///< key path -> parameter
    std::vector<Assumption> assumptions;
    std::vector<std::string> warnings;
    std::vector<ScenarioFault> faults;
    std::set<std::string, std::less<>> used;
    std::vector<std::size_t> usual_order; ///< of the screws, by path length at the usual values
};

class Inputs {
public:
    /// First run: notes into `noted`.
    Inputs(const Document& document, Noted& noted) : document_(document), noted_(noted), notes_(&noted) {}
    /// Later runs, on values of the parameters noted before.
    Inputs(const Document& document, const Noted& noted, std::span<const double> values)
        : document_(document), noted_(noted), values_(values) {}

    /// SI value of a quantity: as stated, or the default of its row.
    double value(std::string_view path);
    /// The key of `specific` if stated, else that of `general`.
    double value(std::string_view specific, std::string_view general);
    /// SI value if stated.
    std::optional<double> stated(std::string_view path);
    /// As stated, or a default that comes from elsewhere (a fluid's library entry).
    double assumed(std::string_view path, double usual, double low, double high);

    int count(std::string_view path);
    std::optional<int> stated_count(std::string_view path);
    bool truth(std::string_view path);
    std::optional<bool> stated_truth(std::string_view path);
    std::string text(std::string_view path); ///< text or choice, or the default of its row
    std::optional<std::string> stated_text(std::string_view path);
    std::vector<std::string> texts(std::string_view path);
    std::vector<double> quantities(std::string_view path);

    [[nodiscard]] bool has(std::string_view path) const; ///< key or table
    [[nodiscard]] std::vector<std::string> children(std::string_view path) const;
    void use(std::string_view path); ///< key or all keys of a table
    [[nodiscard]] const Document& document() const { return document_; }

    void warn(std::string text);
    void derived(std::string key, std::string meaning, std::string value, std::string band,
                 std::string source);
    /// Something is wrong at `path`: noted, or thrown as std::invalid_argument.
    void fault(std::string_view path, std::string message);
    [[nodiscard]] bool clean() const { return noted_.faults.empty(); }
    /// The first run's `order` of the screws, in every run.
    const std::vector<std::size_t>& usual_order(std::vector<std::size_t> order);

private:
    const Document& document_;
    const Noted& noted_;
    Noted* notes_{};
    std::span<const double> values_;

    const Entry* find_used(std::string_view path);
    const KeyRow& row(std::string_view path) const;
    double note(std::string_view path, const KeyRow&, const Quantity&, bool stated);
    void assume(std::string_view path, const KeyRow&, std::string value);
};

} // namespace clearstroke
