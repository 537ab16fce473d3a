#include "job/danger_words.h"

#include <algorithm>
#include <optional>

#include "job/practice_remark.h"
#include "job/release.h"

namespace weighwright::job {
namespace {

/// "Entry 9", "Entries 9, 12".
std::string entries(const std::vector<int>& lines) {
  std::string text = lines.size() == 1 ? "Entry " : "Entries ";
  for (std::size_t i = 0; i < lines.size(); ++i) {
    text += (i == 0 ? "" : ", ") + std::to_string(lines[i] + 1);
  }
  return text;
}

class Dangers {
 public:
  /// @param only  lines that are asked for; empty optional: all
  Dangers(const SiteState& state, std::optional<std::vector<int>> only)
      : state_(state), only_(std::move(only)) {}

  std::vector<std::string> list() {
    loads();
    grout();
    releases();
    visit();
    return std::move(list_);
  }

 private:
  [[nodiscard]] bool asked(int line) const {
    return line >= 0 && (!only_ || std::find(only_->begin(), only_->end(), line) != only_->end());
  }

  [[nodiscard]] std::vector<int> asked(const std::vector<int>& lines) const {
    std::vector<int> kept;
    std::copy_if(lines.begin(), lines.end(), std::back_inserter(kept),
                 [this](int line) { return asked(line); });
    return kept;
  }

  void loads() {
    if (const auto lines = asked(state_.loads_on_ungrouted); !lines.empty()) {
      list_.push_back(
          entries(lines) +
          (state_.may_load()
               ? ": a load stood on the deck before it was released for load. Look at plates, "
                 "stands and restraints."
               : ": a load stood on a deck that is not released for load. Take it off; look at "
                 "plates, stands and restraints before anything else."));
      if (only_) list_.back() += " No load comes onto a deck that is not fixed.";
    }
    const auto lines = asked(state_.loads_before_stops);
    if (lines.empty() || state_.fixed) return;
    list_.push_back(entries(lines) +
                    ": a load or a vehicle came before stops against run-away were fitted. Fit "
                    "them before the next one.");
  }

  void grout() {
    if (!asked(state_.uncleared_grout_line)) return;
    list_.push_back(entries({state_.uncleared_grout_line}) +
                    ": the plates were grouted without being cleared for it. Screws turn no more; "
                    "until the cells are read after the release and agree, the balance is owed, by "
                    "shims.");
  }

  void releases() {
    for (const int line : asked(state_.releases_unfit)) {
      std::string text = entries({line}) + ": this release does not hold";
      const auto index = static_cast<std::size_t>(line);
      const auto says = static_cast<std::size_t>(state_.history.lines[index].says);
      for (const Lack& lack : release_lacks(state_, state_.history.words(line).fields,
                                            state_.history.lines[says].entry.stamp)) {
        text += "; " + lack.what;
      }
      list_.push_back(text + ". No load before a release that does.");
    }
    if (only_ && asked(state_.release_line) && is_practice(state_)) {
      list_.emplace_back(
          "On a practice site time is played: the release was not compared with the clock.");
    }
    const bool ticked = asked(state_.cured_line) && !state_.may_load();
    if (!ticked) return;
    list_.push_back(
        entries({state_.cured_line}) +
        ": a tick that grout has set opens nothing. A release is owed, with its grounds "
        "and a name.");
  }

  void visit() {
    if (!asked(state_.called_service_line)) return;
    list_.push_back(entries({state_.called_service_line}) +
                    ": the visit is called service, and the installation is not finished: it goes "
                    "on, with what it still owes.");
  }

  const SiteState& state_;
  std::optional<std::vector<int>> only_;
  std::vector<std::string> list_;
};

}  // namespace

std::vector<std::string> dangers_of(const SiteState& state) {
  return Dangers(state, {}).list();
}

std::vector<std::string> dangers_of(const SiteState& state, const std::vector<int>& lines) {
  return Dangers(state, lines).list();
}

}  // namespace weighwright::job
