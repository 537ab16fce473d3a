#include <array>
#include <nlohmann/json.hpp>
#include <utility>

#include "record/encoding/entry_reader.h"
#include "record/encoding/instant.h"
#include "units/diagnostic.h"

namespace weighwright::record {
namespace {

// "corrects" and "key", the last, may be absent.
constexpr std::array<std::string_view, 12> kKeys = {"format", "device",     "sequence", "lamport",
                                                    "time",   "offset_min", "author",   "seen",
                                                    "kind",   "fields",     "corrects", "key"};
constexpr std::size_t kAlwaysThere = 10;
constexpr std::int64_t kLatestFormat = 2;

/// Builds an entry from the events of nlohmann's parser. A false from any of them ends the reading,
/// with `fault` set. Nothing is built of values under keys that are not known.
class EntryBuilder final : public nlohmann::json_sax<nlohmann::json> {
 public:
  ParsedContent done(bool read) {
    if (read && !closed_) (void)refuse("it is no JSON object");
    if (fault_.empty()) check_all_given();
    if (!fault_.empty()) return {.entry = std::nullopt, .fault = fault_};
    if (!read) return {.entry = std::nullopt, .fault = "it is no JSON text"};
    return {.entry = std::move(entry_), .fault = {}};
  }

  bool null() override { return plain("null"); }
  bool boolean(bool /*value*/) override { return plain("true or false"); }
  bool number_float(double /*value*/, const std::string& /*text*/) override {
    return plain("a number that is not whole");
  }
  bool binary(nlohmann::json::binary_t& /*value*/) override { return plain("bytes"); }

  bool number_integer(std::int64_t value) override { return whole(value); }
  bool number_unsigned(std::uint64_t value) override {
    // Larger ones are refused by the limits, whatever they are.
    return whole(value > static_cast<std::uint64_t>(kLargestWhole)
                     ? kLargestWhole + 1
                     : static_cast<std::int64_t>(value));
  }

  bool string(std::string& value) override {
    if (skipping()) return true;
    if (depth_ == 0) return refuse("it is no JSON object");
    if (depth_ == 1) return text_of_key(value);
    if (key_ == "fields" && depth_ == 2) {
      entry_.what.fields.emplace_back(std::move(field_), std::move(value));
      return true;
    }
    if (key_ == "seen" && depth_ == 3) return text_of_seen(value);
    return wrong_shape();
  }

  bool start_object(std::size_t /*size*/) override {
    if (skipping()) return deeper();
    if (depth_ == 0) return deeper();
    if (depth_ == 1 && key_ == "fields") return deeper();
    return wrong_shape();
  }

  bool key(std::string& name) override {
    if (skipping()) return true;
    if (depth_ == 1) return next_key(name);
    for (const auto& [given, value] : entry_.what.fields) {
      // Kinds have a handful of fields.
      if (given == name) return refuse("the field " + units::quote(name) + " is given twice");
    }
    if (entry_.what.fields.size() >= kMostFields) return refuse("it has too many fields");
    field_ = name;
    return true;
  }

  bool end_object() override {
    --depth_;
    if (depth_ == 0) closed_ = true;
    return true;
  }

  bool start_array(std::size_t /*size*/) override {
    if (skipping()) return deeper();
    if (depth_ == 0) return refuse("it is no JSON object");
    if (key_ != "seen" || depth_ > 2) return wrong_shape();
    if (depth_ == 2) {
      entry_.seen.emplace_back();
      part_ = 0;
    }
    return deeper();
  }

  bool end_array() override {
    if (!skipping() && depth_ == 3 && part_ != 3) return wrong_shape();
    --depth_;
    return true;
  }

  bool parse_error(std::size_t position,
                   const std::string& /*last_token*/,
                   const nlohmann::detail::exception& /*error*/) override {
    if (fault_.empty()) fault_ = "it is no JSON text from byte " + std::to_string(position) + " on";
    return false;
  }

 private:
  bool refuse(std::string why) {
    if (fault_.empty()) fault_ = std::move(why);
    return false;
  }
  bool wrong_shape() { return refuse(units::quote(key_) + " is not of the right shape"); }
  /// What a later version adds passes through unread, but not so deep that other programs, which
  /// read an export by recursion, stumble over it.
  bool deeper() {
    constexpr int kDeepest = 64;
    return ++depth_ <= kDeepest || refuse("its values lie within one another more than " +
                                          std::to_string(kDeepest) + " deep");
  }
  [[nodiscard]] bool skipping() const { return depth_ >= 1 && unknown_; }

