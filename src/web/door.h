#pragma once
/// From a request to its answer: what is asked, who asks, how often, and what the job says. Knows
/// no socket.

#include <functional>
#include <optional>
#include <string>
#include <vector>

#include "web/guard.h"
#include "web/limiter.h"
#include "web/page_files.h"
#include "web/pairing.h"
#include "web/sessions.h"
#include "web/site.h"
#include "web/visit.h"

namespace weighwright::web {

struct DoorOptions {
  House house;
  bool practice = false;  // a practice site stands behind it
  std::string job;        // file name of the journal, for the name of an export
  std::string version;
  /// A phone was let in; called from any thread, with no lock held. May be empty.
  std::function<void(const Phone& phone)> came_in = {};
};

/// A path that is answered.
struct Route {
  const char* method;
  const char* path;
  bool open;  // asked by who is not let in yet
};

class Door {
 public:
  /// @param pairing   used with house.lan only
  /// @param recorded  called after something was recorded
  Door(DoorOptions options,
       Site& site,
       PageFiles files,
       Pairing& pairing,
       Clock clock,
       std::function<void()> recorded);

  /// Before the body is read. Fills in who asks. @return a refusal, or nothing: read on
  [[nodiscard]] std::optional<Answer> admit(Visit& visit);
  /// After admit() and with the body. `stream` is set for the events.
  [[nodiscard]] Answer answer(const Visit& visit);
  /// Session and phone of a visit that was admitted, when its body has come.
  void fill_in_session(Visit& visit);
  /// Whether a stream of events that was begun may go on.
  [[nodiscard]] bool may_listen(const std::string& session);

  /// Who is let in; for who stands at the machine.
  [[nodiscard]] std::vector<Phone> phones();
  /// Ends the session of the phone with that number. @return which one it was
  std::optional<Phone> put_out(int number);

  /// Every path below /api.
  [[nodiscard]] static const std::vector<Route>& routes();

 private:
  [[nodiscard]] std::optional<Answer> let_in(Visit& visit, bool open);
  [[nodiscard]] Answer session(const Visit& visit) const;
  [[nodiscard]] Answer pair(const Visit& visit);
  [[nodiscard]] Answer leave(const Visit& visit);
  [[nodiscard]] Answer site(const Visit& visit);
  [[nodiscard]] Answer record(const Visit& visit);
  [[nodiscard]] Answer undo(const Visit& visit);
  [[nodiscard]] Answer practice(const Visit& visit);
  [[nodiscard]] Answer draft(const Visit& visit);
  [[nodiscard]] Answer phones_here(const Visit& visit);
  [[nodiscard]] Answer put_out_here(const Visit& visit);
  [[nodiscard]] Answer connect_here(const Visit& visit);
  [[nodiscard]] bool is_here(const Visit& visit) const;
  [[nodiscard]] Answer exported();
  [[nodiscard]] Answer paper(const std::string& code);
  [[nodiscard]] Answer answer_api(const Visit& visit);

  DoorOptions options_;
  Site& site_;
  PageFiles files_;
  Pairing& pairing_;
  Clock clock_;
  std::function<void()> recorded_;
  Sessions sessions_;
  Limiter let_in_pace_;
  Limiter stranger_pace_;
};

}  // namespace weighwright::web
