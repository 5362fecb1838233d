#include <algorithm>
#include <filesystem>
#include <ostream>

#include <fmt/format.h>
#include <fmt/ranges.h>

#include "analysis/cli/browser.hpp"
#include "analysis/cli/guide_view.hpp"
#include "analysis/cli/request.hpp"
#include "analysis/sheet/page.hpp"

namespace clearstroke {
namespace {

constexpr std::size_t most_films = 4, most_exercise_films = 6;

void require_language(const std::string& language) {
    const auto known = sheet_languages();
    if (std::ranges::find(known, language) == known.end())
        throw RequestError(fmt::format("--language: {}; allowed: {}", language, fmt::join(known, ", ")));
}

// The page is printed from a file; without -o from one beside the PDF that is removed again.
void print_pdf(const GuideArgs& args, const std::string& page) {
    if (!args.output.empty()) return print_page(args.output, args.pdf);
    const std::string file = args.pdf + ".html";
    write_file(file, page);
    const auto remove = [&file] {
        std::error_code ignored;
        std::filesystem::remove(file, ignored);
    };
    try {
        print_page(file, args.pdf);
    } catch (...) {
        remove();
        throw;
    }
    remove();
}

} // namespace

std::vector<std::size_t> orders_to_film(const OrdersReport& report, std::size_t most) {
    std::vector<std::size_t> chosen{0};
    const std::size_t count = report.orders.size();
    const auto choose = [&](std::size_t i) {
        if (chosen.size() < most && std::ranges::find(chosen, i) == chosen.end()) chosen.push_back(i);
    };
    for (std::size_t i = 0; i < count; ++i)
        if (!report.orders[i].known_as.empty()) choose(i);
    if (count > 1 && !report.orders.back().result.failed) choose(count - 1);
    if (count <= most)
        for (std::size_t i = 0; i < count; ++i) choose(i);
    return chosen;
}

GuideView view_guide(const GuideArgs& args, const Scenario& scenario, std::ostream& err) {
    GuideView view{view_orders(args, scenario, err), {}};
    const OrdersReport& report = view.orders.report;
    // A sheet advises on all air that is left, whether the procedure could have moved it or not.
    view.orders.advice = advice_for(report.usual.network, all_that_stays(report.best().result));
    for (const std::size_t i : orders_to_film(report, args.exercise ? most_exercise_films : most_films)) {
        const auto visits = visits_in_order(report.usual.procedure, report.orders[i].screws);
        view.films.push_back({i, film_plan(report.usual, visits)});
    }
    return view;
}

int run_guide(const GuideArgs& args, std::ostream& out, std::ostream& err) {
    return guarded(err, [&] {
        require_language(args.language);
        if (!args.pdf.empty() && !find_browser()) print_page({}, args.pdf); // says so before the work
        const Scenario scenario = load(args);
        const Json data = guide_json(view_guide(args, scenario, err), args);
        if (args.json) {
            emit(args, out, document(data));
            return exit_done;
        }
        const std::string page = sheet_page(data, args.language);
        if (!args.output.empty() || args.pdf.empty()) emit(args, out, page);
        if (!args.pdf.empty()) print_pdf(args, page);
        return exit_done;
    });
}

} // namespace clearstroke
