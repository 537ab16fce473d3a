#include "journal/log_inspection.h"

#include <algorithm>
#include <cstdint>

#include "journal/big_endian.h"
#include "journal/schema.h"

namespace weighwright::journal {
namespace {

constexpr std::size_t kHeader_bytes = 32;
constexpr std::size_t kFrameHeader_bytes = 24;
constexpr std::size_t kFrame_bytes = kFrameHeader_bytes + kPage_bytes;
constexpr std::uint32_t kMagic = 0x377F0682;  // its last bit: words are big endian

struct Checksum {
  std::uint32_t first = 0;
  std::uint32_t second = 0;
  bool operator==(const Checksum&) const = default;
};

std::uint32_t word_at(std::string_view bytes, std::size_t at, bool big_endian) {
  const std::uint32_t word = big_endian_32(bytes, at);
  if (big_endian) return word;
  return (word >> 24U) | ((word >> 8U) & 0xFF00U) | ((word << 8U) & 0xFF0000U) | (word << 24U);
}

/// Section 4.2.
void add(Checksum& sum, std::string_view bytes, bool big_endian) {
  for (std::size_t at = 0; at + 8 <= bytes.size(); at += 8) {
    sum.first += word_at(bytes, at, big_endian) + sum.second;
    sum.second += word_at(bytes, at + 4, big_endian) + sum.first;
  }
}

Checksum stored_at(std::string_view bytes, std::size_t at) {
  return {.first = big_endian_32(bytes, at), .second = big_endian_32(bytes, at + 4)};
}

class Log {
 public:
  explicit Log(std::string_view bytes) : bytes_(bytes) {
    big_endian_ = (big_endian_32(bytes, 0) & 1U) != 0;
    add(sum_, bytes.substr(0, kHeader_bytes - 8), big_endian_);
    sound_ = (big_endian_32(bytes, 0) & ~1U) == kMagic && sum_ == stored_at(bytes, 24) &&
             big_endian_32(bytes, 8) == kPage_bytes;
  }

  [[nodiscard]] bool sound() const { return sound_; }
  [[nodiscard]] std::size_t frames() const {
    return (bytes_.size() - kHeader_bytes) / kFrame_bytes;
  }
  [[nodiscard]] std::string_view frame(std::size_t index) const {
    return bytes_.substr(kHeader_bytes + index * kFrame_bytes, kFrame_bytes);
  }
  [[nodiscard]] bool has_salts_of_header(std::size_t index) const {
    return frame(index).substr(8, 8) == bytes_.substr(16, 8);
  }
  [[nodiscard]] bool commits(std::size_t index) const {
    return big_endian_32(frame(index), 4) != 0;
  }
  [[nodiscard]] PageImage page(std::size_t index) const {
    return {.number = big_endian_32(frame(index), 0),
            .bytes = frame(index).substr(kFrameHeader_bytes)};
  }

  /// The first frame that SQLite does not take, and the one after the last transaction before it.
  struct End {
    std::size_t unfit = 0;
    std::size_t committed = 0;
  };
  [[nodiscard]] End end() const {
    End end;
    if (!sound_) return end;
    Checksum sum = sum_;
    for (; end.unfit < frames(); ++end.unfit) {
      const std::string_view here = frame(end.unfit);
      if (!has_salts_of_header(end.unfit) || big_endian_32(here, 0) == 0) break;
      add(sum, here.substr(0, 8), big_endian_);
      add(sum, here.substr(kFrameHeader_bytes), big_endian_);
      if (sum != stored_at(here, 16)) break;
      if (commits(end.unfit)) end.committed = end.unfit + 1;
    }
    return end;
  }

  /// Whether a frame that does not fit belongs to this round of the log all the same. Frames from
  /// before the log was last begun anew have two other salts; they are in the file already.
  [[nodiscard]] bool is_of_this_round(std::size_t index) const {
    const std::string_view salts = frame(index).substr(8, 8);
    const std::string_view own = bytes_.substr(16, 8);
    return !sound_ || salts.substr(0, 4) == own.substr(0, 4) || salts.substr(4) == own.substr(4) ||
           salts == std::string_view("\0\0\0\0\0\0\0\0", 8);
  }

 private:
  std::string_view bytes_;
  Checksum sum_;
  bool big_endian_ = false;
  bool sound_ = false;
};

}  // namespace

std::vector<PageImage> pages_of_log(std::string_view log) {
  std::vector<PageImage> pages;
  if (log.size() < kHeader_bytes) return pages;
  const Log frames(log);
  for (std::size_t i = frames.frames(); i-- > 0;) pages.push_back(frames.page(i));
  return pages;
}

LogState inspect_log(std::string_view log) {
  LogState state;
  if (log.size() < kHeader_bytes + kFrame_bytes) return state;
  const Log frames(log);
  state.header_damaged = !frames.sound();
  std::vector<PageImage> beyond;
  const Log::End end = frames.end();
  for (std::size_t i = end.committed; i < frames.frames(); ++i) {
    if (i >= end.unfit) {
      if (!frames.is_of_this_round(i)) continue;
      if (frames.commits(i)) ++state.commits_beyond;
      // A frame without a header left may have been the one that ends a transaction.
      if (big_endian_32(frames.frame(i), 0) == 0) state.commit_in_doubt = true;
    }
    beyond.push_back(frames.page(i));
  }
  state.unfinished = !beyond.empty() && frames.sound();
  if (!state.cut()) return state;
  FoundRows found = find_rows(beyond, pages_of_log(log));
  state.rescued = std::move(found.intact);
  state.doubtful = std::move(found.damaged);
  return state;
}

}  // namespace weighwright::journal
