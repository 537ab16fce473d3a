#include <fmt/format.h>

#include <algorithm>
#include <set>

#include "deck/gravity.h"
#include "job/drawn_deck.h"
#include "job/entry_words.h"
#include "job/indication_words.h"
#include "job/practice_remark.h"
#include "job/prove_case.h"
#include "job/report_case.h"
#include "job/report_parts.h"
#include "job/rulebook_of.h"
#include "job/test_words.h"
#include "record/local_time.h"
#include "units/quantity.h"

namespace weighwright::job {
namespace {

using record::field;
using report::DocumentView;

/// "a; b" to lines.
std::vector<std::string> lines_of(std::string_view text) {
  std::vector<std::string> lines;
  while (!text.empty()) {
    const std::size_t end = std::min(text.find(';'), text.size());
    std::string_view line = text.substr(0, end);
    while (!line.empty() && line.front() == ' ') line.remove_prefix(1);
    while (!line.empty() && line.back() == ' ') line.remove_suffix(1);
    if (!line.empty()) lines.emplace_back(line);
    text.remove_prefix(std::min(end + 1, text.size()));
  }
  return lines;
}

class DocumentMaker {
 public:
  DocumentMaker(const Looked& looked, const ReportRequest& request)
      : looked_(looked),
        state_(looked.state),
        deck_(*looked.state.deck->deck),
        request_(request),
        proof_(site_proof_of(looked.state,
                             true,
                             request.kind == PaperKind::report || request.kind == PaperKind::dcc)) {
  }

  DocumentView make() {
    show_parties();
    show_number();
    show_item();
    show_dates();
    show_environment();
    show_results();
    show_work();
    show_statements();
    show_missing();
    show_journal();
    view_.drawing = drawn_deck(deck_);
    view_.us = deck_.units == deck::UnitSystem::us;
    view_.practice = is_practice(state_) ? "PRACTICE SITE - not a real scale" : "";
    view_.made_by = "Weighwright " WEIGHWRIGHT_VERSION;
    return std::move(view_);
  }

 private:
  const record::Fields& fields(int line) const { return state_.history.words(line).fields; }

  std::string said(int line, std::string_view name) const {
    return line < 0 ? "" : std::string(field(fields(line), name));
  }

  std::optional<report::PartyView> party(const std::string& role) const {
    const auto found = state_.parties.find(role);
    if (found == state_.parties.end()) return {};
    return report::PartyView{.name = said(found->second, "name"),
                             .address = lines_of(said(found->second, "address")),
                             .contact = said(found->second, "contact"),
                             .country = said(found->second, "country")};
  }

  /// A calibration certificate is what an accredited laboratory issues, nobody else.
  void show_parties() {
    view_.laboratory = party("laboratory");
    view_.customer = party("customer");
    view_.title = "Test report";
    const auto laboratory = state_.parties.find("laboratory");
    if (laboratory != state_.parties.end()) {
      const std::string body = said(laboratory->second, "accreditation_body");
      const std::string number = said(laboratory->second, "accreditation_number");
      // No certificate of a scale that is not there.
      if (!body.empty() && !number.empty() && !is_practice(state_)) {
        view_.accreditation = report::AccreditationView{.body = body, .number = number};
        view_.title = "Calibration certificate";
      }
    }
    const auto signatory = state_.parties.find("signatory");
    if (signatory == state_.parties.end()) return;
    view_.authorised = said(signatory->second, "name");
    view_.role = said(signatory->second, "position");
  }

  /// The number holds for what was on record when it was given; whatever came after makes a draft.
  void show_number() {
    const auto& heads = looked_.view.heads;
    const std::string draft = heads.empty() ? "draft" : "draft " + heads.front().hash.substr(0, 8);
    view_.number = draft;
    if (state_.reports.empty()) return;
    const int line = state_.reports.back();
    if (line < state_.visit_line) return;
    if (const int later = changed_since(line); later >= 0) {
      view_.number += " (changed since " + said(line, "number") + " was issued)";
      view_.deviations.push_back(fmt::format(
          "Entry {} came after {} was issued: this paper is no issued report. Issue a new "
          "one that replaces it.",
          later + 1, said(line, "number")));
      return;
    }
    view_.number = said(line, "number");
    view_.issued = record::print_date(day_of(state_, line));
    if (const std::string old = said(line, "replaces"); !old.empty()) {
      view_.replaces = old;
      if (const std::string why = said(line, "reason"); !why.empty()) view_.replaces += ": " + why;
    }
    if (const std::string more = said(line, "deviations"); !more.empty()) {
      view_.deviations = lines_of(more);
    }
  }

