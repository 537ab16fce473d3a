#pragma once
/// The forms themselves: which columns and rows each kind of table has on this deck.

#include <string>
#include <utility>
#include <vector>

#include "deck/deck.h"
#include "report/ask_view.h"
#include "report/share_view.h"
#include "report/trim_view.h"

namespace weighwright::job {

/// "mV", "counts", "kg": what cells of this deck are read in.
[[nodiscard]] const char* reading_unit(const deck::Deck& deck);

/// A place of a load and what is known of its row.
struct LoadRow {
  std::string at;  // "2L", "2", "2-3"
  std::vector<std::pair<std::string, std::string>> given;
};

[[nodiscard]] report::FormView readings_form(const deck::Deck& deck);
[[nodiscard]] report::FormView no_load_form(const deck::Deck& deck);
[[nodiscard]] report::FormView map_form(const deck::Deck& deck);
[[nodiscard]] report::FormView shift_form(const deck::Deck& deck, const std::vector<LoadRow>& rows);
/// A load over every stand, in walking order.
[[nodiscard]] report::FormView corners_form(const deck::Deck& deck);
[[nodiscard]] report::FormView loads_form(const deck::Deck& deck);
/// One form for the screws, one for the shims, as far as there are any.
[[nodiscard]] std::vector<report::FormView> moves_forms(const std::vector<report::MoveView>& moves);
/// One form for each way of setting a trim. @pre view has trims, or one to learn from
[[nodiscard]] std::vector<report::FormView> trims_forms(const report::TrimView& view);
[[nodiscard]] report::FormView gaps_form(const std::vector<std::string>& supports);
/// @param asks  those for a touch
[[nodiscard]] report::FormView touch_form(const std::vector<report::AskView>& asks);
[[nodiscard]] report::FormView look_form(const std::string& code, const std::string& where);
/// @param after  what happened before each look: "pass 1-2", "nothing"
[[nodiscard]] report::FormView zeros_form(const deck::Deck& deck,
                                          const std::vector<std::string>& after);
[[nodiscard]] report::FormView electrics_form(const deck::Deck& deck,
                                              const std::vector<std::string>& places);
[[nodiscard]] report::FormView tick_form(const std::string& tick);
[[nodiscard]] report::FormView span_form(double correction);
[[nodiscard]] report::FormView visit_form();
[[nodiscard]] report::FormView cell_form(const std::string& stand);
/// @param marks  of the modules that wait for their concrete
[[nodiscard]] report::FormView pour_form(const std::vector<std::string>& marks);

/// Whether masses are typed in lb on this deck.
[[nodiscard]] bool in_pounds(const deck::Deck& deck);

}  // namespace weighwright::job
