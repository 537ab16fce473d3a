// How long a certificate takes: PDF of seven pages with the job record, job sheet, DCC XML.

#include <benchmark/benchmark.h>

#include "report/exchange/exchange.h"
#include "report/sample_document.h"

namespace {

using namespace weighwright::report;

/// With fonts looked up for the first time, as a program that is started for one report does.
void first_certificate_pdf(benchmark::State& state) {
  const DocumentView view = sample_document();
  for (auto _ : state) benchmark::DoNotOptimize(draw_pdf(view, PaperSize::letter));
}
BENCHMARK(first_certificate_pdf)->Unit(benchmark::kMillisecond)->Iterations(1);

void certificate_pdf(benchmark::State& state) {
  const DocumentView view = sample_document();
  for (auto _ : state) benchmark::DoNotOptimize(draw_pdf(view, PaperSize::a4));
}
BENCHMARK(certificate_pdf)->Unit(benchmark::kMillisecond);

void job_sheet_pdf(benchmark::State& state) {
  const JobSheetView view = sample_job_sheet();
  for (auto _ : state) benchmark::DoNotOptimize(draw_pdf(view, PaperSize::a4));
}
BENCHMARK(job_sheet_pdf)->Unit(benchmark::kMillisecond);

void certificate_xml(benchmark::State& state) {
  const DocumentView view = sample_document();
  for (auto _ : state) benchmark::DoNotOptimize(print_dcc(view));
}
BENCHMARK(certificate_xml)->Unit(benchmark::kMillisecond);

}  // namespace
