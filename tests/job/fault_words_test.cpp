/// Every code and every detail has words: a fault without a sentence would be shown as a blank.
#include "job/fault_words.h"

#include <gtest/gtest.h>

namespace weighwright::job {
namespace {

using Detail = share::CannotFix::Detail;

constexpr share::Code kCodes[] = {share::Code::section_sum,    share::Code::swapped_pair,
                                  share::Code::wrong_capacity, share::Code::reversed,
                                  share::Code::dead_cell,      share::Code::bearing_open,
                                  share::Code::stand_free,     share::Code::touching,
                                  share::Code::roll,           share::Code::unknown};

constexpr Detail kDetails[] = {Detail::none,        Detail::box_mean,       Detail::beyond_output,
                               Detail::travel_used, Detail::not_adjustable, Detail::no_shim_fits,
                               Detail::stuck,       Detail::wrong_sign,     Detail::sums_low,
                               Detail::volts_typed, Detail::foreign_load,   Detail::lost_load,
                               Detail::grout,       Detail::no_plan};

deck::Deck two_modules() {
  deck::Deck deck;
  deck.modules.resize(2);
  deck.modules[0].mark = "A";
  deck.modules[1].mark = "B";
  deck.joints.resize(1);
  deck.sections.resize(3);
  deck.stands.resize(6);
  for (deck::Stand& stand : deck.stands) {
    stand.cell.capacity_kg = 25000;
    stand.cell.output_V_per_V = 2e-3;
  }
  return deck;
}

share::StandNow reads(int stand, double signal_V) {
  share::StandNow now;
  now.stand = {stand};
  now.signal_V = signal_V;
  now.excitation_V = 10.0;
  return now;
}

TEST(FaultWords, ExistForEveryCodeAndDetailAndSayWhereToLook) {
  const deck::Deck deck = two_modules();
  share::Advice advice;
  for (int i = 0; i < 6; ++i) advice.now.push_back(reads(i, 1e-3));
  const ReadingWords reading(deck, record::ReadingUnit::mV);
  for (const share::Code code : kCodes) {
    for (const Detail detail : kDetails) {
      for (const bool placed : {false, true}) {
        share::CannotFix item;
        item.code = code;
        item.detail = detail;
        item.amount_N = -1000.0;
        if (placed) {
          item.section = units::SectionIndex{1};
          item.stand = units::StandIndex{3};
          item.joint = 0;
          item.side = units::Side::right;
        }
        const auto view = words_of(deck, advice, item, reading);
        EXPECT_GT(view.reason.size(), 20U);
        EXPECT_EQ(view.reason.back() == '.' || view.reason.back() == '?', true) << view.reason;
        EXPECT_TRUE(view.reason.front() < 'a' || view.reason.front() > 'z') << view.reason;
        EXPECT_GT(view.look.size(), 10U);
        EXPECT_EQ(view.code, share::print(code));
        EXPECT_EQ(view.stand, placed ? "2R" : "");
      }
    }
  }
}

TEST(FaultWords, NameTheStandWithItsTerminalAndWhatItReads) {
  deck::Deck deck = two_modules();
  deck.stands[3].cell.terminal = "6";
  share::Advice advice;
  for (int i = 0; i < 6; ++i) {
    advice.now.push_back(reads(i, -2.03e-3));
  }
  share::CannotFix item;
  item.code = share::Code::reversed;
  item.stand = units::StandIndex{3};
  const auto view = words_of(deck, advice, item, ReadingWords(deck, record::ReadingUnit::mV));
  EXPECT_NE(view.reason.find("2R (terminal 6)"), std::string::npos);
  EXPECT_EQ(view.evidence, "2R reads -2.03 mV.");
}

}  // namespace
}  // namespace weighwright::job
