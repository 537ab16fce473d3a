#pragma once
/// What is wrong with this weighbridge, how sure, and which measurement would settle it?
///
/// Model   Every fault of the catalogue, at every place where it can be, is a prediction of all
/// that
///         was measured: readings of cells (dead load, no load), indications with loads at places
///         (on the way up and down), zero before and after, the history of zero. Quantities of no
///         interest (sharing, masses, gains of cells, span, zeros, noise) are Gaussian and common
///         to all explanations; they are marginalised in closed form (row_model.h). Looks, gaps,
///         maps, trims as found and a meter's readings count by their likelihood. A cause's
///         probability is prior times likelihood, over all causes; there is no list of rules.
/// Source  marginal likelihood of a linear Gaussian model: C. Rasmussen, C. Williams, Gaussian
///         Processes for Machine Learning (2006), eq. (2.30) (from memory, unverified).
/// Limits  One fault at a time (and single wild readings). Priors and sizes of faults are hand
///         estimates, no source: catalogue.cpp. docs/theory/diagnose.md.

#include <optional>
#include <string>
#include <vector>

#include "deck/deck.h"
#include "record/measurement.h"
#include "statics/model.h"
#include "units/diagnostic.h"

namespace weighwright::diagnose {

/// Where the job stands: what may still be open without anything being wrong.
struct Context {
  bool grouted = false;     // stands no longer turn on their screws
  bool shared = false;      // the dead load was balanced
  bool trimmed = false;     // the corners were adjusted
  bool spanned = false;     // the span was set
  bool service = false;     // the deck was right once (also when `before` is given)
  bool map_proven = false;  // every stand was loaded in turn and its own reading moved
};

struct Case {
  std::vector<record::Measurement> before;  // of an earlier visit, when all was right; may be empty
  std::vector<record::Measurement> now;     // in the order in which they were made
  Context context;
};

/// One reading, and what it says of a cause.
struct Spoke {
  std::string what;       // "cell 2L", "10 t at 2-3, going up", "look: feeler under the plate"
  double measured = 0.0;  // in `unit`
  double expected = 0.0;  // by the cause (best fit); by a sound deck where the cause is "sound"
  double if_sound = 0.0;
  std::string unit;      // "kg"; empty: yes (1) or no (0), or no figure
  double speaks = 0.0;   // log likelihood ratio against the next cause in hand: positive for it
  bool figures = false;  // measured, expected and if_sound hold figures
  std::string file;
  int line = 0;
};

struct Cause {
  std::string code;   // of the catalogue, "sound", "out_of_level", "trims_open" or "span_open"
  std::string where;  // "2L", "bearing1R", "end1", "B", "B left", "2L,3R", "box"; empty: the whole
  double probability = 0.0;
  std::optional<double> size;  // in `unit`, where the readings tell one
  double u_size = 0.0;         // standard uncertainty
  std::string unit;            // "kg", "mm", "ratio"
  bool innocent = false;       // nothing is wrong: what adjustments are for, or sound
  bool mends_by_sharing = false;
  int alike = 0;                // causes with the same number predict the same of all measured
  std::vector<Spoke> evidence;  // what speaks most (either way) first
};

/// What to measure or look at next.
struct Next {
  enum class Kind {
    look,
    cells,
    no_load,
    load_at,
    up_down,
    two_loads,
    passes,
    zero_later,
    meter,
    map
  };
  Kind kind = Kind::look;
  std::string code;   // of record::looks() for a look; else "load_at", "meter", ...
  std::string where;  // where to do it
  std::string first;  // the two causes it tells apart: code, place
  std::string first_where;
  std::string second;
  std::string second_where;
  double if_first = 0.0;  // what it will show; chance of "yes" for a look, else in `unit`
  double if_second = 0.0;
  std::string unit;
  double separation = 0.0;  // in standard deviations; looks: the same, of a normal test as sharp
  double load_kg = 0.0;     // to be put there; 0: none
  double gain = 0.0;        // expected information, nat
  double minutes = 0.0;     // what it costs; common practice, no source
};

enum class Adjustment { screws, shims, trims, span };

/// Leave it as it is until the cause is found.
struct DoNotTouch {
  std::string what;  // "screws", "shims", "trims", "span", "zero", "box", "seal", "load", "bolts"
  std::string where;
  std::string because;  // code of the cause
};

struct Diagnosis {
  std::vector<Cause> causes;  // most probable first; those under 0.1 % are left out
  std::vector<Next> next;     // best first; at most three; empty: nothing left that would tell
  std::vector<DoNotTouch> do_not_touch;
  bool hold = false;      // an adjustment now would chase a fault
  std::string hold_code;  // the cause that holds, its place
  std::string hold_where;
  std::vector<Adjustment> do_not_adjust;  // what is held, by kind; empty without hold
  double probability_of_fault = 0.0;      // that must be mended before anything is adjusted
  bool explained = true;                  // false: no cause of the catalogue fits the readings
  std::vector<std::string> notes;         // what was left out of account, and why
};

struct MeterMemory;  // meter_memory.h

struct Diagnosed {
  std::optional<Diagnosis> diagnosis;  // empty when there are faults
  units::Diagnostics faults;           // readings that this deck can't give, places off it, ...
};

/// @pre model is that of the deck; what `memory` holds was said of this deck
/// Nothing measured is an ordinary answer: the priors, and what to measure first.
[[nodiscard]] Diagnosed diagnose(const deck::Deck& deck,
                                 const statics::Model& model,
                                 const Case& evidence,
                                 MeterMemory* memory = nullptr);

/// Whether the causes can't be told apart by what was measured: same number in `alike`.
[[nodiscard]] bool are_alike(const Cause& a, const Cause& b);

}  // namespace weighwright::diagnose
