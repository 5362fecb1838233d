#include "analysis/cli/interrupt.hpp"

#include <csignal>
#include <string_view>

#include <unistd.h>

namespace clearstroke {
namespace {

volatile std::sig_atomic_t noted = 0; // a handler can reach nothing but such a static

void note(int signal) {
    noted = signal;
    std::signal(signal, SIG_DFL);
    constexpr std::string_view text = "\nstopping when the cases at work are done; once more: at once\n";
    [[maybe_unused]] const auto written = ::write(STDERR_FILENO, text.data(), text.size());
}

} // namespace

void note_interrupts() {
    for (const int signal : {SIGINT, SIGTERM})
        if (std::signal(signal, note) == SIG_IGN) std::signal(signal, SIG_IGN); // as the parent wants it
}

bool interrupted() { return noted != 0; }

void end_if_interrupted() {
    if (noted != 0) std::raise(noted);
}

} // namespace clearstroke
