#include <algorithm>
#include <ostream>

#include <fmt/format.h>

#include "analysis/cli/inspect_view.hpp"
#include "analysis/cli/request.hpp"
#include "analysis/orders.hpp"
#include "analysis/resolution.hpp"

namespace clearstroke {
namespace {

// The file's own order against the first usual rule that differs from it.
MeasureRequest request_for(const InspectArgs& args, const Case& c, std::ostream& err) {
    MeasureRequest request;
    for (const Visit& visit : c.procedure.visits) request.order.push_back(visit.screw);
    request.rival = request.order;
    request.threads = args.threads;
    request.progress = progress_on(args.progress, err, "values to measure");
    const std::vector<ScrewId> points = visited_screws(c.procedure);
    std::vector<BleedPoint> used;
    for (const BleedPoint& p : bleed_points(c.network))
        if (std::ranges::find(points, p.screw) != points.end()) used.push_back(p);
    for (const KnownOrder& rule : known_orders(used)) {
        if (rule.screws == request.order) continue;
        request.rival = rule.screws;
        break;
    }
    return request;
}

} // namespace

int run_inspect(const InspectArgs& args, std::ostream& out, std::ostream& err) {
    return guarded(err, [&]() -> int {
        const Scenario scenario = load(args);
        if (args.expand) {
            emit(args, out, scenario.expanded_toml);
            return exit_done;
        }
        InspectView view{scenario, usual_case(scenario), {}, {}, {}};
        view.points = bleed_points(view.usual.network);
        view.reach = reach_of_screws(view.usual.network);
        if (args.measure && !view.usual.procedure.visits.empty())
            view.measures = measure_next(scenario.factory, request_for(args, view.usual, err));
        emit(args, out, args.json ? document(inspect_json(view)) : join(inspect_lines(view)));
        return exit_done;
    });
}

} // namespace clearstroke
