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
#include "job/rules_list.h"
#include "job/test_words.h"
#include "record/local_time.h"
#include "units/quantity.h"

namespace weighwright::job {
namespace {

using record::field;
using report::DocumentView;

constexpr const char* kNotStated = "not stated";

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
    show_rules();
    view_.drawing = drawn_deck(deck_);
    show_placed();
    show_work();
    show_statements();
    show_others();
    show_missing();
    show_journal();
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

  /// In which state it was found, and when it came, is said of a visit, not of a weighbridge.
  std::string of_this_visit(std::string_view name) const {
    return state_.item_line >= state_.visit_line ? said(state_.item_line, name) : "";
  }

  void show_item() {
    const IndicationWords say(deck_);
    const int line = state_.item_line;
    view_.maker = said(line, "maker");
    view_.model = said(line, "model");
    view_.serial = said(line, "serial").empty() ? deck_.serial : said(line, "serial");
    view_.approval = said(line, "approval").empty() ? deck_.approval : said(line, "approval");
    view_.place = said(line, "place").empty() ? deck_.name : said(line, "place");
    view_.place_address = lines_of(said(line, "address"));
    if (view_.place_address.empty()) view_.place_address = {std::string("address: ") + kNotStated};
    view_.condition = of_this_visit("condition").empty() ? kNotStated : of_this_visit("condition");
    view_.received = of_this_visit("received");
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
    air.temperature =
        range_words(known.temperature_low_degC, known.temperature_high_degC, "\u00b0C");
    for (const int line : state_.weather) show_weather(line);
    if (known.air_kg_per_m3) {
      air.air_density = fmt::format("{:.3f} kg/m3 (CIPM-2007)", *known.air_kg_per_m3);
    }
    air.gravity = gravity_words();
  }

  /// "12 to 14 hPa"; one figure where it did not change.
  static std::string range_words(const std::optional<double>& low,
                                 const std::optional<double>& high,
                                 const char* unit) {
    if (!low || !high) return "";
    return *low == *high ? fmt::format("{:g} {}", *low, unit)
                         : fmt::format("{:g} to {:g} {}", *low, *high, unit);
  }

  static void widen(const std::string& typed,
                    std::optional<double>& low,
                    std::optional<double>& high) {
    const auto value = plain_figure(typed);
    if (!value) return;
    low = std::min(low.value_or(*value), *value);
    high = std::max(high.value_or(*value), *value);
  }

  void show_weather(int line) {
    report::EnvironmentView& air = view_.environment;
    widen(said(line, "pressure_hPa"), air.pressure_low_hPa, air.pressure_high_hPa);
    widen(said(line, "humidity_percent"), air.humidity_low_percent, air.humidity_high_percent);
    air.pressure = range_words(air.pressure_low_hPa, air.pressure_high_hPa, "hPa");
    air.humidity = range_words(air.humidity_low_percent, air.humidity_high_percent, "%");
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
    view_.method +=
        ". Errors of indication against known loads and their substitutes. Calibration model of "
        "the "
        "uncertainty: EURAMET cg-18 v4.0 (from memory, unverified), its pieces by JCGM 100:2008";
    if (proof_.verdict) view_.as_left = proof_.verdict;
    if (!proof_.found.results.empty()) {
      view_.as_found =
          proof_view(*state_.deck, *proof_.rulebook, proof_.found, std::nullopt, proof_.standing);
    }
    view_.adjusted = state_.last_adjustment() > std::max(0, state_.visit_line);
    std::set<std::string> told;
    for (const record::Weight& weight : proof_.weights) {
      if (weight.certificate.empty()) continue;
      std::string text = weight.id + ": certificate " + weight.certificate;
      if (!weight.traced_to.empty()) text += ", compared with " + weight.traced_to;
      if (weight.expires_day) text += ", valid to " + record::print_date(*weight.expires_day);
      if (told.insert(text).second) view_.traceability.push_back(text + ".");
    }
  }

  /// Who compared the rulebook with print, or what of it nobody compared.
  void show_rules() {
    if (!proof_.rulebook || (!view_.as_left && !view_.as_found)) return;
    view_.rules = rules_of_test(*proof_.rulebook, proof_.standing, deck_.accuracy_class,
                                proof_.occasion, true);
  }

  /// What stood on the deck, by the results; what a plan asked for is no evidence.
  void show_placed() {
    for (const Event& event : state_.events) {
      const auto* const set = std::get_if<record::ProofSet>(&event.what);
      if (set == nullptr || event.line < state_.visit_line) continue;
      for (const record::ProofReading& one : set->readings) {
        const record::LoadReading& reading = one.reading;
        const bool empty = reading.load_kg.value_or(0.0) <= 0.0 && reading.material.empty() &&
                           reading.load_id.empty();
        if (!empty) add_placed(event.line, *set, one);
      }
    }
  }

