#pragma once
/// What the instruments of a site show now, for the page. Thread-safe.

#include <memory>
#include <string>
#include <vector>

#include "deck/instrument.h"

namespace weighwright::job {

class PageLive {
 public:
  PageLive();
  ~PageLive();
  PageLive(const PageLive&) = delete;
  PageLive& operator=(const PageLive&) = delete;

  /// Reads these from now on, in the background; does nothing when they are read already.
  void read(const std::vector<deck::Instrument>& instruments);
  /// The journal of the site that they stand on.
  void name_journal(const std::string& journal);
  /// One line (report::LiveView).
  [[nodiscard]] std::string json() const;

 private:
  struct State;
  std::unique_ptr<State> state_;
};

}  // namespace weighwright::job
