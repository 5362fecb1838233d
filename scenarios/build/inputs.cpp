#include "scenarios/build/inputs.hpp"

#include <charconv>
#include <stdexcept>

#include <fmt/format.h>

#include "scenarios/units.hpp"

namespace clearstroke {

const KeyRow& Inputs::row(std::string_view path) const {
    const KeyRow* found = find_key(path, document_.family);
    if (!found) throw std::logic_error(fmt::format("no row of the key table for {}", path));
    return *found;
}

const Entry* Inputs::find_used(std::string_view path) {
    use(path);
    return document_.find(path);
}

void Inputs::use(std::string_view path) {
    if (!notes_) return;
    notes_->used.emplace(path);
    const std::string prefix = std::string(path) + ".";
    for (auto at = document_.entries.lower_bound(prefix);
         at != document_.entries.end() && at->first.starts_with(prefix); ++at)
        notes_->used.insert(at->first);
}

double Inputs::note(std::string_view path, const KeyRow& key, const Quantity& q, bool stated) {
    if (const auto at = noted_.index.find(path); at != noted_.index.end())
        return notes_ ? noted_.parameters[at->second].usual : values_[at->second];
    if (!notes_) return q.usual;
    notes_->index.emplace(std::string(path), notes_->parameters.size());
    notes_->parameters.push_back({std::string(path), q.usual, q.low, q.high, si_unit(key.unit),
                                  std::string(key.unit), std::string(key.group),
                                  stated ? SourceGrade::stated : key.grade,
                                  stated ? "the file" : std::string(key.source), std::string(key.measure)});
    if (!stated)
        notes_->assumptions.push_back({std::string(path), std::string(key.meaning), shown(q.usual, key.unit),
                                       q.low < q.high ? shown_band(q.low, q.high, key.unit) : "", key.grade,
                                       std::string(key.source), std::string(key.measure)});
    return q.usual;
}

void Inputs::assume(std::string_view path, const KeyRow& key, std::string value) {
    if (!notes_ || key.grade == SourceGrade::stated) return;
    for (const Assumption& a : notes_->assumptions)
        if (a.key == path) return;
    notes_->assumptions.push_back({std::string(path), std::string(key.meaning), std::move(value), "",
                                   key.grade, std::string(key.source), std::string(key.measure)});
}

double Inputs::value(std::string_view path) {
    if (!notes_)
        if (const auto at = noted_.index.find(path); at != noted_.index.end()) return values_[at->second];
    if (const auto given = stated(path)) return *given;
    const KeyRow& key = row(path);
    return note(path, key, read_quantity(key.usual, key.unit).value, false);
}

double Inputs::value(std::string_view specific, std::string_view general) {
    const auto given = stated(specific);
    return given ? *given : value(general);
}

std::optional<double> Inputs::stated(std::string_view path) {
    const Entry* entry = find_used(path);
    if (!entry) return std::nullopt;
    return note(path, *entry->row, entry->quantity, true);
}

double Inputs::assumed(std::string_view path, double usual, double low, double high) {
    if (const auto given = stated(path)) return *given;
    return note(path, row(path), {usual, low, high, true}, false);
}

std::optional<int> Inputs::stated_count(std::string_view path) {
    const Entry* entry = find_used(path);
    return entry ? std::optional(entry->count) : std::nullopt;
}

int Inputs::count(std::string_view path) {
    if (const auto given = stated_count(path)) return *given;
    const KeyRow& key = row(path);
    int number{};
    std::from_chars(key.usual.data(), key.usual.data() + key.usual.size(), number);
    assume(path, key, std::string(key.usual));
    return number;
}

std::optional<bool> Inputs::stated_truth(std::string_view path) {
    const Entry* entry = find_used(path);
    return entry ? std::optional(entry->truth) : std::nullopt;
}

bool Inputs::truth(std::string_view path) {
    if (const auto given = stated_truth(path)) return *given;
    const KeyRow& key = row(path);
    assume(path, key, std::string(key.usual));
    return key.usual == "true";
}

std::optional<std::string> Inputs::stated_text(std::string_view path) {
    const Entry* entry = find_used(path);
    return entry ? std::optional(entry->text) : std::nullopt;
}

std::string Inputs::text(std::string_view path) {
    if (auto given = stated_text(path)) return *given;
    const KeyRow& key = row(path);
    if (!key.usual.empty()) assume(path, key, std::string(key.usual));
    return std::string(key.usual);
}

std::vector<std::string> Inputs::texts(std::string_view path) {
    const Entry* entry = find_used(path);
    return entry ? entry->texts : std::vector<std::string>{};
}

std::vector<double> Inputs::quantities(std::string_view path) {
    const Entry* entry = find_used(path);
    return entry ? entry->quantities : std::vector<double>{};
}

bool Inputs::has(std::string_view path) const {
    return document_.find(path) || document_.tables.contains(path) || document_.children.contains(path);
}

std::vector<std::string> Inputs::children(std::string_view path) const {
    const auto at = document_.children.find(path);
    return at == document_.children.end() ? std::vector<std::string>{} : at->second;
}

void Inputs::warn(std::string text) {
    if (notes_) notes_->warnings.push_back(std::move(text));
}

void Inputs::derived(std::string key, std::string meaning, std::string value, std::string band,
                     std::string source) {
    if (notes_)
        notes_->assumptions.push_back({std::move(key), std::move(meaning), std::move(value), std::move(band),
                                       SourceGrade::derived, std::move(source), ""});
}

const std::vector<std::size_t>& Inputs::usual_order(std::vector<std::size_t> order) {
    if (notes_) notes_->usual_order = std::move(order);
    return noted_.usual_order;
}

void Inputs::fault(std::string_view path, std::string message) {
    if (!notes_) throw std::invalid_argument(fmt::format("{}: {}", path, message));
    const Place at = document_.place_of(path);
    notes_->faults.push_back({at.file, at.line, at.column, std::string(path), std::move(message)});
}

} // namespace clearstroke
