#include <filesystem>
#include <ostream>

#include <fmt/format.h>

#include "analysis/cli/questions.hpp"
#include "analysis/cli/request.hpp"
#include "scenarios/record.hpp"
#include "scenarios/starter.hpp"

namespace clearstroke {
namespace {

StarterChoices choices_of(const NewArgs& args) {
    StarterChoices choices;
    const auto take = [](std::string& to, const std::string& from) {
        if (!from.empty()) to = from;
    };
    take(choices.title, args.title);
    take(choices.layout, args.layout);
    take(choices.fluid, args.fluid);
    take(choices.method, args.method);
    take(choices.condition, args.condition);
    choices.renewed = args.renewed;
    choices.opened = args.opened;
    return choices;
}

/// A record with the screws and flexible hoses of a scenario, or of the usual four wheels.
std::string record_of(const NewArgs& args) {
    const Scenario scenario = args.scenario.empty() ? parse_scenario(starter_scenario({}), "starter")
                                                    : read_scenario(args.scenario);
    const Network net = usual_case(scenario).network;
    std::vector<ScrewId> screws(net.screws.size());
    for (std::size_t i = 0; i < screws.size(); ++i) screws[i] = ScrewId{i};
    return record_template(net, screws);
}

std::string scenario_of(const NewArgs& args, std::istream& in, std::ostream& out) {
    const StarterChoices choices = choices_of(args);
    std::string text = args.ask ? ask_for_scenario(choices, in, out) : starter_scenario(choices);
    (void)parse_scenario(
        text, args.file); // a part that the layout does not have is refused before anything is written
    return text;
}

} // namespace

int run_new(const NewArgs& args, std::istream& in, std::ostream& out, std::ostream& err) {
    return guarded(err, [&]() -> int {
        std::error_code ignored;
        if (std::filesystem::exists(args.file, ignored))
            throw WriteError(fmt::format("{}: is there already and is not overwritten", args.file));
        const std::string text = args.record ? record_of(args) : scenario_of(args, in, out);
        write_file(args.file, text);
        if (args.record)
            out << fmt::format("{} written. Fill it in, then: clearstroke pedal SCENARIO --measured {}\n",
                               args.file, args.file);
        else
            out << fmt::format(
                "{} written. Change what differs on your vehicle, then: clearstroke inspect {}\n"
                "A sheet of it: clearstroke guide {} -o sheet.html\n",
                args.file, args.file, args.file);
        if (!out.flush()) throw WriteError("standard output cannot be written");
        return exit_done;
    });
}

} // namespace clearstroke
