#include "report/signal_view.h"

#include <gtest/gtest.h>

#include <limits>

#include "report/answer_json.h"

namespace weighwright::report {
namespace {

// Golden parts: what is expected is the contract of the JSON keys and the order of the text.

SignalView answer() {
  SignalView view;
  view.deck_name = "Bench";
  view.headline = "NO.";
  view.fine = false;
  view.why_none = "digital";
  view.rules = "Rules";
  InequalityView fails;
  fails.code = "cell_interval";
  fails.clause = "4.12";
  fails.relation = "<=";
  fails.left = 5.0;
  fails.right = 4.0;
  fails.unit = "kg";
  fails.verdict = "fails";
  fails.sentence = "too coarse";
  InequalityView holds = fails;
  holds.verdict = "holds";
  holds.left.reset();
  holds.left_text = "C";
  holds.sentence = "fits";
  InequalityView open = fails;
  open.verdict = "not_judged";
  open.missing = {"cell.class", "site.temperature"};
  open.right.reset();
  view.inequalities = {holds, open, open, fails};
  CauseView cause;
  cause.stand = "2L";
  cause.code = "broken_lead";
  cause.sentence = "A core is broken.";
  cause.evidence = {
      {"output_ohm", "ohm", std::numeric_limits<double>::infinity(), 350.0, 1e9, 9.0}};
  CircuitView circuit;
  circuit.stand = "2L";
  circuit.verdict = "fault";
  circuit.headline = "2L: WRONG.";
  circuit.causes = {cause};
  view.circuits = {circuit};
  return view;
}

TEST(SignalJson, HasTheKeysOfTheContractAndNoInfinity) {
  const std::string json = print_json(answer());
  for (const char* const part :
       {"\"output_V\": null", "\"output_V_reason\": \"digital", "\"supply_A\": null",
        "\"box_V\": null", "\"signal_V_per_interval\": null", "\"clause\": \"4.12\"",
        "\"left\": 5.0", "\"left\": \"C\"", "\"right\": 4.0", "\"holds\": false", "\"holds\": true",
        "\"holds\": null", "\"measured\": null", "\"measured_reason\""}) {
    EXPECT_NE(json.find(part), std::string::npos) << part << " is not in " << json;
  }
  EXPECT_EQ(json.find("inf"), std::string::npos);
}

TEST(SignalText, TellsWhatFailsBeforeWhatHoldsAndGathersWhatIsMissing) {
  const std::string text = draw_text(answer());
  EXPECT_LT(text.find("2L: WRONG."), text.find("WRONG: too coarse"));
  EXPECT_LT(text.find("WRONG: too coarse"), text.find("ok: fits"));
  EXPECT_NE(text.find("Not judged, 2 conditions: the deck file lacks cell.class, site.temperature"),
            std::string::npos)
      << text;
}

}  // namespace
}  // namespace weighwright::report
