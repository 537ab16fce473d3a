// Laws of the verdict, on random parts of a complete set of results.
#include <gtest/gtest.h>
#include <rapidcheck/gtest.h>

#include "verdict_results.h"

namespace weighwright::proof {
namespace {

using namespace tests;  // NOLINT(google-build-using-namespace)

struct Book {
  const char* code;
  const rules::Rulebook& (*rulebook)();
  std::vector<ProofReading> (*sound)();
  rules::Occasion occasion;
};
constexpr Book kBooks[] = {{"R76", r76, sound_r76, rules::Occasion::as_new},
                           {"H44", h44, sound_h44, rules::Occasion::routine}};

Verdict judge(const Book& book, const std::vector<ProofReading>& rows) {
  ProofCase what = case_of(rows);
  what.occasion = book.occasion;
  return prove(weighbridge(60'000.0, 20.0, book.code), book.rulebook(), what);
}

/// Rows that are left when some were dropped, at least one.
std::vector<ProofReading> drop(const std::vector<ProofReading>& rows) {
  const auto kept = *rc::gen::container<std::vector<bool>>(rows.size(), rc::gen::arbitrary<bool>());
  std::vector<ProofReading> left;
  for (std::size_t i = 0; i < rows.size(); ++i) {
    if (kept[i]) left.push_back(rows[i]);
  }
  if (left.size() == rows.size()) left.pop_back();
  return left;
}

// The sound sets hold nothing that is not asked for, so whatever is dropped is missed.
RC_GTEST_PROP(VerdictLaw, NeverPassesWhenSomethingRequiredIsMissing, ()) {
  for (const Book& book : kBooks) {
    const Verdict verdict = judge(book, drop(book.sound()));
    RC_ASSERT(verdict.outcome != Outcome::pass);
  }
}

TEST(VerdictLaw, EveryRowOfTheSoundSetsIsNeeded) {
  for (const Book& book : kBooks) {
    const std::vector<ProofReading> rows = book.sound();
    ASSERT_EQ(judge(book, rows).outcome, Outcome::pass) << book.code;
    for (std::size_t i = 0; i < rows.size(); ++i) {
      std::vector<ProofReading> left = rows;
      left.erase(left.begin() + static_cast<std::ptrdiff_t>(i));
      const Verdict verdict = judge(book, left);
      EXPECT_EQ(verdict.outcome, Outcome::incomplete) << book.code << " row " << i << told(verdict);
    }
  }
}

// Dropped rows are sound, so putting one back can't make anything worse than incomplete; and the
// more is there, the less is missing.
RC_GTEST_PROP(VerdictLaw, PuttingARequiredResultBackNeverMakesItWorse, ()) {
  const Book& book = kBooks[*rc::gen::inRange(0, 2)];
  const std::vector<ProofReading> rows = book.sound();
  const auto kept = *rc::gen::container<std::vector<bool>>(rows.size(), rc::gen::arbitrary<bool>());
  const auto back = *rc::gen::inRange<std::size_t>(0, rows.size());
  std::vector<ProofReading> less;
  std::vector<ProofReading> more;
  for (std::size_t i = 0; i < rows.size(); ++i) {
    if (kept[i]) less.push_back(rows[i]);
    if (kept[i] || i == back) more.push_back(rows[i]);
  }
  const Outcome before = judge(book, less).outcome;
  const Outcome after = judge(book, more).outcome;
  RC_ASSERT(before == Outcome::incomplete || before == Outcome::pass);
  RC_ASSERT(after == Outcome::incomplete || after == Outcome::pass);
}

// The mirror: every error with its sign changed is judged alike.
RC_GTEST_PROP(VerdictLaw, ErrorsOfBothSignsAreJudgedAlike, ()) {
  const double error = *rc::gen::inRange(-400, 401) / 10.0;
  const double load = *rc::gen::inRange(1, 61) * 1000.0;
  const auto judged = [&](double sign) {
    ProofCase what = part_of(
        {changeover("zero", 0.0, 0.0, 20.0), changeover("increasing", load, sign * error, 20.0)});
    return prove(weighbridge(60'000.0, 20.0, "R76"), r76(), what);
  };
  const Verdict plus = judged(1.0);
  const Verdict minus = judged(-1.0);
  RC_ASSERT(plus.lines.at(0).passed == minus.lines.at(0).passed);
  RC_ASSERT(std::abs(plus.lines[0].error_kg + minus.lines[0].error_kg) < 1e-6);
}

}  // namespace
}  // namespace weighwright::proof
