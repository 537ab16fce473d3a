#include "web/qr.h"

#include <qrencode.h>

#include <memory>

namespace weighwright::web {

std::string draw_qr(const std::string& text, bool coloured) {
  const std::unique_ptr<QRcode, decltype(&QRcode_free)> code(
      QRcode_encodeData(static_cast<int>(text.size()),
                        reinterpret_cast<const unsigned char*>(text.data()), 0, QR_ECLEVEL_M),
      QRcode_free);
  if (!code) return {};
  constexpr int kQuiet = 4;
  const int width = code->width;
  const auto dark = [&](int row, int column) {
    row -= kQuiet;
    column -= kQuiet;
    if (row < 0 || column < 0 || row >= width || column >= width) return false;
    return (code->data[row * width + column] & 1U) != 0;
  };
  std::string drawn;
  for (int row = 0; row < width + 2 * kQuiet; row += 2) {
    if (coloured) drawn += "\033[30;107m";
    for (int column = 0; column < width + 2 * kQuiet; ++column) {
      const bool above = dark(row, column);
      const bool below = dark(row + 1, column);
      drawn += above ? (below ? "█" : "▀") : (below ? "▄" : " ");
    }
    drawn += coloured ? "\033[0m\n" : "\n";
  }
  return drawn;
}

}  // namespace weighwright::web
