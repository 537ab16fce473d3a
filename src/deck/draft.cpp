#include "deck/draft.h"

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <utility>

#include "deck/limits.h"
#include "units/diagnostic.h"
#include "units/quantity.h"

namespace weighwright::deck {

namespace {

constexpr std::string_view kAssumed = "  # assumed";

/// A TOML basic string (TOML v1.0.0, "String").
std::string toml(std::string_view text) {
  static constexpr std::string_view kHex = "0123456789ABCDEF";
  std::string out = "\"";
  for (const char c : text) {
    const auto byte = static_cast<unsigned char>(c);
    if (c == '"' || c == '\\') {
      out += '\\';
      out += c;
    } else if (byte < 0x20 || byte == 0x7F) {
      out += "\\u00";
      out += kHex[byte >> 4U];
      out += kHex[byte & 0xFU];
    } else {
      out += c;
    }
  }
  return out + "\"";
}

std::string_view word(Construction construction) {
  switch (construction) {
    case Construction::open:
      return "open";
    case Construction::cells:
      return "cells";
    case Construction::box:
      return "box";
    case Construction::concrete:
      return "concrete";
    case Construction::unknown:
      break;
  }
  return "unknown";
}

class DraftWriter {
 public:
  explicit DraftWriter(const Answers& answers) : answers_(&answers) {}

  Draft write() {
    check();
    if (!draft_.ok()) return std::move(draft_);
    line(
        "# Written from eight answers. What nobody told is marked # assumed: put right what you "
        "know.");
    line("format = 1");
    write_deck();
    write_modules();
    write_joints();
    write_sections();
    write_cell();
    write_stand();
    write_signal();
    return std::move(draft_);
  }

 private:
  // ------------------------------------------------------------------------------- consistency

  void fail(QuestionKey again, std::string what, std::string expected) {
    if (!draft_.ok()) return;
    draft_.what = std::move(what);
    draft_.expected = std::move(expected);
    draft_.again = again;
  }

  void check() {
    if (answers_->rulebook.empty())
      fail(QuestionKey::rulebook, "there is no answer about the rulebook", "");
    if (answers_->capacity.text.empty())
      fail(QuestionKey::capacity, "there is no answer about the capacity", "");
    if (answers_->sections.empty())
      fail(QuestionKey::sections, "there is no answer about the sections", "");
    if (answers_->modules.empty())
      fail(QuestionKey::modules, "there is no answer about the modules", "");
    if (answers_->cell_capacity.text.empty())
      fail(QuestionKey::cell, "there is no answer about the cells", "");
    if (!draft_.ok()) return;
    double length_m = 0.0;
    for (const ToldModule& module : answers_->modules) length_m += module.length.value;
    for (const Told& section : answers_->sections) {
      if (section.value <= length_m + kSamePlace_m) continue;
      fail(QuestionKey::sections,
           "the section at " + section.text + " stands off the deck: the modules together are " +
               units::print_exact(std::round(length_m * 1e3) / 1e3) + " m long",
           "sections from end 1 of the deck, all under it");
    }
  }

  // ----------------------------------------------------------------------------------- writing

  void line(std::string_view text) { draft_.text.append(text).append("\n"); }

  void key(std::string_view name, std::string_view value, bool assumed = false) {
    line(std::string(name) + " = " + std::string(value) + std::string(assumed ? kAssumed : ""));
  }

  [[nodiscard]] bool guessed(QuestionKey question) const {
    return answers_->by_default.contains(question);
  }

  void write_deck() {
    line("\n[deck]");
    key("name", units::is_utf8(answers_->name) ? toml(answers_->name) : toml("Weighbridge"));
    key("rulebook", toml(answers_->rulebook));
    key("class", toml(answers_->accuracy_class));
    key("capacity", toml(answers_->capacity.text));
    key("interval", toml(answers_->interval.text));
  }

  void write_modules() {
    for (const ToldModule& module : answers_->modules) {
      line("\n[[module]]");
      key("mark", toml(module.mark));
      key("length", toml(module.length.text));
      key("construction", toml(word(answers_->construction)), guessed(QuestionKey::construction));
      if (answers_->construction != Construction::concrete) continue;
      key("slab", answers_->slab ? toml(answers_->slab->text) : toml("0.3 m"), !answers_->slab);
      key("poured", "true", true);
    }
  }

