// Laws of limits, on scales at random.
#include <gtest/gtest.h>
#include <rapidcheck/gtest.h>

#include <algorithm>
#include <string>

#include "rules/limits.h"
#include "scales.h"

// outside check: class III L: one division for each begun 500 | HB 44, 2.20, table 6 (from
//  memory, unverified)

namespace weighwright::rules {
namespace {

using testing::h44;
using testing::kLb;
using testing::metric;
using testing::r76;

struct Pick {
  const Rulebook* rulebook = nullptr;
  Scale scale;
  Occasion occasion = Occasion::as_new;
};

Pick any_scale() {
  Pick pick;
  const bool us = *rc::gen::arbitrary<bool>();
  pick.rulebook = us ? &h44() : &r76();
  const std::string name = us ? *rc::gen::element<std::string>("III", "III L")
                              : *rc::gen::element<std::string>("II", "III", "IIII");
  const double interval = *rc::gen::element(0.1, 0.2, 1.0, 5.0, 10.0, 20.0, 50.0);
  const int most = name == "IIII" ? 1'000 : 10'000;
  const double n = *rc::gen::inRange(100, most + 1);
  const double unit_kg = *rc::gen::element(1.0, kLb);
  pick.scale = metric(name, n * interval * unit_kg, interval * unit_kg);
  pick.occasion = *rc::gen::elementOf(all_occasions());
  return pick;
}

RC_GTEST_PROP(LimitLaws, NeverFallWhileTheLoadRises, ()) {
  const Pick pick = any_scale();
  const int thousandths = *rc::gen::inRange(0, 1'001);
  const int more = *rc::gen::inRange(thousandths, 1'001);
  const double low_kg = pick.scale.capacity_kg * thousandths / 1e3;
  const double high_kg = pick.scale.capacity_kg * more / 1e3;
  const auto low = limit_at(*pick.rulebook, pick.scale, pick.occasion, low_kg);
  const auto high = limit_at(*pick.rulebook, pick.scale, pick.occasion, high_kg);
  RC_ASSERT(low && high);
  RC_ASSERT(low->kg > 0.0);
  RC_ASSERT(low->kg <= high->kg);
}

RC_GTEST_PROP(LimitLaws, AtABreakIsThatOfTheLowerStep, ()) {
  const Pick pick = any_scale();
  for (const double load_kg : break_loads_kg(*pick.rulebook, pick.scale)) {
    const auto before =
        limit_at(*pick.rulebook, pick.scale, pick.occasion, load_kg - pick.scale.interval_kg);
    const auto at = limit_at(*pick.rulebook, pick.scale, pick.occasion, load_kg);
    const auto above =
        limit_at(*pick.rulebook, pick.scale, pick.occasion, load_kg + 1.0 / kCounts_per_kg);
    RC_ASSERT(before && at && above);
    RC_ASSERT(counts_of(before->kg) == counts_of(at->kg));
    RC_ASSERT(counts_of(at->kg) < counts_of(above->kg));
    RC_ASSERT(load_kg < pick.scale.capacity_kg);
  }
}

// Handbook 44, 2.20, Table 6, III L (from memory, unverified): max(1, ceil(x/500)) divisions.
RC_GTEST_PROP(LimitLaws, OfIIILAreOneForEachBegunFiveHundred, ()) {
  const int divisions = *rc::gen::inRange(0, 10'001);
  const Scale scale = metric("III L", 200'000 * kLb, 20 * kLb);
  const auto limit = table_limit_at(h44(), scale, divisions * 20 * kLb);
  RC_ASSERT(limit.has_value());
  RC_ASSERT(limit->divisions == std::max(1, (divisions + 499) / 500));
}

RC_GTEST_PROP(ReadingLaws, AnyBytesGiveFaultsOrARulebook, (const std::string& noise)) {
  std::string text(built_in_text("R76"));
  text.replace(text.find("\"R76\""), 5, "\"LAND\"");
  const auto at = *rc::gen::inRange<std::size_t>(0, text.size());
  const auto length = *rc::gen::inRange<std::size_t>(0, 40);
  text.replace(at, length, noise);
  const ReadRulebook read = read_rulebook(text, "noise.toml");
  RC_ASSERT(read.rulebook.has_value() == read.faults.empty());
  RC_ASSERT(read.faults.size() <= 101U);
}

}  // namespace
}  // namespace weighwright::rules
