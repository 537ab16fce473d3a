#pragma once
/// What values a quantity of a deck file may have: wide enough for any road weighbridge, narrow
/// enough to tell a wrong unit (hand estimates, no source).

#include <string_view>

namespace weighwright::deck {

/// What values a quantity may have, in SI, both ends included. `words` says it to the user.
struct Limits {
  double lowest;
  double highest;
  std::string_view words;
};

inline constexpr double kSmallest = 1e-12;  // "more than 0"

/// Two places nearer than this are one: 1 mm, whatever sums of lengths round to.
inline constexpr double kSamePlace_m = 1e-3 + 1e-9;

inline constexpr int kMostModules = 24;
inline constexpr int kMostSections = 60;

inline constexpr Limits kModuleLength{0.2, 60.0, "from 0.2 m to 60 m"};
inline constexpr Limits kWidth{0.2, 20.0, "from 0.2 m to 20 m"};
inline constexpr Limits kPlace{0.0, 1000.0, "from 0 m to 1000 m"};
inline constexpr Limits kSidePlace{-20.0, 20.0, "from -20 m to 20 m, left positive"};
inline constexpr Limits kMass{1.0, 1e6, "from 1 kg to 1000 t"};
inline constexpr Limits kInterval{1e-3, 1e4, "from 1 g to 10 t"};
inline constexpr Limits kSmallMass{0.0, 1e6, "0 or more, at most 1000 t"};
inline constexpr Limits kSmallLength{kSmallest, 1.0, "more than 0, at most 1 m"};
inline constexpr Limits kGap{0.0, 1.0, "0 or more, at most 1 m"};
inline constexpr Limits kTravel{-0.5, 0.5, "from -500 mm to 500 mm"};
inline constexpr Limits kRigidity{1.0, 1e13, "more than 1 N m2, at most 1e7 MN m2"};
inline constexpr Limits kTorsion{0.0, 1e13, "0 or more, at most 1e7 MN m2"};
inline constexpr Limits kStiffness{1e3, 1e13, "from 1 N/mm to 1e10 N/mm"};
inline constexpr Limits kOutput{1e-4, 1e-2, "from 0.1 mV/V to 10 mV/V; cells give 1 to 3 mV/V"};
inline constexpr Limits kZero{-1e-3, 1e-3, "from -1 mV/V to 1 mV/V"};
inline constexpr Limits kErrorFraction{0.3, 0.8, "from 0.3 to 0.8 (OIML R 76-1:2006, 3.10.2.1)"};
inline constexpr Limits kResistance{1.0, 1e6, "from 1 ohm to 1 Mohm"};
inline constexpr Limits kExcitation{0.5, 50.0, "from 0.5 V to 50 V"};
inline constexpr Limits kDeadVoltage{-1.0, 1.0, "from -1 V to 1 V; indicators take some mV"};
inline constexpr Limits kInputResistance{1e3, 1e12, "from 1 kohm to 1e6 Mohm"};
inline constexpr Limits kSmallVoltage{1e-12, 1.0, "more than 0, at most 1 V"};
inline constexpr Limits kTolerance{1e-9, 1.0, "more than 0, at most 1 V"};
inline constexpr Limits kShare{1e-6, 1.0, "more than 0 %, at most 100 %"};
inline constexpr Limits kSlope{kSmallest, 0.5, "more than 0, at most 500 mm/m"};
inline constexpr Limits kTorque{kSmallest, 1e5, "more than 0, at most 100 kN m"};
inline constexpr Limits kLatitude{-1.5707963267948968, 1.5707963267948968,
                                  "from -90 deg to 90 deg"};
inline constexpr Limits kAltitude{-500.0, 6000.0, "from -500 m to 6000 m"};
inline constexpr Limits kTemperature{-80.0, 80.0, "from -80 degC to 80 degC"};
inline constexpr Limits kGravity{9.7, 9.9, "from 9.7 m/s2 to 9.9 m/s2"};
inline constexpr Limits kCableLength{0.0, 5000.0, "0 or more, at most 5 km"};
inline constexpr Limits kCableLengthPerArea{1e5, 1e10, "from 0.1 m/mm2 to 10000 m/mm2"};
inline constexpr Limits kTrimResistance{1e-3, 1e5, "more than 0, at most 100 kohm"};
inline constexpr Limits kTrimStart{0.0, 1e5, "0 or more, at most 100 kohm"};
inline constexpr Limits kTrimShare{1e-5, 0.5, "from 0.001 % to 50 %"};
inline constexpr Limits kTrimTurns{0.1, 200.0, "from 0.1 to 200 turns"};
inline constexpr Limits kTrimStep{1e-3, 1.0, "a part of a turn, from 1/1000 to 1"};
inline constexpr Limits kCableArea{1e-9, 1e-3, "from 0.001 mm2 to 1000 mm2"};

}  // namespace weighwright::deck
