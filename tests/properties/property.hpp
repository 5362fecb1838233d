#pragma once
/// PROPERTY(Suite, Name, count, (arguments)) { ... }: a RapidCheck property tried `count` times from a fixed
/// seed.
#include <gtest/gtest.h>
#include <rapidcheck.h>

namespace clearstroke::testing {

/// Tries a property from a fixed seed, so that every run of the suite sees the same cases.
template <class Testable> void hold_for(int count, const std::string& name, Testable property) {
    rc::detail::TestParams params;
    params.seed = 20240117;
    params.maxSuccess = count;
    params.maxSize = 100;
    params.disableShrinking = true; // a run takes long, and the drafts are readable as they are
    rc::detail::TestMetadata about;
    about.id = about.description = name;
    const rc::detail::TestResult result = rc::detail::checkTestable(std::move(property), about, params);
    if (!result.template is<rc::detail::SuccessResult>()) {
        std::ostringstream text;
        rc::detail::printResultMessage(result, text);
        ADD_FAILURE() << text.str();
    }
}

} // namespace clearstroke::testing

#define PROPERTY(suite, name, count, arguments)                                                              \
    static void property_##suite##_##name arguments;                                                         \
    TEST(suite, name) {                                                                                      \
        clearstroke::testing::hold_for(count, #suite "." #name, property_##suite##_##name);                  \
    }                                                                                                        \
    static void property_##suite##_##name arguments