  /// The first entry after a line that a report could show; -1: none.
  int changed_since(int line) const {
    for (int i = line + 1; i < static_cast<int>(state_.history.lines.size()); ++i) {
      const std::string& kind = state_.history.lines[static_cast<std::size_t>(i)].entry.what.kind;
      if (kind != "tick" && kind != "photo" && kind != "settled") return i;
    }
    return -1;
  }

  void add_item(const std::string& name, const std::string& value) {
    if (!value.empty()) view_.item.emplace_back(name, value);
  }

  void show_item() {
    const IndicationWords say(deck_);
    const int line = state_.item_line;
    view_.maker = said(line, "maker");
    view_.model = said(line, "model");
    view_.serial = said(line, "serial").empty() ? deck_.serial : said(line, "serial");
    view_.approval = said(line, "approval").empty() ? deck_.approval : said(line, "approval");
    view_.place = said(line, "place").empty() ? deck_.name : said(line, "place");
    add_item("Maker, model", view_.maker + (view_.model.empty() ? "" : " " + view_.model));
    add_item("Serial number", view_.serial);
    add_item("Type approval", view_.approval);
    add_item("Indicator", said(line, "indicator"));
    add_item("Indicator serial number", said(line, "indicator_serial"));
    add_item("Software identification", said(line, "software"));
    // With results the paper says class, Max and e beside them.
    const bool told = proof_.verdict || !proof_.found.results.empty();
    if (!told) {
      add_item("Accuracy class", deck_.accuracy_class);
      add_item("Max", say.load(deck_.capacity_kg));
    }
    if (!told || !deck_.ranges.empty()) {
      add_item(deck_.rulebook == "H44" ? "d (count-by)" : "e", interval_words());
    }
    if (deck_.clc_kg) add_item("Concentrated load capacity", say.load(*deck_.clc_kg));
    add_item("Deck", fmt::format("{} modules, {} sections, {} cells of {}", deck_.modules.size(),
                                 deck_.sections.size(), deck_.stands.size(),
                                 say.load(deck_.stands.front().cell.capacity_kg)));
    for (int i = 0; i < deck_.stand_count(); ++i) {
      const std::string& serial = deck_.stands[static_cast<std::size_t>(i)].cell.serial;
      view_.cells.emplace_back(units::print(units::StandIndex{i}), serial);
    }
  }

  std::string interval_words() const {
    const IndicationWords say(deck_);
    if (deck_.ranges.empty()) return say.mass(deck_.interval_kg);
    std::string text;
    for (const deck::Range& range : deck_.ranges) {
      text += (text.empty() ? "" : ", ") + say.mass(range.interval_kg) + " to " +
              say.load(range.capacity_kg);
    }
    return text;
  }

  void show_dates() {
    std::set<std::int64_t> days;
    for (const Event& event : state_.events) {
      if (event.line >= state_.visit_line && std::holds_alternative<record::ProofSet>(event.what)) {
        days.insert(day_of(state_, event.line));
      }
    }
    if (days.empty()) return;
    view_.began = record::print_date(*days.begin());
    view_.ended = record::print_date(*days.rbegin());
  }

  void show_environment() {
    report::EnvironmentView& air = view_.environment;
    const proof::Conditions& known = proof_.left.conditions;
    air.temperature_low_degC = known.temperature_low_degC;
    air.temperature_high_degC = known.temperature_high_degC;
    if (known.temperature_low_degC) {
      air.temperature = fmt::format("{:g} to {:g} degC", *known.temperature_low_degC,
                                    *known.temperature_high_degC);
    }
    for (const int line : state_.weather) show_weather(line);
    if (known.air_kg_per_m3) {
      air.air_density = fmt::format("{:.3f} kg/m3 (CIPM-2007)", *known.air_kg_per_m3);
    }
    air.gravity = gravity_words();
  }

  void show_weather(int line) {
    report::EnvironmentView& air = view_.environment;
    const std::string pressure = said(line, "pressure_hPa");
    const std::string humidity = said(line, "humidity_percent");
    // What an older version took as typed and is no figure is told with the entries, not here.
    const record::Draft& words = state_.history.words(line);
    if (const auto value = record::figure_of(words, "pressure_hPa")) {
      air.pressure = pressure + " hPa";
      air.pressure_hPa = value;
    }
    if (const auto value = record::figure_of(words, "humidity_percent")) {
      air.humidity = humidity + " %";
      air.humidity_percent = value;
    }
    for (const char* const name : {"wind", "sun", "rain", "remark"}) {
      const std::string value = said(line, name);
      if (value.empty()) continue;
      air.weather += (air.weather.empty() ? "" : "; ") + std::string(name) + ": " + value;
    }
  }

