#include "job/photo_position.h"

#include <algorithm>
#include <cstdint>

namespace weighwright::job {
namespace {

using Bytes = std::string_view;

unsigned byte_at(Bytes bytes, std::size_t at) {
  return static_cast<unsigned char>(bytes[at]);
}

bool begins(Bytes bytes, std::size_t at, Bytes with) {
  return bytes.size() >= at + with.size() && bytes.substr(at, with.size()) == with;
}

// ------------------------------------------------------------------------------------------ Exif

/// The TIFF structure inside an Exif packet (TIFF 6.0, section 2), to be changed in place.
class Tiff {
 public:
  explicit Tiff(std::string& bytes) : bytes_(bytes) {
    big_ = begins(bytes_, 0, Bytes("MM\0*", 4));
    sound_ = big_ || begins(bytes_, 0, Bytes("II*\0", 4));
  }

  /// @return whether there was a GPS directory; nothing where the structure is broken
  std::optional<bool> drop_gps() {
    if (!sound_ || bytes_.size() < kHeader) return {};
    const std::size_t first = number(4, 4);
    if (!holds_directory(first)) return {};
    const std::size_t entries = number(first, 2);
    for (std::size_t i = 0; i < entries; ++i) {
      const std::size_t entry = first + 2 + i * kEntry;
      if (number(entry, 2) != kGps) continue;
      const std::size_t gps = number(entry + 8, 4);
      if (!clear_directory(gps)) return {};
      take_out(first, entries, i);
      return true;
    }
    return false;
  }

 private:
  static constexpr std::size_t kHeader = 8;
  static constexpr std::size_t kEntry = 12;
  static constexpr std::size_t kGps = 0x8825;

  [[nodiscard]] std::size_t number(std::size_t at, std::size_t size) const {
    std::size_t value = 0;
    for (std::size_t i = 0; i < size; ++i) {
      value = value << 8U | byte_at(bytes_, big_ ? at + i : at + size - 1 - i);
    }
    return value;
  }

  void put(std::size_t at, std::size_t size, std::size_t value) {
    for (std::size_t i = 0; i < size; ++i) {
      bytes_[big_ ? at + size - 1 - i : at + i] = static_cast<char>(value >> (8 * i) & 0xffU);
    }
  }

  [[nodiscard]] bool holds(std::size_t at, std::size_t size) const {
    return at <= bytes_.size() && size <= bytes_.size() - at;
  }

  [[nodiscard]] bool holds_directory(std::size_t at) const {
    return holds(at, 2) && holds(at, 2 + number(at, 2) * kEntry + 4);
  }

  static std::size_t size_of(std::size_t type) {
    constexpr std::size_t kSizes[] = {0, 1, 1, 2, 4, 8, 1, 1, 2, 4, 8, 4, 8};
    return type < std::size(kSizes) ? kSizes[type] : 0;
  }

  bool clear_directory(std::size_t at) {
    if (!holds_directory(at)) return false;
    const std::size_t entries = number(at, 2);
    for (std::size_t i = 0; i < entries; ++i) {
      const std::size_t entry = at + 2 + i * kEntry;
      const std::size_t count = number(entry + 4, 4);
      const std::size_t size = size_of(number(entry + 2, 2));
      if (size == 0 || count > bytes_.size()) return false;
      if (size * count <= 4) continue;  // stands in the entry itself
      const std::size_t values = number(entry + 8, 4);
      if (!holds(values, size * count)) return false;
      std::fill_n(bytes_.begin() + static_cast<std::ptrdiff_t>(values), size * count, '\0');
    }
    std::fill_n(bytes_.begin() + static_cast<std::ptrdiff_t>(at), 2 + entries * kEntry + 4, '\0');
    return true;
  }

  /// The entries behind it, and the way to the next directory, move up.
  void take_out(std::size_t directory, std::size_t entries, std::size_t index) {
    const auto at = [&](std::size_t entry) {
      return bytes_.begin() + static_cast<std::ptrdiff_t>(directory + 2 + entry * kEntry);
    };
    std::copy(at(index + 1), at(entries) + 4, at(index));
    std::fill_n(at(entries) + 4 - static_cast<std::ptrdiff_t>(kEntry), kEntry, '\0');
    put(directory, 2, entries - 1);
  }

