#include "web/read_body.h"

#include <sodium.h>

#include <algorithm>
#include <array>
#include <charconv>
#include <cstddef>
#include <initializer_list>
#include <nlohmann/json.hpp>
#include <utility>

#include "web/json_text.h"
#include "web/visit.h"

namespace weighwright::web {
namespace {

using std::string;

constexpr std::size_t kName_bytes = 200;
constexpr std::size_t kPhoneName_bytes = 60;
constexpr std::size_t kTable_bytes = 1'000'000;  // as a file on the command line
constexpr std::size_t kText_bytes = 20'000;
constexpr std::size_t kLine_bytes = 1'000;
constexpr std::size_t kPhoto_bytes = 3'000'000;
constexpr std::size_t kMany = 64;
constexpr std::size_t kMostPhotos = 8;

/// Not blank, no control characters: a terminal prints it.
bool can_be_shown(const string& text) {
  const auto control = [](char c) { return static_cast<unsigned char>(c) < ' ' || c == '\x7f'; };
  return text.find_first_not_of(' ') != string::npos &&
         std::none_of(text.begin(), text.end(), control);
}

/// One object of the body: takes its fields out by name and type, and says what does not fit.
class Fields {
 public:
  Fields(const Json& object, string path, units::Diagnostics& faults)
      : object_(object), path_(std::move(path)), faults_(faults) {}

  void only(std::initializer_list<const char*> names) {
    string known;
    for (const char* const name : names) known += (known.empty() ? "" : ", ") + string(name);
    for (const auto& [name, value] : object_.items()) {
      if (std::find(names.begin(), names.end(), name) != names.end()) continue;
      complain("there is no field " + units::quote(name) + (path_.empty() ? "" : " in " + path_),
               known.empty() ? "no field at all" : "one of: " + known);
    }
  }

  /// Empty when it is not there and need not be.
  string text(const char* name, bool required, std::size_t most_bytes) {
    const Json* const value = find(name, required, "text");
    return value == nullptr ? "" : text_of(*value, place(name), most_bytes);
  }

  /// False when it is not there.
  bool yes(const char* name) {
    const Json* const value = find(name, false, "true or false");
    if (value == nullptr) return false;
    if (!value->is_boolean()) wrong_type(*value, place(name), "true or false");
    return value->is_boolean() && value->get<bool>();
  }

  std::vector<string> texts(const char* name, bool required, std::size_t most_bytes) {
    std::vector<string> all;
    each(name, required, "a list of texts", kMany, [&](const Json& one, const string& where) {
      all.push_back(text_of(one, where, most_bytes));
    });
    return all;
  }

  /// Calls `read(value, where)` for each value of a list.
  template <class Reader>
  void each(const char* name, bool required, const char* what, std::size_t most, Reader read) {
    const Json* const list = find(name, required, what);
    if (list == nullptr) return;
    if (!list->is_array()) return wrong_type(*list, place(name), what);
    if (list->size() > most) {
      return complain(place(name) + " holds " + std::to_string(list->size()),
                      std::to_string(most) + " at most");
    }
    for (std::size_t i = 0; i < list->size(); ++i) {
      read((*list)[i], place(name) + "[" + std::to_string(i) + "]");
    }
  }

  const Json* find(const char* name, bool required, const char* what) {
    const auto found = object_.find(name);
    if (found != object_.end()) return &*found;
    if (required) complain(place(name) + " is missing", what);
    return nullptr;
  }

  string text_of(const Json& value, const string& where, std::size_t most_bytes) {
    if (!value.is_string()) {
      wrong_type(value, where, "text");
      return {};
    }
    const auto& text = value.get_ref<const string&>();
    if (text.size() <= most_bytes) return text;
    complain(where + " has " + std::to_string(text.size()) + " bytes",
             std::to_string(most_bytes) + " at most");
    return {};
  }

  void wrong_type(const Json& value, const string& where, const char* what) {
    complain(where + " is " + kind_of(value), what);
  }

  void complain(string what, string expected) {
    constexpr std::size_t kMostFaults = 50;
    if (faults_.size() >= kMostFaults) return;
    faults_.push_back({.file = "body",
                       .line = 0,
                       .column = 0,
                       .what = std::move(what),
                       .expected = std::move(expected)});
  }

  [[nodiscard]] string place(const char* name) const {
    return path_.empty() ? name : path_ + "." + name;
  }

 private:
  static string kind_of(const Json& value) {
    if (value.is_null()) return "null";
    if (value.is_boolean()) return "true or false";
    if (value.is_number()) return "a number";
    if (value.is_string()) return "text";
    return value.is_array() ? "a list" : "an object";
  }

