#pragma once
/// The lines of an export, whose keys stand in one fixed order. What is written by this program is
/// read by it; for everybody else each line is JSON.

#include <cstdint>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "journal/rows.h"

namespace weighwright::journal {

/// 1: no entry is signed; 2: lines of signed entries end in their signature.
inline constexpr std::int64_t kExportFormat = 2;

struct ExportHeader {
  std::int64_t format = 1;
  std::vector<record::Head> heads;
  std::int64_t entries = 0;
  std::int64_t attachments = 0;
};

[[nodiscard]] std::string print_header(const ExportHeader& header);
[[nodiscard]] std::optional<ExportHeader> parse_header(std::string_view line);

[[nodiscard]] std::string print_line(const Row& row);
/// The parts of the line; its content and hashes are not checked.
[[nodiscard]] std::optional<Row> parse_line(std::string_view line);

struct AttachmentLine {
  std::string hash;
  std::string_view base64;
};
[[nodiscard]] std::string print_attachment(const std::string& hash, std::string_view bytes);
[[nodiscard]] std::optional<AttachmentLine> parse_attachment(std::string_view line);

}  // namespace weighwright::journal
