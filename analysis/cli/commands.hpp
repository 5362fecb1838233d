#pragma once
/// The commands of the program, one function each. They write their result to `out`, messages to `err`, and
/// return the exit status.
#include <cstdint>
#include <functional>
#include <iosfwd>
#include <optional>
#include <string>
#include <vector>

namespace clearstroke {

enum ExitStatus { exit_done = 0, exit_request = 2, exit_computation = 3, exit_file = 4 };

/// What all commands that read a scenario take.
struct CommonArgs {
    std::string file;
    std::vector<std::string> set;  ///< KEY=VALUE
    std::string condition, method; ///< words that replace those of the file; empty: as in the file
    std::string output;            ///< file that takes the result; empty: standard output
    bool json{};
    bool progress{}; ///< show progress on `err`
    int threads{};   ///< 0: all cores
};

struct InspectArgs : CommonArgs {
    bool expand{}; ///< print the explicit form only
    bool measure{true};
};

struct BleedArgs : CommonArgs {};

/// Evidence by sampling the uncertain inputs.
struct SampleArgs {
    std::size_t samples{}; ///< 0: none
    std::uint64_t seed{1};
};

struct OrdersArgs : CommonArgs, SampleArgs {
    bool all{}; ///< table of every order, all cautions
    int top{};  ///< rows of that table; 0: all in JSON, none on the screen
    std::string cost{"strokes"};
    std::string list; ///< "A,B;B,A"
    bool quick{};     ///< no low and high runs, no "go and measure"
    double effort{};  ///< visits that may be simulated; 0: as usual
    bool plan{};      ///< also the best plan
    int visits{2};    ///< of it, to a screw at most
};

struct GuideArgs : OrdersArgs {
    bool exercise{};     ///< the reader picks an order before the result is shown
    std::string pdf;     ///< also print the page into this file
    std::string date;    ///< that the sheet carries
    std::string version; ///< of the program
    std::string language{"en"};
};

struct CompareArgs : CommonArgs, SampleArgs {
    std::vector<std::string> files;
    std::vector<std::string> methods;
};

struct PedalArgs : CommonArgs {
    std::string rule{"570.5"};
    std::vector<double> forces; ///< [N]; empty: a usual range
    double gap{0.5};            ///< between the strokes of a row [s]
    std::string measured;       ///< job record to read against the model; empty: none
    int trials{};               ///< synthetic pedals per cause; 0: none
    long seed{1};               ///< of the trials
};

struct StudyArgs {
    std::string file;              ///< study, or with `extract` a file it wrote
    std::string output;            ///< HDF5 file; with `extract` a scenario, empty: standard output
    std::string shard;             ///< "3/8"
    std::vector<std::string> join; ///< files of all shards
    std::optional<std::uint64_t> extract;
    std::string version; ///< of the program
    bool json{}, progress{};
    int threads{};              ///< 0: all cores
    std::function<bool()> stop; ///< asked before each case; empty: never
};

struct NewArgs {
    std::string file;
    std::string title, layout, fluid, method, condition; ///< empty: the starter's own
    std::vector<std::string> renewed, opened;
    bool ask{};           ///< ask for all of these, and for what the starter states
    bool record{};        ///< a job record to fill in, not a scenario
    std::string scenario; ///< whose screws and hoses the record lists; empty: four wheels
};

int run_inspect(const InspectArgs&, std::ostream& out, std::ostream& err);
int run_bleed(const BleedArgs&, std::ostream& out, std::ostream& err);
int run_orders(const OrdersArgs&, std::ostream& out, std::ostream& err);
int run_guide(const GuideArgs&, std::ostream& out, std::ostream& err);
int run_compare(const CompareArgs&, std::ostream& out, std::ostream& err);
int run_pedal(const PedalArgs&, std::ostream& out, std::ostream& err);
int run_study(const StudyArgs&, std::ostream& out, std::ostream& err);
int run_new(const NewArgs&, std::istream& in, std::ostream& out, std::ostream& err);

} // namespace clearstroke
