#pragma once
/// Stopping a long run by Ctrl-C or a request to end, with what is done kept.
namespace clearstroke {

/// From now on the first SIGINT or SIGTERM is only noted, with a line on standard error; a second one ends
/// the process at once.
void note_interrupts();

[[nodiscard]] bool interrupted();

/// Ends the process by the signal that was noted, so that its parent sees why; does nothing without one.
void end_if_interrupted();

} // namespace clearstroke
