#pragma once
/// A QR code (ISO/IEC 18004) by libqrencode.

#include <string>

#include "report/paper/pen.h"

namespace weighwright::report {

/// What a code of a printable size holds of a text.
struct CodeText {
  std::string text;        // empty: no code
  bool strong = true;      // error correction M, else L
  double side = 0.0;       // with its quiet zone, points: modules large enough for a phone
  int heads = 0;           // "--head" options that it holds
  int heads_of_whole = 0;  // that the whole text has
};

/// The whole text where its code is no wider than `most_side`, with less error correction if that
/// helps; else the text up to one of its " --head " options, as many as can be; else none. Fewer
/// heads still lead `job verify` to the record, they only check less of it.
[[nodiscard]] CodeText code_text(const std::string& text, double most_side);
/// Black on white, quiet zone included; `at` its upper left corner.
void draw_qr(Pen& pen, Point at, const CodeText& code);

}  // namespace weighwright::report
