#pragma once
/// Span: the correction of the indicator from known loads, its linearity, what it will read then.
///
/// Model   indication = slope * load through zero (zero is taken off every reading), by weighted
///         least squares; corrected readings are indication / slope. What is left of a reading is
///         its deviation from the line.
/// Limits  a deviation of up to 1 e that is the same up and down may be mended by linearity points
///         of the indicator; a greater one, a zero that does not return (0.5 e), loads that read
///         otherwise going up than coming down (1 d) are no matter of span (common practice, no
///         source).

#include <optional>
#include <string>
#include <vector>

#include "deck/deck.h"
#include "span/results.h"
#include "span/theory.h"

namespace weighwright::span {

enum class Verdict { leave, set, cause_first };

enum class Cause {
  no_response,  // a load that the display hardly shows
  falls,        // a load that lowers the display
  zero_return,
  up_down,
  repeats,
  bends_down,
  bends_up,
  mixed_units,
  far_off,  // more than a correction of a span that was ever set; blocks nothing
  too_few   // one load only: the line is not checked; blocks nothing
};

struct Finding {
  Cause cause = Cause::too_few;
  double load_kg = 0.0;
  double found_kg = 0.0;  // mixed_units: the ratio
  double limit_kg = 0.0;
  bool blocks = true;
  std::string file;
  int line = 0;
};

struct PointThen {
  double load_kg = 0.0;
  double u_load_kg = 0.0;
  double indicated_kg = 0.0;
  double u_indicated_kg = 0.0;
  double error_kg = 0.0;      // as found: indicated less load
  double deviation_kg = 0.0;  // from the line, in kg of load
  double then_kg = 0.0;       // what it will indicate after the correction
  double then_error_kg = 0.0;
  double u_then_error_kg = 0.0;
  bool fixes_material = false;
  std::string material;
};

/// What a later reading will be.
struct Later {
  double load_kg = 0.0;
  double u_kg = 0.0;    // of the indication after the correction, one reading
  double now_kg = 0.0;  // what it would show without the correction
};

/// For an indicator that can bend its line: at this load it shows this much after the span is set.
struct LinearityPoint {
  double load_kg = 0.0;
  double shows_kg = 0.0;
};

struct SpanAdvice {
  Verdict verdict = Verdict::leave;
  double slope = 1.0;  // indication over load now
  double u_slope = 0.0;
  double correction = 1.0;  // every reading is multiplied by this: 1 / slope
  double set_at_kg = 0.0;   // the greatest known load: where the indicator is set
  double shows_now_kg = 0.0;
  double set_to_kg = 0.0;  // what it shall show with that load, in steps of d
  std::vector<PointThen> points;
  std::vector<Later> later;               // Max in quarters
  std::vector<LinearityPoint> linearity;  // empty: straight enough, or not to be mended so
  std::vector<Finding> findings;
  std::vector<Material> materials;
  double reach = 0.0;      // greatest load over Max
  bool one_sided = false;  // all errors before the correction lean one way beyond 0.5 e
};

[[nodiscard]] SpanAdvice advise(const deck::Deck& deck, const Results& results);

}  // namespace weighwright::span
