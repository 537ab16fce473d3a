#include <array>
#include <cstddef>
#include <string>
#include <string_view>
#include <utility>

#include "deck/limits.h"
#include "deck/reading/raw_deck.h"
#include "deck/reading/table_reader.h"

namespace weighwright::deck::reading {

namespace {

using units::Kind;

std::string nth(std::string_view kind, std::size_t index) {
  return "[[" + std::string(kind) + "]] number " + std::to_string(index + 1);
}

/// The tables of one kind; faults when they are none or too many.
std::vector<const Node*> tables_of(const Node& root,
                                   const std::string& key,
                                   int most,
                                   FaultSink& sink) {
  std::vector<const Node*> tables;
  const Node* const found = root.find(key);
  if (found == nullptr) return tables;
  const bool is_list = found->type == Node::Type::list;
  if (found->type == Node::Type::table) {
    sink.fault(of_key(*found), "[" + key + "] stands in single brackets",
               "write [[" + key + "]] in double brackets, once for each");
    return tables;
  }
  if (found->children.size() > static_cast<std::size_t>(most)) {
    sink.fault(of_key(*found), std::to_string(found->children.size()) + " tables [[" + key + "]]",
               "at most " + std::to_string(most));
    return tables;
  }
  for (const Node& item : found->children) {
    if (item.type == Node::Type::table) tables.push_back(&item);
  }
  if (!is_list || tables.size() != found->children.size()) {
    sink.fault(of_key(*found), key + " is no list of tables",
               "write [[" + key + "]] in double brackets, once for each");
    tables.clear();
  }
  return tables;
}

void read_engineering(const Node& node, const std::string& name, RawModule& raw, FaultSink& sink) {
  TableReader table(node, name + " engineering", sink);
  Module& module = raw.module;
  const auto set = [](double& target, const std::optional<double>& value) {
    if (value) target = *value;
  };
  set(module.bending_Nm2, table.quantity("bending", Kind::bending_rigidity, kRigidity));
  set(module.twisting_Nm2, table.quantity("twisting", Kind::bending_rigidity, kRigidity));
  set(module.crossbeam_bending_Nm2,
      table.quantity("crossbeam_bending", Kind::bending_rigidity, kRigidity));
  set(module.crossbeam_twisting_Nm2,
      table.quantity("crossbeam_twisting", Kind::bending_rigidity, kTorsion));
  const Limits spread{1.0, 100.0, "a factor from 1 to 100"};
  set(module.twisting_spread, table.quantity("twisting_spread", Kind::fraction, spread));
  module.crossbeams = table.whole("crossbeams", 2, 200).value_or(module.crossbeams);
  module.girders_m =
      table.quantities("girders", Kind::length, kSidePlace).value_or(module.girders_m);
  table.finish();
  for (const std::string& key : table.given()) raw.given.insert("engineering." + key);
}

void read_construction(TableReader& table, Module& module) {
  static constexpr std::array<std::string_view, 5> kWords = {"open", "cells", "box", "concrete",
                                                             "unknown"};
  static constexpr std::array kKinds = {Construction::open, Construction::cells, Construction::box,
                                        Construction::concrete, Construction::unknown};
  const auto hit = table.choice("construction", kWords);
  if (hit) module.construction = kKinds.at(*hit);
  const auto slab = table.quantity("slab", Kind::length, kSmallLength);
  const auto poured = table.boolean("poured");
  module.slab_m = slab.value_or(0.0);
  module.poured = poured.value_or(module.construction == Construction::concrete);
  if (module.construction != Construction::concrete && hit) {
    for (const std::string_view key : {"slab", "poured"}) {
      if (!table.has(key)) continue;
      table.sink().fault(of_key(*table.node(key)),
                         table.name() + ": " + std::string(key) + " belongs to concrete only",
                         R"(leave it out, or write construction = "concrete")");
    }
  }
}

RawModule read_module(const Node& node, std::size_t index, FaultSink& sink) {
  const Node* const mark = node.find("mark");
  const bool named = mark != nullptr && mark->type == Node::Type::text;
  const std::string name = named ? "module " + units::quote(mark->text) : nth("module", index);
  TableReader table(node, name, sink);
  RawModule raw;
  raw.at = table.at();
  table.require("mark", R"(write mark = "A" as painted on the piece)");
  table.require("length", R"(write length = "7 m", from joint to joint)");
  raw.module.mark = table.label("mark").value_or("");
  if (table.has("mark") && raw.module.mark.empty() && named) {
    sink.fault(of_value(*mark), "the mark is empty", R"(write mark = "A")");
  }
  raw.module.length_m = table.quantity("length", Kind::length, kModuleLength).value_or(0.0);
  raw.module.width_m = table.quantity("width", Kind::length, kWidth).value_or(0.0);
  const auto mass = table.quantity("mass", Kind::mass, kMass);
  raw.module.mass_kg = mass.value_or(0.0);
  raw.module.mass_given = mass.has_value();
  const auto centre = table.quantity("centre", Kind::length, kPlace);
  raw.module.centre_m = centre.value_or(0.0);
  raw.module.centre_given = centre.has_value();
  if (centre && raw.module.length_m > 0.0 && *centre > raw.module.length_m) {
    sink.fault(of_value(*table.node("centre")), "centre lies beyond the module's end 2",
               "the centre of gravity from the module's end 1");
  }
  read_construction(table, raw.module);
  raw.module.halves = table.boolean("halves");
  const Node* const engineering = table.node("engineering");
  table.finish();
  raw.given = table.given();
  if (engineering != nullptr && engineering->type == Node::Type::table) {
    read_engineering(*engineering, name, raw, sink);
  } else if (engineering != nullptr) {
    sink.fault(of_value(*engineering), "engineering is no table",
               "write [module.engineering] below the module");
  }
  raw.module.twisting_given = raw.given.contains("engineering.twisting");
  return raw;
}

void read_rests(TableReader& table, RawJoint& raw) {
  const auto text = table.text("rests");
  if (!text) return;
  const std::size_t on = text->find(" on ");
  if (on != std::string::npos && on > 0 && on + 4 < text->size()) {
    raw.upper = text->substr(0, on);
    raw.lower = text->substr(on + 4);
    return;
  }
  table.sink().fault(of_value(*table.node("rests")),
                     "rests: " + units::quote(*text) + " is not clear",
                     R"(write "A on B": A's bearings lie in B's seats)");
}

RawJoint read_joint(const Node& node, std::size_t index, FaultSink& sink) {
  static constexpr std::array<std::string_view, 3> kWords = {"hinge", "rigid", "shared stand"};
  static constexpr std::array kKinds = {JointKind::hinge, JointKind::rigid,
                                        JointKind::shared_stand};
  TableReader table(node, "joint " + std::to_string(index + 1), sink);
  RawJoint raw;
  raw.at = table.at();
  raw.joint.kind = kKinds.at(table.choice("kind", kWords).value_or(0));
  read_rests(table, raw);
  if (raw.joint.kind != JointKind::hinge && table.has("rests")) {
    sink.fault(of_key(*table.node("rests")), table.name() + " is no hinge, so nothing rests",
               R"(leave rests out, or write kind = "hinge")");
  }
  const auto across = table.quantity("across", Kind::length, kWidth);
  raw.joint.across_m = across.value_or(0.0);
  raw.joint.across_given = across.has_value();
  table.finish();
  return raw;
}

RawSection read_section(const Node& node, std::size_t index, FaultSink& sink) {
  TableReader table(node, "section " + std::to_string(index + 1), sink);
  RawSection raw;
  raw.at = table.at();
  table.require("at", R"(write at = "0.30 m", from end 1 of the deck)");
  table.require("across", R"(write across = "2.4 m", from left to right stand)");
  raw.at_m = table.quantity("at", Kind::length, kPlace).value_or(0.0);
  raw.across_m = table.quantity("across", Kind::length, kWidth).value_or(0.0);
  raw.module = table.label("module");
  table.finish();
  return raw;
}

}  // namespace

void read_structure(const Node& root, RawDeck& raw, FaultSink& sink) {
  const std::size_t before = sink.fault_count();
  for (const Node* const node : tables_of(root, "module", kMostModules, sink)) {
    raw.modules.push_back(read_module(*node, raw.modules.size(), sink));
  }
  for (const Node* const node : tables_of(root, "joint", kMostModules, sink)) {
    raw.joints.push_back(read_joint(*node, raw.joints.size(), sink));
  }
  for (const Node* const node : tables_of(root, "section", kMostSections, sink)) {
    raw.sections.push_back(read_section(*node, raw.sections.size(), sink));
  }
  raw.joints_given = root.find("joint") != nullptr;
  if (root.find("module") == nullptr) {
    sink.fault({}, "there is no [[module]]",
               "one [[module]] with mark and length for each piece of deck");
  }
  if (root.find("section") == nullptr) {
    sink.fault({}, "there is no [[section]]",
               "one [[section]] with at and across for each pair of stands");
  }
  raw.structure_sound = sink.fault_count() == before;
}

}  // namespace weighwright::deck::reading
