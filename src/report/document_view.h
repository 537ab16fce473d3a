#pragma once
/// Everything that stands in a test report, a calibration certificate or a job sheet; drawn by
/// report/paper (PDF, SVG) and written by report/exchange (DCC XML, CSV).
///
/// No number is computed below this: texts and figures come from job.

#include <optional>
#include <string>
#include <utility>
#include <vector>

#include "report/answer_view.h"
#include "report/job_view.h"
#include "report/page_view.h"
#include "report/proof_view.h"
#include "report/rules_view.h"
#include "report/test_plan_view.h"

namespace weighwright::report {

struct PartyView {
  std::string name;
  std::vector<std::string> address;  // lines
  std::string contact;
  std::string country;  // two letters, ISO 3166-1; empty: not said
};

struct AccreditationView {
  std::string body;
  std::string number;
};

struct EnvironmentView {
  std::string temperature;  // "12 to 14 \u00b0C", "12 \u00b0C"; empty: not measured
  std::string humidity;
  std::string pressure;
  std::string air_density;
  std::string gravity;  // of the site and its source
  std::string weather;
  std::optional<double> temperature_low_degC;
  std::optional<double> temperature_high_degC;
  std::optional<double> humidity_low_percent;
  std::optional<double> humidity_high_percent;
  std::optional<double> pressure_low_hPa;
  std::optional<double> pressure_high_hPa;
};

/// A load that stood on the deck during the test, as its result tells it.
struct PlacedView {
  int number = 0;
  std::string phase;  // "found" | "left" | "stale": read before the last adjustment
  std::string name;   // "Increasing load"
  int run = 1;
  std::string where;              // "over 2L"; empty: nowhere in particular
  std::string heading;            // "going to end 2"; empty
  std::string what;               // weights and material, "W*10 + S1"; empty: not said
  std::optional<double> load_kg;  // known; empty: a load of unknown mass
  std::string when;               // local time
  std::string who;
  int entry = 0;  // of the journal
  /// Its middle, where the place is a point of the deck: from end 1, left positive.
  std::optional<std::pair<double, double>> at_m;
};

struct SealView {
  std::string when;  // "found" | "left"
  std::string what;  // "seal" | "calibration counter" | ...
  std::string number;
  std::string place;
  std::string authority;
};

/// A turn, shim or trim to make, for the pit.
struct JobSheetMoveView {
  std::string stand;     // "2R"
  std::string tag;       // the box's own number
  std::string headline;  // "1 1/4 turns, up"
  std::string detail;    // which way seen from above, jack first, rounds
};

struct JobSheetView {
  std::string title;
  std::string deck_name;
  std::string made;  // date and time
  std::string headline;
  std::vector<JobSheetMoveView> moves;
  std::vector<std::string> how;
  std::vector<std::string> then;  // what is to be read then
  std::vector<std::string> cautions;
  std::vector<HeadView> heads;
  std::string qr;
  std::string practice;  // banner; empty: a real site
  std::string language = "en";
  DrawnDeck plan;
};

struct DocumentView {
  std::string title;     // "Test report" | "Calibration certificate"
  std::string number;    // unique identification
  std::string replaces;  // number of the report that this one replaces, with the reason; empty
  std::string language = "en";
  std::optional<PartyView> laboratory;
  std::optional<AccreditationView> accreditation;
  std::optional<PartyView> customer;
  std::string place;                                      // where it was done
  std::vector<std::string> place_address;                 // lines
  std::vector<std::pair<std::string, std::string>> item;  // "Serial", "TQ-0417": in order
  std::string model;
  std::string serial;
  std::string maker;
  std::string approval;
  std::vector<std::pair<std::string, std::string>> cells;  // stand, serial
  std::string began;                                       // ISO date
  std::string ended;
  std::string issued;  // ISO date
  std::string method;  // and its edition
  EnvironmentView environment;
  std::optional<ProofView> as_found;
  std::optional<ProofView> as_left;
  bool adjusted = false;           // something was, in this visit; false: as left is as found
  std::vector<PlacedView> placed;  // in the order in which the loads stood there
  std::optional<RulesView> rules;  // with the numbers that the test may rest on
  std::vector<std::string> traceability;  // statements
  std::vector<std::string> deviations;    // additions to, deviations and exclusions from the method
  std::vector<SealView> seals;
  std::vector<std::pair<std::string, std::string>> settings;  // of the indicator, found -> left
  std::vector<std::string> adjustments;  // what was turned, trimmed, replaced, set
  std::vector<std::string> remarks;
  std::vector<std::string> statements;  // relates only to the item; no verification; ...
  std::string authorised;               // who signs; empty: a line to sign on
  std::string role;
  std::vector<HeadView> heads;  // of the journal
  int entry_count = 0;
  std::vector<EntryView> record;  // the job record; empty: not wanted
  std::string qr;                 // text of the QR code: how `job verify` finds the same record
  std::string verify_command;     // as typed
  std::string practice;           // banner: practice site; empty: a real one
  DrawnDeck drawing;
  bool us = false;
  std::string made_by;  // program and version
  // ISO/IEC 17025:2017, 7.8.2.1 h, g, p, 7.8.2.2, 7.8.7; empty: does not apply
  std::string received;                  // ISO date on which the item came, where that matters
  std::string condition;                 // of the item, where that matters
  std::vector<std::string> by_customer;  // what the customer supplied
  std::vector<std::string> by_others;    // results of external providers
  std::vector<std::string> opinions;     // and interpretations, with their basis
  /// Where the work was done, as the machine-readable certificate knows it: laboratory | customer |
  /// laboratoryBranch | customerBranch | other.
  std::string location_kind = "customer";
};

}  // namespace weighwright::report
