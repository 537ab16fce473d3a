#pragma once
/// What the instruments of a site show now, for the page. Thread-safe.

#include <memory>
#include <string>
#include <vector>

#include "deck/instrument.h"
#include "link/place_limits.h"

namespace weighwright::job {

class PageLive {
 public:
  PageLive();
  ~PageLive();
  PageLive(const PageLive&) = delete;
  PageLive& operator=(const PageLive&) = delete;

  /// Reads these from now on, in the background; does nothing when they are read already.
  /// @param limits   as live_limits gives them; empty: no deck is known
  /// @param waiting  named by the deck too, and not to be connected to before somebody says yes
  void read(const std::vector<deck::Instrument>& instruments,
            const std::vector<std::vector<link::PlaceLimits>>& limits = {},
            const std::vector<deck::Instrument>& waiting = {});
  /// "modbus-tcp 192.0.2.7:502, unit 1"
  [[nodiscard]] static std::string address_of(const deck::Instrument& instrument);
  /// The journal of the site that they stand on.
  void name_journal(const std::string& journal);
  /// One line (report::LiveView).
  [[nodiscard]] std::string json() const;

 private:
  struct State;
  std::unique_ptr<State> state_;
};

}  // namespace weighwright::job
