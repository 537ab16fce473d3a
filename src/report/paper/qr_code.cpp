#include "report/paper/qr_code.h"

#include <qrencode.h>

#include <algorithm>
#include <cstddef>
#include <memory>
#include <string_view>

#include "report/drawable.h"

namespace weighwright::report {
namespace {

constexpr std::string_view kHead = " --head ";
constexpr int kQuiet = 4;                       // modules, ISO/IEC 18004
constexpr double kLeastSide = 27.0 * kPerMm;    // of the printed code
constexpr double kLeastModule = 0.52 * kPerMm;  // common practice, no source
constexpr double kOverlap = 0.02;               // closes seams between rows on a screen

using Code = std::unique_ptr<QRcode, decltype(&QRcode_free)>;

/// Null where the text is too long for a code.
Code encode(const std::string& text, bool strong) {
  return {QRcode_encodeData(static_cast<int>(text.size()),
                            reinterpret_cast<const unsigned char*>(text.data()), 0,
                            strong ? QR_ECLEVEL_M : QR_ECLEVEL_L),
          QRcode_free};
}

double module_side(const QRcode& code) {
  const double modules = code.width + 2.0 * kQuiet;
  return std::max(kLeastModule, kLeastSide / modules);
}

bool dark(const QRcode& code, int row, int column) {
  return (code.data[row * code.width + column] & 1U) != 0;
}

int heads_in(const std::string& text) {
  int count = 0;
  for (std::size_t at = 0; (at = text.find(kHead, at)) != std::string::npos; ++at) ++count;
  return count;
}

/// Sets the side where the code is small enough.
bool fits(CodeText& text, double most_side) {
  const Code code = encode(text.text, text.strong);
  if (!code) return false;
  text.side = module_side(*code) * (code->width + 2.0 * kQuiet);
  return text.side <= most_side;
}

}  // namespace

CodeText code_text(const std::string& text, double most_side) {
  CodeText code{.text = drawable(text)};
  code.heads = code.heads_of_whole = heads_in(code.text);
  if (code.text.empty() || fits(code, most_side)) return code;
  for (code.strong = false; !fits(code, most_side);) {
    const std::size_t cut = code.text.rfind(kHead);
    if (cut == std::string::npos || --code.heads < 1)
      return {.text = "", .heads_of_whole = code.heads_of_whole};
    code.text.resize(cut);
  }
  return code;
}

void draw_qr(Pen& pen, Point at, const CodeText& text) {
  const Code code = encode(text.text, text.strong);
  if (!code) return;
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