  std::string& bytes_;
  bool big_ = false;
  bool sound_ = false;
};

constexpr Bytes kExif("Exif\0\0", 6);

// ------------------------------------------------------------------------------------------ JPEG

constexpr unsigned kEnd = 0xd9;
constexpr unsigned kScan = 0xda;

/// ITU-T T.81, B.1.1.3: markers that nothing follows.
bool stands_alone(unsigned marker) {
  return marker == 0x01 || (marker >= 0xd0 && marker <= 0xd8);
}

/// Coded data from `at` on: up to the next marker that ends them (T.81, B.1.1.5 and E.1).
std::size_t end_of_scan(Bytes photo, std::size_t at) {
  while (at + 1 < photo.size()) {
    const unsigned next = byte_at(photo, at + 1);
    const bool coded = next == 0x00 || (next >= 0xd0 && next <= 0xd7);
    if (byte_at(photo, at) == 0xff && next != 0xff && !coded) return at;
    ++at;
  }
  return photo.size();
}

/// @return the segment without position; empty: it goes
std::string kept_segment(Bytes segment, bool& had) {
  constexpr std::size_t kHead = 4;
  const unsigned marker = byte_at(segment, 1);
  const Bytes body = segment.substr(kHead);
  if (marker == 0xe1 && begins(body, 0, kExif)) {
    std::string tiff(body.substr(kExif.size()));
    const std::optional<bool> gps = Tiff(tiff).drop_gps();
    had |= gps.value_or(true);
    if (!gps) return {};
    return std::string(segment.substr(0, kHead + kExif.size())) + tiff;
  }
  const bool pictures = marker == 0xe2 && begins(body, 0, Bytes("MPF\0", 4));
  if (marker == 0xe1 || marker == 0xed || pictures) {
    had = true;
    return {};
  }
  return std::string(segment);
}

std::optional<PositionFree> without_position_jpeg(Bytes photo) {
  PositionFree kept;
  kept.bytes = photo.substr(0, 2);
  std::size_t at = 2;
  while (at + 1 < photo.size()) {
    if (byte_at(photo, at) != 0xff) return {};
    const unsigned marker = byte_at(photo, at + 1);
    if (marker == 0xff) {  // a fill byte
      ++at;
      continue;
    }
    if (marker == kEnd) {
      kept.bytes += photo.substr(at, 2);
      kept.had_position |= at + 2 < photo.size();
      return kept;
    }
    if (stands_alone(marker)) {
      kept.bytes += photo.substr(at, 2);
      at += 2;
      continue;
    }
    if (at + 4 > photo.size()) return {};
    const std::size_t size = 2 + (byte_at(photo, at + 2) << 8U | byte_at(photo, at + 3));
    if (size < 4 || at + size > photo.size()) return {};
    kept.bytes += kept_segment(photo.substr(at, size), kept.had_position);
    at += size;
    if (marker != kScan) continue;
    const std::size_t end = end_of_scan(photo, at);
    kept.bytes += photo.substr(at, end - at);
    at = end;
  }
  // Cut off before its end: whoever looks at it sees what is there.
  kept.bytes += photo.substr(std::min(at, photo.size()));
  return kept;
}

// ------------------------------------------------------------------------------------ PNG, WebP

std::size_t big_endian(Bytes bytes, std::size_t at) {
  return static_cast<std::size_t>(byte_at(bytes, at)) << 24U | byte_at(bytes, at + 1) << 16U |
         byte_at(bytes, at + 2) << 8U | byte_at(bytes, at + 3);
}

std::size_t little_endian(Bytes bytes, std::size_t at) {
  return static_cast<std::size_t>(byte_at(bytes, at + 3)) << 24U | byte_at(bytes, at + 2) << 16U |
         byte_at(bytes, at + 1) << 8U | byte_at(bytes, at);
}

constexpr Bytes kPng("\x89PNG\r\n\x1a\n", 8);

std::optional<PositionFree> without_position_png(Bytes photo) {
  PositionFree kept;
  kept.bytes = photo.substr(0, kPng.size());
  std::size_t at = kPng.size();
  while (at + 12 <= photo.size()) {
    const std::size_t size = 12 + big_endian(photo, at);
    if (size > photo.size() - at) return {};
    const Bytes name = photo.substr(at + 4, 4);
    const bool goes = name == "eXIf" || name == "iTXt" || name == "tEXt" || name == "zTXt";
    if (!goes) kept.bytes += photo.substr(at, size);
    kept.had_position |= goes;
    at += size;
    if (name == "IEND") break;
  }
  kept.had_position |= at < photo.size();
  return kept;
}

std::optional<PositionFree> without_position_webp(Bytes photo) {
  constexpr std::size_t kHead = 12;
  PositionFree kept;
  kept.bytes = photo.substr(0, kHead);
  std::size_t at = kHead;
  while (at + 8 <= photo.size()) {
    const std::size_t body = little_endian(photo, at + 4);
    const std::size_t size = 8 + body + (body & 1U);
    if (size > photo.size() - at) return {};
    const Bytes name = photo.substr(at, 4);
    const bool goes = name == "EXIF" || name == "XMP ";
    if (!goes) kept.bytes += photo.substr(at, size);
    if (name == "VP8X" && body > 0) {
      // Flags of the chunks that go.
      char& flags = kept.bytes[kept.bytes.size() - size + 8];
      flags = static_cast<char>(static_cast<unsigned char>(flags) & ~0x0cU);
    }
    kept.had_position |= goes;
    at += size;
  }
  const std::size_t whole = kept.bytes.size() - 8;
  for (std::size_t i = 0; i < 4; ++i) {
    kept.bytes[4 + i] = static_cast<char>(whole >> (8 * i) & 0xffU);
  }
  return kept;
}

}  // namespace

std::optional<PositionFree> without_position(std::string_view photo) {
  if (begins(photo, 0, "\xff\xd8")) return without_position_jpeg(photo);
  if (begins(photo, 0, kPng)) return without_position_png(photo);
  if (begins(photo, 0, "RIFF") && begins(photo, 8, "WEBP")) return without_position_webp(photo);
  const bool tiff = begins(photo, 0, Bytes("II*\0", 4)) || begins(photo, 0, Bytes("MM\0*", 4));
  if (tiff || begins(photo, 4, "ftyp")) return {};
  return PositionFree{.bytes = std::string(photo), .had_position = false};
}

}  // namespace weighwright::job
