#pragma once
/// What a journal keeps: one entry for each thing that happened on a site. Values only; no storage,
/// no model.
///
/// An entry says what (kind and fields, as typed), when and by whom (Stamp), and how it hangs
/// together with the others: every device writes a chain of its own, each entry names the one
/// before it in its chain by hash, and the heads of the other chains that its writer had seen.
/// Nothing is ever changed: a correction or an undo is a further entry that names an earlier one.
///
/// Order  entries of all chains are put in order by (lamport, device, sequence, hash): the same on
///        every machine, whatever the clocks say (L. Lamport, Comm. ACM 21 (1978) 558-565).

#include <cstdint>
#include <optional>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "units/quantity.h"

namespace weighwright::record {

/// Names and values as typed, in the order in which they were given; a name at most once.
using Fields = std::vector<std::pair<std::string, std::string>>;

/// The value of a field; empty text when there is none.
[[nodiscard]] std::string_view field(const Fields& fields, std::string_view name);

/// What happened. `kind` is one of entry_kinds().
struct Draft {
  std::string kind;
  Fields fields;
  /// Hash (64 hex digits) of the entry that this one corrects: it then stands in its place, with
  /// the kind and the fields given here. Empty: an entry of its own.
  std::string corrects;
};

/// When, by whom, on what.
struct Stamp {
  std::string device;         // 16 hex digits: who writes this chain
  std::int64_t sequence = 0;  // position in the device's chain, from 1
  std::int64_t lamport = 0;   // one more than of any entry that its writer had seen
  std::int64_t time_ms = 0;   // UTC, since 1970-01-01T00:00:00Z, as the writer's clock said
  int offset_min = 0;         // local time less UTC at the writer's place
  std::string author;
};

/// The last entry of a chain.
struct Head {
  std::string device;
  std::int64_t sequence = 0;
  std::string hash;
  bool operator==(const Head&) const = default;
};

struct Entry {
  Stamp stamp;
  std::vector<Head> seen;  // heads of the other chains, by device
  Draft what;
  std::string previous;  // hash of the entry before it in its chain; 64 zeros for the first
  std::string hash;      // over a constant, the length of the content, the content, `previous`
  std::string key = {};  // public key that signs it, 64 hex digits; empty: it is not signed
};

/// Before in the total order.
[[nodiscard]] bool before(const Entry& a, const Entry& b);

/// "3f9a04c1-12": first eight digits of the device and the sequence, for people.
[[nodiscard]] std::string print_name(const Stamp& stamp);

/// What the value of a field may be.
enum class FieldKind {
  text,        // anything
  choice,      // one of `one_of`
  number,      // alone, in `unit`, from `least` to `most`
  whole,       // digits alone, as a counter shows them: "012"
  quantity,    // with its unit, of the kind `of`, from `least` to `most` in SI: "24 h", "35 MPa"
  date,        // "2026-11-25"
  local_time,  // "2026-11-25T18:30"
  stand,       // "2L"
  country,     // "GB": two capital letters (ISO 3166-1)
  hash,        // 64 hex digits
  token        // 8 to 64 of A-Z a-z 0-9 and hyphen
};

/// One field of a kind: the table that forms are made from and values are checked by.
struct FieldRule {
  std::string_view name;
  bool required = false;
  std::string_view says;    // what it holds, for messages
  std::string_view one_of;  // "found|left": the only values; empty: as `kind` says
  FieldKind kind = FieldKind::text;
  std::string_view unit = {};              // number: "degC", as messages name it
  units::Kind of = units::Kind::fraction;  // quantity
  double least = 0.0;                      // number, quantity; both ends are included
  double most = 0.0;
  std::string_view range = {};  // the same in words: "from -60 to 60"
  bool or_unknown = false;      // "unknown" too: nobody knows it, and that is said
};

/// "text", "choice", "number", ...
[[nodiscard]] std::string_view code_of(FieldKind kind);
/// A value that would be right: "2026-11-25", "24 h"; empty: any text.
[[nodiscard]] std::string_view example_of(const FieldRule& rule);
/// What is wrong with a value, and what would be right: `temp_degC is "banana"`, "a number in degC,
/// from -60 to 60".
struct ValueFault {
  std::string what;
  std::string expected;
};
/// Empty: nothing is wrong with it.
[[nodiscard]] std::optional<ValueFault> fault_of_value(const FieldRule& rule,
                                                       std::string_view value);
/// A value as a figure: of a number in its unit, of a quantity in SI. Empty: it is none (of an
/// entry that an older version took, or "unknown"); then it is told and not used.
[[nodiscard]] std::optional<double> figure_of(const FieldRule& rule, std::string_view value);

struct KindRule {
  std::string_view kind;
  std::string_view says;  // "a seal was broken"
  std::vector<FieldRule> fields;
  /// Of the record itself, not of the site: written by the program alone, not counted among the
  /// numbered entries.
  bool of_record = false;
};

/// Every kind of entry of this version. Kinds that a later version added are kept as they are when
/// a journal is merged or imported, and told as unknown.
[[nodiscard]] const std::vector<KindRule>& entry_kinds();
[[nodiscard]] const KindRule* find_kind(std::string_view kind);
/// A field of a kind, or one that every kind may have; null: there is none.
[[nodiscard]] const FieldRule* find_field(const KindRule& rule, std::string_view name);
/// The figure of a field of an entry, as figure_of above.
[[nodiscard]] std::optional<double> figure_of(const Draft& entry, std::string_view name);
/// Values of fields that can not be, of an entry that an older or a later version took.
[[nodiscard]] std::vector<ValueFault> odd_values(const Draft& entry);
[[nodiscard]] bool is_of_record(std::string_view kind);

/// Fields that an entry of every kind may have: "token" (8 to 64 of A-Z a-z 0-9 and hyphen: whoever
/// sends an entry twice, because no answer came, sends the same one) and "typed_at" (when it was
/// typed, by the clock of the phone, where that is not when it was recorded), "phone" (which phone
/// it came over, by the name that was given when it was let in; written by the serving machine
/// only).
[[nodiscard]] const std::vector<FieldRule>& common_fields();

/// What is wrong with a draft, in words: an unknown kind, a field missing, doubled, unknown or with
/// a value that can not be; text that is no UTF-8; more than 1 MB in all. Empty: nothing.
[[nodiscard]] std::vector<std::string> faults_of(const Draft& draft);

}  // namespace weighwright::record
