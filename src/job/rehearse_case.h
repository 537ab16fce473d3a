#pragma once
/// A practice site that is talked to in lines: commands in, measurements out.
///
/// A command that is refused leaves the site as it was. What was done is kept as text (deck, seed,
/// commands) and done again when the site is opened, so that the same file always holds the same
/// site.

#include <cstdint>
#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "job/load_deck.h"
#include "report/rehearse_view.h"
#include "units/diagnostic.h"

namespace weighwright::rehearsal {
class PracticeSite;
}

namespace weighwright::job {

struct RehearseAnswer {
  std::optional<report::RehearseView> view;  // empty: refused, or nothing was asked
  units::Diagnostics faults;
};

class Rehearsal {
 public:
  ~Rehearsal();
  Rehearsal(Rehearsal&&) noexcept;
  Rehearsal& operator=(Rehearsal&&) noexcept;

  /// One line. A blank one gives an empty answer.
  [[nodiscard]] RehearseAnswer command(const std::string& line);
  /// The file that a command takes its turns or trims from; empty: none.
  [[nodiscard]] static std::optional<std::string> file_of(const std::string& line);
  /// A command of that kind, with its file.
  [[nodiscard]] RehearseAnswer command(const std::string& line, const InputFile& file);
  /// What only the referee may look at.
  [[nodiscard]] const rehearsal::PracticeSite& truth() const;
  /// Everything as text, to be kept.
  [[nodiscard]] std::string kept() const;

 private:
  friend struct RehearsalMaker;
  struct State;
  explicit Rehearsal(std::unique_ptr<State> state);
  std::unique_ptr<State> state_;
};

struct BegunRehearsal {
  std::optional<Rehearsal> site;
  units::Diagnostics faults;
};

/// A new site: `first` commands are done at once.
[[nodiscard]] BegunRehearsal begin_rehearsal(const InputFile& deck,
                                             std::uint64_t seed,
                                             const std::vector<std::string>& first);

/// A kept site. @param deck  must be the deck that it began with
[[nodiscard]] BegunRehearsal resume_rehearsal(const InputFile& kept, const InputFile& deck);

}  // namespace weighwright::job
