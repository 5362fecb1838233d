// Other tools read what a study wrote.
#include <cstdlib>

#include "tests/study/support.hpp"

namespace clearstroke {
namespace {

using testing::base;
using testing::run;
using testing::Scratch;

const std::string python = "/usr/bin/python3"; // Debian's, which has Debian's packages

bool python_has(const std::string& modules) {
    return std::system((python + " -c 'import " + modules + "' 2>/dev/null").c_str()) == 0;
}

TEST(Python, H5pyAndXarrayReadAStudyWithoutOurCode) {
    if (!python_has("h5py, xarray, h5netcdf"))
        GTEST_SKIP() << "python3-h5py, python3-xarray, python3-h5netcdf";
    const Scratch scratch;
    const std::string study = scratch.study("traces = [\"air_inside_ml\"]\ntrace_strokes = 12\n" +
                                            testing::quick_factors + base("hydraulic_clutch"));
    ASSERT_EQ(run(study, scratch / "a.h5").status, exit_done);
    EXPECT_EQ(std::system((python + " tests/study/open_study.py " + (scratch / "a.h5")).c_str()), 0);
}

TEST(Python, TheExampleOfTheDocsDrawsItsFigure) {
    if (!python_has("h5py, matplotlib")) GTEST_SKIP() << "python3-h5py, python3-matplotlib";
    const Scratch scratch;
    const std::string study = scratch.study("traces = [\"air_inside_ml\"]\ntrace_strokes = 12\n" +
                                            testing::quick_factors + base("hydraulic_clutch"));
    ASSERT_EQ(run(study, scratch / "a.h5").status, exit_done);
    ASSERT_EQ(std::system(
                  (python + " docs/examples/read_study.py " + (scratch / "a.h5") + " " + (scratch / "a.svg"))
                      .c_str()),
              0);
    const std::string figure = testing::bytes_of(scratch / "a.svg");
    EXPECT_NE(figure.find("<svg"), std::string::npos);
    EXPECT_NE(figure.find("40 mm/s"), std::string::npos); // named in a comment beside its glyphs
}

} // namespace
} // namespace clearstroke
