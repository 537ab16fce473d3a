#include "diagnose/signatures.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <string>
#include <vector>

#include "diagnose/rows.h"
#include "record/looks.h"
#include "visits.h"

namespace weighwright::diagnose {
namespace {

using namespace tests;

class Signatures : public ::testing::Test {
 protected:
  Signatures() : deck_(deck_of("tests/cli/data/r3.toml")) {
    for (deck::Stand& stand : deck_.stands) stand.cell.output_ohm = 700.0;
    model_ = model_of(deck_);
    std::vector<record::LoadReading> readings;
    for (const char* const stand : {"1L", "2L", "3R"}) {
      readings.push_back(load(over(stand), 10000.0, 10000.0));
    }
    evidence_.now = {cells({1.09, 1.09, 2.03, 2.03, 2.03, 2.03, 1.09, 1.09}), zero(0.0),
                     shift(readings)};
    evidence_.context = {.grouted = true,
                         .shared = true,
                         .trimmed = true,
                         .spanned = true,
                         .service = true,
                         .map_proven = false};
    scene_ = scene_of(deck_, model_, evidence_.context, true);
    rows_ = gather_rows(scene_, model_, evidence_).rows;
  }

  [[nodiscard]] Suspect suspect(const std::string& code, const std::string& where) const {
    for (const Suspect& one : suspects_of(deck_, model_, evidence_.context, true)) {
      if (one.kind->code == code && one.where == where) return one;
    }
    throw std::runtime_error("no suspect " + code);
  }

  /// What the indication over a stand changes by.
  [[nodiscard]] double at_load(const Prediction& prediction, const std::string& place) const {
    for (std::size_t i = 0; i < rows_.list.size(); ++i) {
      const Row& row = rows_.list[i];
      if (row.kind == Row::Kind::load && row.place == place) {
        return prediction.shift(static_cast<Eigen::Index>(i));
      }
    }
    throw std::runtime_error("no load at " + place);
  }

  /// Part of a load at a place that a stand takes.
  [[nodiscard]] double share(const std::string& place, int stand) const {
    for (const Row& row : rows_.list) {
      if (row.kind == Row::Kind::load && row.place == place) return row.share(stand);
    }
    throw std::runtime_error("no load at " + place);
  }

  deck::Deck deck_;
  statics::Model model_;
  Case evidence_;
  Scene scene_;
  Rows rows_;
};

// Millman (hand calculation): seven of eight equal cells left, each counts for 8/7.
TEST_F(Signatures, OpenSignalLeavesEightSevenths) {
  const Signature signature = signature_of(scene_, rows_, suspect("signal_open", "2L"));
  const bool found = std::any_of(
      signature.variants.begin(), signature.variants.end(), [&](const Prediction& prediction) {
        const double expected = 10000.0 * ((1.0 - share("3R", 2)) * 8.0 / 7.0 - 1.0);
        return std::abs(at_load(prediction, "3R") - expected) < 1.0;
      });
  EXPECT_TRUE(found);
}

// One core of the two: the bus of that core is the mean of seven, the other that of eight.
// Half of (8/7 - 1) for the others (hand calculation; a nodal analysis of eight bridges agrees).
TEST_F(Signatures, OneOpenCoreLeavesHalfOfThat) {
  const Signature signature = signature_of(scene_, rows_, suspect("signal_open", "2L"));
  const bool found = std::any_of(
      signature.variants.begin(), signature.variants.end(), [&](const Prediction& prediction) {
        const double on_2L = share("3R", 2);
        const double expected = 10000.0 * ((1.0 - on_2L) * 15.0 / 14.0 + 0.5 * on_2L - 1.0);
        return std::abs(at_load(prediction, "3R") - expected) < 1.0;
      });
  EXPECT_TRUE(found);
}

// 350 ohm among seven of 700: conductances 2 and 1, mean of nine ninths; own 2 * 8/9, others 8/9.
TEST_F(Signatures, HalfTheResistanceCountsTwice) {
  const Signature signature = signature_of(scene_, rows_, suspect("wrong_resistance", "2L"));
  bool found = false;
  for (const Prediction& prediction : signature.variants) {
    if (std::abs(prediction.size - 0.5) > 1e-9) continue;
    found = true;
    const double on_2L = share("3R", 2);
    EXPECT_NEAR(at_load(prediction, "3R"),
                10000.0 * ((1.0 - on_2L) * 8.0 / 9.0 + on_2L * 16.0 / 9.0 - 1.0), 1.0);
    // 0.99378 of the load is on 2L, the rest beside it (shares of the reference deck).
    EXPECT_NEAR(at_load(prediction, "2L"), 10000.0 * (0.99378 * (16.0 / 9.0 - 1.0) - 0.00622 / 9.0),
                1.0);
  }
  EXPECT_TRUE(found);
}

TEST_F(Signatures, WeightsOfVariantsSumToOne) {
  for (const Suspect& one : suspects_of(deck_, model_, evidence_.context, true)) {
    // Readings put back carry a Jacobian, tracking its count of zeros.
    if (one.kind->code == "wrong_capacity" || one.kind->code == "tracking_on") continue;
    const Signature signature = signature_of(scene_, rows_, one);
    if (signature.variants.empty()) continue;
    double sum = 0.0;
    for (const Prediction& prediction : signature.variants) sum += std::exp(prediction.log_weight);
    EXPECT_NEAR(sum, 1.0, 1e-9) << one.kind->code << " " << one.where;
  }
}

TEST_F(Signatures, PriorsSumToOneAndEveryLookIsKnown) {
  double sum = 0.0;
  for (const Suspect& one : suspects_of(deck_, model_, evidence_.context, true)) sum += one.prior;
  EXPECT_NEAR(sum, 1.0, 1e-12);
  for (const FaultKind& kind : catalogue()) {
    for (const Sign& sign : kind.signs) {
      EXPECT_NE(record::find_look(sign.look), nullptr) << kind.code << " " << sign.look;
    }
    if (!kind.innocent) {
      EXPECT_FALSE(kind.holds.empty()) << kind.code;
      EXPECT_FALSE(kind.leave.empty()) << kind.code;
    }
  }
}

TEST_F(Signatures, ALoadOnlyOnAStandSharesAsTheReferenceDeckDoes) {
  for (const Row& row : rows_.list) {
    if (row.kind != Row::Kind::load || row.place != "1L") continue;
    EXPECT_NEAR(row.share(0), 0.99714, 1e-4);
    EXPECT_NEAR(row.share.sum(), 1.0, 1e-9);
  }
}

}  // namespace
}  // namespace weighwright::diagnose
