#include "gui/screens/write_up.h"

#include <fmt/format.h>
#include <imgui.h>

#include <algorithm>
#include <cctype>
#include <charconv>

#include "engine/base/split.h"
#include "gui/kit.h"
#include "gui/screens/debrief.h"
#include "gui/screens/on_site.h"
#include "gui/screens/on_site_parts.h"
#include "gui/screens/screens.h"
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

// The sentence is set like writing: words and blanks follow each other and wrap.
class Sentence {
 public:
  Sentence(State& state, WriteUpState& mine, float left, float width)
      : state_(state), mine_(mine), left_(left), right_(left + width), x_(left), y_(kit::down()) {}

  void words(const Phrase& text) {
    ImGui::PushFont(state_.ink.fonts.body);
    const std::string sentence = spoken(state_, text);
    for (const std::string_view each : words_in(sentence)) {
      const std::string word(each);
      const float wide = ImGui::CalcTextSize(word.c_str()).x;
      room(wide);
      kit::at(x_, y_ + 4 * state_.ink.scale);
      kit::words(state_, Name{word}, kit::Tone::ink, wide + 2);
      x_ += wide + ImGui::CalcTextSize(" ").x;
    }
    ImGui::PopFont();
  }

  // A blank; `all` is offered under the sentence while it is being filled.
  void blank(const char* name, std::string& text, float wide, const Message& hint,
             std::vector<std::string> all = {}) {
    const float s = state_.ink.scale;
    // What is known by its English name is written in the program's language.
    const bool known = std::find(all.begin(), all.end(), text) != all.end();
    std::string shown = known ? spoken(state_, Term{text}) : text;
    const std::string before = shown;
    wide = std::max(wide, ImGui::CalcTextSize(shown.c_str()).x + 40 * s);
    room(wide);
    kit::at(x_, y_);
    const bool entered = kit::field(state_, name, shown, wide, hint);
    if (shown != before) {
      const auto meant = std::find_if(all.begin(), all.end(), [&](const std::string& it) {
        return shown == it || shown == spoken(state_, Term{it});
      });
      text = meant != all.end() ? *meant : shown;
    }
    if (!target_name_.empty() && next_.empty()) next_ = name;
    const bool active = ImGui::IsItemActive() || entered;
    if (active) mine_.asking = name;
    x_ += wide + 8 * s;
    if (mine_.asking != name || all.empty()) return;
    offered_ = matching(all, text);
    target_name_ = name;
    none_ = target_name_ != "sureness" && offered_.empty() && !text.empty() &&
            std::find(all.begin(), all.end(), text) == all.end();
    target_ = &text;
    // Enter takes the first that is offered.
    if (entered && !offered_.empty()) {
      text = offered_.front();
      mine_.asking.clear();
    }
  }

  // What could be meant, in columns under the sentence.
  void offers() {
    const float s = state_.ink.scale;
    kit::at(left_, y_ + line() + 14 * s);
    if (target_ == nullptr) return;
    if (none_)
      kit::small_words(state_, phrase("Nothing on this unit has that name."), kit::Tone::pen);
    // All of them, so that nobody has to know a name before it can be chosen: parts first, the
    // conductors when they are asked for; short names in more columns.
    const auto is_wire = [](const std::string& it) { return it.find('>') != std::string::npos; };
    const auto wires = std::count_if(offered_.begin(), offered_.end(), is_wire);
    const bool folded = !mine_.wires && wires > kFewWires;
    if (folded) std::erase_if(offered_, is_wire);
    std::size_t longest = 0;
    for (const std::string& it : offered_) longest = std::max(longest, it.size());
    constexpr std::size_t kShort = 8;  // letters of a part's name
    const std::size_t columns = longest <= kShort ? 6 : 3;
    const float column = (right_ - left_) / static_cast<float>(columns);
    const float top = kit::down();
    const std::size_t rows = (offered_.size() + columns - 1) / columns;
    for (std::size_t i = 0; i < offered_.size(); ++i) {
      kit::at(left_ + static_cast<float>(i / rows) * column,
              top + static_cast<float>(i % rows) * line());
      if (kit::choice(state_, "offer " + offered_[i], Term{offered_[i]})) {
        *target_ = offered_[i];
        mine_.asking.clear();
        mine_.wires = false;
        state_.focus = next_;  // the pen goes on
      }
    }
    if (!folded) return;
    kit::at(left_, top + static_cast<float>(rows) * line());
    if (kit::choice(state_, "offer conductors", say("{n} conductors", {{"n", Number{wires}}}))) {
      mine_.wires = true;
      state_.focus = target_name_;
    }
  }

 private:
  static constexpr std::ptrdiff_t kFewWires = 6;

  // Those that begin so first, then those that hold it.
  std::vector<std::string> matching(const std::vector<std::string>& all,
                                    const std::string& text) const {
    if (std::find(all.begin(), all.end(), text) != all.end()) return {};
    std::vector<std::string> first, then;
    for (const std::string& it : all) {
      const std::string name = spoken(state_, Term{it});
      if (text.empty() || holds(it.substr(0, text.size()), text) ||
          holds(name.substr(0, text.size()), text))
        first.push_back(it);
      else if (holds(it, text) || holds(name, text))
        then.push_back(it);
    }
    first.insert(first.end(), then.begin(), then.end());
    return first;
  }

