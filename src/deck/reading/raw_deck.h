#pragma once
/// A deck file as it was written: values in SI, nothing resolved, nothing assumed yet.

#include <optional>
#include <set>
#include <string>
#include <vector>

#include "deck/deck.h"
#include "deck/reading/document.h"
#include "deck/reading/fault_sink.h"

namespace weighwright::deck::reading {

/// Keys that stand in a table of the file, "engineering.twisting" for a table below it.
using Given = std::set<std::string>;

struct RawModule {
  Module module;
  Given given;
  Position at;
};

struct RawJoint {
  Joint joint;
  std::string upper;  // "A on B": A
  std::string lower;  //           B
  Position at;
};

struct RawSection {
  double at_m = 0.0;
  double across_m = 0.0;
  std::optional<std::string> module;
  Position at;
};

/// The stand as [stand] and [cell] describe it, and what each override says on top.
struct RawStands {
  Stand base;
  Given given;              // "screws", "cell.capacity"
  std::vector<Stand> each;  // in stand order; base with the overrides merged in
  std::vector<Given> each_given;
};

struct RawDeck {
  Deck deck;  // what needs no resolving: [deck], [site], [share], ...
  Given deck_given;
  Given site_given;
  Given share_given;
  Given trim_given;
  std::vector<Position> boxes_at;  // of Deck::boxes
  Position link_at;                // of [cable.link], zeros: not given
  Position sense_at;               // of [indicator] sense
  Position trim_at;                // of [trim]
  std::vector<RawModule> modules;
  std::vector<RawJoint> joints;
  bool joints_given = false;
  std::vector<RawSection> sections;
  RawStands stands;
  bool structure_sound = false;  // modules, joints and sections had no fault of their own
};

/// [deck], [site], [share], [restraint], the tables below and those that are reserved.
void read_deck_tables(const Node& root, RawDeck& raw, FaultSink& sink);

/// [indicator], [receptor], [cable], [[box]].
void read_wiring(const Node& root, RawDeck& raw, FaultSink& sink);

/// [[footprint]].
void read_footprints(const Node& root, RawDeck& raw, FaultSink& sink);

/// [[instrument]]; needs [deck] and the number of sections.
void read_instruments(const Node& root, RawDeck& raw, FaultSink& sink);

/// [trim].
void read_trim(const Node& root, RawDeck& raw, FaultSink& sink);

/// [[module]], [[joint]], [[section]].
void read_structure(const Node& root, RawDeck& raw, FaultSink& sink);

/// [cell], [stand], [stand.2L], [stand.2L.cell]; needs the number of sections.
void read_stands(const Node& root, RawDeck& raw, FaultSink& sink);

/// Which module carries which section, which module rests on which, what lies where: fills modules,
/// joints and sections of raw.deck. Faults: what can't stand as described. False when it can't.
[[nodiscard]] bool resolve_layout(RawDeck& raw, FaultSink& sink);

/// Fills everything that nobody gave and lists it in Deck::assumed.
void fill_defaults(RawDeck& raw);

/// What boxes, cables and trims can't be together; needs [[section]] to know the stands.
void check_wiring(const RawDeck& raw, FaultSink& sink);

/// Faults and notes about values that are each right but don't go together.
void check_whole(const RawDeck& raw, FaultSink& sink);

}  // namespace weighwright::deck::reading
