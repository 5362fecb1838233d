// The program clearstroke: arguments and exit status only; each command is a function of commands.hpp.
#include <algorithm>
#include <csignal>
#include <ctime>
#include <iostream>

#include <CLI/CLI.hpp>
#include <unistd.h>

#include "analysis/cli/commands.hpp"
#include "analysis/cli/interrupt.hpp"
#include "analysis/cli/mistyped.hpp"

namespace {

using namespace clearstroke;

void add_common(CLI::App& command, CommonArgs& args, bool single_file) {
    if (single_file) {
        command.add_option("FILE", args.file, "scenario, a TOML file")->required();
        command.add_option("--set", args.set, "KEY=VALUE: replaces a value of the file (repeatable)")
            ->type_name("KEY=VALUE")
            ->expected(1)
            ->multi_option_policy(CLI::MultiOptionPolicy::TakeAll);
    }
    command
        .add_option("--condition", args.condition,
                    "state at the start: full, little air, fluid change, drained, dry")
        ->type_name("WORD");
    command.add_flag("--json", args.json, "one JSON document on standard output");
    command.add_option("-o,--output", args.output, "write the result to this file instead")
        ->type_name("FILE");
    command.add_option("--threads", args.threads, "most threads to use; 0: all cores")
        ->check(CLI::NonNegativeNumber);
}

void add_sampling(CLI::App& command, SampleArgs& args) {
    command
        .add_option("--samples", args.samples,
                    "also evidence: every order on N samples of the uncertain values, in 8 scramblings")
        ->type_name("N")
        ->check(CLI::Range(std::size_t{16}, std::size_t{1} << 24));
    command.add_option("--seed", args.seed, "of the samples")->type_name("N");
}

// What every command that compares orders takes.
void add_comparison(CLI::App& command, OrdersArgs& args) {
    command.add_option("--method", args.method, "method instead of the file's")->type_name("NAME");
    command.add_option("--cost", args.cost, "what ranks: strokes, time or fluid")->type_name("WORD");
    command.add_option("--list", args.list, "orders to compare, as \"RR,LR,RF,LF;LF,RF,LR,RR\"")
        ->type_name("ORDERS");
    command
        .add_option("--effort", args.effort,
                    "visits to simulate at most: all orders where they fit, else a search; default 14000")
        ->type_name("N")
        ->check(CLI::Range(1.0, 1e9));
    command.add_flag("--quick", args.quick, "without low and high runs and without what to measure");
}

// Of the day, by the local clock; "2026-03-09".
std::string today() {
    const std::time_t now = std::time(nullptr);
    char text[sizeof "0000-00-00"]{};
    std::strftime(text, sizeof text, "%F", std::localtime(&now));
    return text;
}

} // namespace