  bool plain(std::string_view what) {
    if (skipping()) return true;
    if (depth_ == 0) return refuse("it is no JSON object");
    return refuse(units::quote(key_) + " is " + std::string(what));
  }

  bool next_key(const std::string& name) {
    key_ = name;
    unknown_ = true;
    for (std::size_t i = 0; i < kKeys.size(); ++i) {
      if (kKeys.at(i) != name) continue;
      unknown_ = false;
      if (std::exchange(given_.at(i), true)) return refuse(units::quote(name) + " is given twice");
    }
    return true;
  }

  bool text_of_key(std::string& value) {
    if (key_ == "device")
      entry_.stamp.device = std::move(value);
    else if (key_ == "author")
      entry_.stamp.author = std::move(value);
    else if (key_ == "kind")
      entry_.what.kind = std::move(value);
    else if (key_ == "time")
      return time_of(value);
    else if (key_ == "corrects")
      return corrected(value);
    else if (key_ == "key")
      entry_.key = std::move(value);
    else
      return wrong_shape();
    return true;
  }

  bool corrected(std::string& value) {
    if (!is_hash(value)) return refuse("\"corrects\" is no hash of 64 hex digits");
    entry_.what.corrects = std::move(value);
    return true;
  }

  bool time_of(const std::string& value) {
    const std::optional<std::int64_t> time_ms = parse_instant(value);
    if (!time_ms) {
      return refuse("\"time\" is " + units::quote(value) +
                    ", not one like 2026-11-25T18:30:00.123Z");
    }
    entry_.stamp.time_ms = *time_ms;
    return true;
  }

  bool whole(std::int64_t value) {
    if (skipping()) return true;
    if (depth_ == 0) return refuse("it is no JSON object");
    if (key_ == "seen" && depth_ == 3 && part_ == 1) {
      entry_.seen.back().sequence = value;
      ++part_;
      return true;
    }
    if (depth_ != 1) return wrong_shape();
    if (key_ == "format") {
      format_ = value;
      return (value >= 1 && value <= kLatestFormat) ||
             refuse("its format is " + std::to_string(value) +
                    "; this version knows formats 1 and 2");
    }
    if (key_ == "sequence")
      entry_.stamp.sequence = value;
    else if (key_ == "lamport")
      entry_.stamp.lamport = value;
    else if (key_ == "offset_min")
      return offset_of(value);
    else
      return wrong_shape();
    return true;
  }

  bool offset_of(std::int64_t value) {
    if (value < -kLargestOffset_min || value > kLargestOffset_min) {
      return refuse("\"offset_min\" is not within 18 hours");
    }
    entry_.stamp.offset_min = static_cast<int>(value);
    return true;
  }

  bool text_of_seen(std::string& value) {
    Head& head = entry_.seen.back();
    if (part_ == 0)
      head.device = std::move(value);
    else if (part_ == 2)
      head.hash = std::move(value);
    else
      return wrong_shape();
    ++part_;
    return true;
  }

  void check_all_given() {
    for (std::size_t i = 0; i < kAlwaysThere; ++i) {
      if (closed_ && !given_.at(i)) {
        (void)refuse(units::quote(kKeys.at(i)) + " is missing");
      }
    }
    if (closed_ && format_ == 1)
      entry_.key.clear();  // a key of that name that means something else
    if (closed_ && format_ == kLatestFormat && entry_.key.empty()) {
      (void)refuse("\"key\" is missing");
    }
  }

  Entry entry_;
  std::string key_;
  std::string field_;
  std::string fault_;
  std::array<bool, kKeys.size()> given_{};
  std::int64_t format_ = 0;
  int depth_ = 0;
  int part_ = 0;
  bool unknown_ = false;
  bool closed_ = false;
};

}  // namespace

ParsedContent read_general(std::string_view content) {
  EntryBuilder builder;
  const bool read = nlohmann::json::sax_parse(content.begin(), content.end(), &builder);
  return builder.done(read);
}

}  // namespace weighwright::record