  std::string gravity_words() const {
    const deck::Site& site = deck_.site;
    std::string text = fmt::format("{:.5f} m/s2", site.gravity_m_per_s2);
    if (!site.latitude_rad) return text + " (standard gravity; the place is not in the deck file)";
    constexpr double kDegree = 57.29577951308232;
    text += fmt::format(" (normal gravity, WGS 84, {:.2f} deg, {:.0f} m)",
                        *site.latitude_rad * kDegree, site.altitude_m.value_or(0.0));
    return text + "; a scale adjusted here with weights needs no correction for it";
  }

  void show_results() {
    if (!proof_.rulebook) return;
    view_.method = rulebook_title(*proof_.rulebook);
    if (proof_.occasion) {
      view_.method += "; " + occasion_words(*proof_.rulebook, *proof_.occasion);
    }
    if (proof_.verdict) view_.as_left = proof_.verdict;
    if (!proof_.found.results.empty()) {
      view_.as_found = proof_view(*state_.deck, *proof_.rulebook, proof_.found, std::nullopt);
    }
    view_.plan = proof_.plan;
    std::set<std::string> told;
    for (const record::Weight& weight : proof_.weights) {
      if (weight.certificate.empty()) continue;
      std::string text = weight.id + ": certificate " + weight.certificate;
      if (!weight.traced_to.empty()) text += ", compared with " + weight.traced_to;
      if (weight.expires_day) text += ", valid to " + record::print_date(*weight.expires_day);
      if (told.insert(text).second) view_.traceability.push_back(text + ".");
    }
  }

  void show_work() {
    view_.seals = seals_of(state_);
    view_.settings = settings_of(state_);
    view_.adjustments = adjustments_of(state_);
    for (int i = std::max(0, state_.visit_line); i < static_cast<int>(state_.history.lines.size());
         ++i) {
      if (!state_.history.counts(i)) continue;
      const record::Draft& words = state_.history.words(i);
      if (words.kind == "note") view_.remarks.emplace_back(field(words.fields, "text"));
      if (words.kind == "tagged" || words.kind == "notice_sent") {
        view_.remarks.push_back(entry_view(state_, i).says);
      }
    }
    for (const std::string& warning : looked_.view.warnings) view_.remarks.push_back(warning);
    for (const units::Diagnostic& fault : looked_.view.unreadable) {
      view_.remarks.push_back(
          "Not counted, since it can't be read with this deck: " + units::print(fault) + ".");
    }
    for (const std::string& damage : looked_.view.damage) {
      view_.deviations.push_back("The journal is damaged: " + damage + ".");
    }
    for (const report::ConflictView& conflict : looked_.view.conflicts) {
      if (!conflict.settled) view_.deviations.push_back(conflict.sentence);
    }
  }

  void show_statements() {
    view_.statements = {
        "The results relate only to the weighbridge named here, as it stood on the days of the "
        "test.",
        "This report says what was measured. Verification and the use for trade are for the "
        "authority "
        "in charge.",
        "It may be copied only as a whole."};
    if (!proof_.verdict && proof_.found.results.empty()) {
      view_.statements.emplace_back("No test by a rulebook is on record in this visit.");
    }
  }

  /// A blank on paper says nothing; what is not on record is named.
  void show_missing() {
    std::vector<std::string> list;
    const auto need = [&list](bool there, const char* name) {
      if (!there) list.emplace_back(name);
    };
    need(view_.laboratory.has_value(), "laboratory");
    need(view_.customer.has_value(), "customer");
    need(!view_.serial.empty(), "serial number");
    need(!view_.environment.temperature.empty(), "temperature");
    need(!state_.counters.empty(), "event counters");
    need(!state_.seals_applied.empty(), "seals as left");
    std::string text;
    for (const std::string& one : list) text += (text.empty() ? "" : ", ") + one;
    if (!text.empty()) view_.deviations.push_back("Not on record: " + text + ".");
    if (state_.seals_broken.size() > state_.seals_applied.size()) {
      view_.deviations.emplace_back("More seals were broken than applied.");
    }
  }

  void show_journal() {
    view_.heads = looked_.view.heads;
    view_.entry_count = looked_.view.entry_count;
    view_.verify_command = verify_command(looked_.view.heads);
    view_.qr = view_.verify_command;
    if (request_.record) view_.record = looked_.view.entries;
  }

  const Looked& looked_;
  const SiteState& state_;
  const deck::Deck& deck_;
  const ReportRequest& request_;
  SiteProof proof_;
  DocumentView view_;
};

}  // namespace

DocumentView document_view(const Looked& looked, const ReportRequest& request) {
  return DocumentMaker(looked, request).make();
}

}  // namespace weighwright::job
