#include "report/paper/qr_code.h"

#include <fmt/format.h>
#include <qrencode.h>

#include <memory>
#include <stdexcept>

namespace weighwright::report {
namespace {

constexpr int kQuiet = 4;                       // modules, ISO/IEC 18004
constexpr double kLeastSide = 27.0 * kPerMm;    // of the printed code
constexpr double kLeastModule = 0.52 * kPerMm;  // common practice, no source
constexpr double kOverlap = 0.02;               // closes seams between rows on a screen

using Code = std::unique_ptr<QRcode, decltype(&QRcode_free)>;

Code encode(const std::string& text) {
  Code code(QRcode_encodeData(static_cast<int>(text.size()),
                              reinterpret_cast<const unsigned char*>(text.data()), 0, QR_ECLEVEL_M),
            QRcode_free);
  if (!code)
    throw std::invalid_argument(
        fmt::format("text of the QR code has {} bytes; a code holds at most 2331", text.size()));
  return code;
}

double module_side(const QRcode& code) {
  const double modules = code.width + 2.0 * kQuiet;
  return std::max(kLeastModule, kLeastSide / modules);
}

bool dark(const QRcode& code, int row, int column) {
  return (code.data[row * code.width + column] & 1U) != 0;
}

}  // namespace

double qr_side(const std::string& text) {
  const Code code = encode(text);
  return module_side(*code) * (code->width + 2.0 * kQuiet);
}

void draw_qr(Pen& pen, Point at, const std::string& text) {
  const Code code = encode(text);
  const double side = module_side(*code);
  const double whole = side * (code->width + 2.0 * kQuiet);
  pen.fill({at.x, at.y, whole, whole}, kWhite);
  for (int row = 0; row < code->width; ++row) {
    for (int column = 0; column < code->width;) {
      int end = column;
      while (end < code->width && dark(*code, row, end)) ++end;
      if (end > column)
        pen.fill({at.x + side * (column + kQuiet), at.y + side * (row + kQuiet),
                  side * (end - column), side + kOverlap},
                 Ink{});
      column = end + 1;
    }
  }
}

}  // namespace weighwright::report