  const Json& object_;
  string path_;
  units::Diagnostics& faults_;
};

/// Reads a whole body: `read(fields)` gives the value.
template <class Value, class Reader>
Body<Value> read_whole(std::string_view text, Reader read) {
  Body<Value> body;
  Json json;
  body.faults = read_json(text, json);
  if (!body.faults.empty()) return body;
  Fields fields(json, "", body.faults);
  Value value = read(fields);
  if (body.faults.empty()) body.value = std::move(value);
  return body;
}

string read_token(Fields& fields) {
  constexpr std::size_t kShortest = 8;
  constexpr std::size_t kLongest = 64;
  const Json* const there = fields.find("token", true, "8 to 64 of A-Z a-z 0-9 and -");
  if (there == nullptr) return {};
  string token = fields.text_of(*there, "token", kText_bytes);
  const bool letters =
      token.find_first_not_of("ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789-") ==
      string::npos;
  if (there->is_string() && (!letters || token.size() < kShortest || token.size() > kLongest)) {
    fields.complain("token is " + units::quote(token), "8 to 64 of A-Z a-z 0-9 and -");
  }
  return token;
}

/// The journal that it is for. Without it nothing is taken: what an older page sends, or one whose
/// site is not served any more, could land in the journal of another site.
string read_journal(Fields& fields) {
  constexpr std::size_t kDigits = 64;
  constexpr const char* kExpected = "the journal of GET /api/site, 64 hex digits";
  const Json* const there = fields.find(
      "journal", true, "the journal of GET /api/site; a page that is open: load it anew");
  if (there == nullptr) return {};
  string journal = fields.text_of(*there, "journal", kText_bytes);
  const bool hex = journal.find_first_not_of("0123456789abcdef") == string::npos;
  if (there->is_string() && (!hex || journal.size() != kDigits)) {
    fields.complain("journal is " + units::quote(journal), kExpected);
  }
  return journal;
}

/// Who records: one line, nothing that can't be printed.
string read_author(Fields& fields) {
  string author = fields.text("author", false, kName_bytes);
  const bool odd = std::any_of(author.begin(), author.end(), [](char c) {
    return static_cast<unsigned char>(c) < 0x20 || c == 0x7f;
  });
  if (odd) fields.complain("author is " + units::quote(author), "a name on one line");
  return author;
}

/// The name of a file: no folder, nothing that can't be printed.
string read_name(Fields& fields) {
  string name = fields.text("name", true, kName_bytes);
  const bool odd = std::any_of(name.begin(), name.end(), [](char c) {
    return c == '/' || c == '\\' || static_cast<unsigned char>(c) < 0x20 || c == 0x7f;
  });
  if (odd) fields.complain(fields.place("name") + " is " + units::quote(name), "a plain file name");
  return name;
}

/// RFC 3339, 5.6: 2026-11-25T18:04:11+01:00, with or without a part of a second.
bool is_time(const string& text) {
  const auto fits = [&](std::size_t at, std::string_view pattern) {
    if (text.size() < at + pattern.size()) return false;
    for (std::size_t i = 0; i < pattern.size(); ++i) {
      const char c = text[at + i];
      if (pattern[i] == '9' ? c < '0' || c > '9' : c != pattern[i]) return false;
    }
    return true;
  };
  if (!fits(0, "9999-99-99T99:99:99")) return false;
  std::size_t at = 19;
  if (fits(at, ".9")) {
    ++at;
    while (at < text.size() && text[at] >= '0' && text[at] <= '9') ++at;
  }
  if (text.substr(at) == "Z") return true;
  return text.size() == at + 6 && (fits(at, "+99:99") || fits(at, "-99:99"));
}

job::InputFile read_table(Fields& fields) {
  fields.only({"name", "text"});
  job::InputFile table{.name = read_name(fields), .text = {}};
  table.text = fields.text("text", true, kTable_bytes);
  return table;
}

job::InputFile read_photo(Fields& fields) {
  fields.only({"name", "base64"});
  job::InputFile photo{.name = read_name(fields), .text = {}};
  const string code = fields.text("base64", true, kLargestBody_bytes);
  std::size_t length = 0;
  photo.text.resize(code.size() / 4 * 3 + 3);
  const int done = sodium_base642bin(reinterpret_cast<unsigned char*>(photo.text.data()),
                                     photo.text.size(), code.data(), code.size(), "\r\n", &length,
                                     nullptr, sodium_base64_VARIANT_ORIGINAL);
  if (done != 0) {
    fields.complain(fields.place("base64") + " is no base64", "base64 (RFC 4648, 4) with padding");
    length = 0;
  }
  photo.text.resize(length);
  if (length > kPhoto_bytes) {
    fields.complain(fields.place("base64") + " holds " + std::to_string(length) + " bytes",
                    "photos of 3 MB at most");
  }
  return photo;
}

/// Objects of a list.
template <class Reader>
std::vector<job::InputFile> read_files(
    Fields& fields, const char* name, std::size_t most, units::Diagnostics& faults, Reader read) {
  std::vector<job::InputFile> files;
  fields.each(name, false, "a list of objects", most, [&](const Json& one, const string& where) {
    if (!one.is_object()) return fields.wrong_type(one, where, "an object");
    Fields inner(one, where, faults);
    files.push_back(read(inner));
  });
  return files;
}

std::optional<record::Draft> read_entry(Fields& fields, units::Diagnostics& faults) {
  const Json* const entry = fields.find("entry", false, "");
  if (entry == nullptr || entry->is_null()) return {};
  if (!entry->is_object()) {
    fields.wrong_type(*entry, "entry", "an object");
    return {};
  }
  Fields inner(*entry, "entry", faults);
  inner.only({"kind", "fields"});
  record::Draft draft{.kind = inner.text("kind", true, kName_bytes), .fields = {}, .corrects = {}};
  const Json* const values = inner.find("fields", false, "");
  if (values == nullptr) return draft;
  if (!values->is_object()) {
    inner.wrong_type(*values, "entry.fields", "an object");
    return draft;
  }
  for (const auto& [name, value] : values->items()) {
    draft.fields.emplace_back(
        name, inner.text_of(value, "entry.fields." + units::quote(name), kText_bytes));
  }
  return draft;
}

}  // namespace

Body<PairBody> read_pair(std::string_view text) {
  return read_whole<PairBody>(text, [](Fields& fields) {
    fields.only({"code", "name"});
    PairBody body{.code = fields.text("code", true, kName_bytes),
                  .name = fields.text("name", true, kPhoneName_bytes)};
    if (!can_be_shown(body.name)) {
      fields.complain("name is " + units::quote(body.name),
                      "who holds this phone, in letters that can be shown on one line");
    }
    return body;
  });
}

Body<int> read_put_out(std::string_view text) {
  return read_whole<int>(text, [](Fields& fields) {
    fields.only({"phone"});
    const string typed = fields.text("phone", true, kName_bytes);
    int number = 0;
    const auto read = std::from_chars(typed.data(), typed.data() + typed.size(), number);
    if (read.ec != std::errc() || read.ptr != typed.data() + typed.size()) {
      fields.complain("phone is " + units::quote(typed), "its number as text, as \"2\"");
    }
    return number;
  });
}

Body<bool> read_leave(std::string_view text) {
  if (text.empty()) return {.value = true, .faults = {}};
  return read_whole<bool>(text, [](Fields& fields) {
    fields.only({});
    return true;
  });
}

Body<RecordBody> read_record(std::string_view text) {
  Body<RecordBody> body;
  Json json;
  body.faults = read_json(text, json);
  if (!body.faults.empty()) return body;
  Fields fields(json, "", body.faults);
  fields.only({"journal", "token", "confirmed", "author", "typed_at", "tables", "ticks", "unticks",
               "notes", "entry", "photos", "corrects", "remark", "keep_position"});
  RecordBody read;
  read.author = read_author(fields);
  job::PageEntries& entries = read.entries;
  entries.journal = read_journal(fields);
  entries.token = read_token(fields);
  entries.confirmed = fields.yes("confirmed");
  entries.typed_at = fields.text("typed_at", false, kName_bytes);
  if (!entries.typed_at.empty() && !is_time(entries.typed_at)) {
    fields.complain("typed_at is " + units::quote(entries.typed_at),
                    "a time as 2026-11-25T18:04:11+01:00 (RFC 3339)");
  }
  entries.files = read_files(fields, "tables", kMany, body.faults, read_table);
  entries.photos = read_files(fields, "photos", kMostPhotos, body.faults, read_photo);
  entries.ticks = fields.texts("ticks", false, kName_bytes);
  entries.unticks = fields.texts("unticks", false, kName_bytes);
  entries.notes = fields.texts("notes", false, kText_bytes);
  entries.entry = read_entry(fields, body.faults);
  entries.corrects = fields.text("corrects", false, kName_bytes);
  entries.remark = fields.text("remark", false, kText_bytes);
  entries.keep_position = fields.yes("keep_position");
  if (body.faults.empty()) body.value = std::move(read);
  return body;
}

Body<UndoBody> read_undo(std::string_view text) {
  return read_whole<UndoBody>(text, [](Fields& fields) {
    fields.only({"journal", "token", "entry", "remark", "author"});
    return UndoBody{.undo = {.journal = read_journal(fields),
                             .token = read_token(fields),
                             .entry = fields.text("entry", false, kName_bytes),
                             .remark = fields.text("remark", false, kText_bytes)},
                    .author = read_author(fields)};
  });
}

Body<job::PageCommands> read_practice(std::string_view text) {
  return read_whole<job::PageCommands>(text, [](Fields& fields) {
    fields.only({"journal", "lines"});
    return job::PageCommands{.journal = read_journal(fields),
                             .lines = fields.texts("lines", true, kLine_bytes)};
  });
}

Body<DraftBody> read_draft(std::string_view text) {
  return read_whole<DraftBody>(text, [](Fields& fields) {
    fields.only({"name", "answers"});
    return DraftBody{.name = fields.text("name", false, kName_bytes),
                     .answers = fields.texts("answers", true, kLine_bytes)};
  });
}

}  // namespace weighwright::web
