#include "gui/screens/write_up.h"

#include <fmt/format.h>
#include <imgui.h>

#include <algorithm>
#include <cctype>
#include <charconv>

#include "gui/kit.h"
#include "gui/screens/debrief.h"
#include "gui/screens/on_site.h"
#include "gui/screens/states.h"

namespace legwork::gui {
namespace {

bool holds(const std::string& text, const std::string& piece) {
  const auto same = [](char a, char b) {
    return std::tolower(static_cast<unsigned char>(a)) ==
           std::tolower(static_cast<unsigned char>(b));
  };
  return std::search(text.begin(), text.end(), piece.begin(), piece.end(), same) != text.end();
}

// A field that offers, below itself, what could be meant. Choosing one writes it.
void completed(State& state, const std::string& name, std::string& text, float width,
               const std::vector<std::string>& all, std::string_view hint) {
  kit::field(state, name, text, width, hint);
  const bool exact = std::find(all.begin(), all.end(), text) != all.end();
  if (text.empty() || exact) return;
  int shown = 0;
  for (const std::string& it : all) {
    if (!holds(it, text)) continue;
    if (++shown > 5) break;
    if (kit::choice(state, name + " " + it, it)) text = it;
  }
  if (shown == 0) kit::small_words(state, say(state, "write-up.no such"), kit::Tone::pen);
}

std::vector<std::string> parts_of(const session::WriteUpWords& words) {
  std::vector<std::string> all;
  for (const session::PartWords& part : words.parts) all.push_back(part.what);
  return all;
}

std::vector<std::string> hows_of(const session::WriteUpWords& words, const std::string& what) {
  for (const session::PartWords& part : words.parts) {
    if (part.what == what) return part.hows;
  }
  return {};
}

void words_before(State& state, const char* key) {
  kit::words(state, say(state, key));
  ImGui::SameLine(0, 10 * state.ink.scale);
}

void pick_of(State& state, const char* name, std::string& chosen,
             const std::vector<session::Choice>& all) {
  for (const session::Choice& it : all) {
    if (kit::pick(state, std::string(name) + " " + it.id, it.words, chosen == it.id))
      chosen = it.id;
  }
}

void sign_off(State& state, WriteUpState& mine, OnSiteState& site) {
  int sureness = 0;
  std::from_chars(mine.sureness.data(), mine.sureness.data() + mine.sureness.size(), sureness);
  mine.draft.sureness = sureness;
  const session::Outcome outcome = site.door->close(mine.draft);
  mine.answer.clear();
  if (!outcome.accepted) {
    mine.answer.push_back(outcome.why);
    return;
  }
  site.view = site.door->view();
  mine.begun = false;
  open_debrief(state, site.door->log_path());
}

void draw_left(State& state, WriteUpState& mine, const session::WriteUpWords& words, float width) {
  const float s = state.ink.scale;
  const float wide = std::min(width * 0.5F, 330 * s);
  const std::vector<std::string> parts = parts_of(words);
  words_before(state, "write-up.stopped by");
  completed(state, "stopped by", mine.draft.stopped_by, wide, parts, say(state, "write-up.a part"));
  words_before(state, "write-up.because");
  completed(state, "part", mine.draft.part.what, wide, parts, say(state, "write-up.a part"));
  words_before(state, "write-up.failed");
  completed(state, "part how", mine.draft.part.how, wide, hows_of(words, mine.draft.part.what),
            say(state, "write-up.how"));
  words_before(state, "write-up.root");
  completed(state, "root", mine.draft.root.what, wide, parts, say(state, "write-up.a part"));
  words_before(state, "write-up.failed");
  completed(state, "root how", mine.draft.root.how, wide, hows_of(words, mine.draft.root.what),
            say(state, "write-up.how"));
  words_before(state, "write-up.bet");
  kit::field(state, "sureness", mine.sureness, 60 * s, "50–99");
  ImGui::SameLine(0, 8 * s);
  kit::words(state, say(state, "write-up.in a hundred"));
}

void draw_right(State& state, WriteUpState& mine, const session::WriteUpWords& words, float width) {
  const float wide = width - 20 * state.ink.scale;
  const auto line = [&](const char* key, const char* name, std::string& text) {
    kit::words(state, say(state, key));
    kit::field(state, name, text, wide, "");
  };
  line("write-up.done", "done", mine.draft.done);
  line("write-up.verified", "verified", mine.draft.verified);
  line("write-up.told", "told", mine.draft.told);
  kit::words(state, say(state, "write-up.product"));
  pick_of(state, "product", mine.draft.product, words.products);
  kit::words(state, say(state, "write-up.watch"));
  pick_of(state, "watch", mine.draft.watch, words.watches);
}

}  // namespace

void draw_write_up(State& state) {
  WriteUpState& mine = state.screens->write_up;
  OnSiteState& site = state.screens->on_site;
  if (!site.door) {
    state.screen = "day sheet";
    return;
  }
  if (!mine.begun) {
    mine = WriteUpState{};
    mine.begun = true;
    mine.draft = site.view.write_up;
    if (mine.draft.sureness > 0) mine.sureness = std::to_string(mine.draft.sureness);
  }
  const float s = state.ink.scale;
  const ImVec2 all = ImGui::GetIO().DisplaySize;
  const float margin = std::max(28 * s, all.x * 0.06F);
  const float column = (all.x - 2 * margin - 40 * s) / 2;
  ImGui::SetCursorScreenPos({margin, 24 * s});
  kit::heading(state, say(state, "write-up.title"));
  const float top = ImGui::GetCursorScreenPos().y + 14 * s;
  ImGui::SetCursorScreenPos({margin, top});
  ImGui::BeginChild("left", {column, all.y - top - 100 * s}, false);
  draw_left(state, mine, site.view.words, column);
  ImGui::EndChild();
  ImGui::SetCursorScreenPos({margin + column + 40 * s, top});
  ImGui::BeginChild("right", {column, all.y - top - 100 * s}, false);
  draw_right(state, mine, site.view.words, column);
  ImGui::EndChild();
  ImGui::SetCursorScreenPos({margin, all.y - 84 * s});
  for (const std::string& line : mine.answer)
    kit::words(state, line, kit::Tone::pen, all.x - 2 * margin);
  ImGui::SetCursorScreenPos({margin, all.y - 50 * s});
  if (kit::choice(state, "back to site", say(state, "write-up.back")) ||
      (!state.help && kit::keys_free() && kit::pressed(Key::escape))) {
    site.view.write_up = mine.draft;
    mine.begun = false;
    state.screen = "on site";
    return;
  }
  ImGui::SameLine(0, 40 * s);
  if (kit::choice(state, "sign off", say(state, "write-up.sign off"))) sign_off(state, mine, site);
}

void sample_write_up(State& state) {
  sample_on_site(state);
  if (state.screen == "on site") state.screen = "write-up";
}

}  // namespace legwork::gui
