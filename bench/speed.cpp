/// How long an answer takes, by number of modules (Google Benchmark).

#include <benchmark/benchmark.h>

#include "rehearsal/corners.h"
#include "rehearsal/site.h"
#include "share/advise.h"
#include "signal/circuit.h"
#include "statics/contact.h"
#include "statics/surface.h"
#include "trial_deck.h"
#include "trim/advise.h"

namespace {

using namespace weighwright;

constexpr double kCells_Nm2 = 94e6;

void build_and_predict(benchmark::State& state) {
  const deck::Deck deck = bench::chain(static_cast<int>(state.range(0)), kCells_Nm2);
  for (auto _ : state) {
    const statics::BuiltModel built = statics::build_model(deck);
    const statics::Scales scales = statics::nominal(*built.model);
    const statics::ContactState contact = statics::solve_contact(
        *built.model, built.model->dead, Eigen::VectorXd::Zero(deck.stand_count()), scales);
    benchmark::DoNotOptimize(statics::influence(*built.model, contact, scales));
  }
}
BENCHMARK(build_and_predict)->DenseRange(1, 12)->Unit(benchmark::kMillisecond);

void surface(benchmark::State& state) {
  const deck::Deck deck = bench::chain(static_cast<int>(state.range(0)), kCells_Nm2);
  const statics::BuiltModel built = statics::build_model(deck);
  const statics::Scales scales = statics::nominal(*built.model);
  const statics::ContactState contact = statics::solve_contact(
      *built.model, built.model->dead, Eigen::VectorXd::Zero(deck.stand_count()), scales);
  std::vector<statics::PointLoad> points;
  for (double x = 0.25; x < deck.length_m(); x += 0.5) {
    for (const double y : {-1.0, -0.5, 0.0, 0.5, 1.0}) points.push_back({x, y, 1.0});
  }
  for (auto _ : state) {
    benchmark::DoNotOptimize(statics::influence_surface(*built.model, contact, scales, points));
  }
}
BENCHMARK(surface)->DenseRange(1, 12)->Unit(benchmark::kMillisecond);

/// From readings entered to advice: second lowering of a site, gaps measured.
void share_advice(benchmark::State& state) {
  const deck::Deck deck = bench::chain(static_cast<int>(state.range(0)), kCells_Nm2);
  const statics::BuiltModel built = statics::build_model(deck);
  std::vector<std::vector<record::Measurement>> histories;
  for (std::uint64_t seed = 1; seed <= 8; ++seed) {
    rehearsal::Site site(deck, {}, seed);
    std::vector<record::Measurement> events;
    events.emplace_back(site.read(true));
    if (const record::GapSet gaps = site.gaps(); !gaps.gaps.empty()) events.emplace_back(gaps);
    if (state.range(1) == 2) {
      record::TurnSet turns;
      for (int i = 0; i < deck.stand_count(); i += 3) {
        record::StandTurn turn;
        turn.stand = units::StandIndex{i};
        turn.turns = 0.5;
        turns.stands.push_back(turn);
      }
      site.turn(turns.stands);
      events.emplace_back(turns);
      events.emplace_back(site.read(true));
    }
    histories.push_back(events);
  }
  std::size_t next = 0;
  for (auto _ : state) {
    benchmark::DoNotOptimize(share::advise(deck, *built.model, histories[next++ % histories.size()],
                                           {.map_proven = true}));
  }
}
BENCHMARK(share_advice)
    ->ArgsProduct({{1, 2, 3, 4, 5, 8, 12}, {1, 2}})
    ->Unit(benchmark::kMillisecond);

/// 60 shift readings on seven modules with 16 cells: every stand, every middle and the places
/// between, 10 t, and some of them again. Limit for the solution alone: 5 ms.
struct ShiftJob {
  explicit ShiftJob(const std::string& trims) : deck(bench::chain(7, kCells_Nm2)) {
    for (deck::Stand& stand : deck.stands) {
      stand.cell.input_ohm = 775.0;
      stand.cell.output_ohm = 700.0;
    }
    deck.boxes = {{.stands = {}, .trims = trims}};
    model = *statics::build_model(deck).model;
    rehearsal::Corners site(deck, {}, 3);
    record::ShiftSet shift;
    std::vector<trim::Candidate> candidates = trim::candidates_of(deck, model, "");
    for (std::size_t i = 0; i < 60; ++i) {
      const record::LoadPlace& place = candidates[i % candidates.size()].place;
      shift.readings.push_back(site.weigh(place, 10000.0, rehearsal::Look::fine));
    }
    events.emplace_back(std::move(shift));
  }

  deck::Deck deck;
  statics::Model model;
  std::vector<record::Measurement> events;
};

const ShiftJob& shift_job(const std::string& trims) {
  static const ShiftJob digital("digital");
  static const ShiftJob signal("signal");
  return trims == "digital" ? digital : signal;
}

void trim_solution(benchmark::State& state, const std::string& trims) {
  const ShiftJob& job = shift_job(trims);
  const trim::PlacedShifts placed = trim::place_loads(job.deck, job.model, job.events);
  for (auto _ : state) benchmark::DoNotOptimize(trim::solve_trims(job.deck, *placed.shifts));
}
BENCHMARK_CAPTURE(trim_solution, digital, "digital")->Unit(benchmark::kMillisecond);
BENCHMARK_CAPTURE(trim_solution, signal, "signal")->Unit(benchmark::kMillisecond);

void trim_place_loads(benchmark::State& state) {
  const ShiftJob& job = shift_job("digital");
  for (auto _ : state) {
    benchmark::DoNotOptimize(trim::place_loads(job.deck, job.model, job.events));
  }
}
BENCHMARK(trim_place_loads)->Unit(benchmark::kMillisecond);

/// With the shares of the places and what further placements would bring.
void trim_advice(benchmark::State& state) {
  const ShiftJob& job = shift_job("digital");
  for (auto _ : state) benchmark::DoNotOptimize(trim::advise(job.deck, job.model, job.events));
}
BENCHMARK(trim_advice)->Unit(benchmark::kMillisecond);

void circuit_gains(benchmark::State& state) {
  const ShiftJob& job = shift_job("signal");
  const signal::Wiring wiring = signal::wire(job.deck, 20.0, nullptr);
  const Eigen::VectorXd force_N = Eigen::VectorXd::Constant(job.deck.stand_count(), 50e3);
  for (auto _ : state) benchmark::DoNotOptimize(signal::gains_per_N(wiring, force_N));
}
BENCHMARK(circuit_gains)->Unit(benchmark::kMicrosecond);

}  // namespace
