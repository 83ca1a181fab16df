#pragma once

#include <string>
#include <string_view>

namespace cw::fuzz {

// Each passes any bytes to one reader. The result must be a valid object that can be used, or clean
// messages for the user; anything else is thrown as std::logic_error, or crashes.

/// A case file: read and checked.
void any_case(std::string_view bytes);
/// A material file: its laws can be evaluated at every temperature.
void any_material(std::string_view bytes);
/// A file of readings: its values can be compared.
void any_readings(std::string_view bytes);
/// A result.json: written again it is the same, and a page can be made of it.
void any_result(std::string_view bytes);

/// A designs.json: a page can be made of it.
void any_designs(std::string_view bytes);
/// The keys and the result in a row of a store: what the reader accepts can be ranked and written.
void any_stored(std::string_view bytes);

/// The name of the file in all messages.
inline constexpr const char* file_name = "fuzz.file";

/// Throws unless a message consists of one or more lines that start with the file's name and
/// contain neither control characters nor invalid UTF-8.
void demand_clean_message(std::string_view message);

/// A result.json with every kind of entry, and one with the fewest.
std::string full_result_seed();
std::string least_result_seed();
/// A designs.json; the result of one of its designs, as a store keeps it.
std::string designs_seed();
std::string stored_seed();
/// A file of readings.
std::string readings_seed();

}  // namespace cw::fuzz
