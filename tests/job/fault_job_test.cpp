/// Whole jobs on practice sites, each with a fault of the catalogue: nothing is adjusted while the
/// fault that causes the reading is open, and most faults are named. The site's truth is physics of
/// its own (rehearsal), nothing of the diagnosis. bench/fault_trial runs thousands.
///
/// Prints a row a fault; what is counted: bench/fault_trial/job_trial.h.

#include <gtest/gtest.h>

#include <cstdio>
#include <fstream>
#include <iterator>

#include "fault_trial/job_trial.h"
#include "rehearsal/fault.h"

namespace weighwright::job {
namespace {

constexpr std::uint64_t kSeeds = 2;

InputFile deck(const char* name) {
  std::ifstream file(std::string(WEIGHWRIGHT_SOURCE_DIR "/examples/") + name);
  return {.name = name, .text = {std::istreambuf_iterator<char>(file), {}}};
}

struct Count {
  int sites = 0;
  int named = 0;
  int harmful = 0;
};

Count try_catalogue(bench::JobKind kind, const InputFile& file) {
  Count all;
  for (const rehearsal::FaultRule& rule : rehearsal::fault_rules()) {
    Count one;
    std::string harms;
    for (std::uint64_t seed = 1; seed <= kSeeds; ++seed) {
      const bench::JobTrial trial = bench::try_job(file, std::string(rule.code), kind, seed);
      if (!trial.struck) continue;
      ++one.sites;
      one.named += trial.named_first ? 1 : 0;
      one.harmful += trial.harmful;
      harms += trial.first_harm;
    }
    if (one.sites == 0) continue;
    std::printf("%-18s %d sites, named %d, harmful %d %s\n", std::string(rule.code).c_str(),
                one.sites, one.named, one.harmful, harms.c_str());
    all.sites += one.sites;
    all.named += one.named;
    all.harmful += one.harmful;
  }
  return all;
}

TEST(JobOnAFaultySite, AdjustsNothingOnAServiceCallAndNamesMostFaults) {
  const Count all = try_catalogue(bench::JobKind::service, deck("three-modules.toml"));
  EXPECT_EQ(all.harmful, 0);
  EXPECT_GE(all.sites, 40);
  EXPECT_GE(all.named * 10, all.sites * 7) << all.named << " of " << all.sites;
}

TEST(JobOnAFaultySite, AdjustsNothingWhereNobodyKnowsHowItWas) {
  EXPECT_EQ(try_catalogue(bench::JobKind::service_unknown, deck("three-modules.toml")).harmful, 0);
}

TEST(JobOnAFaultySite, TurnsNoScrewOfANewDeckThatAFaultAsksFor) {
  EXPECT_EQ(try_catalogue(bench::JobKind::sharing, deck("three-modules.toml")).harmful, 0);
}

TEST(JobOnAFaultySite, SetsNoTrimOfANewDeckThatAFaultAsksFor) {
  EXPECT_EQ(try_catalogue(bench::JobKind::trimming, deck("one-module.toml")).harmful, 0);
}

/// It would be easy to do no harm by never advising anything.
TEST(JobOnAFaultySite, AdvisesOnSoundSitesThatNeedIt) {
  int advised = 0;
  for (std::uint64_t seed = 1; seed <= 6; ++seed) {
    const bench::JobTrial trial =
        bench::try_job(deck("three-modules.toml"), "", bench::JobKind::sharing, seed);
    advised += trial.advised > 0 ? 1 : 0;
  }
  EXPECT_GE(advised, 3) << "stand tops 4 mm off: most such decks need a turn";
}

}  // namespace
}  // namespace weighwright::job
