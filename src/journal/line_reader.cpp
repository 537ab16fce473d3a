#include "journal/line_reader.h"

#include <charconv>

#include "journal/base64.h"
#include "record/encoding/entry_reader.h"

namespace weighwright::journal {
namespace {

constexpr std::size_t kHashDigits = 64;
constexpr std::string_view kPrevious = R"(,"previous":")";
constexpr std::string_view kHash = R"(","hash":")";
constexpr std::string_view kEnd = R"("})";
constexpr std::string_view kSignature = R"(","signature":")";
constexpr std::size_t kSignatureDigits = 128;
constexpr std::size_t kTail =
    kPrevious.size() + kHashDigits + kHash.size() + kHashDigits + kEnd.size();
constexpr std::size_t kSignedTail = kTail + kSignature.size() + kSignatureDigits;
constexpr std::string_view kHeader = R"({"weighwright_journal":)";
constexpr std::string_view kHeads = R"(,"heads":[)";
constexpr std::string_view kAttachment = R"({"attachment":")";
constexpr std::string_view kBase64 = R"(","base64":")";

bool take(std::string_view& text, std::string_view literal) {
  if (!text.starts_with(literal)) return false;
  text.remove_prefix(literal.size());
  return true;
}

bool take_whole(std::string_view& text, std::int64_t& value) {
  const auto [end, error] = std::from_chars(text.data(), text.data() + text.size(), value);
  if (error != std::errc{} || value < 0) return false;
  text.remove_prefix(static_cast<std::size_t>(end - text.data()));
  return true;
}

bool take_digits(std::string_view& text, std::size_t count, std::string& value) {
  value = text.substr(0, count);
  if (value.size() != count || value.find('"') != std::string::npos) return false;
  text.remove_prefix(count);
  return true;
}

bool take_head(std::string_view& text, record::Head& head) {
  constexpr std::size_t kDeviceDigits = 16;
  return take(text, R"({"device":")") && take_digits(text, kDeviceDigits, head.device) &&
         take(text, R"(","sequence":)") && take_whole(text, head.sequence) &&
         take(text, R"(,"hash":")") && take_digits(text, kHashDigits, head.hash) &&
         take(text, R"("})") && record::is_device(head.device) && record::is_hash(head.hash);
}

}  // namespace

std::string print_header(const ExportHeader& header) {
  std::string line{kHeader};
  line += std::to_string(header.format);
  line += kHeads;
  for (std::size_t i = 0; i < header.heads.size(); ++i) {
    const record::Head& head = header.heads[i];
    line += (i == 0 ? R"({"device":")" : R"(,{"device":")") + head.device + R"(","sequence":)" +
            std::to_string(head.sequence) + R"(,"hash":")" + head.hash + R"("})";
  }
  return line + R"(],"entries":)" + std::to_string(header.entries) + R"(,"attachments":)" +
         std::to_string(header.attachments) + "}";
}

std::optional<ExportHeader> parse_header(std::string_view line) {
  ExportHeader header;
  if (!take(line, kHeader) || !take_whole(line, header.format)) return std::nullopt;
  if (header.format < 1 || header.format > kExportFormat || !take(line, kHeads)) {
    return std::nullopt;
  }
  while (line.starts_with('{')) {
    if (!take_head(line, header.heads.emplace_back())) return std::nullopt;
    if (line.starts_with(",{")) line.remove_prefix(1);
  }
  if (!take(line, R"(],"entries":)") || !take_whole(line, header.entries)) return std::nullopt;
  if (!take(line, R"(,"attachments":)") || !take_whole(line, header.attachments)) {
    return std::nullopt;
  }
  return line == "}" ? std::optional(header) : std::nullopt;
}

std::string print_line(const Row& row) {
  std::string line = row.content;
  line.pop_back();
  line += kPrevious;
  line += print_hex(row.previous);
  line += kHash;
  line += print_hex(row.hash);
  if (!row.signature.empty()) {
    line += kSignature;
    line += print_hex(row.signature);
  }
  line += kEnd;
  return line;
}

std::optional<Row> parse_line(std::string_view line) {
  std::string previous;
  std::string hash;
  std::string signature;
  std::size_t size = 0;
  for (const bool is_signed : {false, true}) {
    size = is_signed ? kSignedTail : kTail;
    if (line.size() <= size) return std::nullopt;
    std::string_view tail = line.substr(line.size() - size);
    bool shaped = take(tail, kPrevious) && take_digits(tail, kHashDigits, previous) &&
                  take(tail, kHash) && take_digits(tail, kHashDigits, hash);
    if (is_signed) {
      shaped = shaped && take(tail, kSignature) && take_digits(tail, kSignatureDigits, signature);
    }
    if (shaped && tail == kEnd) break;
    if (is_signed) return std::nullopt;
  }
  const std::optional<HashBytes> previous_bytes = parse_hex(previous);
  const std::optional<HashBytes> hash_bytes = parse_hex(hash);
  const std::optional<std::string> signature_bytes = parse_hex_bytes(signature);
  if (!previous_bytes || !hash_bytes || !signature_bytes) return std::nullopt;
  return Row{.content = std::string(line.substr(0, line.size() - size)) + "}",
             .previous = *previous_bytes,
             .hash = *hash_bytes,
             .signature = *signature_bytes};
}

std::string print_attachment(const std::string& hash, std::string_view bytes) {
  std::string line{kAttachment};
  line += hash;
  line += kBase64;
  line += print_base64(bytes);
  line += kEnd;
  return line;
}

std::optional<AttachmentLine> parse_attachment(std::string_view line) {
  AttachmentLine parsed;
  if (!take(line, kAttachment) || !take_digits(line, kHashDigits, parsed.hash)) return std::nullopt;
  if (!take(line, kBase64) || !line.ends_with(kEnd)) return std::nullopt;
  parsed.base64 = line.substr(0, line.size() - kEnd.size());
  return parsed;
}

}  // namespace weighwright::journal
