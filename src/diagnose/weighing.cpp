#include "diagnose/weighing.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <utility>

namespace weighwright::diagnose {
namespace {

double log_sum(const std::vector<double>& logs) {
  const double top = *std::max_element(logs.begin(), logs.end());
  double sum = 0.0;
  for (const double one : logs) sum += std::exp(one - top);
  return top + std::log(sum);
}

void weigh(const Weighing& weighing, Weighted& one) {
  std::vector<double> logs;
  double best = -std::numeric_limits<double>::infinity();
  for (std::size_t v = 0; v < one.signature.variants.size(); ++v) {
    const Weighed weighed = weighing.model.weigh(one.signature.variants[v]);
    logs.push_back(weighed.log_evidence);
    if (weighed.log_evidence > best) {
      best = weighed.log_evidence;
      one.best = v;
      one.weighed = weighed;
    }
  }
  one.log_rows = log_sum(logs);
  for (const Clue& clue : weighing.clues.list) one.log_clues += clue.log_chance(one.suspect);
}

void share_out(Weighing& weighing) {
  double top = -std::numeric_limits<double>::infinity();
  weighing.log_innocent = top;
  for (const Weighted& one : weighing.suspects) {
    top = std::max(top, std::log(one.suspect.prior) + one.log_evidence());
    if (one.suspect.kind->innocent) {
      weighing.log_innocent = std::max(weighing.log_innocent, one.log_evidence());
    }
  }
  double sum = 0.0;
  for (Weighted& one : weighing.suspects) {
    one.probability = one.suspect.prior * std::exp(one.log_evidence() - top);
    sum += one.probability;
  }
  for (Weighted& one : weighing.suspects) one.probability /= sum;
  std::stable_sort(
      weighing.suspects.begin(), weighing.suspects.end(),
      [](const Weighted& a, const Weighted& b) { return a.probability > b.probability; });
}

}  // namespace

WeighingResult weigh_all(const deck::Deck& deck,
                         const statics::Model& model,
                         const Case& evidence,
                         MeterMemory* memory) {
  const bool has_before = !evidence.before.empty();
  const bool service = has_before || evidence.context.service;
  Scene scene = scene_of(deck, model, evidence.context, has_before);
  GatheredRows gathered = gather_rows(scene, model, evidence);
  Clues clues = gather_clues(deck, evidence.now, gathered.rows.dead_kg,
                             evidence.context.shared || has_before, memory);
  WeighingResult result{.weighing = {}, .faults = std::move(gathered.faults)};
  result.faults.insert(result.faults.end(), clues.faults.begin(), clues.faults.end());
  if (!result.faults.empty()) return result;
  const Rows& rows = gathered.rows;
  RowModel row_model(rows.values(), mean_of(scene, rows), rows.noise(), open_of(scene, rows),
                     rows.wild());
  Weighing weighing{.scene = std::move(scene),
                    .rows = std::move(gathered.rows),
                    .clues = std::move(clues),
                    .model = std::move(row_model),
                    .suspects = {},
                    .log_innocent = 0.0};
  for (Suspect& suspect : suspects_of(deck, model, evidence.context, service)) {
    Weighted one;
    one.signature = signature_of(weighing.scene, weighing.rows, suspect);
    one.suspect = std::move(suspect);
    if (one.signature.variants.empty()) continue;
    weigh(weighing, one);
    weighing.suspects.push_back(std::move(one));
  }
  share_out(weighing);
  result.weighing = std::move(weighing);
  return result;
}

}  // namespace weighwright::diagnose
