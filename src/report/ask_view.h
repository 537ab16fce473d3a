#pragma once
/// What would be recorded now, so that a face can make a form of it.

#include <string>
#include <utility>
#include <vector>

namespace weighwright::report {

struct FormColumn {
  std::string name;  // as in the table's header: "mV", "load_kg"
  std::string unit;  // "mV", "kg", "turns", "mm"; empty: words
  bool number = true;
  bool required = false;
  std::string live;    // which live value may fill it: "stand", "indication"; empty: none
  std::string one_of;  // "up|down"; empty: anything
};

struct FormRow {
  std::string key;                                         // of the first column
  std::vector<std::string> where;                          // stands that it is about
  std::vector<std::pair<std::string, std::string>> given;  // column, value
  std::string says = {};  // what to do there, a sentence; empty: the action says it
};

struct FormField {  // of an entry
  std::string name;
  std::string says;
  std::string one_of;
  std::string given;
  bool required = false;
  std::string kind = "text";  // record::FieldKind: "number", "date", "quantity", ...
  std::string example = {};   // of a right value: "2026-11-25"; empty: any text
  std::string range = {};     // "from -60 to 60"; empty
};

struct FormView {
  std::string kind;  // "table" | "tick" | "entry"
  std::string name;  // table: its file's name; tick: which; entry: its kind
  std::string form;  // table: readings no_load map shift loads turns trims gaps looks zeros
                     // electrics weights proof
  std::string key;   // table: the first column's name
  std::vector<FormColumn> columns;  // the others
  std::vector<FormRow> rows;
  bool open_rows = false;             // more may be added
  std::string sentence;               // tick: what it says; table: what it is for, or empty
  bool remark = false;                // a remark is needed
  std::vector<FormField> fields;      // of an entry
  std::vector<std::string> practice;  // commands that make a practice site do or measure it
};

}  // namespace weighwright::report
