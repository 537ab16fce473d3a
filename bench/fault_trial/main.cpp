/// Every fault of the catalogue on simulated sites, a row each (trial.h says what is counted).
///
///   fault_trial [--sites N] [--seed S] [--stage service|sharing|trimming] [--fault CODE] [--tell]
///               DECK...
///
/// --sites: seeds a fault and deck; --tell: what the tool said, site by site.

#include <algorithm>
#include <cstdio>
#include <cstdlib>
#include <fstream>
#include <iterator>
#include <string>
#include <vector>

#include "deck/reading/deck_file.h"
#include "fault_trial/trial.h"
#include "rehearsal/fault.h"
#include "statics/model.h"

namespace {

using namespace weighwright;

struct Ground {
  deck::Deck deck;
  statics::Model model;
};

struct Score {
  int sites = 0;
  int first = 0;
  int three = 0;
  int after = 0;
  int right = 0;
  int hold = 0;
  int hold_after = 0;
  int changes = 0;
  int harmful = 0;
  int harmful_after = 0;
  int unexplained = 0;
  double alike = 0.0;
  double milliseconds = 0.0;
  double longest_ms = 0.0;
};

void count(const bench::FaultTrial& trial, Score& score) {
  score.sites += 1;
  score.first += trial.first ? 1 : 0;
  score.three += trial.among_three ? 1 : 0;
  score.after += trial.first_after ? 1 : 0;
  score.right += trial.asked_right ? 1 : 0;
  score.hold += trial.hold ? 1 : 0;
  score.hold_after += trial.hold_after ? 1 : 0;
  score.changes += trial.changes ? 1 : 0;
  score.harmful += trial.harmful ? 1 : 0;
  score.harmful_after += trial.harmful_after ? 1 : 0;
  score.unexplained += trial.visit.explained ? 0 : 1;
  score.alike += trial.alike;
  score.milliseconds += trial.milliseconds;
  score.longest_ms = std::max(score.longest_ms, trial.milliseconds);
}

void print_row(const std::string& name, const Score& s) {
  if (s.sites == 0) return;
  const double n = s.sites;
  std::printf(
      "%-18s %5d  %5.0f %5.0f %5.0f  %5.0f  %5.0f %5.0f  %5d %4d %4d  %4.1f  %3d  %5.1f %5.1f\n",
      name.c_str(), s.sites, 100.0 * s.first / n, 100.0 * s.three / n, 100.0 * s.after / n,
      100.0 * s.right / n, 100.0 * s.hold / n, 100.0 * s.hold_after / n, s.changes, s.harmful,
      s.harmful_after, s.alike / n, s.unexplained, s.milliseconds / n, s.longest_ms);
  std::fflush(stdout);
}

void tell_side(const char* when, const diagnose::Diagnosis& diagnosis) {
  std::printf("  %s hold %d (%s %s) p %.3f explained %d:", when, diagnosis.hold ? 1 : 0,
              diagnosis.hold_code.c_str(), diagnosis.hold_where.c_str(),
              diagnosis.probability_of_fault, diagnosis.explained ? 1 : 0);
  for (std::size_t i = 0; i < diagnosis.causes.size() && i < 4; ++i) {
    const diagnose::Cause& cause = diagnosis.causes[i];
    std::printf("  %s %s %.3f [%d]", cause.code.c_str(), cause.where.c_str(), cause.probability,
                cause.alike);
    if (cause.size) std::printf(" %.4g %s", *cause.size, cause.unit.c_str());
  }
  std::printf("\n");
  for (const diagnose::Next& next : diagnosis.next) {
    std::printf("      next %s %s: %s %s %.3g / %s %s %.3g  gain %.2f\n", next.code.c_str(),
                next.where.c_str(), next.first.c_str(), next.first_where.c_str(), next.if_first,
                next.second.c_str(), next.second_where.c_str(), next.if_second, next.gain);
  }
}

void tell(const bench::FaultTrial& trial) {
  std::string where;
  for (const std::string& place : trial.fault.places) where += place + " ";
  std::printf("* %s %s %.3g  first %d after %d changes %d harmful %d/%d\n",
              trial.fault.code.c_str(), where.c_str(), trial.fault.size.value_or(0.0),
              trial.first ? 1 : 0, trial.first_after ? 1 : 0, trial.changes ? 1 : 0,
              trial.harmful ? 1 : 0, trial.harmful_after ? 1 : 0);
  for (const std::string& note : trial.visit.notes) std::printf("  note %s\n", note.c_str());
  tell_side("visit", trial.visit);
  for (std::size_t i = 0; i < trial.visit.causes.size() && i < 2; ++i) {
    for (const diagnose::Spoke& spoke : trial.visit.causes[i].evidence) {
      std::printf("      [%zu] %s: %.1f, cause %.1f, sound %.1f, speaks %.1f\n", i,
                  spoke.what.c_str(), spoke.measured, spoke.expected, spoke.if_sound, spoke.speaks);
    }
  }
  tell_side("after", trial.after);
}

std::string text_of(const std::string& path) {
  std::ifstream file(path, std::ios::binary);
  return {std::istreambuf_iterator<char>(file), {}};
}

}  // namespace

