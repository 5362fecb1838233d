#include "analysis/cli/questions.hpp"

#include <algorithm>
#include <functional>
#include <istream>
#include <ostream>

#include <fmt/format.h>
#include <fmt/ranges.h>

#include "analysis/cli/text.hpp"
#include "analysis/orders.hpp"
#include "scenarios/scenario.hpp"
#include "scenarios/schema.hpp"

namespace clearstroke {
namespace {

class Asker {
public:
    Asker(std::istream& in, std::ostream& out) : in_(in), out_(out) {}

    void say(const std::string& line) { out_ << line << '\n'; }

    /// One line; `usual` when it is empty.
    std::string text(const std::string& question, const std::string& usual) {
        out_ << question << (usual.empty() ? "" : " [" + usual + "]") << ": " << std::flush;
        std::string line;
        if (!std::getline(in_, line)) throw RequestError("new: the answers ended before the questions");
        const auto first = line.find_first_not_of(" \t\r"), last = line.find_last_not_of(" \t\r");
        return first == std::string::npos ? usual : line.substr(first, last - first + 1);
    }

    /// One of the words, by its number or itself.
    std::string choice(const std::string& question, const std::vector<std::string_view>& words,
                       const std::string& usual) {
        std::vector<std::string> shown;
        for (std::size_t i = 0; i < words.size(); ++i) shown.push_back(fmt::format("{} {}", i + 1, words[i]));
        for (;;) {
            const std::string answer = text(fmt::format("{} ({})", question, fmt::join(shown, ", ")), usual);
            for (std::size_t i = 0; i < words.size(); ++i)
                if (answer == words[i] || answer == fmt::format("{}", i + 1)) return std::string(words[i]);
            say(fmt::format("  \"{}\" is none of these.", answer));
        }
    }

    /// Asks again until `take` returns no complaint.
    void until_taken(const std::string& question, const std::string& usual,
                     const std::function<std::string(const std::string&)>& take) {
        for (;;) {
            const std::string complaint = take(text(question, usual));
            if (complaint.empty()) return;
            say("  " + complaint);
        }
    }

private:
    std::istream& in_;
    std::ostream& out_;
};

std::string complaint_about(const std::string& text) {
    try {
        (void)parse_scenario(text, "starter");
    } catch (const ScenarioError& e) {
        return e.faults().front().message;
    } catch (const std::invalid_argument& e) {
        return e.what();
    }
    return "";
}

std::vector<std::string> parts_in(const std::string& answer) {
    std::vector<std::string> parts;
    std::size_t from = 0;
    while (from <= answer.size()) {
        const std::size_t to = std::min(answer.find(',', from), answer.size());
        const std::string part = answer.substr(from, to - from);
        const auto first = part.find_first_not_of(' '), last = part.find_last_not_of(' ');
        if (first != std::string::npos) parts.push_back(part.substr(first, last - first + 1));
        from = to + 1;
    }
    return parts;
}

std::vector<std::string_view> words_of(std::string_view key) { return choices_of(*find_key(key, "car")); }

// "what was done": parts by name, checked against the layout at once.
void ask_for_parts(Asker& asker, const std::string& question, StarterChoices& choices,
                   std::vector<std::string> StarterChoices::*list) {
    asker.until_taken(question, "", [&](const std::string& answer) {
        choices.*list = parts_in(answer);
        return complaint_about(starter_scenario(choices));
    });
}

void ask_for_work(Asker& asker, StarterChoices& choices) {
    std::vector<std::string_view> states{"work"};
    for (const std::string_view word : words_of("condition")) states.push_back(word);
    const std::string state =
        asker.choice("Where may air be: after work on parts, or one word for all", states, "work");
    choices.condition = state == "work" ? "" : state;
    if (!choices.condition.empty() || choices.layout == "explicit") return;
    asker.say(
        "Parts by name, with commas between them: LF caliper, RR hose, master cylinder, ...; empty: none.");
    ask_for_parts(asker, "Fitted new", choices, &StarterChoices::renewed);
    ask_for_parts(asker, "Opened at a joint", choices, &StarterChoices::opened);
}

std::string_view family_of(const std::string& layout) {
    return layout == "front/rear" || layout == "diagonal" ? std::string_view("car")
                                                          : std::string_view(layout);
}

void ask_for_sizes(Asker& asker, const StarterChoices& choices, std::string& text) {
    asker.say("Sizes as measured, with their unit (mm, m, in, ft); Enter keeps what stands in brackets.");
    for (std::size_t i = 0; i < values_of_starter(text).size(); ++i) {
        const StarterValue value = values_of_starter(text)[i];
        const KeyRow* key = find_key(value.path, family_of(choices.layout));
        const std::string meaning = key ? fmt::format("{} ({})", value.path, key->meaning) : value.path;
        asker.until_taken("  " + meaning, value.value, [&](const std::string& answer) {
            if (answer.find_first_of("\"\\") != std::string::npos)
                return std::string("no quotation marks, please");
            std::string next = text;
            next.replace(value.at, value.value.size(), answer);
            const std::string complaint = complaint_about(next);
            if (complaint.empty()) text = std::move(next);
            return complaint;
        });
    }
}

} // namespace

std::string ask_for_scenario(StarterChoices choices, std::istream& in, std::ostream& out) {
    Asker asker(in, out);
    asker.say("Enter takes what stands in brackets; everything can be changed in the file later.");
    choices.title = asker.text("Your question, in a sentence", choices.title);
    choices.layout = asker.choice("Layout", words_of("layout"), choices.layout);
    choices.fluid = asker.choice("Fluid", words_of("fluid"), choices.fluid);
    std::vector<std::string_view> methods = words_of("method");
    std::erase(methods, "own"); // needs acts of one's own
    choices.method = asker.choice("Method", methods, "one person");
    ask_for_work(asker, choices);
    choices.anti_lock = asker.choice("Anti-lock unit", words_of("anti_lock"), choices.anti_lock);
    std::string text = starter_scenario(choices);
    if (choices.layout != "explicit") ask_for_sizes(asker, choices, text);
    return text;
}

} // namespace clearstroke
