#pragma once
/// Any bytes to text that can be drawn, printed and stored as XML.

#include <cstddef>
#include <string>
#include <string_view>

namespace weighwright::report {

/// Valid UTF-8 (RFC 3629) of characters that stand for something: each byte that is none, each
/// control character but the line feed and the tabulator, and each noncharacter (U+FDD0 to U+FDEF,
/// the last two of every plane; The Unicode Standard, 23.7) becomes U+FFFD. Surrogates are no
/// UTF-8. What is left is allowed in XML 1.0 (2.2). CR LF and CR become a line feed.
[[nodiscard]] std::string drawable(std::string_view text);

/// Where the character that holds byte `at` begins; `text` is valid UTF-8, `at` at most its size.
[[nodiscard]] std::size_t character_start(std::string_view text, std::size_t at);

}  // namespace weighwright::report