int main(int argc, char** argv) {
  int sites = 10;
  std::uint64_t seed = 1;
  std::string only_stage;
  std::string only_fault;
  bool told = false;
  std::vector<Ground> grounds;
  for (int i = 1; i < argc; ++i) {
    const std::string argument = argv[i];
    const bool more = i + 1 < argc;
    if (argument == "--sites" && more) {
      sites = std::atoi(argv[++i]);
    } else if (argument == "--seed" && more) {
      seed = std::strtoull(argv[++i], nullptr, 10);
    } else if (argument == "--stage" && more) {
      only_stage = argv[++i];
    } else if (argument == "--fault" && more) {
      only_fault = argv[++i];
    } else if (argument == "--tell") {
      told = true;
    } else {
      deck::ParsedDeck parsed = deck::parse_deck(text_of(argument), argument);
      statics::BuiltModel built;
      if (parsed.deck) built = statics::build_model(*parsed.deck);
      if (!built.model) {
        std::fprintf(stderr, "%s: no deck that stands\n", argument.c_str());
        return 2;
      }
      grounds.push_back({std::move(*parsed.deck), std::move(*built.model)});
    }
  }
  std::vector<std::string> codes = {""};
  for (const rehearsal::FaultRule& rule : rehearsal::fault_rules()) {
    codes.emplace_back(rule.code);
  }
  const std::pair<const char*, bench::Stage> stages[] = {{"service", bench::Stage::service},
                                                         {"sharing", bench::Stage::sharing},
                                                         {"trimming", bench::Stage::trimming}};
  for (const auto& [name, stage] : stages) {
    if (!only_stage.empty() && only_stage != name) continue;
    std::printf("%s\n%-18s %5s  %5s %5s %5s  %5s  %5s %5s  %5s %4s %4s  %4s  %3s  %5s %5s\n", name,
                "fault", "sites", "first", "in 3", "after", "right", "hold", "after", "chngs",
                "harm", "aftr", "alik", "une", "ms", "most");
    Score all;
    for (const std::string& code : codes) {
      if (!only_fault.empty() && only_fault != code && !(only_fault == "none" && code.empty())) {
        continue;
      }
      Score score;
      for (const Ground& ground : grounds) {
        for (int site = 0; site < sites; ++site) {
          const bench::FaultTrial trial = bench::try_fault(ground.deck, ground.model, code, stage,
                                                           seed + static_cast<std::uint64_t>(site));
          if (told) tell(trial);
          if (!trial.struck) continue;
          count(trial, score);
          if (!code.empty()) count(trial, all);
        }
      }
      print_row(code.empty() ? "(nothing wrong)" : code, score);
    }
    print_row("all faults", all);
  }
  return 0;
}
