#include <utility>

#include "web/site.h"

namespace weighwright::web {
namespace {

class SiteOfJob : public Site {
 public:
  SiteOfJob(std::unique_ptr<job::PageSite> site, std::function<job::Writer(const Who& who)> writer)
      : site_(std::move(site)), writer_(std::move(writer)) {}

  std::string revision() override { return site_->revision(); }
  job::Reply site() override { return site_->site(); }
  job::Reply entries() override { return site_->entries(); }
  job::Reply record(const job::PageEntries& entries, const Who& who) override {
    return site_->record(entries, writer_(who));
  }
  job::Reply undo(const job::PageUndo& undo, const Who& who) override {
    return site_->undo(undo, writer_(who));
  }
  job::Reply practice(const job::PageCommands& commands) override {
    return site_->practice(commands);
  }
  job::Reply questions() override { return site_->questions(); }
  job::Reply draft_deck(const std::string& name, const std::vector<std::string>& answers) override {
    return site_->draft_deck(name, answers);
  }
  std::string live() override { return site_->live(); }
  job::Reply exported() override { return site_->exported(); }
  job::Reply paper(const std::string& code) override { return site_->paper(code, writer_({})); }
  job::Reply connect_instruments() override { return site_->connect_instruments(); }

 private:
  std::unique_ptr<job::PageSite> site_;
  std::function<job::Writer(const Who& who)> writer_;
};

}  // namespace

std::unique_ptr<Site> site_of_job(std::unique_ptr<job::PageSite> site,
                                  std::function<job::Writer(const Who& who)> writer) {
  return std::make_unique<SiteOfJob>(std::move(site), std::move(writer));
}

}  // namespace weighwright::web
