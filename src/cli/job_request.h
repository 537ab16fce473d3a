#pragma once
/// What was asked of `job` on the command line, as values.

#include <optional>
#include <string>
#include <vector>

namespace weighwright::cli {

enum class JobDo { fresh, add, show, next, undo, verify, merge, export_, import_, backup, rescue };

struct JobVerb {
  JobDo what = JobDo::show;
  std::string job;                 // the journal
  std::vector<std::string> files;  // new: the deck; add: tables, photos, name=value of --entry
  std::string other;     // merge, export, import, backup, rescue: the other file; undo: the entry
  bool service = false;  // new: a deck that stands there
  bool keep_position = false;  // add: photos keep where they were taken
  std::vector<std::string> ticks;
  std::vector<std::string> unticks;
  std::vector<std::string> notes;
  std::optional<std::string> entry;  // kind
  std::optional<std::string> corrects;
  bool confirmed = false;  // what can hardly be is recorded as it is
  std::string remark;
  std::string author;
  bool all = false;                  // show: every entry
  std::optional<std::string> table;  // next: the moves as a table, to this file
  bool force = false;                // overwrite it
  std::vector<std::string> heads;
  std::optional<std::string> against;
  std::optional<std::string> paper;  // verify: was this file written by the record?
  bool json = false;
};

}  // namespace weighwright::cli
