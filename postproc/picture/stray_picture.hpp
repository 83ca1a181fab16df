#pragma once

#include "postproc/picture/picture.hpp"

namespace cw {

/// |B| rms far around the heater, in contours of 1, 3, 10, ... microtesla, to scale, with the coil
/// in the middle. Outside the mesh the field is the exact one of the open boundary. Only the field
/// of the coil: that of leads and tank is not included, and the sheet says so.
Canvas stray_picture(const PictureInput& input);

/// Reference level for the general public from 3 kHz to 10 MHz [T] rms: ICNIRP, Guidelines for
/// limiting exposure to time-varying electric and magnetic fields, Health Physics 99 (2010) 818,
/// table of reference levels (from memory).
inline constexpr double public_reference_level = 27e-6;

}  // namespace cw
