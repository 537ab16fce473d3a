/// How long an answer takes, by number of modules (Google Benchmark).

#include <benchmark/benchmark.h>

#include "rehearsal/site.h"
#include "share/advise.h"
#include "statics/contact.h"
#include "statics/surface.h"
#include "trial_deck.h"

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
    benchmark::DoNotOptimize(
        share::advise(deck, *built.model, histories[next++ % histories.size()], {}));
  }
}
BENCHMARK(share_advice)
    ->ArgsProduct({{1, 2, 3, 4, 5, 8, 12}, {1, 2}})
    ->Unit(benchmark::kMillisecond);

}  // namespace
