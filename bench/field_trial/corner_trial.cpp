#include "field_trial/corner_trial.h"

#include <algorithm>
#include <atomic>
#include <cmath>
#include <cstdio>
#include <map>
#include <string>
#include <thread>
#include <vector>

#include "field_trial/corner_players.h"
#include "statics/model.h"
#include "trial_deck.h"

namespace weighwright::bench {
namespace {

using rehearsal::Look;

constexpr double kTwisting_Nm2 = 94e6;

struct CornerRow {
  std::string name;
  std::string trims;
  Look look = Look::display;
  double load_kg = 10000.0;
  bool scale_stated = false;  // the file says ohm and turns
  bool way_stated = false;    // and which way clockwise goes; else it is learned
  bool exact_trims = false;   // all alike, set without error and to a hundredth of a turn
  double beside_m = 0.0;      // loads this far off the centre line; 0: over the stands
};

std::vector<CornerRow> corner_rows() {
  return {
      {.name = "digital, d", .trims = "digital"},
      {.name = "digital, 0.1 d", .trims = "digital", .look = Look::fine},
      {.name = "digital, changeover", .trims = "digital", .look = Look::changeover},
      {.name = "digital, d, 20 t", .trims = "digital", .load_kg = 20000.0},
      {.name = "digital, d, 0.8 m beside", .trims = "digital", .beside_m = 0.8},
      {.name = "signal, d", .trims = "signal"},
      {.name = "signal, 0.1 d", .trims = "signal", .look = Look::fine},
      {.name = "signal, changeover", .trims = "signal", .look = Look::changeover},
      {.name = "signal, d, 20 t", .trims = "signal", .load_kg = 20000.0},
      {.name = "signal, turn stated, d",
       .trims = "signal",
       .scale_stated = true,
       .way_stated = true},
      {.name = "signal, turn stated, 0.1 d",
       .trims = "signal",
       .look = Look::fine,
       .scale_stated = true,
       .way_stated = true},
      {.name = "signal, turn stated, exact trims, d",
       .trims = "signal",
       .scale_stated = true,
       .way_stated = true,
       .exact_trims = true},
      {.name = "signal, turn stated, exact, 0.1 d",
       .trims = "signal",
       .look = Look::fine,
       .scale_stated = true,
       .way_stated = true,
       .exact_trims = true},
      {.name = "excitation, ohm and turns stated, d", .trims = "excitation", .scale_stated = true},
  };
}

struct CornerSite {
  ToolScore tool;
  CornerScore corner;
  CornerScore pairs;
  CornerScore knowing;
  bool ideal = false;
};

deck::Deck deck_of(const CornerRow& row, int modules) {
  deck::Deck deck = chain(modules, kTwisting_Nm2);
  for (deck::Stand& stand : deck.stands) {
    stand.cell.input_ohm = 775.0;
    stand.cell.output_ohm = 700.0;
  }
  deck.boxes = {{.stands = {}, .trims = row.trims}};
  if (row.scale_stated) {
    deck.trimming.range_ohm = 20.0;
    deck.trimming.turns = 20.0;
  }
  if (row.exact_trims) deck.trimming.step_turns = 0.01;
  if (row.way_stated) deck.trimming.clockwise_raises = true;
  return deck;
}

std::vector<record::LoadPlace> places_of(const CornerRow& row, const deck::Deck& deck) {
  std::vector<record::LoadPlace> places;
  for (int i = 0; i < deck.stand_count(); ++i) {
    record::LoadPlace place;
    place.stand = units::StandIndex{i};
    place.kind = record::LoadPlace::Kind::stand;
    place.typed = units::print(place.stand);
    if (row.beside_m > 0.0) {
      place.kind = record::LoadPlace::Kind::point;
      place.typed.clear();
      place.x_m = deck.sections[static_cast<std::size_t>(i / 2)].at_m;
      place.y_m = i % 2 == 0 ? row.beside_m : -row.beside_m;
    }
    places.push_back(place);
  }
  return places;
}

std::vector<CornerSite> play(const CornerRow& row, int modules, const CornerTrial& trial) {
  const deck::Deck deck = deck_of(row, modules);
  const statics::BuiltModel built = statics::build_model(deck);
  CornerGame common;
  common.deck = &deck;
  common.model = &*built.model;
  common.places = places_of(row, deck);
  common.load_kg = row.load_kg;
  common.look = row.look;
  if (row.exact_trims) common.spread.trim_spread = common.spread.turn_error = 0.0;
  std::vector<CornerSite> sites(static_cast<std::size_t>(trial.sites));
  std::atomic<int> next{0};
  const auto work = [&] {
    for (int i = next++; i < trial.sites; i = next++) {
      CornerGame game = common;
      game.seed = trial.seed + 7919ULL * static_cast<std::uint64_t>(i) +
                  104729ULL * static_cast<std::uint64_t>(modules);
      CornerSite& site = sites[static_cast<std::size_t>(i)];
      site.tool = play_corner_tool(game);
      site.corner = play_one_corner_at_a_time(game);
      site.pairs = play_pairs_then_sections(game);
      site.knowing = play_corner_knowing(game);
      site.ideal = ideal_least_squares_within(game);
    }
  };
  std::vector<std::thread> workers;
  for (unsigned i = 0; i < std::max(1U, std::thread::hardware_concurrency()); ++i)
    workers.emplace_back(work);
  for (std::thread& worker : workers) worker.join();
  return sites;
}

/// "16/32"; a site that was never reached counts as more than any other: "-".
template <typename Pick, typename Number>
std::string median_text(const std::vector<CornerSite>& sites,
                        Pick pick,
                        Number number,
                        bool until_reached = true) {
  constexpr int kNever = 1 << 20;
  std::vector<int> values;
  values.reserve(sites.size());
  for (const CornerSite& site : sites) {
    const bool counts = !until_reached || pick(site).reached;
    values.push_back(counts ? number(pick(site)) : kNever);
  }
  std::sort(values.begin(), values.end());
  const auto ranked = [&](double share) {
    const auto i = static_cast<std::size_t>(
        std::max(0.0, std::ceil(share * static_cast<double>(values.size())) - 1.0));
    return values[i] == kNever ? std::string("-") : std::to_string(values[i]);
  };
  return ranked(0.5) + "/" + ranked(0.95);
}

template <typename Test>
double part(const std::vector<CornerSite>& sites, Test test) {
  return static_cast<double>(std::count_if(sites.begin(), sites.end(), test)) /
         static_cast<double>(sites.size());
}

/// What was told against what came.
class Calibration {
 public:
  void add(double told, bool came) {
    told_ += told;
    came_ += came ? 1.0 : 0.0;
    count_ += 1.0;
  }
  [[nodiscard]] double told() const { return told_ / std::max(count_, 1.0); }
  [[nodiscard]] double came() const { return came_ / std::max(count_, 1.0); }

