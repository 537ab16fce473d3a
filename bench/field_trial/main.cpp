/// Simulated sites: the tool against the half-turn habit, an experienced hand and perfect
/// knowledge.
///
///   field_trial [--trim] [--sites N] [--seed S] [--modules FROM TO] [--row TEXT]
///
/// With --trim: corners instead of load sharing (corner_trial.h).
///
/// Prints one row a world and number of modules. The first lowering, before anything is read, is
/// not counted; touched = stand-turns summed over lowerings; every move of the habit is a lowering.

#include <algorithm>
#include <atomic>
#include <cmath>
#include <cstdint>
#include <cstdio>
#include <cstdlib>
#include <cstring>
#include <mutex>
#include <string>
#include <thread>
#include <vector>

#include "field_trial/corner_trial.h"
#include "field_trial/players.h"
#include "statics/model.h"
#include "trial_deck.h"

namespace {

using namespace weighwright;

struct World {
  std::string name;
  double twisting_Nm2;
  bench::Knowledge knowledge;
  double resolution_V;
  double pads_m;
  bool no_load;
};

std::vector<World> worlds() {
  using bench::Knowledge;
  constexpr double kCells = 94e6;
  constexpr double kBox = 285e6;
  return {
      {"cells, mV only", kCells, Knowledge::signal, 0.01e-3, 4e-3, true},
      {"cells, mV + gaps", kCells, Knowledge::gaps, 0.01e-3, 4e-3, true},
      {"cells, mV + survey 1 mm", kCells, Knowledge::survey, 0.01e-3, 4e-3, true},
      {"box, mV only", kBox, Knowledge::signal, 0.01e-3, 4e-3, true},
      {"box, mV + gaps", kBox, Knowledge::gaps, 0.01e-3, 4e-3, true},
      {"box, mV + survey 1 mm", kBox, Knowledge::survey, 0.01e-3, 4e-3, true},
      {"cells, mV + gaps, 0.1 mV", kCells, Knowledge::gaps, 0.1e-3, 4e-3, true},
      {"cells, mV + gaps, no-load unknown", kCells, Knowledge::gaps, 0.01e-3, 4e-3, false},
      {"cells, mV only, pads 1 mm", kCells, Knowledge::signal, 0.01e-3, 1e-3, true},
      {"box, mV only, pads 1 mm", kBox, Knowledge::signal, 0.01e-3, 1e-3, true},
      {"cells, mV only, 0.1 mV, pads 1 mm", kCells, Knowledge::signal, 0.1e-3, 1e-3, true},
  };
}

struct SiteScores {
  bench::Score tool;
  bench::Score perfect;
  bench::Score habit;
  bench::Score hand;
};

struct Summary {
  int median = 0;
  int high = 0;  // 95th percentile
  double sum = 0.0;
};

Summary summary(std::vector<int> values) {
  std::sort(values.begin(), values.end());
  Summary result;
  const auto rank = [&](double share) {
    const auto i =
        static_cast<std::size_t>(std::ceil(share * static_cast<double>(values.size()))) - 1;
    return values[std::min(i, values.size() - 1)];
  };
  result.median = rank(0.5);
  result.high = rank(0.95);
  for (const int value : values) result.sum += value;
  return result;
}

template <typename Pick>
Summary summary_of(const std::vector<SiteScores>& sites, Pick pick) {
  std::vector<int> values;
  values.reserve(sites.size());
  for (const SiteScores& site : sites) values.push_back(pick(site));
  return summary(values);
}

template <typename Pick>
int failures(const std::vector<SiteScores>& sites, Pick pick) {
  return static_cast<int>(std::count_if(sites.begin(), sites.end(),
                                        [&](const SiteScores& s) { return !pick(s).done; }));
}

double share_within(const std::vector<SiteScores>& sites, int lowerings, bool perfect) {
  const auto count = std::count_if(sites.begin(), sites.end(), [&](const SiteScores& site) {
    const bench::Score& score = perfect ? site.perfect : site.tool;
    return score.done && score.lowerings <= lowerings;
  });
  return static_cast<double>(count) / static_cast<double>(sites.size());
}

void print_head() {
  std::printf("%-34s %2s | %-23s | %-11s | %-23s | %-11s | %-9s | %s\n", "", "",
              "touched median/95 %", "lowerings", "tool done within", "told/came", "fewer",
              "not done");
  std::printf("%-34s %2s | %5s %5s %5s %5s | %5s %5s | %5s %5s %5s %5s | %5s %5s | %4s %4s | %s\n",
              "world", "n", "tool", "perf.", "habit", "hand", "tool", "habit", "<=1", "<=2", "<=3",
              "p<=1", "told", "came", "hab.", "hand", "tool perf. habit hand");
}

std::string pair_text(const Summary& s) {
  return std::to_string(s.median) + "/" + std::to_string(s.high);
}

void print_row(const World& world, int modules, const std::vector<SiteScores>& sites) {
  const Summary tool = summary_of(sites, [](const SiteScores& s) { return s.tool.touched; });
  const Summary perfect = summary_of(sites, [](const SiteScores& s) { return s.perfect.touched; });
  const Summary habit = summary_of(sites, [](const SiteScores& s) { return s.habit.touched; });
  const Summary hand = summary_of(sites, [](const SiteScores& s) { return s.hand.touched; });
  const Summary tool_low = summary_of(sites, [](const SiteScores& s) { return s.tool.lowerings; });
  const Summary habit_low =
      summary_of(sites, [](const SiteScores& s) { return s.habit.lowerings; });
  double told = 0.0;
  double came = 0.0;
  double count = 0.0;
  for (const SiteScores& site : sites) {
    for (std::size_t i = 0; i < site.tool.came.size(); ++i) {
      told += site.tool.told[i];
      came += site.tool.came[i] ? 1.0 : 0.0;
      count += 1.0;
    }
  }
  if (count == 0.0) count = 1.0;
  std::printf(
      "%-34s %2d | %5s %5s %5s %5s | %5s %5s | %5.3f %5.3f %5.3f %5.3f | %5.3f %5.3f | %4.1f %4.1f "
      "| "
      "%d %d %d %d\n",
      world.name.c_str(), modules, pair_text(tool).c_str(), pair_text(perfect).c_str(),
      pair_text(habit).c_str(), pair_text(hand).c_str(), pair_text(tool_low).c_str(),
      pair_text(habit_low).c_str(), share_within(sites, 1, false), share_within(sites, 2, false),
      share_within(sites, 3, false), share_within(sites, 1, true), told / count, came / count,
      habit.sum / std::max(tool.sum, 1.0), hand.sum / std::max(tool.sum, 1.0),
      failures(sites, [](const SiteScores& s) { return s.tool; }),
      failures(sites, [](const SiteScores& s) { return s.perfect; }),
      failures(sites, [](const SiteScores& s) { return s.habit; }),
      failures(sites, [](const SiteScores& s) { return s.hand; }));
  std::fflush(stdout);
}

void print_progress(const World& world, int modules, int done, int all) {
  constexpr int kWidth = 30;
  const int filled = kWidth * done / all;
  std::fprintf(stderr, "\r%-34s %d modules [%.*s%.*s] %d/%d ", world.name.c_str(), modules, filled,
               "##############################", kWidth - filled, "..............................",
               done, all);
  if (done == all) std::fprintf(stderr, "\r%*s\r", 100, "");
}

std::vector<SiteScores> run(const World& world, int modules, int count, std::uint64_t seed) {
  deck::Deck deck = bench::chain(modules, world.twisting_Nm2);
  // How well the pads were set is known to the crew: by laser, or by line and level.
  deck.sharing.heights_m = world.pads_m;
  const statics::BuiltModel built = statics::build_model(deck);
  std::vector<SiteScores> sites(static_cast<std::size_t>(count));
  std::atomic<int> next{0};
  std::atomic<int> done{0};
  std::mutex terminal;
  const auto work = [&] {
    for (int i = next++; i < count; i = next++) {
      bench::Game game;
      game.deck = &deck;
      game.model = &*built.model;
      game.spread.height_m = world.pads_m;
      game.spread.resolution_V = world.resolution_V;
      game.spread.zero = 0.003;
      game.no_load = world.no_load;
      game.seed = seed + 7919ULL * static_cast<std::uint64_t>(i) +
                  104729ULL * static_cast<std::uint64_t>(modules);
      SiteScores& site = sites[static_cast<std::size_t>(i)];
      site.tool = bench::play_tool(game, world.knowledge);
      site.perfect = bench::play_perfect(game);
      site.habit = bench::play_habit(game);
      site.hand = bench::play_hand(game);
      const std::scoped_lock lock(terminal);
      print_progress(world, modules, ++done, count);
    }
  };
  std::vector<std::thread> workers;
  for (unsigned i = 0; i < std::max(1U, std::thread::hardware_concurrency()); ++i)
    workers.emplace_back(work);
  for (std::thread& worker : workers) worker.join();
  return sites;
}

}  // namespace

