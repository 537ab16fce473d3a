// Instruments that show what can not be, or never stand still: what is said of each. The table
// stands in docs/theory/live.md, and is compared with what is said here.
#include <fmt/format.h>
#include <gtest/gtest.h>

#include <bit>
#include <cmath>
#include <fstream>
#include <functional>
#include <random>
#include <set>
#include <sstream>
#include <string>
#include <vector>

#include "link/place_record.h"
#include "link/register_value.h"

namespace weighwright::link {
namespace {

constexpr double kEvery_s = 0.5;
constexpr std::int64_t kEvery_ms = 500;
constexpr double kStale_s = 3.0;
constexpr int kTwoMinutes = 240;  // values: long after the noise of a place is learned

// An invented deck: Max 60 t, e = d = 20 kg; cells of 25 t, 2 mV/V at 10 V, read by a hand meter.
const PlaceLimits kIndication = {.unit = deck::LiveUnit::kg,
                                 .least = -90'000.0,
                                 .most = 90'000.0,
                                 .explained_least = -60'180.0,
                                 .explained_most = 60'180.0,
                                 .step = 20.0};
const PlaceLimits kCell = {.unit = deck::LiveUnit::mV, .least = -30.0, .most = 30.0, .quiet = 0.01};

/// The same everywhere: std::mt19937_64 is fixed by the C++ standard.
class Random {
 public:
  explicit Random(std::uint64_t seed) : engine_(seed) {}
  double uniform() { return static_cast<double>(engine_() >> 11U) * 0x1p-53; }
  /// The sum of twelve uniform numbers less six: mean 0, variance 1 exactly.
  double normal() {
    double sum = -6.0;
    for (int i = 0; i < 12; ++i) sum += uniform();
    return sum;
  }