int main(int argc, char** argv) {
    std::signal(SIGPIPE, SIG_IGN); // a closed output is reported, see emit()
    std::signal(SIGXFSZ, SIG_IGN); // so is a file that may grow no further
    CLI::App app("clearstroke: air in small hydraulic circuits, and the order to bleed them in");
    app.set_version_flag("--version", CLEARSTROKE_VERSION);
    app.require_subcommand(1);
    int status = exit_done;
    const bool terminal = isatty(STDERR_FILENO) != 0;

    InspectArgs inspect;
    CLI::App* command =
        app.add_subcommand("inspect", "what a file was understood to be, what was assumed, what to measure");
    add_common(*command, inspect, true);
    command->add_flag("--expand", inspect.expand, "print the explicit form, in which every part is named");
    command->callback([&] {
        inspect.progress = terminal;
        status = run_inspect(inspect, std::cout, std::cerr);
    });

    BleedArgs bleed;
    command = app.add_subcommand("bleed", "runs the file's own procedure once, a row per stroke and act");
    add_common(*command, bleed, true);
    command->add_option("--method", bleed.method, "method instead of the file's")->type_name("NAME");
    command->callback([&] { status = run_bleed(bleed, std::cout, std::cerr); });

    OrdersArgs orders;
    command = app.add_subcommand("orders", "compares bleed orders, all of them or a list");
    add_common(*command, orders, true);
    command->add_flag("--all", orders.all, "also every order in a table, and every caution in full");
    command->add_option("--top", orders.top, "only the first N orders")
        ->type_name("N")
        ->check(CLI::PositiveNumber);
    command->add_flag("--plan", orders.plan,
                      "also the best plan: visits that need not finish a screw at once");
    command->add_option("--visits", orders.visits, "of that plan, to a screw at most; default 2")
        ->type_name("N")
        ->check(CLI::Range(1, 4));
    add_comparison(*command, orders);
    add_sampling(*command, orders);
    command->callback([&] {
        orders.progress = terminal;
        status = run_orders(orders, std::cout, std::cerr);
    });

    GuideArgs guide;
    guide.version = CLEARSTROKE_VERSION;
    command = app.add_subcommand("guide", "writes a sheet: the work, its evidence and a replay of the air");
    add_common(*command, guide, true);
    add_comparison(*command, guide);
    add_sampling(*command, guide);
    command->add_flag("--exercise", guide.exercise, "the reader picks an order before the result is shown");
    command->add_option("--pdf", guide.pdf, "also print it into this file, where a browser is installed")
        ->type_name("FILE");
    command->add_option("--date", guide.date, "date that the sheet carries; else today's")->type_name("DATE");
    command->add_option("--language", guide.language, "of the sheet")->type_name("CODE");
    command->callback([&] {
        guide.progress = terminal;
        if (guide.date.empty()) guide.date = today();
        status = run_guide(guide, std::cout, std::cerr);
    });

    CompareArgs compare;
    command = app.add_subcommand("compare", "compares files, methods or values by the file's own order");
    command->add_option("FILES", compare.files, "scenarios, TOML files")->required();
    add_common(*command, compare, false);
    command->add_option("--method", compare.methods, "methods to compare")->type_name("A,B")->delimiter(',');
    command
        ->add_option("--set", compare.set,
                     "KEY=VALUE[;KEY=VALUE]: one alternative beside the file as written (repeatable)")
        ->type_name("KEY=VALUE")
        ->expected(1)
        ->multi_option_policy(CLI::MultiOptionPolicy::TakeAll);
    add_sampling(*command, compare);
    command->callback([&] {
        compare.progress = terminal;
        status = run_compare(compare, std::cout, std::cerr);
    });

    PedalArgs pedal;
    command =
        app.add_subcommand("pedal", "travel against force before and after bleeding, quick strokes, hold");
    add_common(*command, pedal, true);
    command->add_option("--method", pedal.method, "method instead of the file's")->type_name("NAME");
    command
        ->add_option("--rule", pedal.rule, "public rule: 570.5, 570.55, Quebec, Ohio, \"Ohio boosted\" ...")
        ->type_name("NAME");
    command->add_option("--force", pedal.forces, "forces at pad or grip [N]")
        ->type_name("N")
        ->delimiter(',')
        ->check(CLI::PositiveNumber);
    command->add_option("--gap", pedal.gap, "time between the strokes of a row [s]")
        ->type_name("S")
        ->check(CLI::NonNegativeNumber);
    command
        ->add_option("--measured", pedal.measured,
                     "job record (see new --record): what was measured, read against the model")
        ->type_name("RECORD");
    command
        ->add_option("--trials", pedal.trials, "diagnoses N synthetic pedals for each cause on this layout")
        ->type_name("N")
        ->check(CLI::PositiveNumber);
    command->add_option("--seed", pedal.seed, "of the trials")->type_name("N")->check(CLI::NonNegativeNumber);
    command->callback([&] { status = run_pedal(pedal, std::cout, std::cerr); });

    StudyArgs study;
    study.version = CLEARSTROKE_VERSION;
    command =
        app.add_subcommand("study", "runs a study file into an HDF5 file; goes on where it was stopped");
    command->add_option("FILE", study.file, "study, a TOML file; with --extract an HDF5 file it gave");
    command->add_option("-o,--output", study.output, "HDF5 file to write")->type_name("FILE");
    command->add_option("--shard", study.shard, "only part i of N, as i/N")->type_name("i/N");
    command->add_option("--join", study.join, "puts the files of all shards together")->type_name("FILES");
    command->add_option("--extract", study.extract, "prints case N as a scenario that gives the same bits")
        ->type_name("N");
    command->add_flag("--json", study.json, "one JSON document on standard output");
    command->add_option("--threads", study.threads, "most threads to use; 0: all cores")
        ->check(CLI::NonNegativeNumber);
    command->callback([&] {
        study.progress = terminal;
        study.stop = interrupted;
        note_interrupts();
        status = run_study(study, std::cout, std::cerr);
        end_if_interrupted();
    });

    NewArgs fresh;
    command =
        app.add_subcommand("new", "writes a commented starter file from a few choices; never overwrites");
    command->add_option("FILE", fresh.file, "file to write")->required();
    command->add_option("--title", fresh.title, "the question, in a sentence");
    command->add_option("--layout", fresh.layout, "front/rear, diagonal, motorcycle, clutch, explicit");
    command->add_option("--fluid", fresh.fluid, "DOT 3, DOT 4, DOT 5.1, DOT 5, mineral oil, ...");
    command->add_option("--method", fresh.method, "how a screw is bled");
    command->add_option("--condition", fresh.condition, "full, little air, fluid change, drained, dry");
    command->add_option("--renewed", fresh.renewed, "parts fitted new, as \"LF caliper,RF caliper\"")
        ->delimiter(',');
    command->add_option("--opened", fresh.opened, "parts whose joint was opened")->delimiter(',');
    command->add_flag("--record", fresh.record, "writes a job record to fill in instead");
    command->add_option("--scenario", fresh.scenario, "file whose screws and hoses the record lists")
        ->type_name("FILE");
    command->add_flag("--ask", fresh.ask,
                      "ask for each of these; so it does on a terminal when none is given");
    command->callback([&, command] {
        const bool told = std::ranges::any_of(command->get_options(), [](const CLI::Option* option) {
            return option->get_name() != "FILE" && option->count() > 0;
        });
        if (!told) fresh.ask = isatty(STDIN_FILENO) != 0 && isatty(STDOUT_FILENO) != 0;
        status = run_new(fresh, std::cin, std::cout, std::cerr);
    });

    if (const auto wrong = unknown_command(app, argc > 1 ? argv[1] : "")) {
        std::cerr << *wrong << '\n';
        return exit_request;
    }
    try {
        app.parse(argc, argv);
    } catch (const CLI::ExtrasError& e) {
        (void)app.exit(e);
        std::cerr << near_options(app);
        return exit_request;
    } catch (const CLI::ParseError& e) {
        return app.exit(e) == 0 ? exit_done : exit_request;
    }
    return status;
}
