#pragma once

#include <string>
#include <string_view>

#include "postproc/text/brief.hpp"

namespace cw::cases {

/// Whether to use colours on standard output: it is a terminal, NO_COLOR is not set (no-color.org),
/// and TERM does not exclude colours.
bool colours_wanted();

// Output of the program. None of these functions throws: a full disk or a closed pipe must not
// change the files of a run or how it ends. main() checks output_failed() at the end.

/// Text that is safe for a terminal: a control character from a file, a folder's name or the
/// command line becomes \x1b, a mark of direction \u202e; line ends stay.
std::string visible(std::string_view text);

/// Writes to standard output, made visible.
void say(std::string_view text);
/// The same in the colour of its tone, if the terminal shows colours.
void say(std::string_view text, Tone tone);
/// Writes to standard output for another program, byte by byte.
void hand_over(std::string_view text);
/// Writes to standard error, made visible; wrapped at 80 columns if it is a terminal.
void tell(std::string_view text);
/// Writes to standard error with our own control characters, for a line that is overwritten. Text
/// from outside must be made visible() before.
void draw(std::string_view text);

/// Whether any standard output was lost; checked once, at the end.
bool output_failed();

/// Opens standard input, output and error if the caller closed them: otherwise the next file to be
/// opened would get their descriptor, and messages would go into it.
void claim_standard_streams();

}  // namespace cw::cases
