#pragma once
/// An entry as one line of JSON: what is hashed, stored, exported and imported, byte for byte.
///
/// Content  {"format":1,"device":"..","sequence":12,"lamport":31,"time":"2026-11-25T18:30:00.123Z",
///           "offset_min":60,"author":"..","seen":[["device",7,"hash"],..],"kind":"..",
///           "fields":{..},"corrects":".."(only where it is one)}
///          Signed: "format":2, and "key":"64 hex digits" after the device.
/// Line     the content with ,"previous":"..","hash":".." before its last brace, and
///          ,"signature":"128 hex digits" behind them where it is signed: what `job export` writes,
///          one entry a line.
/// The text that was hashed is kept as it is; an entry of an unknown kind or with keys that this
/// version does not know passes through unchanged.

#include <optional>
#include <string>
#include <string_view>

#include "record/entry.h"

namespace weighwright::record {

/// Content of an entry, without its hashes. One line, UTF-8.
[[nodiscard]] std::string print_content(const Entry& entry);

struct ParsedContent {
  std::optional<Entry> entry;  // without hash and previous
  std::string fault;           // why there is none
};

/// Never throws on any bytes.
[[nodiscard]] ParsedContent parse_content(std::string_view content);

}  // namespace weighwright::record
