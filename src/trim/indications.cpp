#include "trim/indications.h"

#include <algorithm>
#include <cmath>

namespace weighwright::trim {
namespace {

using record::LoadReading;

constexpr double kNoise_of_d = 0.3;         // repeatability where nobody measured it
constexpr double kZeroMayBeOff_of_e = 0.5;  // half width, where zero was not read
constexpr double kChangeover_of_d = 0.1;    // step of the small weights, usual (R 76-1 A.4.4.3)

double rounding(double step) {
  return step / std::sqrt(12.0);
}

bool is_zero_row(const LoadReading& reading) {
  return reading.load_kg && *reading.load_kg == 0.0 && reading.material.empty();
}

bool is_multiple(double kg, double step_kg) {
  const double steps = kg / step_kg;
  return std::abs(steps - std::round(steps)) <= 1e-6 * std::max(1.0, std::abs(steps));
}

/// A fine reading is shown all through a file: the last digit typed where any figure lies between
/// the display's steps; empty where all of them are steps.
std::optional<double> fine_step_of(const deck::Deck& deck,
                                   const std::vector<LoadReading>& readings) {
  std::optional<double> finest;
  for (const LoadReading& reading : readings) {
    const double d = deck.display_at_kg(std::abs(reading.indication_kg));
    if (is_multiple(reading.indication_kg, d) || reading.last_digit_kg <= 0.0) continue;
    finest = std::min(finest.value_or(d), reading.last_digit_kg);
  }
  return finest;
}

/// What the display showed before rounding, where small weights were added; else as shown.
double before_rounding(const deck::Deck& deck, const LoadReading& reading) {
  if (!reading.added_kg) return reading.indication_kg;
  const double d = deck.display_at_kg(std::abs(reading.indication_kg));
  return reading.indication_kg + d / 2.0 - *reading.added_kg;
}

Indication loaded(const deck::Deck& deck,
                  const LoadReading& reading,
                  const std::optional<double>& fine_kg) {
  const double load_kg = std::abs(reading.indication_kg);
  const double d = deck.display_at_kg(load_kg);
  Indication result;
  result.kg = before_rounding(deck, reading);
  result.resolution_kg = reading.resolution_kg.value_or(fine_kg.value_or(d));
  const double step = reading.added_kg ? kChangeover_of_d * d : result.resolution_kg;
  result.u_kg = std::hypot(rounding(step), repeatability_kg(deck, load_kg));
  return result;
}

/// An empty deck's indication and the step that it was read in.
struct Zero {
  double kg = 0.0;
  double step_kg = 0.0;
};

/// A zero between the display's steps was found with small weights, as a load may be.
Zero typed_zero(const deck::Deck& deck, double kg, double resolution_kg) {
  const double d = deck.display_kg();
  const bool fine = !is_multiple(kg, std::min(resolution_kg, d));
  return {.kg = kg, .step_kg = fine ? kChangeover_of_d * d : std::min(resolution_kg, d)};
}

Zero row_zero(const deck::Deck& deck,
              const LoadReading& reading,
              const std::optional<double>& fine_kg) {
  const double d = deck.display_kg();
  const double step =
      reading.added_kg ? kChangeover_of_d * d : reading.resolution_kg.value_or(fine_kg.value_or(d));
  return {.kg = before_rounding(deck, reading), .step_kg = std::min(step, d)};
}

void take_zero_off(const deck::Deck& deck,
                   Indication& indication,
                   const std::optional<Zero>& before,
                   const std::optional<Zero>& after) {
  double variance = indication.u_kg * indication.u_kg;
  if (before && after) {
    indication.kg -= (before->kg + after->kg) / 2.0;
    const double both = std::hypot(rounding(before->step_kg), rounding(after->step_kg)) / 2.0;
    variance += both * both;
  } else if (before || after) {
    const Zero& zero = before ? *before : *after;
    indication.kg -= zero.kg;
    variance += rounding(zero.step_kg) * rounding(zero.step_kg);
  } else {
    const double off = kZeroMayBeOff_of_e * deck.interval_at_kg(0.0);
    variance += off * off / 3.0;
  }
  indication.zero_read = before || after;
  indication.u_kg = std::sqrt(variance);
}

/// Goes through a file row by row; a zero row closes the loads before it and opens the next.
class ZeroTaker {
 public:
  ZeroTaker(const deck::Deck& deck, const std::vector<LoadReading>& readings)
      : deck_(deck), readings_(readings), fine_kg_(fine_step_of(deck, readings)) {}

  std::vector<Indication> take() {
    bool empty = true;
    for (std::size_t i = 0; i < readings_.size(); ++i) {
      if (is_zero_row(readings_[i])) {
        const Zero zero = row_zero(deck_, readings_[i], fine_kg_);
        close(zero);
        zero_ = zero;
        empty = true;
        continue;
      }
      result_.push_back(loaded(deck_, readings_[i], fine_kg_));
      result_.back().reading = i;
      result_.back().from_empty = empty || readings_[i].zero_before_kg.has_value();
      empty = readings_[i].zero_after_kg.has_value();
    }
    close(std::nullopt);
    return std::move(result_);
  }

 private:
  [[nodiscard]] std::optional<Zero> typed(const std::optional<double>& kg,
                                          const Indication& indication) const {
    if (!kg) return std::nullopt;
    return typed_zero(deck_, *kg, indication.resolution_kg);
  }

  void close(const std::optional<Zero>& after) {
    bool told = false;  // one drift between two zero rows is one finding, not one for each load
    for (; open_ < result_.size(); ++open_) {
      Indication& indication = result_[open_];
      const LoadReading& reading = readings_[indication.reading];
      const bool own = reading.zero_before_kg || reading.zero_after_kg;
      const std::optional<Zero> first = own ? typed(reading.zero_before_kg, indication) : zero_;
      const std::optional<Zero> last = own ? typed(reading.zero_after_kg, indication) : after;
      take_zero_off(deck_, indication, first, last);
      if (first && last && (own || !told)) indication.zero_change_kg = last->kg - first->kg;
      told |= !own;
    }
  }

  const deck::Deck& deck_;
  const std::vector<LoadReading>& readings_;
  std::optional<double> fine_kg_;
  std::vector<Indication> result_;
  std::optional<Zero> zero_;  // of the last zero row
  std::size_t open_ = 0;      // first indication that waits for the zero row after it
};

}  // namespace

std::vector<Indication> indications(const deck::Deck& deck,
                                    const std::vector<LoadReading>& readings) {
  return ZeroTaker(deck, readings).take();
}

double repeatability_kg(const deck::Deck& deck, double load_kg) {
  return deck.trimming.repeatability_kg.value_or(kNoise_of_d * deck.display_at_kg(load_kg));
}

}  // namespace weighwright::trim