 private:
  double told_ = 0.0;
  double came_ = 0.0;
  double count_ = 0.0;
};

void print_head() {
  std::printf(
      "moves, rounds: median/95 %% until the true spread first was within e; -: half, or more than "
      "5 "
      "%%, never came there\n"
      "players: tool, one corner at a time, pairs then sections, perfect knowledge\n"
      "ratio: tool to ideal after one round, of all sites and of those whose trims it set; left: "
      "already agreed as read\n"
      "told, came: chance of being within e, of all settings and of the first ones\n"
      "content: the player stopped since all agreed as read, and truly did; stop: weight moves "
      "until "
      "then\n\n");
  std::printf("%-36s %2s | %-27s | %-16s | %-29s | %-17s | %-23s | %-29s | %-23s | %s\n", "", "",
              "weight moves", "rounds", "within e after one round", "ratio", "told came",
              "content truly", "stop", "held back");
  std::printf(
      "%-36s %2s | %6s %6s %6s %6s | %4s %5s %5s | %5s %5s %5s %5s %5s | %5s %5s %5s | %5s %5s %5s "
      "%5s | %-9s %-9s %-9s | %7s %7s %7s |\n",
      "row", "n", "tool", "corner", "pairs", "perf.", "tool", "corn.", "pairs", "tool", "ideal",
      "perf.", "corn.", "pairs", "all", "set", "left", "told", "came", "first", "came", "tool",
      "corner", "pairs", "tool", "corner", "pairs");
}

void print_row(const CornerRow& row, int modules, const std::vector<CornerSite>& sites) {
  const auto tool = [](const CornerSite& s) -> const CornerScore& { return s.tool; };
  const auto corner = [](const CornerSite& s) -> const CornerScore& { return s.corner; };
  const auto pairs = [](const CornerSite& s) -> const CornerScore& { return s.pairs; };
  const auto knowing = [](const CornerSite& s) -> const CornerScore& { return s.knowing; };
  const auto moves = [](const CornerScore& s) { return s.moves; };
  const auto rounds = [](const CornerScore& s) { return s.rounds_reached; };
  const double ours = part(sites, [](const CornerSite& s) { return s.tool.after_one; });
  const double ideal = part(sites, [](const CornerSite& s) { return s.ideal; });
  const double ours_set =
      part(sites, [](const CornerSite& s) { return s.tool.adjusts && s.tool.after_one; });
  const double ideal_set =
      part(sites, [](const CornerSite& s) { return s.tool.adjusts && s.ideal; });
  const double left =
      part(sites, [](const CornerSite& s) { return !s.tool.adjusts && s.tool.held_back.empty(); });
  Calibration all;
  Calibration first;
  std::map<std::string, int> held;
  for (const CornerSite& site : sites) {
    for (std::size_t i = 0; i < site.tool.told.size(); ++i) {
      all.add(site.tool.told[i], site.tool.came[i]);
      if (i == 0) first.add(site.tool.told[i], site.tool.came[i]);
    }
    for (const std::string& cause : site.tool.held_back) ++held[cause];
  }
  const auto content = [&](auto pick) {
    char text[32];
    std::snprintf(text, sizeof text, "%.2f %.2f",
                  part(sites, [&](const CornerSite& s) { return pick(s).content; }),
                  part(sites, [&](const CornerSite& s) { return pick(s).content_true; }));
    return std::string(text);
  };
  const auto stop = [](const CornerScore& s) { return s.stopped_moves; };
  std::printf(
      "%-36s %2d | %6s %6s %6s %6s | %4s %5s %5s | %5.3f %5.3f %5.3f %5.3f %5.3f | %5.3f %5.3f "
      "%5.3f "
      "| %5.3f %5.3f %5.3f %5.3f | %s %s %s | %7s %7s %7s |",
      row.name.c_str(), modules, median_text(sites, tool, moves).c_str(),
      median_text(sites, corner, moves).c_str(), median_text(sites, pairs, moves).c_str(),
      median_text(sites, knowing, moves).c_str(), median_text(sites, tool, rounds).c_str(),
      median_text(sites, corner, rounds).c_str(), median_text(sites, pairs, rounds).c_str(), ours,
      ideal, part(sites, [](const CornerSite& s) { return s.knowing.after_one; }),
      part(sites, [](const CornerSite& s) { return s.corner.after_one; }),
      part(sites, [](const CornerSite& s) { return s.pairs.after_one; }),
      ideal > 0.0 ? ours / ideal : 1.0, ideal_set > 0.0 ? ours_set / ideal_set : 1.0, left,
      all.told(), all.came(), first.told(), first.came(), content(tool).c_str(),
      content(corner).c_str(), content(pairs).c_str(),
      median_text(sites, tool, stop, false).c_str(),
      median_text(sites, corner, stop, false).c_str(),
      median_text(sites, pairs, stop, false).c_str());
  for (const auto& [cause, times] : held) std::printf(" %s %d;", cause.c_str(), times);
  std::printf("\n");
  std::fflush(stdout);
}

}  // namespace

void run_corner_trial(const CornerTrial& trial) {
  std::printf(
      "%d sites a row, seed %llu; gains 0.3 %% (1 sd), d = e = 20 kg, 10 t unless said, "
      "repeatability 0.3 d,\nloads 3 cm off their place (1 sd each way), trims 3 %% unlike, turns "
      "made to 0.02\n",
      trial.sites, static_cast<unsigned long long>(trial.seed));
  print_head();
  for (const CornerRow& row : corner_rows()) {
    if (!trial.only.empty() && row.name != trial.only) continue;
    for (int modules = trial.from_modules; modules <= trial.to_modules; ++modules) {
      print_row(row, modules, play(row, modules, trial));
    }
  }
}

}  // namespace weighwright::bench
