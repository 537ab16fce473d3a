#pragma once
/// A photo without what says where on Earth it was taken. Pixels stay as they are, byte for byte.
///
/// JPEG   the GPS directory of Exif goes (Exif 2.32, 4.6.3: tag 0x8825 of the first directory; from
///        memory, unverified; Pillow reads the result in the tests), and with it the packets that
///        may repeat it: XMP, IPTC, other pictures and whatever stands behind the end of the
///        picture (films that a phone hides there). Time, camera and which way is up stay.
/// PNG    chunks eXIf, iTXt, tEXt and zTXt go (PNG specification, third edition, 11.3).
/// WebP   chunks EXIF and XMP go (WebP container specification).
/// What a maker hides in notes of his own is not known, and stays.

#include <optional>
#include <string>
#include <string_view>

namespace weighwright::job {

struct PositionFree {
  std::string bytes;
  bool had_position = false;  // something was taken out
};

/// @return nothing where it is a picture of a kind that position can't be taken out of (HEIC, AVIF,
/// TIFF). What is no picture is given back as it is.
[[nodiscard]] std::optional<PositionFree> without_position(std::string_view photo);

}  // namespace weighwright::job
