#include "record/csv_table.h"

#include <cstddef>

#include "record/csv.h"

namespace weighwright::record {

namespace {

bool is_space(char c) {
  return c == ' ' || c == '\t';
}

std::string_view trim(std::string_view text) {
  while (!text.empty() && is_space(text.front())) text.remove_prefix(1);
  while (!text.empty() && is_space(text.back())) text.remove_suffix(1);
  return text;
}

/// Reads fields of one line from left to right.
class LineReader {
 public:
  LineReader(std::string_view line, int number, FaultList& faults)
      : line_(line), number_(number), faults_(&faults) {}

  Row read() {
    Row row;
    do {
      row.push_back(read_field());
    } while (take_comma());
    return row;
  }

 private:
  [[nodiscard]] bool at_end() const { return at_ >= line_.size(); }
  [[nodiscard]] int column() const { return static_cast<int>(at_) + 1; }

  bool take_comma() {
    if (at_end() || line_[at_] != ',') return false;
    ++at_;
    return true;
  }

  Field read_field() {
    while (!at_end() && is_space(line_[at_])) ++at_;
    if (!at_end() && line_[at_] == '"') return read_quoted();
    Field field{"", number_, column()};
    const std::size_t start = at_;
    while (!at_end() && line_[at_] != ',') ++at_;
    field.text = trim(line_.substr(start, at_ - start));
    return field;
  }

  Field read_quoted() {
    Field field{"", number_, column()};
    ++at_;
    while (!at_end()) {
      const char c = line_[at_++];
      const bool doubled = c == '"' && !at_end() && line_[at_] == '"';
      if (c == '"' && !doubled) {
        skip_to_comma();
        field.text = trim(field.text);
        return field;
      }
      if (doubled) ++at_;
      field.text += c;
    }
    faults_->add(number_, field.column, "the quotation mark is not closed on its line",
                 "close it, or write the field without quotation marks");
    return field;
  }

  void skip_to_comma() {
    while (!at_end() && is_space(line_[at_])) ++at_;
    if (at_end() || line_[at_] == ',') return;
    faults_->add(number_, column(), "text behind the closing quotation mark",
                 "a comma between fields");
    while (!at_end() && line_[at_] != ',') ++at_;
  }

  std::string_view line_;
  int number_;
  FaultList* faults_;
  std::size_t at_ = 0;
};

/// Takes one line off the front of `text`.
std::string_view take_line(std::string_view& text) {
  const std::size_t end = text.find_first_of("\r\n");
  const std::string_view line = text.substr(0, end);
  if (end == std::string_view::npos) {
    text = {};
    return line;
  }
  const bool crlf = text.substr(end, 2) == "\r\n";
  text.remove_prefix(end + (crlf ? 2 : 1));
  return line;
}

}  // namespace

std::vector<Row> split_csv(std::string_view text, FaultList& faults) {
  std::vector<Row> rows;
  if (text.size() > kLargestFile_bytes) {
    faults.add(0, 0, "the file is larger than 1 MB", "a file of measurements has a few lines");
    return rows;
  }
  if (text.find('\0') != std::string_view::npos) {
    faults.add(0, 0, "this is no text file: it contains zero bytes",
               "save it as CSV in UTF-8 (not as a workbook, not as Unicode text)");
    return rows;
  }
  if (text.starts_with("\xEF\xBB\xBF")) text.remove_prefix(3);
  for (int number = 1; !text.empty(); ++number) {
    const std::string_view line = take_line(text);
    const std::string_view content = trim(line);
    if (content.empty() || content.front() == '#') continue;
    rows.push_back(LineReader(line, number, faults).read());
  }
  if (rows.empty()) {
    faults.add(0, 0, "the file is empty", "a header such as stand,mV and a line for each stand");
  }
  return rows;
}

}  // namespace weighwright::record
