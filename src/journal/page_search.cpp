#include "journal/page_search.h"

#include <algorithm>
#include <optional>
#include <set>
#include <string>
#include <unordered_map>
#include <unordered_set>
#include <utility>

#include "journal/big_endian.h"
#include "journal/rows.h"
#include "journal/schema.h"
#include "record/encoding/entry_reader.h"

namespace weighwright::journal {
namespace {

// Record format: SQLite's "Database File Format", section 2.1; a text of n bytes has the serial
// type 13 + 2 n, a blob of n bytes 12 + 2 n, NULL is 0.
constexpr std::uint64_t kNull = 0;
constexpr std::uint64_t kDeviceType = 13 + 2 * 16;
constexpr std::uint64_t kHashType = 12 + 2 * 32;
constexpr std::uint64_t kSignatureType = 12 + 2 * 64;
constexpr std::size_t kSignature = 8;
constexpr std::size_t kFewestColumns = 8;  // before signatures, and in rows that are older
constexpr std::size_t kColumns = 9;

// Sections 1.6 and 2.1: what of a payload lies on the leaf itself.
constexpr std::size_t kMostLocal = kPage_bytes - 35;
constexpr std::size_t kLeastLocal = (kPage_bytes - 12) * 32 / 255 - 23;
constexpr std::size_t kOverflow = kPage_bytes - 4;

// An entry holds at most 1 MB, of which escapes make at most six; more is no entry.
constexpr std::uint64_t kLargestPayload = 8'000'000;
// A file that is made to look like a heap of long rows is not followed for ever.
constexpr std::uint64_t kMostFollowed = 400'000'000;

struct Varint {
  std::uint64_t value = 0;
  std::size_t size = 0;  // 0: there is none
};

/// Section 1.6; at most 4 bytes are of interest here.
Varint varint_at(std::string_view bytes, std::size_t at) {
  Varint read;
  for (std::size_t i = 0; i < 4 && at + i < bytes.size(); ++i) {
    const auto byte = static_cast<unsigned char>(bytes[at + i]);
    read.value = (read.value << 7U) | (byte & 0x7FU);
    if ((byte & 0x80U) == 0) {
      read.size = i + 1;
      return read;
    }
  }
  return {};
}

std::optional<std::size_t> size_of_whole(std::uint64_t type) {
  if (type >= 1 && type <= 4) return type;
  if (type == 5) return 6;
  if (type == 6) return 8;
  if (type == 8 || type == 9) return 0;
  return std::nullopt;
}

struct Shape {
  std::size_t header = 0;
  std::array<std::uint64_t, kColumns> types{};
  std::size_t payload = 0;
};

std::optional<std::size_t> size_of_column(std::size_t column, std::uint64_t type) {
  constexpr std::size_t kLongestKind = 200;
  switch (column) {
    case 0:
      return type == kNull ? std::optional<std::size_t>(0) : std::nullopt;
    case 1:
      return type == kDeviceType ? std::optional<std::size_t>(16) : std::nullopt;
    case 2:
    case 3:
      return size_of_whole(type);
    case kSignature:
      if (type == kNull) return 0;
      return type == kSignatureType ? std::optional<std::size_t>(64) : std::nullopt;
    case 5:
    case 6:
      return type == kHashType ? std::optional<std::size_t>(32) : std::nullopt;
    default:
      break;
  }
  if (type < 13 || type % 2 == 0) return std::nullopt;
  const std::uint64_t size = (type - 13) / 2;
  if (size > (column == 4 ? kLongestKind : kLargestPayload)) return std::nullopt;
  return size;
}

/// Whether the header of a row of entries begins here.
std::optional<Shape> shape_at(std::string_view page, std::size_t at) {
  Shape shape;
  shape.header = static_cast<unsigned char>(page[at]);
  if (shape.header < kFewestColumns + 1 || shape.header > kColumns + 8) return std::nullopt;
  shape.payload = shape.header;
  std::size_t next = at + 1;
  for (std::size_t column = 0; column < kColumns; ++column) {
    if (column == kSignature && next - at == shape.header) break;
    const Varint type = varint_at(page, next);
    if (type.size == 0) return std::nullopt;
    const std::optional<std::size_t> size = size_of_column(column, type.value);
    if (!size) return std::nullopt;
    shape.types.at(column) = type.value;
    shape.payload += *size;
    next += type.size;
  }
  if (next - at != shape.header || shape.payload > kLargestPayload) return std::nullopt;
  return shape;
}

std::int64_t whole_at(std::string_view bytes, std::uint64_t type) {
  if (type == 8 || type == 9) return type == 9 ? 1 : 0;
  // Two's complement, most significant byte first.
  std::uint64_t value = !bytes.empty() && (static_cast<unsigned char>(bytes.front()) & 0x80U) != 0
                            ? ~std::uint64_t{0}
                            : 0;
  for (const char byte : bytes) value = (value << 8U) | static_cast<unsigned char>(byte);
  return static_cast<std::int64_t>(value);
}

RowView row_of(const Shape& shape, std::string_view payload) {
  std::array<std::string_view, kColumns> columns{};
  std::size_t at = shape.header;
  for (std::size_t i = 0; i < kColumns; ++i) {
    const std::size_t size = size_of_column(i, shape.types.at(i)).value_or(0);
    columns.at(i) = payload.substr(at, size);
    at += size;
  }
  return {.device = columns[1],
          .sequence = whole_at(columns[2], shape.types[2]),
          .lamport = whole_at(columns[3], shape.types[3]),
          .kind = columns[4],
          .previous = columns[5],
          .hash = columns[6],
          .content = columns[7],
          .signature = columns[kSignature]};
}

class Search {
 public:
  explicit Search(const std::vector<PageImage>& known) {
    for (const PageImage& page : known) versions_[page.number].push_back(page.bytes);
  }

