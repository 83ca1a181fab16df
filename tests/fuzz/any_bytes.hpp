#pragma once

#include <string>
#include <string_view>

namespace cw::fuzz {

// Each hands any bytes to one reader. They end in something valid that can be worked with, or in
// clean messages for a user: anything else is thrown as std::logic_error, or crashes.

/// A case file: read and checked.
void any_case(std::string_view bytes);
/// A material file: its laws can be asked at every temperature.
void any_material(std::string_view bytes);
/// A file of readings: its values can be compared.
void any_readings(std::string_view bytes);
/// A result.json: written again it is the same, and a page can be made of it.
void any_result(std::string_view bytes);

/// A designs.json: a page can be made of it.
void any_designs(std::string_view bytes);
/// What stands in a row of a store, as its keys and as its result: what is let through can be
/// ranked and written.
void any_stored(std::string_view bytes);

/// The file all of them say they read.
inline constexpr const char* file_name = "fuzz.file";

/// Throws when a message for a user is not one or more lines that start with the file's name and
/// hold neither control characters (a terminal would obey them) nor broken UTF-8.
void demand_clean_message(std::string_view message);

/// A result.json with every kind of entry in it, and one with the least.
std::string full_result_seed();
std::string least_result_seed();
/// A designs.json; the result of one of its designs, as a store keeps it.
std::string designs_seed();
std::string stored_seed();
/// A file of readings.
std::string readings_seed();

}  // namespace cw::fuzz
