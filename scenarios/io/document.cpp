#include "scenarios/io/document.hpp"

#include <algorithm>
#include <tuple>

#include <fmt/format.h>
#include <fmt/ranges.h>

#include "scenarios/io/parse_toml.hpp"
#include "scenarios/io/values.hpp"

namespace clearstroke {

const Entry* Document::find(std::string_view path) const {
    const auto at = entries.find(path);
    return at == entries.end() ? nullptr : &at->second;
}

Place Document::place_of(std::string_view path) const {
    if (const Entry* entry = find(path)) return entry->place;
    for (;;) {
        if (const auto table = tables.find(path); table != tables.end()) return table->second;
        const auto dot = path.rfind('.');
        if (dot == std::string_view::npos) return {file, 0, 0};
        path = path.substr(0, dot);
    }
}

std::string family_of(std::string_view layout) {
    if (layout == "motorcycle" || layout == "clutch" || layout == "explicit") return std::string(layout);
    return "car";
}

namespace {

/// Letters to change, add, drop, or swap with their neighbour, to make one word the other.
std::size_t letters_apart(std::string_view a, std::string_view b) {
    std::vector<std::vector<std::size_t>> d(a.size() + 1, std::vector<std::size_t>(b.size() + 1));
    for (std::size_t i = 0; i <= a.size(); ++i)
        for (std::size_t j = 0; j <= b.size(); ++j) {
            if (i == 0 || j == 0) {
                d[i][j] = i + j;
                continue;
            }
            const std::size_t changed = d[i - 1][j - 1] + (a[i - 1] == b[j - 1] ? 0U : 1U);
            d[i][j] = std::min({changed, d[i - 1][j] + 1, d[i][j - 1] + 1});
            if (i > 1 && j > 1 && a[i - 1] == b[j - 2] && a[i - 2] == b[j - 1])
                d[i][j] = std::min(d[i][j], d[i - 2][j - 2] + 1);
        }
    return d[a.size()][b.size()];
}

} // namespace

std::string nearest(std::string_view word, std::span<const std::string> known) {
    std::string best;
    std::size_t least = std::max<std::size_t>(2, word.size() / 3) + 1;
    for (const std::string& name : known) {
        const std::size_t apart = letters_apart(word, name);
        if (apart == least) best.clear(); // two are as near: naming one would mislead
        if (apart < least) {
            least = apart;
            best = name;
        }
    }
    return best;
}

namespace {

class Walker {
public:
    Walker(Document& document, std::vector<ScenarioFault>& faults) : document_(document), faults_(faults) {}

    /// `at`: place of an override; empty file: the node's own.
    void table(const toml::table& node, const std::string& path, const Place& at) {
        if (!path.empty()) document_.tables.emplace(path, place(node, at));
        for (const auto& [key, value] : in_file_order(node))
            child(std::string(key->str()), *value, path, at, place(*key, at));
    }

private:
    Document& document_;
    std::vector<ScenarioFault>& faults_;
    std::map<std::string, Place, std::less<>> named_;

    /// toml++ sorts by name; people read from top to bottom.
    static std::vector<std::pair<const toml::key*, const toml::node*>>
    in_file_order(const toml::table& node) {
        std::vector<std::pair<const toml::key*, const toml::node*>> out;
        for (auto&& [key, value] : node) out.emplace_back(&key, &value);
        std::ranges::stable_sort(out, {}, [](const auto& entry) {
            const auto begin = entry.first->source().begin;
            return std::pair(begin.line, begin.column);
        });
        return out;
    }

    template <class Node> Place place(const Node& node, const Place& at) const {
        if (!at.file.empty()) return at;
        const auto begin = node.source().begin;
        return {document_.file, int(begin.line), int(begin.column)};
    }

    void fault(const Place& at, const std::string& path, std::string message) {
        faults_.push_back({at.file, at.line, at.column, path, std::move(message)});
    }

    void child(const std::string& key, const toml::node& node, const std::string& parent, const Place& at,
               const Place& key_place) {
        const std::string path = parent.empty() ? key : parent + "." + key;
        if (key.empty() || key.find('.') != std::string::npos)
            return fault(key_place, path, "a name with a dot in it, or none; allowed: any other name");
        const bool row = find_key(path, document_.family) != nullptr, holds_keys = is_key_table(path);
        if (!row && !holds_keys) return unknown(key, parent, path, key_place);
        if (!row && node.is_table()) return enter(key, *node.as_table(), parent, path, at);
        if (!row && node.is_array()) return list(*node.as_array(), path, at);
        if (!row)
            return fault(key_place, path,
                         "is a table of keys, not a value; known in it: " + children_text(path));
        remember(parent, key);
        value(node, path, place(node, at));
    }

