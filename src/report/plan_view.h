#pragma once
/// A plan of the deck in text: modules, joints and stands, with rows of figures beside the stands.
///
/// Looking down on the deck, end 1 on the left of the page, the deck's left side at the top.
/// Sections are evenly spaced (a column each), joints lie between the columns where they lie on the
/// deck.

#include <string>
#include <vector>

namespace weighwright::report {

/// One row of figures: a word at the margin and a cell for every section.
struct PlanRow {
  std::string label;
  std::vector<std::string> cells;  // one a section; empty: nothing to say there
};

/// How a joint is drawn on one side of the deck.
enum class JointMark { none, rests, hangs, rigid };

struct PlanView {
  struct Piece {
    std::string mark;
    double start_m = 0.0;  // from end 1 of the deck
    double end_m = 0.0;
  };
  struct JointDrawing {
    JointMark left = JointMark::rests;
    JointMark right = JointMark::rests;
  };
  std::vector<Piece> modules;
  std::vector<JointDrawing> joints;  // modules.size() - 1
  std::vector<double> sections_m;    // from end 1 of the deck
  std::vector<PlanRow> left;         // above the deck, top row first
  std::vector<PlanRow> right;        // below the deck
  std::vector<PlanRow> pairs;        // below all, a figure a section
};

/// Draws the plan, at most `columns` wide; a deck with more sections than fit is drawn in parts.
/// Every line ends with a line feed.
/// @pre every row has one cell a section; sections in order
[[nodiscard]] std::string draw_text(const PlanView& plan, int columns = 80);

}  // namespace weighwright::report