  float line() const { return 34 * state_.ink.scale; }
  void room(float wide) {
    if (x_ > left_ && x_ + wide > right_) {
      x_ = left_;
      y_ += line();
    }
  }

  State& state_;
  WriteUpState& mine_;
  float left_, right_, x_, y_;
  std::vector<std::string> offered_;
  bool none_ = false;
  std::string* target_ = nullptr;
  std::string target_name_, next_;  // the blank that is filled, and the one after it
};

void pick_of(State& state, const char* name, std::string& chosen,
             const std::vector<session::Choice>& all) {
  for (const session::Choice& it : all) {
    if (kit::pick(state, std::string(name) + " " + it.id, it.words, chosen == it.id))
      chosen = it.id;
  }
}

void read_sureness(WriteUpState& mine) {
  int sureness = 0;
  std::from_chars(mine.sureness.data(), mine.sureness.data() + mine.sureness.size(), sureness);
  mine.draft.sureness = sureness;
}

// Opens the page: as the log has it, with what was begun here and is not whole yet.
void begin(State& state, WriteUpState& mine, OnSiteState& site) {
  const std::string& log = site.door->log_path();
  if (mine.log != log || log.empty() || log == "-") {
    mine = WriteUpState{};
    mine.draft = site.view.write_up;
  } else {  // steps that were typed meanwhile come first
    const auto newer = [&](auto session::WriteUp::*field) {
      if (site.view.write_up.*field != mine.kept.*field)
        mine.draft.*field = site.view.write_up.*field;
    };
    newer(&session::WriteUp::stopped_by);
    newer(&session::WriteUp::part);
    newer(&session::WriteUp::root);
    newer(&session::WriteUp::sureness);
    newer(&session::WriteUp::done);
    newer(&session::WriteUp::verified);
    newer(&session::WriteUp::told);
    newer(&session::WriteUp::product);
    newer(&session::WriteUp::watch);
  }
  mine.log = log;
  mine.begun = true;
  mine.asking.clear();
  mine.written_in.clear();
  state.focus = "stopped by";
  mine.sureness = mine.draft.sureness > 0 ? std::to_string(mine.draft.sureness) : "";
}

void keep(State& state, WriteUpState& mine, OnSiteState& site) {
  if (site.view.closed) return;
  read_sureness(mine);
  const std::size_t steps = site.view.trail.size();
  site.door->keep_draft(mine.draft);
  take_view(site);
  mine.kept = site.view.write_up;
  if (state.works_ahead && site.view.trail.size() != steps)
    making_of(state, site.door->log_path()).grown();
}

void sign_off(State& state, WriteUpState& mine, OnSiteState& site) {
  read_sureness(mine);
  const session::Outcome outcome = site.door->write(mine.draft);
  mine.answer.clear();
  take_view(site);
  mine.kept = site.view.write_up;
  if (!outcome.accepted) {
    mine.answer.push_back(outcome.why);
    return;
  }
  // As if it were typed on site: the same is asked first, and the debrief opens from there.
  ask_step(state, "sign off");
  if (site.refused) mine.answer = site.answer;
}

void draw_sentence(State& state, WriteUpState& mine, const session::WriteUpWords& words,
                   float width) {
  const float s = state.ink.scale;
  const std::vector<std::string> parts = parts_of(words);
  const Message part = phrase("a part"), how = phrase("how");
  session::WriteUp& draft = mine.draft;
  Sentence sentence(state, mine, ImGui::GetCursorScreenPos().x, width);
  sentence.words(phrase("Stopped by"));
  sentence.blank("stopped by", draft.stopped_by, 150 * s, part, parts);
  sentence.words(phrase("because"));
  sentence.blank("part", draft.part.what, 150 * s, part, parts);
  sentence.words(phrase("failed:"));
  sentence.blank("part how", draft.part.how, 170 * s, how, hows_of(words, draft.part.what));
  sentence.words(phrase("The root of it is"));
  sentence.blank("root", draft.root.what, 150 * s, part, parts);
  sentence.words(phrase("failed:"));
  sentence.blank("root how", draft.root.how, 170 * s, how, hows_of(words, draft.root.what));
  sentence.words(phrase("I would bet"));
  sentence.blank("sureness", mine.sureness, 62 * s, Name{"50–99"},
                 {"50", "60", "70", "80", "90", "95"});
  sentence.words(phrase("in a hundred."));
  sentence.offers();
}

