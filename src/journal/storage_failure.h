#pragma once
/// The machine failed: disk full, read-only, an error of the disk, another program that does not
/// let go. Wrong input is never this; it is a units::Diagnostic value.

#include <stdexcept>
#include <string>
#include <utility>

#include "units/diagnostic.h"

namespace weighwright::journal {

/// What became of the entries that were to be recorded.
enum class Outcome {
  not_recorded,  // looked after reopening: they are not there (or nothing was to be recorded)
  recorded,      // they are there, though the disk reported an error while confirming
  unknown,       // the file could not be opened again to look
};

class StorageFailure : public std::runtime_error {
 public:
  explicit StorageFailure(units::Diagnostic diagnostic, Outcome outcome = Outcome::not_recorded)
      : std::runtime_error(units::print(diagnostic)),
        diagnostic_(std::move(diagnostic)),
        outcome_(outcome) {}

  [[nodiscard]] const units::Diagnostic& diagnostic() const { return diagnostic_; }
  [[nodiscard]] Outcome outcome() const { return outcome_; }

 private:
  units::Diagnostic diagnostic_;
  Outcome outcome_;
};

}  // namespace weighwright::journal