  void page(std::string_view bytes) {
    const std::size_t last =
        bytes.size() < kFewestColumns + 1 ? 0 : bytes.size() - kFewestColumns - 1;
    for (std::size_t at = 0; at < last; ++at) {
      if (bytes[at + 1] != '\0' || bytes[at + 2] != static_cast<char>(kDeviceType)) continue;
      if (const std::optional<Shape> shape = shape_at(bytes, at)) row(bytes, at, *shape);
    }
  }

  FoundRows done() {
    std::set<std::pair<std::string, std::int64_t>> places;
    for (const LoadedEntry& one : found_.intact) {
      places.emplace(one.entry.stamp.device, one.entry.stamp.sequence);
    }
    for (LoadedEntry& one : doubtful_) {
      if (places.emplace(one.entry.stamp.device, one.entry.stamp.sequence).second) {
        found_.damaged.push_back(std::move(one));
      }
    }
    return std::move(found_);
  }

 private:
  void row(std::string_view page, std::size_t at, const Shape& shape) {
    std::string assembled;
    for (const bool newest : {true, false}) {
      const std::string_view payload = gather(page, at, shape, newest, assembled);
      if (payload.empty()) {
        doubt(page, at, shape);
        return;
      }
      const RowView view = row_of(shape, payload);
      if (keep(view)) return;
      if (assembled.empty()) break;  // nothing else to try
    }
    doubt(page, at, shape);
  }

  bool keep(const RowView& view) {
    const auto previous = hash_of_bytes(view.previous);
    const auto hash = hash_of_bytes(view.hash);
    if (!previous || !hash || entry_hash(view.content, *previous) != *hash) return false;
    if (hashes_.contains(std::string(view.hash))) return true;
    LoadedEntry loaded = check_row(view);
    if (!loaded.intact) return false;
    // The columns are of no interest: what was recorded is the content.
    loaded.problem_kind.reset();
    loaded.problem.clear();
    loaded.content = view.content;
    hashes_.emplace(view.hash);
    found_.intact.push_back(std::move(loaded));
    return true;
  }

  /// Names a row whose hash does not fit, by its columns.
  void doubt(std::string_view page, std::size_t at, const Shape& shape) {
    const std::string_view local = page.substr(at, std::min(shape.payload, kLeastLocal));
    std::string padded(local);
    padded.resize(shape.payload, '\0');
    LoadedEntry loaded = check_row(row_of(shape, padded));
    const record::Stamp& stamp = loaded.entry.stamp;
    if (!record::is_device(stamp.device)) return;
    if (stamp.sequence < 1 || stamp.sequence > record::kLargestWhole) return;
    loaded.intact = false;
    loaded.problem_kind = ProblemKind::changed;
    loaded.problem = "it is damaged: content and hash do not fit";
    doubtful_.push_back(std::move(loaded));
  }

  /// The whole payload; empty when a part of it is not there.
  std::string_view gather(std::string_view page,
                          std::size_t at,
                          const Shape& shape,
                          bool newest,
                          std::string& assembled) {
    if (shape.payload <= kMostLocal) {
      return at + shape.payload <= page.size() ? page.substr(at, shape.payload)
                                               : std::string_view{};
    }
    const std::size_t wanted = kLeastLocal + (shape.payload - kLeastLocal) % kOverflow;
    const std::size_t local = wanted <= kMostLocal ? wanted : kLeastLocal;
    if (at + local + 4 > page.size()) return {};
    assembled.assign(page.substr(at, local));
    std::uint32_t next = big_endian_32(page, at + local);
    while (assembled.size() < shape.payload) {
      const auto versions = versions_.find(next);
      if (versions == versions_.end() || followed_ > kMostFollowed) return {};
      const std::string_view overflow = newest ? versions->second.front() : versions->second.back();
      next = big_endian_32(overflow, 0);
      const std::size_t left = shape.payload - assembled.size();
      assembled.append(overflow.substr(4, std::min(left, kOverflow)));
      followed_ += kOverflow;
    }
    return assembled;
  }

  std::unordered_map<std::uint32_t, std::vector<std::string_view>> versions_;
  std::unordered_set<std::string> hashes_;
  FoundRows found_;
  std::vector<LoadedEntry> doubtful_;
  std::uint64_t followed_ = 0;
};

}  // namespace

FoundRows find_rows(const std::vector<PageImage>& searched, const std::vector<PageImage>& known) {
  Search search(known);
  for (const PageImage& page : searched) search.page(page.bytes);
  return search.done();
}

std::vector<PageImage> pages_of_file(std::string_view bytes) {
  std::vector<PageImage> pages;
  std::uint32_t number = 1;
  for (std::size_t at = 0; at + kPage_bytes <= bytes.size(); at += kPage_bytes) {
    pages.push_back({.number = number++, .bytes = bytes.substr(at, kPage_bytes)});
  }
  return pages;
}

}  // namespace weighwright::journal