 private:
  std::mt19937_64 engine_;
};

double rounded(double value, double step) {
  return std::round(value / step) * step;
}

using Peer = std::function<Reading(int i)>;

Peer indicator(const std::function<double(int i)>& kg, double d = 20.0) {
  return [=](int i) {
    Reading reading;
    reading.value = rounded(kg(i), d);
    reading.typed = fmt::format("{:.0f}", *reading.value);
    reading.unit = deck::LiveUnit::kg;
    reading.resolution = d;
    return reading;
  };
}

Peer meter(const std::function<double(int i)>& mV, double step = 0.01) {
  return [=](int i) {
    Reading reading;
    reading.value = rounded(mV(i), step);
    reading.typed = fmt::format("{:.2f}", *reading.value);
    reading.unit = deck::LiveUnit::mV;
    reading.resolution = step;
    return reading;
  };
}

/// Two registers as they come over the wire, read as the deck file says.
Peer registers(const deck::Register& one, const std::function<std::uint32_t(int i)>& bits) {
  return [=](int i) {
    const std::vector<std::uint16_t> words = {static_cast<std::uint16_t>(bits(i) >> 16U),
                                              static_cast<std::uint16_t>(bits(i))};
    const RegisterValue value = read_registers(one, words);
    Reading reading;
    reading.value = value.value;
    reading.typed = value.typed;
    reading.unit = one.unit;
    reading.resolution = resolution_of(one);
    reading.says = value.says;
    reading.exchanged = value.exchanged;
    return reading;
  };
}

deck::Register floating(deck::LiveUnit unit) {
  deck::Register one;
  one.unit = unit;
  one.type = deck::RegisterType::float32;
  return one;
}

std::uint32_t exchanged_bits(double value) {
  return std::rotl(std::bit_cast<std::uint32_t>(static_cast<float>(value)), 16);
}

const char* name_of(Quality quality) {
  switch (quality) {
    case Quality::silent:
      return "silent";
    case Quality::stable:
      return "stable";
    case Quality::moving:
      return "moving";
    case Quality::stale:
      return "stale";
    case Quality::bad:
      return "bad";
    case Quality::unexplained:
      break;
  }
  return "unexplained";
}

struct Said {
  std::set<std::string> qualities;  // in two minutes
  std::string says;                 // at their end
  int first_stable = 0;             // value; 0: never
};

Said listened(const Peer& peer, const PlaceLimits& limits, deck::LiveUnit unit) {
  PlaceRecord record("indication", unit, kEvery_s, kStale_s, limits);
  Said said;
  for (int i = 0; i < kTwoMinutes; ++i) {
    record.take(i * kEvery_ms, peer(i));
    const LiveValue now = record.show(i * kEvery_ms);
    said.qualities.insert(name_of(now.quality));
    said.says = now.says;
    if (now.quality == Quality::stable && said.first_stable == 0) said.first_stable = i + 1;
    // What is no value must not be taken for one.
    const bool none = !now.value && !now.mean && now.typed.empty();
    EXPECT_TRUE(now.quality != Quality::bad || none);
    EXPECT_TRUE(now.quality == Quality::stable || !now.mean);
  }
  return said;
}

struct Liar {
  const char* shows;
  Peer peer;
  PlaceLimits limits;
};

std::vector<Liar> liars() {
  const auto swing = [](double middle, double by) {
    return [=](int i) { return middle + by * std::sin(2.0 * 3.14159265 * 0.35 * i * kEvery_s); };
  };
  std::vector<double> anything;
  Random random(17);
  for (int i = 0; i < kTwoMinutes; ++i) anything.push_back(60'000.0 * random.uniform());
  const auto kg = floating(deck::LiveUnit::kg);
  const auto mV = floating(deck::LiveUnit::mV);
  deck::Register whole;
  whole.unit = deck::LiveUnit::kg;
  return {
      {"12,340 and 52,340 kg in turn",
       indicator([](int i) { return i % 2 == 0 ? 12'340.0 : 52'340.0; }), kIndication},
      {"12,340 and 52,340 kg in turn, three values each",
       indicator([](int i) { return i / 3 % 2 == 0 ? 12'340.0 : 52'340.0; }), kIndication},
      {"a load that rocks by 5 t about 20 t", indicator(swing(20'000.0, 5'000.0)), kIndication},
      {"any figure from 0 to 60 t",
       indicator([anything](int i) { return anything[static_cast<std::size_t>(i)]; }), kIndication},
      {"a cell that rocks by 0.6 mV", meter(swing(5.0, 0.6)), kCell},
      {"65,000 kg on a deck of Max 60 t", indicator([](int) { return 65'000.0; }), kIndication},
      {"123,400 kg: one digit too many", indicator([](int) { return 123'400.0; }), kIndication},
      {"-61,000 kg", indicator([](int) { return -61'000.0; }), kIndication},
      {"500 mV from a cell of 20 mV", meter([](int) { return 500.0; }), kCell},
      {"12.34 mV as a float, its words exchanged",
       registers(mV, [](int) { return exchanged_bits(12.34); }), kCell},
      {"1.087 mV as a float, its words exchanged",
       registers(mV, [](int) { return exchanged_bits(1.087); }), kCell},
      {"20,000 kg as a float, its words exchanged",
       registers(kg, [](int) { return exchanged_bits(20'000.0); }), kIndication},
      {"a float below the least normal number", registers(mV, [](int) { return 0x0000'2710U; }),
       kCell},
      {"no number (NaN)", registers(mV, [](int) { return 0x7FC0'0000U; }), kCell},
      {"a whole number at the end of its range", registers(whole, [](int) { return 0x7FFF'FFFFU; }),
       kIndication},
  };
}

std::string all_of(const std::set<std::string>& qualities) {
  std::string all;
  for (const std::string& one : qualities) all += (all.empty() ? "" : ", ") + one;
  return all;
}

/// With what was said before there were limits: without any.
std::string row_of(const Liar& liar, const Said& said) {
  const Said before = listened(liar.peer, {.unit = liar.limits.unit}, liar.limits.unit);
  return fmt::format("| {} | {} | {} | {} |", liar.shows, all_of(before.qualities),
                     all_of(said.qualities), said.says);
}

TEST(PeersThatLie, AreNeverCalledStable) {
  for (const Liar& liar : liars()) {
    const Said said = listened(liar.peer, liar.limits, liar.limits.unit);
    EXPECT_FALSE(said.qualities.contains("stable")) << row_of(liar, said);
    EXPECT_FALSE(said.says.empty()) << liar.shows;
  }
}

TEST(PeersThatLie, AreToldOfAsTheirTableInTheDocsSays) {
  std::ifstream file(WEIGHWRIGHT_SOURCE_DIR "/docs/theory/live.md");
  std::stringstream page;
  page << file.rdbuf();
  for (const Liar& liar : liars()) {
    const std::string row = row_of(liar, listened(liar.peer, liar.limits, liar.limits.unit));
    EXPECT_NE(page.str().find(row + "\n"), std::string::npos) << row;
  }
}

TEST(PeersThatLie, AreToldTheLikelyReason) {
  const auto says = [](const char* shows) {
    for (const Liar& liar : liars()) {
      if (liar.shows == std::string(shows)) {
        return listened(liar.peer, liar.limits, liar.limits.unit).says;
      }
    }
    return std::string("no such peer");
  };
  EXPECT_NE(says("12.34 mV as a float, its words exchanged").find("would be 12.34: word_order"),
            std::string::npos);
  EXPECT_NE(says("500 mV from a cell of 20 mV").find("is the scale right, and the register"),
            std::string::npos);
}

TEST(PeersThatLie, AreJudgedInPoundsByTheSameLimits) {
  const auto pounds = [](double lb) {
    return [lb](int) {
      Reading reading;
      reading.value = lb;
      reading.typed = "x";
      reading.unit = deck::LiveUnit::lb;
      reading.resolution = 20.0;
      return reading;
    };
  };
  // The pound: 0.453 592 37 kg (international yard and pound agreement, 1959): 132,000 lb are
  // 59,874 kg, 134,000 lb are 60,781 kg, 200,000 lb are 90,718 kg.
  EXPECT_GT(listened(pounds(132'000), kIndication, deck::LiveUnit::kg).first_stable, 0);
  EXPECT_TRUE(
      listened(pounds(134'000), kIndication, deck::LiveUnit::kg).qualities.contains("unexplained"));
  EXPECT_TRUE(listened(pounds(200'000), kIndication, deck::LiveUnit::kg).qualities.contains("bad"));
}

// ------------------------------------------------------------------ and who tells the truth

/// Values until a place was called stable for the first time, by seed; sorted.
std::vector<int> first_stable(const std::function<Peer(Random&)>& peer, const PlaceLimits& limits) {
  std::vector<int> all;
  for (std::uint64_t seed = 1; seed <= 200; ++seed) {
    Random random(seed);
    const Peer one = peer(random);
    PlaceRecord record("indication", limits.unit, kEvery_s, kStale_s, limits);
    int values = 0;
    do {
      record.take(values * kEvery_ms, one(values));
    } while (record.show(values * kEvery_ms).quality != Quality::stable && ++values < kTwoMinutes);
    all.push_back(values + 1);
  }
  std::sort(all.begin(), all.end());
  return all;
}

struct Honest {
  const char* shows;
  std::function<Peer(Random&)> peer;
  PlaceLimits limits;
};

std::vector<Honest> honest() {
  const auto cell = [](double noise_mV, double step_mV) {
    return [=](Random& random) {
      return meter([&random, noise_mV](int) { return 5.0 + noise_mV * random.normal(); }, step_mV);
    };
  };
  const auto display = [](double noise_kg, double at_kg, double step_kg) {
    return [=](Random& random) {
      return indicator(
          [&random, noise_kg, at_kg](int) { return at_kg + noise_kg * random.normal(); }, step_kg);
    };
  };
  return {
      {"a cell of a practice site: noise 0.01 mV, read to 0.01 mV", cell(0.01, 0.01), kCell},
      {"a quiet converter: noise 0.002 mV, read to 0.0001 mV", cell(0.002, 0.0001), kCell},
      {"a cell whose screen is grounded twice: noise 0.03 mV", cell(0.03, 0.01), kCell},
      {"a display, noise 0.1 d, in the middle of a step", display(2.0, 20'000.0, 20.0),
       kIndication},
      {"a display, noise 0.3 d, at the edge of a step", display(6.0, 20'010.0, 20.0), kIndication},
      {"an indication in 1 kg behind a display of 20 kg, noise 6 kg", display(6.0, 20'003.0, 1.0),
       kIndication},
      {"an indication in 1 kg, noise 20 kg: a windy day", display(20.0, 20'003.0, 1.0),
       kIndication},
  };
}

std::string row_of(const Honest& one) {
  const std::vector<int> before = first_stable(one.peer, {.unit = one.limits.unit});
  const std::vector<int> now = first_stable(one.peer, one.limits);
  const auto seconds = [](const std::vector<int>& all, double share) {
    const auto at = static_cast<std::size_t>(share * static_cast<double>(all.size() - 1));
    return kEvery_s * (all[at] - 1);
  };
  return fmt::format("| {} | {:.1f} / {:.1f} s | {:.1f} / {:.1f} s |", one.shows,
                     seconds(before, 0.5), seconds(before, 0.95), seconds(now, 0.5),
                     seconds(now, 0.95));
}

// Before: without the limits of the deck, which is how every place was judged then.
TEST(PeersThatTellTheTruth, AreTakenOverAsFastAsWithoutLimits) {
  const std::vector<Honest> all = honest();
  for (const std::size_t quick : {0U, 1U, 3U, 4U}) {
    const Honest& one = all[quick];
    EXPECT_EQ(first_stable(one.peer, one.limits)[100],
              first_stable(one.peer, {.unit = one.limits.unit})[100])
        << row_of(one);
  }
  for (const Honest& one : all) {
    EXPECT_LE(first_stable(one.peer, one.limits)[199], 40) << "20 s at most: " << row_of(one);
  }
}

TEST(PeersThatTellTheTruth, AreTakenOverWithinTheTimesOfTheDocs) {
  std::ifstream file(WEIGHWRIGHT_SOURCE_DIR "/docs/theory/live.md");
  std::stringstream page;
  page << file.rdbuf();
  for (const Honest& one : honest()) {
    EXPECT_NE(page.str().find(row_of(one) + "\n"), std::string::npos) << row_of(one);
  }
}

}  // namespace
}  // namespace weighwright::link
