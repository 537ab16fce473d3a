#pragma once
/// The open serial protocol for weights: bytes to replies and back.
///
/// Source: Scale Manufacturers Association, Scale Serial Communication Protocol, Levels #1 and #2
/// (SCP-0499, 1999, Mod 1 2005), clauses 2.3 and 5.1, read through public digests that cite it; the
/// document itself was not at hand. A weight is `<LF> s r n m f xxxxxxxxxx uuu <CR>`, 20 bytes.
/// docs/theory/live.md says what of it is from memory.
///
/// Pure: no port, no clock. Memory is bounded whatever comes.

#include <cstddef>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace weighwright::link {

/// What asks for a value. Nothing else is ever sent to an instrument.
inline constexpr std::string_view kAskWeight = "\nW\r";

enum class WeightStatus {
  normal,
  centre_of_zero,
  over,
  under,
  zero_error,
  initial_zero_error,
  tare_error
};
enum class WeightKind { gross, net, tare };

struct WeightReply {
  WeightStatus status = WeightStatus::normal;
  int range = 1;
  WeightKind kind = WeightKind::gross;
  bool high_resolution = false;
  bool moving = false;
  std::optional<double> value;  // in `unit`; empty: no figure is shown
  std::string typed;            // as it came, without the spaces: "12340", "-0.5"
  double last_digit = 0.0;      // what one of the last digit is worth
  std::string unit;             // "kg", "lb", "t", ...
};

/// What came over the line.
struct LineEvent {
  enum class Kind { weight, unknown_command, communication_error, malformed };
  Kind kind = Kind::malformed;
  WeightReply weight;
  std::string says;  // malformed: what is wrong
};

/// What stands between <LF> and <CR>.
[[nodiscard]] LineEvent read_line(std::string_view content);

/// The stream of a line, fed as it comes: a byte at a time, or in any pieces. A reply begins at
/// <LF> and ends at <CR>; what lies between replies is counted and forgotten.
class WeightStream {
 public:
  /// Longer than any reply to W.
  static constexpr std::size_t kLongest = 64;

  [[nodiscard]] std::vector<LineEvent> feed(std::string_view bytes);

  /// Bytes that belonged to no reply since the last one that did.
  [[nodiscard]] std::size_t stray_bytes() const { return stray_; }
  /// A reply has begun and not ended.
  [[nodiscard]] bool inside() const { return inside_; }
  void clear();

 private:
  std::string content_;
  bool inside_ = false;
  std::size_t stray_ = 0;
};

/// The reply of 20 bytes; empty when the figure does not fit into ten characters or the unit into
/// three.
[[nodiscard]] std::optional<std::string> print_line(const WeightReply& reply);

}  // namespace weighwright::link