void draw_rest(State& state, WriteUpState& mine, const session::WriteUpWords& words, float left,
               float width) {
  const float s = state.ink.scale;
  const float gap = 44 * s, column = (width - gap) / 2, top = kit::down();
  const auto lines = [&](const Phrase& title, const char* name, std::string& text) {
    kit::at(left, kit::down());
    kit::words(state, title);
    kit::at(left, kit::down());
    kit::lines(state, name, text, column, 2);
  };
  lines(phrase("What was done"), "done", mine.draft.done);
  lines(phrase("What proved it"), "verified", mine.draft.verified);
  lines(phrase("What the site was told"), "told", mine.draft.told);
  kit::at(left + column + gap, top);
  ImGui::BeginGroup();
  kit::words(state, phrase("Product"));
  pick_of(state, "product", mine.draft.product, words.products);
  kit::gap(state, 8);
  kit::words(state, phrase("Who watches it tonight"));
  pick_of(state, "watch", mine.draft.watch, words.watches);
  ImGui::EndGroup();
}

}  // namespace

void draw_write_up(State& state) {
  WriteUpState& mine = state.screens->write_up;
  OnSiteState& site = state.screens->on_site;
  if (!site.door) {
    state.screen = "day sheet";
    return;
  }
  if (!mine.begun) begin(state, mine, site);
  const float s = state.ink.scale;
  const ImVec2 all = ImGui::GetIO().DisplaySize;
  const float width = std::min(all.x - 2 * std::max(28 * s, all.x * 0.06F), 1180 * s);
  const float margin = (all.x - width) / 2;
  kit::at(margin, 24 * s);
  kit::heading(state, phrase("Write-up"));
  kit::at(margin, kit::down());
  kit::small_words(state, say("{title} · {unit}",
                              {{"title", site.view.ticket.title}, {"unit", site.view.unit->name}}));
  const float top = kit::down() + 14 * s;
  kit::at(margin, top);
  ImGui::BeginChild("page of writing", {width, all.y - top - 96 * s}, false,
                    ImGuiWindowFlags_NavFlattened);
  draw_sentence(state, mine, site.view.words, width - 20 * s);
  kit::gap(state, 10);
  kit::rule(state, width - 20 * s);
  kit::gap(state, 6);
  draw_rest(state, mine, site.view.words, ImGui::GetWindowPos().x, width - 20 * s);
  ImGui::EndChild();
  kit::at(margin, all.y - 88 * s);
  for (const Message& line : mine.answer) kit::words(state, line, kit::Tone::pen, width);
  kit::at(margin, all.y - 50 * s);
  const bool asked = !site.asking.empty();
  if (!state.help && kit::keys_free() && kit::pressed(Key::escape)) {
    if (asked) {
      site.asking = {};
    } else {
      state.screen = "on site";
    }
    return;
  }
  const bool signing = !state.help && !asked && ImGui::GetIO().KeyCtrl && kit::pressed(Key::enter);
  const bool chosen = kit::choice(state, "sign off", phrase("Sign off and leave"));
  ImGui::SameLine(0, 24 * s);
  kit::small_words(state,
                   phrase("Signing off ends the call. Until then all of this can be changed, "
                          "and nothing of it is lost."));
  if (chosen || signing) return sign_off(state, mine, site);
  on_site::draw_ask(state, {margin, top, margin + width, all.y - 96 * s});
  if (state.screen != "write-up") return;
  // Each blank is kept when the next one is written in.
  const bool writing = ImGui::GetIO().WantTextInput;
  const std::string now = writing ? state.focused : std::string();
  if (!mine.written_in.empty() && now != mine.written_in) keep(state, mine, site);
  mine.written_in = now;
}

void leave_write_up(State& state) {
  WriteUpState& mine = state.screens->write_up;
  OnSiteState& site = state.screens->on_site;
  if (!mine.begun || !site.door) return;
  keep(state, mine, site);
  mine.begun = false;
}

namespace {

// The blank that is written in, and what belongs there.
std::vector<Message> write_up_in_hand(const State& state) {
  const std::string& blank = state.screens->write_up.asking;
  std::vector<Message> out;
  if (blank == "stopped by") {
    out.push_back(
        phrase("Stopped by: the open device that kept it from running, or the load that is fed and "
               "does nothing."));
  } else if (blank == "part" || blank == "part how") {
    out.push_back(
        phrase("The part that failed, and how. A control that opened because it should "
               "is doing its work."));
  } else if (blank == "root" || blank == "root how") {
    out.push_back(
        phrase("The root: why the part failed or opened, the thing that has to be mended "
               "so that it does not come back. It can be the part itself."));
  } else if (blank == "sureness") {
    out.push_back(
        phrase("What you would bet in a hundred, from 50 to 99. It is weighed against "
               "what your readings had left open."));
  }
  out.push_back(
      phrase("Names are completed as you write; Enter takes the first that is offered. "
             "Product and watch are judged by what was read on the call."));
  return out;
}

}  // namespace

std::span<const Screen> screens_of_write_up() {
  static const Screen kScreens[] = {{"write-up",
                                     draw_write_up,
                                     {{Name{"Tab"}, phrase("the next blank")},
                                      {phrase("Enter"), phrase("take the first that is offered")},
                                      {phrase("Ctrl Enter"), phrase("sign off")}},
                                     write_up_in_hand}};
  return kScreens;
}

}  // namespace legwork::gui
