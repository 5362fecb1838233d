#include "analysis/cli/questions.hpp"

#include <algorithm>
#include <cctype>
#include <functional>
#include <istream>
#include <optional>
#include <ostream>

#include <fmt/format.h>
#include <fmt/ranges.h>

#include "analysis/cli/request.hpp"
#include "analysis/cli/text.hpp"
#include "analysis/orders.hpp"
#include "scenarios/scenario.hpp"
#include "scenarios/schema.hpp"

namespace clearstroke {
namespace {

struct Meaning {
    std::string_view word, means;
};

/// What the words of a choice mean to somebody who has never seen a file.
constexpr Meaning meanings[] = {
    {"front/rear", "one circuit for the front wheels, one for the rear"},
    {"diagonal", "in each circuit a front wheel and the rear wheel across"},
    {"motorcycle", "hand lever for the front, pedal for the rear"},
    {"clutch", "one cylinder, one slave"},
    {"explicit", "anything else: you fill in every part in the file"},
    {"one person", "screw stays open, hose end under fluid in the bottle"},
    {"two people", "one presses and holds, one opens and shuts before the release"},
    {"gravity", "screw open, and wait"},
    {"one-way hose", "a valve in the hose lets nothing back"},
    {"pump and hold", "pump, hold, open for a moment"},
    {"reservoir pressure", "pressure on the reservoir, screw open"},
    {"vacuum", "vacuum at the screw"},
    {"injection", "fresh fluid pressed in at the screw"},
    {"long hold", "pedal held down for long, then let go"},
    {"small strokes", "strokes too short to shut the port, screws closed"},
    {"several screws", "all screws of a circuit at once"},
    {"work", "where parts were fitted or opened (asked next)"},
    {"full", "nowhere that you know of"},
    {"little air", "a little in every caliper, wheel cylinder or slave"},
    {"fluid change", "nowhere; the fluid is old and is to be changed"},
    {"drained", "nearly everywhere: it ran empty by itself"},
    {"dry", "everywhere: all parts new, never filled"},
};

std::string_view meaning_of(std::string_view word) {
    const auto* found = std::ranges::find(meanings, word, &Meaning::word);
    return found == std::end(meanings) ? std::string_view() : found->means;
}

std::string lower(std::string_view text) {
    std::string out(text);
    std::ranges::transform(out, out.begin(),
                           [](unsigned char c) { return static_cast<char>(std::tolower(c)); });
    return out;
}

/// The word that an answer stands for.
std::optional<std::string_view> meant(const std::string& answer, const std::vector<std::string_view>& words) {
    std::optional<std::string_view> begun;
    int count = 0;
    for (std::size_t i = 0; i < words.size(); ++i) {
        if (lower(answer) == lower(words[i]) || answer == fmt::format("{}", i + 1)) return words[i];
        if (lower(words[i]).starts_with(lower(answer))) begun = words[i], ++count;
    }
    return count == 1 ? begun : std::nullopt;
}

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

    /// One of the words: its number, itself, or as much of it as tells it from the others.
    std::string choice(const std::string& question, const std::vector<std::string_view>& words,
                       const std::string& usual) {
        std::vector<std::string> shown;
        for (std::size_t i = 0; i < words.size(); ++i) shown.push_back(fmt::format("{} {}", i + 1, words[i]));
        const bool explained =
            std::ranges::any_of(words, [](std::string_view word) { return !meaning_of(word).empty(); });
        if (explained) {
            say(question + ":");
            for (std::size_t i = 0; i < words.size(); ++i)
                say(fmt::format("  {:<22} {}", shown[i], meaning_of(words[i])));
        }
        for (;;) {
            const std::string answer = text(
                explained ? "  Number or word" : fmt::format("{} ({})", question, fmt::join(shown, ", ")),
                usual);
            if (const auto word = meant(answer, words)) return std::string(*word);
            say(fmt::format("  \"{}\" is none of these, or more than one.", answer));
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

// Names of the parts of a layout, as a person may give them.
std::string parts_known(const StarterChoices& choices) {
    const Network net = usual_case(parse_scenario(starter_scenario(choices), "starter")).network;
    std::vector<std::string> names;
    const auto add = [&](const std::string& name) {
        if (std::ranges::find(names, name) == names.end()) names.push_back(name);
    };
    for (const Volume& v : net.volumes) add(v.place);
    for (const Line& l : net.lines) add(l.name);
    return fmt::format("{}", fmt::join(names, ", "));
}

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
    const std::string state = asker.choice("Where may air be", states, "work");
    choices.condition = state == "work" ? "" : state;
    if (!choices.condition.empty() || choices.layout == "explicit") return;
    for (const std::string& line : wrap("What was done? Name the parts, with commas between them; Enter: "
                                        "none. L and R are the driver's left and right. "
                                        "There are: " +
                                            parts_known(choices),
                                        text_width))
        asker.say(line);
    ask_for_parts(asker, "  Fitted new", choices, &StarterChoices::renewed);
    ask_for_parts(asker, "  Opened at a joint", choices, &StarterChoices::opened);
}

std::string_view family_of(const std::string& layout) {
    return layout == "front/rear" || layout == "diagonal" ? std::string_view("car")
                                                          : std::string_view(layout);
}

void ask_for_sizes(Asker& asker, const StarterChoices& choices, std::string& text) {
    asker.say("Sizes, with their unit (7/8 in, 22.2 mm, 3.2 m, 10 ft). Enter keeps what stands in brackets: "
              "usual values, not yours.");
    for (std::size_t i = 0; i < values_of_starter(text).size(); ++i) {
        const StarterValue value = values_of_starter(text)[i];
        const KeyRow* key = find_key(value.path, family_of(choices.layout));
        std::string name = value.path;
        std::ranges::replace_if(
            name, [](char c) { return c == '.' || c == '_'; }, ' ');
        asker.until_taken("  " + (key ? fmt::format("{}: {}", name, key->meaning) : name), value.value,
                          [&](const std::string& answer) {
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
    asker.say(
        "A few questions. Enter takes what stands in brackets; everything can be changed in the file later.");
    choices.title = asker.text("The job, in a sentence that heads the sheet", choices.title);
    choices.layout = asker.choice("Layout", words_of("layout"), choices.layout);
    choices.fluid = asker.choice("Fluid", words_of("fluid"), choices.fluid);
    std::vector<std::string_view> methods = words_of("method");
    for (const char* in_file : {"own", "joint", "prime in place"})
        std::erase(methods, in_file); // need acts or a screw that only a file states
    choices.method = asker.choice("Method", methods, "one person");
    ask_for_work(asker, choices);
    choices.anti_lock = asker.choice("Anti-lock unit", words_of("anti_lock"), choices.anti_lock);
    std::string text = starter_scenario(choices);
    if (choices.layout != "explicit") ask_for_sizes(asker, choices, text);
    return text;
}

} // namespace clearstroke
