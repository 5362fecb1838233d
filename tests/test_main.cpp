// The main function of every test program. A program without a single case is a mistake in a source list.
#include <gmock/gmock.h>

#include <cstdio>

int main(int argc, char** argv) {
    testing::InitGoogleMock(&argc, argv);
    if (testing::UnitTest::GetInstance()->total_test_count() == 0) {
        std::fputs("this program holds no test\n", stderr);
        return 1;
    }
    return RUN_ALL_TESTS();
}
