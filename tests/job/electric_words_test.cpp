#include "job/electric_words.h"

#include <gtest/gtest.h>

#include <limits>

#include "job/cause_words.h"

namespace weighwright::job {
namespace {

// What is expected is how meters and data sheets write such figures; there is no other source.

TEST(ElectricWords, ChooseTheUnitThatKeepsTheFigureShort) {
  EXPECT_EQ(voltage_words(12.0), "12 V");
  EXPECT_EQ(voltage_words(9.8723), "9.872 V");
  EXPECT_EQ(voltage_words(0.0013811), "1.381 mV");
  EXPECT_EQ(voltage_words(-0.0004), "-400 uV");
  EXPECT_EQ(voltage_words(0.99999), "1 V");  // not 1000 mV
  EXPECT_EQ(voltage_words(1e-12), "0 mV");
  EXPECT_EQ(resistance_words(350.04), "350 ohm");
  EXPECT_EQ(resistance_words(20e3), "20 kohm");
  EXPECT_EQ(resistance_words(5e9), "5 Gohm");
  EXPECT_EQ(resistance_words(std::numeric_limits<double>::infinity()), "open");
  EXPECT_EQ(current_words(0.0986), "98.6 mA");
}

TEST(ElectricWords, TellSharesInTwoFigures) {
  EXPECT_EQ(share_words(0.0128), "1.3 %");
  EXPECT_EQ(share_words(-0.00025), "-0.025 %");
  EXPECT_EQ(share_words(2.0), "200 %");
  EXPECT_EQ(share_words(-1e-12), "0 %");
}

TEST(CauseWords, NameCoreOrArmAndWhatToDo) {
  EXPECT_EQ(cause_words("open_arm", "E+ S+"), "an arm of the bridge is open (E+ S+)");
  EXPECT_EQ(cause_words("no_supply", ""), "no supply reaches it");
  EXPECT_EQ(cause_words("some_new_fault", ""), "some new fault");
  EXPECT_NE(remedy_words("moisture").find("dry"), std::string::npos);
  EXPECT_EQ(remedy_words("sound"), "");
  EXPECT_EQ(measured_words("input_ohm"), "the input resistance (E+ to E-)");
  EXPECT_EQ(measured_words("zero_mV"), "the signal with no load on it");
  EXPECT_EQ(measured_words("mV"), "the signal under the dead load");
}

}  // namespace
}  // namespace weighwright::job
