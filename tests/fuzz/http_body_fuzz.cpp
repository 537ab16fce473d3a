#include "fuzz/entry.h"
#include "units/diagnostic.h"
#include "web/read_body.h"

namespace weighwright::fuzz {
namespace {

/// A value or faults, never both and never neither; what is said can be printed.
template <class Value>
void hold_body(const web::Body<Value>& body) {
  hold(body.value.has_value() == body.faults.empty());
  for (const units::Diagnostic& fault : body.faults) {
    hold(units::is_utf8(units::print(fault)));
    hold(!fault.what.empty() && !fault.expected.empty());
  }
}

void hold_record(const web::Body<web::RecordBody>& body) {
  hold_body(body);
  if (!body.value) return;
  const job::PageEntries& entries = body.value->entries;
  hold(entries.token.size() >= 8 && entries.token.size() <= 64);
  for (const job::InputFile& file : entries.files) {
    hold(file.name.find('/') == std::string::npos && units::is_utf8(file.text));
  }
  for (const job::InputFile& photo : entries.photos) hold(photo.text.size() <= 3'000'000);
}

}  // namespace

/// The first byte says which body it is.
void read_http_body(std::string_view bytes) {
  if (bytes.empty()) return;
  const std::string_view text = bytes.substr(1);
  switch (static_cast<unsigned char>(bytes.front()) % 6) {
    case 0:
      return hold_record(web::read_record(text));
    case 1:
      return hold_body(web::read_undo(text));
    case 2:
      return hold_body(web::read_pair(text));
    case 3:
      return hold_body(web::read_practice(text));
    case 4:
      return hold_body(web::read_draft(text));
    default:
      return hold_body(web::read_leave(text));
  }
}

}  // namespace weighwright::fuzz

WEIGHWRIGHT_FUZZ_TARGET(weighwright::fuzz::read_http_body)
