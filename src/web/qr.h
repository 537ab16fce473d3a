#pragma once
/// A QR code (ISO/IEC 18004) drawn with half blocks.

#include <string>

namespace weighwright::web {

/// Two modules a character: one below the other. Each line ends with a line feed. The quiet zone is
/// 4 modules (ISO/IEC 18004).
/// @param coloured  dark on light by terminal colours (ECMA-48), whatever the terminal's own are;
///                  else a block is a dark module, as on paper
/// @return empty when the text does not fit
[[nodiscard]] std::string draw_qr(const std::string& text, bool coloured);

}  // namespace weighwright::web