    void remember(const std::string& parent, const std::string& name) {
        auto& names = document_.children[parent];
        if (std::ranges::find(names, name) == names.end()) names.push_back(name);
    }

    void enter(const std::string& name, const toml::table& node, const std::string& parent,
               const std::string& path, const Place& at) {
        remember(parent, name);
        table(node, path, at);
    }

    void list(const toml::array& nodes, const std::string& path, const Place& at) {
        if (!known_children(path, document_.family).any_name)
            return fault(place(nodes, at), path,
                         "is one table, not a list; known in it: " + children_text(path));
        if (!nodes.empty()) document_.tables.emplace(path, place(nodes[0], at));
        const std::string_view naming = naming_key(path);
        for (std::size_t i = 0; i < nodes.size(); ++i) {
            const toml::table* entry = nodes[i].as_table();
            if (!entry) {
                fault(place(nodes[i], at), path,
                      "a list of tables; known in each: " + children_text(path + ".0"));
            } else if (naming.empty()) {
                enter(std::to_string(i), *entry, path, path + "." + std::to_string(i), at);
            } else {
                named_entry(*entry, naming, path, at);
            }
        }
    }

    void named_entry(const toml::table& node, std::string_view naming, const std::string& path,
                     const Place& at) {
        const auto* name = node.get_as<std::string>(naming);
        const Place here = name ? place(*name, at) : place(node, at);
        if (!name || name->get().empty() || name->get().find('.') != std::string::npos)
            return fault(here, path + "." + std::string(naming),
                         "missing, or not a name; allowed: text without a dot");
        const std::string entry_path = path + "." + name->get();
        const auto [first, is_new] = named_.emplace(entry_path, here);
        if (!is_new)
            return fault(here, entry_path,
                         fmt::format("this name is already used at {}:{}:{}; allowed: names that are "
                                     "unique in [[{}]]",
                                     first->second.file, first->second.line, first->second.column, path));
        remember(path, name->get());
        document_.tables.emplace(entry_path, place(node, at));
        for (const auto& [key, value] : in_file_order(node))
            if (key->str() != naming) child(std::string(key->str()), *value, entry_path, at, place(*key, at));
    }

    void value(const toml::node& node, const std::string& path, const Place& at) {
        const KeyRow& row = *find_key(path, document_.family);
        Entry entry;
        entry.row = &row;
        entry.place = at;
        if (const std::string wrong = read_value(node, row, entry); !wrong.empty())
            return fault(at, path, wrong + "; " + allowed_text(row));
        document_.entries.insert_or_assign(path, std::move(entry));
    }

    void unknown(const std::string& key, const std::string& parent, const std::string& path,
                 const Place& at) {
        const std::string near = nearest(key, known_children(parent, document_.family).names);
        const std::string known = children_text(parent);
        fault(at, path,
              near.empty() ? "unknown key; known here: " + known
                           : fmt::format("unknown key; did you mean \"{}\"? known here: {}", near, known));
    }

    std::string children_text(const std::string& path) const {
        const KnownChildren known = known_children(path, document_.family);
        std::string text = fmt::format("{}", fmt::join(known.names, ", "));
        if (known.any_name) text += text.empty() ? "any name" : ", or a name";
        return text;
    }
};

std::string layout_of(const toml::table& root) {
    if (const auto* layout = root.get_as<std::string>("layout")) return layout->get();
    return root.contains("actuators") ? "explicit" : "front/rear";
}

} // namespace

Document read_document(std::string_view text, std::string_view file, std::span<const std::string> overrides,
                       std::vector<ScenarioFault>& faults) {
    Document document;
    document.file = file;
    const auto root = parse_toml(text, document.file, faults);
    if (!root) return document;
    std::vector<std::pair<toml::table, Place>> changes;
    std::string layout = layout_of(*root);
    for (std::size_t i = 0; i < overrides.size(); ++i) {
        const Place at{"--set", int(i) + 1, 1};
        auto change = parse_override(overrides[i], at, faults);
        if (!change) continue;
        if (change->contains("layout")) layout = layout_of(*change);
        changes.emplace_back(std::move(*change), at);
    }
    document.family = family_of(layout);
    Walker(document, faults).table(*root, "", {});
    for (const auto& [change, at] : changes) Walker(document, faults).table(change, "", at);
    std::ranges::stable_sort(faults, {}, [&](const ScenarioFault& f) {
        return std::tuple(f.file != document.file, f.line, f.column);
    });
    return document;
}

} // namespace clearstroke
