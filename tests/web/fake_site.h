#pragma once
/// A site for tests of the server: keeps what it is given, answers with fixed invented figures.

#include <atomic>
#include <memory>
#include <mutex>
#include <set>
#include <string>
#include <vector>

#include "web/site.h"

namespace weighwright::web {

/// The journal that it says it has.
inline const std::string kJournal(64, 'a');

/// What happened at the fake, readable while a server owns it.
struct FakeBooks {
  std::mutex mutex;
  std::vector<std::string> tokens;  // in the order in which they were recorded
  std::vector<job::PageEntries> recorded;
  std::vector<std::string> authors;
  std::vector<std::string> phones;
  std::atomic<int> connected{0};
  std::atomic<int> site_asked{0};
  std::atomic<int> live_asked{0};
  std::atomic<int> live_value{0};
};

class FakeSite : public Site {
 public:
  explicit FakeSite(std::shared_ptr<FakeBooks> books) : books_(std::move(books)) {}

  std::string revision() override {
    const std::scoped_lock lock(books_->mutex);
    return "r" + std::to_string(books_->tokens.size());
  }
  job::Reply site() override {
    ++books_->site_asked;
    return done(R"({"revision":")" + revision() + "\"}");
  }
  job::Reply entries() override { return done(R"({"entries":[]})"); }
  job::Reply paper(const std::string& code) override {
    return {.status = job::Reply::Status::done,
            .json = "%PDF-1.7 " + code,
            .media = "application/pdf",
            .name = code + ".pdf"};
  }
  job::Reply record(const job::PageEntries& entries, const Who& who) override {
    if (entries.journal != kJournal) return another();
    {
      const std::scoped_lock lock(books_->mutex);
      books_->tokens.push_back(entries.token);
      books_->recorded.push_back(entries);
      books_->authors.push_back(who.author);
      books_->phones.push_back(who.phone);
    }
    return done(R"({"recorded":{},"site":{}})");
  }
  job::Reply undo(const job::PageUndo& undo, const Who&) override {
    if (undo.journal != kJournal) return another();
    const std::scoped_lock lock(books_->mutex);
    books_->tokens.push_back(undo.token);
    return done(R"({"recorded":{},"site":{}})");
  }
  job::Reply practice(const job::PageCommands& commands) override {
    if (commands.journal != kJournal) return another();
    return {.status = job::Reply::Status::not_there, .json = R"({"faults":[]})"};
  }
  job::Reply questions() override { return done(R"({"questions":[]})"); }
  job::Reply draft_deck(const std::string&, const std::vector<std::string>&) override {
    return {.status = job::Reply::Status::refused, .json = R"({"faults":[],"question":3})"};
  }
  std::string live() override {
    ++books_->live_asked;
    return R"({"instruments":[],"values":[],"n":)" + std::to_string(books_->live_value) + "}\n";
  }
  job::Reply connect_instruments() override {
    ++books_->connected;
    return done(R"({"instruments":[],"values":[]})");
  }
  job::Reply exported() override { return done("{}\n{}\n"); }

 private:
  static job::Reply another() {
    return {.status = job::Reply::Status::elsewhere, .json = R"({"faults":[]})"};
  }
  static job::Reply done(std::string json) {
    return {.status = job::Reply::Status::done, .json = std::move(json)};
  }
  std::shared_ptr<FakeBooks> books_;
};

}  // namespace weighwright::web