  void add_placed(int line, const record::ProofSet& set, const record::ProofReading& one) {
    const record::Stamp& stamp = state_.history.lines[static_cast<std::size_t>(line)].entry.stamp;
    report::PlacedView placed;
    placed.number = static_cast<int>(view_.placed.size()) + 1;
    placed.phase = phase_of(line);
    const auto check = rules::find_check(one.check);
    placed.name = check && proof_.rulebook ? test_name(*proof_.rulebook, *check) : one.check;
    placed.run = one.run;
    placed.where = place_words(one.reading.place);
    placed.heading = heading_words(one.heading);
    placed.what = what_of(one);
    placed.load_kg = load_of(one.source.empty() ? set.source : one.source, one.reading);
    placed.when = one.time_s ? print_minute(*one.time_s * 1000, 0)
                             : print_minute(stamp.time_ms, stamp.offset_min);
    placed.who = stamp.author;
    placed.entry = line + 1;
    placed.at_m = middle_of(one.reading.place);
    view_.placed.push_back(std::move(placed));
  }

  /// Local, to the minute: "2026-11-25 18:30".
  static std::string print_minute(std::int64_t time_ms, int offset_min) {
    constexpr std::size_t kToMinute = 16;
    return print_local(time_ms, offset_min).substr(0, kToMinute);
  }

  std::string phase_of(int line) const {
    if (line < state_.last_adjustment() && line > state_.visit_line) {
      const bool found = state_.first_adjustment && line < *state_.first_adjustment;
      return found ? "found" : "stale";
    }
    return "left";
  }

  /// "W*10 + S1".
  static std::string what_of(const record::ProofReading& one) {
    std::string text;
    const auto add = [&text](const std::string& part) {
      if (!part.empty()) text += (text.empty() ? "" : " + ") + part;
    };
    for (const std::string& weight : one.weights) add(weight);
    add(one.reading.material);
    add(one.reading.load_id);
    return text;
  }

  /// As judged where it was; a load with material in it is known only then.
  std::optional<double> load_of(const std::string& source,
                                const record::LoadReading& reading) const {
    for (const auto* const proof : {&view_.as_left, &view_.as_found}) {
      if (!*proof) continue;
      for (const report::ProofLineView& line : (*proof)->lines) {
        if (line.file == source && line.line == reading.line && line.load_kg > 0.0)
          return line.load_kg;
      }
    }
    if (!reading.material.empty()) return {};
    return reading.load_kg;
  }

  std::optional<std::pair<double, double>> middle_of(const record::LoadPlace& place) const {
    using Kind = record::LoadPlace::Kind;
    const auto stand = [this](int index) -> const report::DrawnStand* {
      const auto at = static_cast<std::size_t>(index);
      return index >= 0 && at < view_.drawing.stands.size() ? &view_.drawing.stands[at] : nullptr;
    };
    if (place.kind == Kind::point) return std::pair{place.x_m, place.y_m};
    if (place.kind == Kind::stand) {
      const auto* const one = stand(place.stand.value);
      if (one == nullptr) return {};
      return std::pair{one->x_m, one->y_m};
    }
    if (place.kind == Kind::deck) return {};
    const auto* const here = stand(2 * place.section.value);
    if (here == nullptr) return {};
    const auto* const next = stand(2 * place.section.value + 2);
    const bool between = place.kind == Kind::span && next != nullptr;
    return std::pair{between ? (here->x_m + next->x_m) / 2.0 : here->x_m, 0.0};
  }

  /// What others supplied, and opinions (ISO/IEC 17025:2017, 7.8.2.1 p, 7.8.2.2, 7.8.7).
  void show_others() {
    for (int i = std::max(0, state_.visit_line); i < static_cast<int>(state_.history.lines.size());
         ++i) {
      if (!state_.history.counts(i)) continue;
      const std::string& kind = state_.history.words(i).kind;
      if (kind == "supplied") {
        (said(i, "from") == "provider" ? view_.by_others : view_.by_customer)
            .push_back(supplied_words(i));
      }
      if (kind == "opinion") {
        view_.opinions.push_back(fmt::format("{} Basis: {}. Given by {}.", said(i, "text"),
                                             said(i, "basis"), said(i, "by")));
      }
    }
    if (!view_.by_customer.empty()) {
      view_.statements.emplace_back(
          "What the customer supplied is named so; it was not measured here, and results may rest "
          "on it.");
    }
  }

  std::string supplied_words(int line) const {
    std::string text = said(line, "what");
    if (const std::string by = said(line, "by"); !by.empty()) text += "; from " + by;
    if (const std::string paper = said(line, "document"); !paper.empty()) text += "; by " + paper;
    if (const std::string more = said(line, "remark"); !more.empty()) text += "; " + more;
    return text.ends_with('.') ? text : text + ".";
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
    need(!said(state_.item_line, "address").empty(), "address of the place");
    need(!of_this_visit("condition").empty(), "condition of the weighbridge");
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
