/// Whole jobs on practice sites with faults: how often anything was adjusted while the fault that
/// causes the reading was open (job_trial.h says what is counted).
///
///   job_fault_trial [--sites N] [--seed S] [--kind service|service_unknown|sharing|trimming]
///                   [--fault CODE] DECK...

#include <array>
#include <cstdio>
#include <cstdlib>
#include <fstream>
#include <iterator>
#include <string>
#include <vector>

#include "fault_trial/job_trial.h"
#include "rehearsal/fault.h"

namespace {

using namespace weighwright;

struct Wanted {
  int sites = 3;
  std::uint64_t seed = 1;
  std::string kind;
  std::string fault;
  std::vector<std::string> decks;
};

struct Score {
  int sites = 0;
  int points = 0;
  int advised = 0;
  int harmful = 0;
  int twin = 0;
  int named = 0;
  std::string harms;
};

constexpr std::array<std::pair<const char*, bench::JobKind>, 4> kKinds = {
    {{"service", bench::JobKind::service},
     {"service_unknown", bench::JobKind::service_unknown},
     {"sharing", bench::JobKind::sharing},
     {"trimming", bench::JobKind::trimming}}};

void run(const Wanted& wanted,
         const job::InputFile& deck,
         const std::string& code,
         bench::JobKind kind,
         Score& score) {
  for (int i = 0; i < wanted.sites; ++i) {
    const std::uint64_t seed = wanted.seed + static_cast<std::uint64_t>(i);
    const bench::JobTrial trial = bench::try_job(deck, code, kind, seed);
    if (!trial.struck) continue;
    ++score.sites;
    score.points += trial.points;
    score.advised += trial.advised;
    score.harmful += trial.harmful;
    score.twin += trial.twin_advised;
    score.named += trial.named_first ? 1 : 0;
    if (!trial.first_harm.empty()) {
      score.harms +=
          " [" + deck.name + " seed " + std::to_string(seed) + ": " + trial.first_harm + "]";
    }
  }
}

void print(const std::string& name, const Score& score) {
  if (score.sites == 0) return;
  std::printf("%-18s %5d  %6d  %6d %6d  %5d  %5.0f %s\n", name.c_str(), score.sites, score.points,
              score.advised, score.twin, score.harmful, 100.0 * score.named / score.sites,
              score.harms.substr(0, 300).c_str());
  std::fflush(stdout);
}

Wanted parse(int argc, char** argv) {
  Wanted wanted;
  for (int i = 1; i < argc; ++i) {
    const std::string word = argv[i];
    const bool more = i + 1 < argc;
    if (word == "--sites" && more) {
      wanted.sites = std::atoi(argv[++i]);
    } else if (word == "--seed" && more) {
      wanted.seed = std::strtoull(argv[++i], nullptr, 10);
    } else if (word == "--kind" && more) {
      wanted.kind = argv[++i];
    } else if (word == "--fault" && more) {
      wanted.fault = argv[++i];
    } else {
      wanted.decks.push_back(word);
    }
  }
  return wanted;
}

}  // namespace

int main(int argc, char** argv) {
  const Wanted wanted = parse(argc, argv);
  std::vector<job::InputFile> decks;
  for (const std::string& name : wanted.decks) {
    std::ifstream file(name);
    decks.push_back({.name = name.substr(name.find_last_of('/') + 1),
                     .text = {std::istreambuf_iterator<char>(file), {}}});
  }
  int trials = 0;
  int harmful = 0;
  for (const auto& [name, kind] : kKinds) {
    if (!wanted.kind.empty() && wanted.kind != name) continue;
    std::printf("\n%s\n%-18s %5s  %6s  %6s %6s  %5s  %5s\n", name, "fault", "sites", "points",
                "advised", "twin", "harm", "named");
    std::vector<std::string> codes = {""};
    for (const rehearsal::FaultRule& rule : rehearsal::fault_rules()) codes.emplace_back(rule.code);
    Score all;
    for (const std::string& code : codes) {
      if (!wanted.fault.empty() && code != wanted.fault) continue;
      Score score;
      for (const job::InputFile& deck : decks) run(wanted, deck, code, kind, score);
      print(code.empty() ? "(nothing)" : code, score);
      if (code.empty()) continue;
      all.sites += score.sites;
      all.points += score.points;
      all.advised += score.advised;
      all.twin += score.twin;
      all.harmful += score.harmful;
      all.named += score.named;
    }
    print("all", all);
    trials += all.points;
    harmful += all.harmful;
  }
  std::printf("\n%d looks at the next action, %d harmful\n", trials, harmful);
  return 0;
}
