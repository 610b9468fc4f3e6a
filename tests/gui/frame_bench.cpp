// What one page costs: building it, and drawing it without a graphics card.

#include <benchmark/benchmark.h>
#include <imgui.h>

#include "gui/headless.h"
#include "gui/screens/samples.h"

namespace legwork::gui {
namespace {

void build_page(benchmark::State& run, const char* screen) {
  State state;
  state.home = LEGWORK_SOURCE_DIR;
  state.screen = screen;
  Ui ui;
  if (const std::string problem = open_ui(state); !problem.empty()) {
    run.SkipWithError(problem.c_str());
    return;
  }
  for (auto _ : run) benchmark::DoNotOptimize(frame(ui, state, {}));
  run.counters["vertices"] = ImGui::GetDrawData()->TotalVtxCount;
}
BENCHMARK_CAPTURE(build_page, day_sheet, "day sheet")->Unit(benchmark::kMicrosecond);
BENCHMARK_CAPTURE(build_page, symbols, "symbols")->Unit(benchmark::kMicrosecond);

// On site with everything drawn: outside, open panel, sheet, leads, tags, what was seen and heard.
void build_sample(benchmark::State& run, const char* name) {
  State state;
  state.home = LEGWORK_SOURCE_DIR;
  find_sample(name)->show(state);
  Ui ui;
  if (const std::string problem = open_ui(state); !problem.empty()) {
    run.SkipWithError(problem.c_str());
    return;
  }
  for (int i = 0; i < 6; ++i) frame(ui, state, {});
  for (auto _ : run) benchmark::DoNotOptimize(frame(ui, state, {}));
  run.counters["vertices"] = ImGui::GetDrawData()->TotalVtxCount;
}
BENCHMARK_CAPTURE(build_sample, running, "on site, running")->Unit(benchmark::kMicrosecond);
BENCHMARK_CAPTURE(build_sample, locked, "on site, locked")->Unit(benchmark::kMicrosecond);
BENCHMARK_CAPTURE(build_sample, largest, "on site, mt-460")->Unit(benchmark::kMicrosecond);

void draw_page(benchmark::State& run) {
  State state;
  state.home = LEGWORK_SOURCE_DIR;
  state.screen = "symbols";
  Headless page(state, 1600, 1000);
  if (!page.problem().empty()) {
    run.SkipWithError(page.problem().c_str());
    return;
  }
  for (auto _ : run) benchmark::DoNotOptimize(page.picture());
}
BENCHMARK(draw_page)->Unit(benchmark::kMillisecond);

void bake(benchmark::State& run) {
  for (auto _ : run) {
    ImFontAtlas atlas;
    benchmark::DoNotOptimize(bake_fonts(atlas, 1));
  }
}
BENCHMARK(bake)->Unit(benchmark::kMillisecond);

}  // namespace
}  // namespace legwork::gui

BENCHMARK_MAIN();
