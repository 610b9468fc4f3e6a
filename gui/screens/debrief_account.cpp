// The page of account: what it was, the points with their sentences, what is worth changing, the
// other way to go, and the machine over the call.

#include <fmt/format.h>
#include <imgui.h>

#include <algorithm>
#include <cmath>

#include "engine/score/chart_axes.h"
#include "gui/kit.h"
#include "gui/screens/debrief.h"
#include "gui/screens/states.h"

namespace legwork::gui::debrief {
namespace {

void points(State& state, const score::Account& account, float width) {
  const float s = state.ink.scale;
  float first = 110 * s;  // as wide as its widest name
  for (const score::Dimension& it : account.dimensions) {
    first =
        std::max(first, ImGui::CalcTextSize(spoken(state, score::name(it.dim)).c_str()).x + 14 * s);
  }
  const float second = 92 * s, left = ImGui::GetWindowPos().x;
  const auto row = [&](const Message& name, const std::string& figure, const Message& sentence) {
    const float y = kit::down();
    kit::at(left, y);
    kit::words(state, name);
    kit::at(left + first, y);
    kit::mono(state, Name{figure});
    kit::at(left + first + second, y);
    kit::words(state, sentence, kit::Tone::dim, width - first - second);
    kit::gap(state, 1);
  };
  for (const score::Dimension& it : account.dimensions) {
    row(score::name(it.dim), fmt::format("{:>4.1f} / {:.0f}", it.points, it.of), it.sentence);
  }
  if (account.slip_points > 0)
    row(phrase("Slips"), fmt::format("−{:.1f}", account.slip_points),
        phrase("Steps that could have hurt somebody: each is named below."));
  kit::rule(state, width);
  row(phrase("In all"), fmt::format("{:>4.1f} / 100", account.total), score::outcome_word(account));
  for (const score::Gate& gate : account.gates) {
    if (!gate.met)
      kit::words(state,
                 say("{gate}: {sentence}", {{"gate", gate.name}, {"sentence", gate.sentence}}),
                 kit::Tone::ink, width);
  }
  for (const Message& remark : account.remarks) kit::words(state, remark, kit::Tone::dim, width);
}

// One quantity over the call on ruled paper: along the foot the site clock, and the steps by their
// numbers.
void chart(State& state, const score::Series& series, const score::Debrief& debrief, float width) {
  if (series.value.size() < 2) return;
  const float s = state.ink.scale, height = 84 * s, margin = 44 * s;
  kit::gap(state, 4);
  kit::small_words(state,
                   say("{name}, {unit}", {{"name", series.name}, {"unit", Name{series.unit}}}),
                   kit::Tone::ink);
  const ImVec2 at = ImGui::GetCursorScreenPos();
  const auto [low_at, high_at] = std::minmax_element(series.value.begin(), series.value.end());
  const auto step = static_cast<float>(
      score::round_step(static_cast<double>(std::max(1.0F, *high_at - *low_at)), 4));
  const float low = std::floor(*low_at / step) * step;
  const float high = std::max(low + step, std::ceil(*high_at / step) * step);
  const float last = std::max(1.0F, series.minute.back());
  const auto x = [&](double minute) {
    return at.x + margin + static_cast<float>(minute) / last * (width - margin - 24 * s);
  };
  const auto y = [&](float value) { return at.y + height - (value - low) / (high - low) * height; };
  ImDrawList& list = *ImGui::GetWindowDrawList();
  const auto line = [&](float x1, float y1, float x2, float y2, Role role, float wide = 1) {
    const ImVec2 ends[2] = {{x1, y1}, {x2, y2}};
    list.AddPolyline(ends, 2, state.ink.theme.packed(role), 0, wide);
  };
  ImFont* font = state.ink.fonts.small;
  const auto wide_of = [&](const std::string& text) {
    return font->CalcTextSizeA(font->FontSize, 1e9F, 0, text.c_str()).x;
  };
  const auto write = [&](float left, float top, const std::string& text) {
    list.AddText(font, font->FontSize, {std::floor(left), std::floor(top)},
                 state.ink.theme.packed(Role::dim), text.c_str());
  };
  for (float value = low; value <= high + step / 2; value += step) {
    const float level = std::floor(y(value)) + 0.5F;
    line(x(0), level, x(last), level, Role::rule);
    std::string text = fmt::format("{:g}", value + 0.0F);
    if (text[0] == '-') text = "−" + text.substr(1);
    write(at.x + margin - wide_of(text) - 6 * s, level - font->FontSize / 2, text);
  }
  // The numbers of the steps where there is room, and under them the clock.
  const float numbers = at.y + height + 8 * s, clocks = numbers + font->FontSize + 1 * s;
  float free = 0;
  for (const score::Page& page : debrief.pages) {
    const auto at_minute = static_cast<float>(page.at_minute);
    if (at_minute > last) continue;
    const float mark = std::floor(x(page.at_minute)) + 0.5F;
    line(mark, at.y + height, mark, at.y + height + 6 * s, Role::dim);
    const std::string text = std::to_string(page.number);
    const float left = mark - wide_of(text) / 2;
    if (left < free) continue;
    write(left, numbers, text);
    free = left + wide_of(text) + 6 * s;
  }
  const int begins = score::minute_of_day(debrief.clock);
  const int most = std::max(2, static_cast<int>((width - margin) / (70 * s)));
  for (const double minute : score::clock_marks(begins, static_cast<double>(last), most)) {
    const float mark = std::floor(x(minute)) + 0.5F;
    line(mark, at.y, mark, at.y + height, Role::rule);
    const int now = begins + static_cast<int>(minute);
    const std::string text = fmt::format("{:02}:{:02}", now / 60 % 24, now % 60);
    write(mark - wide_of(text) / 2, clocks, text);
  }
  for (std::size_t i = 0; i + 1 < series.value.size(); ++i) {
    line(x(series.minute[i]), y(series.value[i]), x(series.minute[i + 1]), y(series.value[i + 1]),
         Role::ink, 1.5F);
  }
  ImGui::Dummy({width, height + 2 * font->FontSize + 12 * s});
}

}  // namespace

void draw_stages(State& state, DebriefState& mine, float width) {
  const score::Debrief& debrief = *mine.debrief;
  if (debrief.stages.empty()) return;
  const float s = state.ink.scale;
  kit::gap(state, 8);
  kit::strong(state, debrief.lead_wrote ? phrase("By stages: you, and the lead")
                                        : phrase("By stages: you, and the direct route"));
  const float left = ImGui::GetWindowPos().x;
  float names = 90 * s;  // as wide as the widest
  for (const score::Stage& stage : debrief.stages)
    names = std::max(names, ImGui::CalcTextSize(spoken(state, stage.name).c_str()).x + 16 * s);
  const float own = std::max(120 * s, width * 0.2F), lead = names + own + 14 * s;
  for (const score::Stage& stage : debrief.stages) {
    if (stage.pages.empty() && stage.lead.empty()) continue;
    const float top = kit::down();
    kit::at(left, top);
    kit::words(state, stage.name);
    // The trainee's steps by their numbers, as many in a line as there is room for.
    float x = 0, y = top;
    for (const int page : stage.pages) {
      const std::string text = std::to_string(page);
      const float wide = std::max(24.0F, ImGui::CalcTextSize(text.c_str()).x);
      if (x > 0 && x + wide > own) {
        x = 0;
        y += std::max(24.0F, ImGui::GetTextLineHeight() + 6 * s);
      }
      kit::at(left + names + x, y);
      if (kit::choice(state, fmt::format("stage page {}", page), Name{text})) {
        mine.account = false;
        mine.page = page - 1;
      }
      x += wide + 6 * s;
    }
    if (stage.pages.empty()) {
      kit::at(left + names, top);
      kit::words(state, Name{"–"}, kit::Tone::dim);
    }
    float bottom = std::max(kit::down(), y + 24);
    kit::at(left + lead, top);
    for (const score::LeadStepView& step : stage.lead) {
      kit::at(left + lead, kit::down());
      kit::words(state, say("{Step}", {{"step", step.words}}), kit::Tone::ink, width - lead);
      if (step.remark.en.empty()) continue;
      kit::at(left + lead, kit::down());
      kit::words(state, kit::quoted(step.remark), kit::Tone::dim, width - lead);
    }
    bottom = std::max(bottom, kit::down());
    kit::at(left, bottom + 2 * s);
    kit::rule(state, width);
    kit::at(left, kit::down() + 2 * s);
  }
}

void draw_route(State& state, const std::vector<score::RouteStep>& route, double minutes,
                float width) {
  if (route.empty()) return;
  const float s = state.ink.scale;
  kit::gap(state, 8);
  kit::strong(state, say("Another way to go ({minutes} min)", {{"minutes", Number{minutes, 0}}}));
  const float left = ImGui::GetWindowPos().x;
  for (const score::RouteStep& it : route) {
    const float y = kit::down();
    kit::at(left, y);
    kit::small_words(state, Name{fmt::format("{:.0f} min", it.at_minute)});
    kit::at(left + 60 * s, y);
    kit::words(state,
               it.shown.empty() ? it.words
                                : say("{step}: {shown}", {{"step", it.words}, {"shown", it.shown}}),
               kit::Tone::ink, width - 60 * s);
  }
}

void draw_account(State& state, DebriefState& mine, Place area) {
  const score::Debrief& debrief = *mine.debrief;
  const float s = state.ink.scale;
  const float gap = 48 * s, column = (area.right - area.left - gap) / 2;
  const float width = column - 20 * s;
  kit::at(area.left, area.top);
  ImGui::BeginChild("account", {column, area.bottom - area.top}, false,
                    ImGuiWindowFlags_NavFlattened);
  kit::words(state, debrief.truth, kit::Tone::ink, width);
  if (!mine.own_answer.empty()) {
    kit::words(state, say("You still suspected: “{answer}”", {{"answer", Name{mine.own_answer}}}),
               kit::Tone::dim, width);
  }
  kit::gap(state, 8);
  if (debrief.account.scored && !debrief.account.dimensions.empty())
    points(state, debrief.account, width);
  else
    for (const Message& remark : debrief.account.remarks) kit::words(state, remark);
  for (const Message& remark : mine.beside)
    kit::words(state, say("Beside the points: {remark}.", {{"remark", remark}}), kit::Tone::dim,
               width);
  ImGui::EndChild();
  kit::at(area.left + column + gap, area.top);
  ImGui::BeginChild("changes", {column, area.bottom - area.top}, false,
                    ImGuiWindowFlags_NavFlattened);
  if (!debrief.changes.empty()) kit::strong(state, phrase("Worth changing"));
  for (const score::Change& it : debrief.changes) {
    if (kit::choice(state, fmt::format("change {}", it.page), say("{Step}", {{"step", it.step}}))) {
      mine.account = false;
      mine.page = it.page - 1;
    }
    kit::words(state, it.sentence, kit::Tone::ink, width);
  }
  if (!debrief.goal.empty()) {
    kit::gap(state, 8);
    kit::strong(state, phrase("Next time"));
    kit::words(state, debrief.goal, kit::Tone::pen, width);
  }
  draw_stages(state, mine, width);
  draw_route(state, debrief.route, debrief.route_minutes, width);
  kit::gap(state, 8);
  for (const score::Series& it : debrief.series) chart(state, it.in(speech(state)), debrief, width);
  kit::gap(state, 8);
  kit::caution(state, debrief.caution, width);
  ImGui::EndChild();
}

}  // namespace legwork::gui::debrief
