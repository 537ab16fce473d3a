#pragma once
/// A practice site behind the page: does what it is told, keeps itself in a file, and is wired to
/// instruments that answer over the network as real ones do.
///
/// Thread-safe.

#include <memory>
#include <string>
#include <vector>

#include "deck/instrument.h"
#include "job/load_deck.h"
#include "job/page_site.h"
#include "report/rehearse_view.h"
#include "units/diagnostic.h"

namespace weighwright::job {

class PagePracticeSite {
 public:
  struct Opened {
    std::unique_ptr<PagePracticeSite> site;
    units::Diagnostics faults;
  };
  /// Goes on with the kept site, or begins a new one. @param wired  whether instruments answer
  /// @param first  commands that a new site begins with ("left-right", "fault ...")
  [[nodiscard]] static Opened open(const PagePractice& practice,
                                   bool wired,
                                   const std::vector<std::string>& first = {});
  ~PagePracticeSite();
  PagePracticeSite(const PagePracticeSite&) = delete;
  PagePracticeSite& operator=(const PagePracticeSite&) = delete;

  struct Answers {
    std::vector<report::RehearseView> list;
    units::Diagnostics faults;  // when nothing was done
    std::string failed;         // when the file can't be written: nothing was done
  };
  /// All lines or none. Beside the commands of a practice site: "stay 2L 10 t" leaves a load
  /// standing there for the instruments to see, "drive-off" takes it away; both are not kept.
  [[nodiscard]] Answers command(const std::vector<std::string>& lines);

  /// Where the instruments of this site answer: those of its deck file on loopback; without any in
  /// the file, one for the cells (Modbus TCP) and one for the indication (weight protocol).
  [[nodiscard]] const std::vector<deck::Instrument>& instruments() const;
  /// The same in words, with ports and the pseudo-terminal: "indicator: weight protocol, TCP
  /// 127.0.0.1:41000, serial line /dev/pts/3".
  [[nodiscard]] std::vector<std::string> answers_at() const;

 private:
  struct State;
  explicit PagePracticeSite(std::unique_ptr<State> state);
  std::unique_ptr<State> state_;
};

}  // namespace weighwright::job
