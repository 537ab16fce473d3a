#include <gtest/gtest.h>

#include <regex>

#include "report/every_code_point.h"
#include "report/outside_program.h"
#include "report/paper/paper.h"
#include "report/sample_document.h"

// outside check: plan and chart are well-formed XML | `xmllint` (libxml2)

namespace weighwright::report {
namespace {

bool has(const std::string& text, const std::string& what) {
  return text.find(what) != std::string::npos;
}

std::size_t count(const std::string& text, const std::string& what) {
  std::size_t found = 0;
  for (std::size_t at = 0; (at = text.find(what, at)) != std::string::npos; ++at) ++found;
  return found;
}

void expect_image(const std::string& svg) {
  const Bench bench;
  bench.put("a.svg", svg);
  const Bench::Ran ran = bench.run("xmllint --nonet --noout a.svg");
  EXPECT_EQ(ran.status, 0) << ran.output;
  EXPECT_EQ(count(svg, "<title"), 1U);
  EXPECT_EQ(count(svg, "<desc"), 1U);
  for (const char* banned : {"<script", "href", "onload", "<image", "<foreignObject"})
    EXPECT_FALSE(has(svg, banned)) << banned;
}

TEST(PlanSvg, ShowsStandsAndPatchesWithTitleAndDescription) {
  const std::string svg =
      draw_plan_svg(sample_deck(), {{7.3, 1.2, 1.2, 1.0}}, "Placement <3> & \"x\"");
  expect_image(svg);
  EXPECT_TRUE(has(svg, "Placement &lt;3&gt; &amp; &quot;x&quot;"));
  for (const DrawnStand& stand : sample_deck().stands)
    EXPECT_TRUE(has(svg, ">" + stand.stand + "</text>")) << stand.stand;
  EXPECT_TRUE(has(svg, "8 stands, 21 m long, 3 m wide"));
  EXPECT_TRUE(has(svg, "1 load patches"));
}

TEST(PlanSvg, IsToScale) {
  // A patch of the whole deck's size covers the deck: one scale for both axes.
  const std::string svg = draw_plan_svg(sample_deck(), {{10.5, 0.0, 21.0, 3.0}}, "all");
  const std::regex rect(
      "<rect x=\"([0-9.]+)\" y=\"([0-9.]+)\" width=\"([0-9.]+)\" height=\"([0-9.]+)\" "
      "fill=\"#ccd4db\"");
  std::smatch match;
  ASSERT_TRUE(std::regex_search(svg, match, rect)) << svg;
  EXPECT_NEAR(std::stod(match[3]) / std::stod(match[4]), 21.0 / 3.0, 0.01);
}

TEST(PlanSvg, SurvivesAnEmptyDeck) {
  expect_image(draw_plan_svg(DrawnDeck{}, {}, ""));
}

/// Every code point that UTF-8 can hold, surrogates and bytes that are none: the title is still
/// XML.
TEST(PlanSvg, IsWellFormedWhateverIsWritten) {
  expect_image(draw_plan_svg(sample_deck(), {}, every_code_point() + "\xff\xc3\xed\xa0\x80"));
}

TEST(ErrorsSvg, ShowsEveryResult) {
  const ProofView view = sample_proof(true);
  const std::string svg = draw_errors_svg(view, "");
  expect_image(svg);
  // A disc each, and one in the legend.
  EXPECT_EQ(count(svg, "<circle"), view.lines.size() + 1);
  EXPECT_TRUE(has(svg, "0 outside a limit"));
  const ProofView found = sample_proof(false);
  const std::string other = draw_errors_svg(found, "Found");
  expect_image(other);
  EXPECT_EQ(count(other, "<polygon"), found.lines.size() + 1);
  EXPECT_FALSE(has(other, "0 outside a limit"));
}

TEST(ErrorsSvg, SurvivesAnEmptyProof) {
  expect_image(draw_errors_svg(ProofView{}, ""));
}

}  // namespace
}  // namespace weighwright::report