int main(int count, char** words) {
  int sites = 200;
  bool corners = false;
  std::uint64_t seed = 20260101;
  int from = 1;
  int to = 5;
  std::string only;
  for (int i = 1; i < count; ++i) {
    const std::string word = words[i];
    corners |= word == "--trim";
    if (word == "--sites" && i + 1 < count) sites = std::max(1, std::atoi(words[++i]));
    if (word == "--seed" && i + 1 < count) seed = std::strtoull(words[++i], nullptr, 10);
    if (word == "--row" && i + 1 < count) only = words[++i];
    if (word == "--modules" && i + 2 < count) {
      from = std::max(1, std::atoi(words[++i]));
      to = std::min(12, std::atoi(words[++i]));
    }
  }
  if (corners) {
    bench::run_corner_trial(
        {.sites = sites, .seed = seed, .from_modules = from, .to_modules = to, .only = only});
    return 0;
  }
  std::printf(
      "%d sites a row, seed %llu; pads 4 mm (1 sd) unless said, twist stiffness x/: 1.6, masses 3 "
      "%%,\n"
      "stands x/: 1.3, turn error 5 %%, eighths of M20, tolerance 1 mV, reading noise 0.01 mV\n\n",
      sites, static_cast<unsigned long long>(seed));
  print_head();
  for (const World& world : worlds()) {
    if (!only.empty() && world.name != only) continue;
    for (int modules = from; modules <= to; ++modules) {
      print_row(world, modules, run(world, modules, sites, seed));
    }
  }
  return 0;
}
