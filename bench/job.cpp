/// State and advice of a whole job, from its entries: how long, and how it grows.
///
/// The job is a plausible one with as many entries as asked: a new deck whose dead load was
/// balanced in three lowerings, fixed, its corners trimmed in two rounds; the rest are readings
/// taken again and again, looks at zero, loads at the same places, notes and ticks, as live
/// readings leave them. Invented for the measurement.

#include <benchmark/benchmark.h>

#include <fstream>
#include <sstream>
#include <string>
#include <vector>

#include "job/site_advice.h"
#include "job/site_state.h"
#include "job/steps.h"

namespace {

using namespace weighwright;

std::string deck_text() {
  std::ifstream file(WEIGHWRIGHT_SOURCE_DIR "/examples/three-modules.toml");
  std::stringstream text;
  text << file.rdbuf();
  return text.str();
}

class Writer {
 public:
  void write(record::Draft what) {
    record::Entry entry;
    entry.stamp.device = "00000000000000aa";
    entry.stamp.sequence = entry.stamp.lamport = static_cast<std::int64_t>(kept.size()) + 1;
    entry.stamp.author = "A. Tester";
    entry.what = std::move(what);
    std::string number = std::to_string(kept.size() + 1);
    entry.hash = std::string(64 - number.size(), '0') + number;
    kept.push_back({.entry = std::move(entry), .intact = true, .problem = {}});
  }
  void tick(const std::string& name) {
    write({.kind = "tick", .fields = {{"name", name}, {"on", "yes"}}, .corrects = {}});
  }
  void table(const std::string& text) {
    write(
        {.kind = "measurement", .fields = {{"file", "table.csv"}, {"text", text}}, .corrects = {}});
  }
  std::vector<job::Kept> kept;
};

std::string cells(const std::vector<double>& mV) {
  constexpr const char* kStands[] = {"1L", "1R", "2L", "2R", "3L", "3R", "4L", "4R"};
  std::string text = "stand,mV,no_load\n";
  char line[64];
  for (std::size_t i = 0; i < mV.size(); ++i) {
    std::snprintf(line, sizeof line, "%s,%.2f,0.01\n", kStands[i], mV[i]);
    text += line;
  }
  return text;
}

std::string corners(int place) {
  constexpr const char* kStands[] = {"1L", "1R", "2L", "2R", "3L", "3R", "4L", "4R"};
  const std::string at = kStands[place % 8];
  return "at,load_kg,indication_kg,zero_before,zero_after\n" + at + ",10000," +
         (place % 3 == 0 ? "10000" : "9980") + ",0,0\n";
}

const std::vector<double> kShared = {1.10, 1.10, 2.04, 2.04, 2.04, 2.04, 1.10, 1.10};

/// One entry of the kinds that make a journal long.
void again(Writer& writer, int i) {
  switch (i % 5) {
    case 0:
    case 1:
      writer.table(cells(kShared));
      break;
    case 2:
      writer.table(corners(i / 5));
      break;
    case 3:
      writer.table("zero_kg,time,temp_degC,rain\n0,2026-11-25T08:00,12,no\n");
      break;
    default:
      writer.write({.kind = "note", .fields = {{"text", "gusts from the west"}}, .corrects = {}});
  }
}

std::vector<job::Kept> journal_of(int entries) {
  Writer writer;
  writer.write({.kind = "visit", .fields = {{"reason", "install"}}, .corrects = {}});
  writer.write(
      {.kind = "deck", .fields = {{"file", "deck.toml"}, {"text", deck_text()}}, .corrects = {}});
  for (const char* const name : {"locked_out", "received", "set_down", "wired"}) writer.tick(name);
  writer.table("loaded,moved\n1L,1L\n1R,1R\n2L,2L\n2R,2R\n3L,3L\n3R,3R\n4L,4L\n4R,4R\n");
  writer.table(cells({1.64, 0.54, 1.25, 2.95, 2.46, 1.62, 1.01, 1.25}));
  writer.table("stand,turns\n2L,2.5\n");
  writer.table(cells({1.30, 0.88, 1.84, 2.34, 2.21, 1.87, 1.02, 1.20}));
  writer.table("stand,turns\n3R,1\n");
  writer.table(cells(kShared));
  writer.tick("grouted");
  writer.write({.kind = "release",
                .fields = {{"by", "A. Tester"},
                           {"foundation", "grouted"},
                           {"grounds", "engineer"},
                           {"remark", "looked at"}},
                .corrects = {}});
  for (const char* const name : {"anchors_tight", "stops_fitted", "exercised"}) writer.tick(name);
  writer.table(cells(kShared));
  writer.tick("restraints_set");
  writer.table(cells(kShared));
  for (int place = 0; place < 8; ++place) writer.table(corners(place));
  for (int i = 0; static_cast<int>(writer.kept.size()) < entries; ++i) again(writer, i);
  return writer.kept;
}

void BM_state(benchmark::State& state) {
  const std::vector<job::Kept> kept = journal_of(static_cast<int>(state.range(0)));
  for (auto _ : state) {
    state.PauseTiming();
    std::vector<job::Kept> copy = kept;
    state.ResumeTiming();
    benchmark::DoNotOptimize(job::site_state_of(std::move(copy)));
  }
}
BENCHMARK(BM_state)->Arg(50)->Arg(100)->Arg(1000)->Arg(10000)->Unit(benchmark::kMillisecond);

void BM_state_and_advice(benchmark::State& state) {
  const std::vector<job::Kept> kept = journal_of(static_cast<int>(state.range(0)));
  for (auto _ : state) {
    state.PauseTiming();
    std::vector<job::Kept> copy = kept;
    state.ResumeTiming();
    const job::SiteState site = job::site_state_of(std::move(copy));
    const job::SiteAdvice advice = job::advise_site(site);
    benchmark::DoNotOptimize(job::progress_of(site, advice));
  }
}
BENCHMARK(BM_state_and_advice)
    ->Arg(50)
    ->Arg(100)
    ->Arg(1000)
    ->Arg(10000)
    ->Unit(benchmark::kMillisecond);

}  // namespace
