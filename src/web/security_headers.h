#pragma once
/// Headers that every answer carries.
///
/// Sources: OWASP Secure Headers Project; Content Security Policy Level 3 (W3C); Referrer Policy
/// (W3C); HTML standard, "Cross-origin opener policies"; Fetch standard,
/// "Cross-Origin-Resource-Policy header"; Permissions Policy (W3C). No Strict-Transport-Security: a
/// browser must ignore it from a certificate it does not trust (RFC 6797, 8.1), and it would bind
/// the laptop's name for good.

#include <string>
#include <utility>
#include <vector>

namespace weighwright::web {

[[nodiscard]] const std::vector<std::pair<std::string, std::string>>& security_headers();

}  // namespace weighwright::web