  [[nodiscard]] double joint_m(std::size_t joint) const {
    double at_m = 0.0;
    for (std::size_t i = 0; i <= joint; ++i) at_m += answers_->modules[i].length.value;
    return at_m;
  }

  [[nodiscard]] bool section_under(std::size_t joint) const {
    return std::any_of(answers_->sections.begin(), answers_->sections.end(),
                       [&](const Told& section) {
                         return std::abs(section.value - joint_m(joint)) <= kSamePlace_m;
                       });
  }

  [[nodiscard]] const ToldRest* rest_at(std::size_t joint) const {
    const std::string& first = answers_->modules[joint].mark;
    const std::string& second = answers_->modules[joint + 1].mark;
    const auto found =
        std::find_if(answers_->rests.begin(), answers_->rests.end(), [&](const ToldRest& rest) {
          return (rest.upper == first && rest.lower == second) ||
                 (rest.upper == second && rest.lower == first);
        });
    return found == answers_->rests.end() ? nullptr : &*found;
  }

  void write_joints() {
    for (std::size_t i = 0; i + 1 < answers_->modules.size(); ++i) {
      line("\n[[joint]]");
      const ToldRest* const rest = rest_at(i);
      if (rest != nullptr) {
        key("kind", toml("hinge"), true);
        key("rests", toml(rest->upper + " on " + rest->lower));
      } else if (section_under(i)) {
        key("kind", toml("shared stand"), true);
      } else {
        key("kind", toml("hinge"), true);
      }
    }
  }

  void write_sections() {
    for (const Told& section : answers_->sections) {
      line("\n[[section]]");
      key("at", toml(section.text));
      write_carried(section);
      key("across", toml(answers_->across.text));
    }
  }

  /// A section under a hinge carries the module that the other rests on.
  void write_carried(const Told& section) {
    for (std::size_t i = 0; i + 1 < answers_->modules.size(); ++i) {
      const ToldRest* const rest = rest_at(i);
      const bool under = std::abs(section.value - joint_m(i)) <= kSamePlace_m;
      if (under && rest != nullptr) key("module", toml(rest->lower), true);
    }
  }

  void write_cell() {
    line("\n[cell]");
    key("capacity", toml(answers_->cell_capacity.text));
    const bool output_told = answers_->cell_output.has_value();
    key("output", output_told ? toml(answers_->cell_output->text) : toml("2 mV/V"), !output_told);
    if (answers_->cell_counts) key("counts", units::print_fixed(*answers_->cell_counts, 0));
  }

  void write_stand() {
    line("\n[stand]");
    const bool assumed = guessed(QuestionKey::adjust);
    switch (answers_->adjust) {
      case Adjust::none:
        key("adjust", toml("none"), assumed);
        return;
      case Adjust::shims: {
        key("adjust", toml("shims"), assumed);
        std::string list;
        for (const Told& shim : answers_->shims)
          list += (list.empty() ? "" : ", ") + toml(shim.text);
        key("shims", "[" + list + "]");
        return;
      }
      case Adjust::screws:
        break;
    }
    key("adjust", toml("screws"), assumed);
    key("screws", "4", true);
    key("screw_kind", toml("unknown"), true);
    key("thread", toml(answers_->thread.value_or("M20")), !answers_->thread);
    key("division", toml("1/8"), true);
    key("travel", R"(["-20 mm", "20 mm"])", true);
  }

  void write_signal() {
    if (answers_->digital) {
      line("\n[[box]]");
      key("trims", toml("digital"));
      return;
    }
    line("\n[indicator]");
    const bool told = answers_->excitation.has_value();
    key("excitation", told ? toml(answers_->excitation->text) : toml("10 V"), !told);
  }

  const Answers* answers_;
  Draft draft_;
};

}  // namespace

Draft draft_deck(const Answers& answers) {
  return DraftWriter(answers).write();
}

}  // namespace weighwright::deck
