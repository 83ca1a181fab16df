#pragma once

#include <string>
#include <string_view>

#include "postproc/text/brief.hpp"

namespace cw::cases {

/// Whether standard output is a terminal that is to have colours: not where NO_COLOR is set to
/// anything (no-color.org), nor where TERM says that it has none.
bool colours_wanted();

// What the program says. None of it throws: a full disk or a reader that went away must not change
// what a run leaves or how it ends; main() asks output_failed() at the end.

/// Text as a terminal may have it: a control character from a file, a folder's name or the command
/// line stands as \x1b, what turns the direction of writing as \u202e; lines stay lines.
std::string visible(std::string_view text);

/// To standard output, visible.
void say(std::string_view text);
/// The same in the colour of its tone, where a terminal shows colours.
void say(std::string_view text, Tone tone);
/// To standard output for another program, byte by byte.
void hand_over(std::string_view text);
/// To standard error, visible.
void tell(std::string_view text);
/// To standard error with control characters of our own: a line that is drawn over. What comes from
/// outside must be visible() already.
void draw(std::string_view text);

/// Whether something for standard output was lost; asked once, at the end.
bool output_failed();

/// Gives standard input, output and error a place where the caller closed them: the next file to be
/// opened would take it, and be written into.
void claim_standard_streams();

}  // namespace cw::cases
