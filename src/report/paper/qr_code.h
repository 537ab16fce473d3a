#pragma once
/// A QR code (ISO/IEC 18004) by libqrencode.

#include <string>

#include "report/paper/pen.h"

namespace weighwright::report {

/// Side of the code with its quiet zone, points: modules large enough for a phone.
/// @throws std::invalid_argument  when the text is too long for a code
[[nodiscard]] double qr_side(const std::string& text);
/// Black on white, quiet zone included; `at` its upper left corner.
void draw_qr(Pen& pen, Point at, const std::string& text);

}  // namespace weighwright::report
