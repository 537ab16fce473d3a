#pragma once
/// Voltages, currents, resistances and shares as a technician reads them.

#include <string>

namespace weighwright::job {

/// "9.93 V", "3.306 mV", "1.25 uV": four figures, the unit that keeps them short.
[[nodiscard]] std::string voltage_words(double value_V);

/// "98.2 ohm", "1.2 Mohm", "5 Gohm"; "open" where it is infinite.
[[nodiscard]] std::string resistance_words(double value_ohm);

/// "102 mA".
[[nodiscard]] std::string current_words(double value_A);

/// "0.7 %", "-0.004 %": two figures.
[[nodiscard]] std::string share_words(double share);

/// By its SI unit: "V", "ohm", else the figure and the unit.
[[nodiscard]] std::string quantity_words(double value, const std::string& unit);

}  // namespace weighwright::job
