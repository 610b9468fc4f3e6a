#include "gui/screens/lead.h"

#include <fmt/format.h>
#include <imgui.h>

#include <algorithm>
#include <fstream>

#include "engine/commission/check_files.h"
#include "engine/unit/unit.h"
#include "gui/kit.h"
#include "gui/screens/debrief.h"
#include "gui/screens/on_site.h"
#include "gui/screens/screens.h"
#include "gui/screens/states.h"

namespace legwork::gui {
namespace {

namespace fs = std::filesystem;

fs::file_time_type written(const std::string& path) {
  std::error_code error;
  return fs::last_write_time(path, error);
}

std::vector<fs::file_time_type> written_folders() {
  return {written(session::data_folder() + "/scenarios"),
          written(session::data_folder() + "/circuits")};
}

void read(State& state, LeadState& mine) {
  mine.read = true;
  mine.folders = written_folders();
  session::OpenOptions options;
  options.home = state.home;
  mine.tickets = session::tickets(options);
  mine.units.clear();
  std::error_code error;
  std::vector<std::string> paths;
  for (const std::string& folder :
       {state.home + "/circuits", session::data_folder() + "/circuits"}) {
    for (fs::directory_iterator it(folder, error), end; !error && it != end; it.increment(error)) {
      if (it->path().extension() == ".yaml") paths.push_back(it->path().string());
    }
  }
  for (const std::string& path : paths) {
    UnitFile file;
    file.path = path;
    Diagnostics found;
    const std::optional<unit::Unit> unit =
        unit::load_file(file.path, state.home + "/assets", found);
    file.name = unit ? say("{id}, {name}", {{"id", Name{unit->id}}, {"name", unit->name}})
                     : Message(Name{file.path});
    file.findings = found.text(speech(state));
    mine.units.push_back(std::move(file));
  }
  std::sort(mine.units.begin(), mine.units.end(),
            [](const UnitFile& a, const UnitFile& b) { return a.path < b.path; });
}

const session::TicketLine* ticket_at(const LeadState& mine, const std::string& path) {
  for (const session::TicketLine& line : mine.tickets) {
    if (line.path == path) return &line;
  }
  return nullptr;
}

void choose(State& state, LeadState& mine, const std::string& path) {
  mine.chosen = path;
  mine.written = written(path);
  mine.has_page = false;
  mine.said = {};
  mine.checked.clear();
  mine.sound = false;
  mine.bench.unit.clear();
  mine.bench.writing = false;
  leave(state, mine.checking);
  mine.checking = std::make_shared<Errand<std::string>>(
      [path, home = state.home, reader = speech(state)](const std::atomic<bool>&) {
        commission::CheckOptions how;
        how.home = home;
        how.kept_in = session::data_folder() + "/trials";
        how.routes = false;  // the page itself is the route
        how.threads = 1;
        return commission::check_files({path}, how).found.text(reader);
      });
  const session::TicketLine* line = ticket_at(mine, path);
  if (line == nullptr || !line->broken.empty()) return;
  score::DebriefOptions options;
  options.home = state.home;
  leave(state, mine.working);
  mine.working =
      std::make_shared<Errand<score::LeadPage>>([path, options](const std::atomic<bool>& cancel) {
        score::DebriefOptions stoppable = options;
        stoppable.cancel = &cancel;
        return score::lead_page(path, stoppable);
      });
}

// Looks once a second whether files came or went, and whether the one in hand was written on.
void watch(State& state, LeadState& mine) {
  state.look_in_s = 1;
  mine.looked_s += state.passed_s;
  if (mine.looked_s < 1) return;
  mine.looked_s = 0;
  if (written_folders() != mine.folders) read(state, mine);
  if (mine.chosen.empty() || mine.working || written(mine.chosen) == mine.written) return;
  read(state, mine);
  choose(state, mine, mine.chosen);
}

void draw_list(State& state, LeadState& mine) {
  std::string chosen;
  if (kit::choice(state, "form", phrase("Write a scenario by a form"))) {
    mine.bench.writing = true;
    mine.chosen.clear();
    mine.has_page = false;
    mine.said = {};
  }
  kit::gap(state, 6);
  kit::strong(state, phrase("Scenarios"));
  for (const session::TicketLine& line : mine.tickets) {
    const Message text =
        line.broken.empty()
            ? say("{id}  {title}", {{"id", Name{line.id}}, {"title", line.ticket.title}})
            : Message(Name{fs::path(line.path).filename().string()});
    if (kit::pick(state, "scenario " + line.id, text, mine.chosen == line.path)) chosen = line.path;
    if (!line.broken.empty()) {
      ImGui::SameLine(0, 10 * state.ink.scale);
      kit::small_words(state, phrase("does not load"), kit::Tone::pen);
    }
  }
  kit::gap(state, 12);
  kit::strong(state, phrase("Units"));
  for (const UnitFile& file : mine.units) {
    if (kit::pick(state, "unit " + fs::path(file.path).stem().string(), file.name,
                  mine.chosen == file.path))
      chosen = file.path;
    if (!file.findings.empty()) {
      ImGui::SameLine(0, 10 * state.ink.scale);
      kit::small_words(state, phrase("findings"), kit::Tone::pen);
    }
  }
  if (!chosen.empty()) choose(state, mine, chosen);
}

// What the check says, as it says it: file, line, column, the mend.
void draw_findings(State& state, const std::string& text) {
  for (std::size_t at = 0; at < text.size();) {
    const std::size_t end = std::min(text.find('\n', at), text.size());
    kit::mono(state, Name{text.substr(at, end - at)});
    at = end + 1;
  }
}

void table_of(State& state, const score::LeadPage& page) {
  if (page.readings.empty()) return;
  const float s = state.ink.scale;
  kit::gap(state, 8);
  kit::strong(state, phrase("Readings to expect"));
  const float left = ImGui::GetWindowPos().x;
  const auto row = [&](const Message& a, const Message& b, const Message& c, kit::Tone tone) {
    const float y = kit::down();
    kit::at(left, y);
    kit::mono(state, a, tone);
    kit::at(left + 260 * s, y);
    kit::mono(state, b, kit::Tone::dim);
    kit::at(left + 360 * s, y);
    kit::mono(state, c, tone);
  };
  row({}, phrase("sound"), phrase("this call"), kit::Tone::dim);
  for (const score::ExpectedReading& it : page.readings)
    row(Name{it.line}, it.healthy, it.here, kit::Tone::ink);
}

void draw_answer(State& state, const score::LeadPage& page, float width) {
  const float s = state.ink.scale;
  if (!page.why.empty()) {
    kit::caution(state, page.why, width);
    return;
  }
  const float left = ImGui::GetWindowPos().x;
  const auto row = [&](const Phrase& title, const Message& text) {
    if (text.empty()) return;
    const float y = kit::down();
    kit::at(left, y);
    kit::words(state, title, kit::Tone::dim);
    kit::at(left + 120 * s, y);
    kit::words(state, text, kit::Tone::ink, width - 120 * s);
  };
  row(phrase("Said"), kit::quoted(page.said));
  row(phrase("Found"), page.found);
  row(phrase("Stopped by"), page.stopped_by);
  row(phrase("Part"), page.part);
  row(phrase("Root"), page.root);
  row(phrase("Repair"), page.repair);
  kit::words(state, page.story, kit::Tone::ink, width);
  for (const score::PageFinding& finding : page.findings) {
    kit::caution(state, score::words_of(finding), width);
    if (!finding.hint.empty()) kit::words(state, finding.hint, kit::Tone::dim, width);
  }
  for (const Message& it : page.look_alikes) row(phrase("Looks the same"), it);
  debrief::draw_route(state, page.route, page.route_minutes, width);
  table_of(state, page);
}

void draw_actions(State& state, LeadState& mine) {
  const float s = state.ink.scale;
  if (mine.has_page && mine.page.why.empty()) {
    if (kit::choice(state, "try it", phrase("Try it"))) {
      if (open_ticket(state, mine.chosen)) {
        // The answer stays in sight: it is folded with the ticket.
        state.screens->on_site.answer = {say("Part: {part}. Root: {root}.",
                                             {{"part", mine.page.part}, {"root", mine.page.root}})};
      }
      return;
    }
    kit::beside(state, phrase("Save the answer sheet"), 24 * s);
    if (kit::choice(state, "save sheet", phrase("Save the answer sheet"))) {
      const std::string path = session::data_folder() + "/" + mine.page.scenario + "-answer.txt";
      std::ofstream file(path, std::ios::binary);
      file << score::as_text(mine.page, speech(state));
      mine.said = file.flush() ? Message(Name{path}) : Message(phrase("It could not be saved."));
    }
    kit::beside(state, phrase("Print the answer sheet"), 24 * s);
    if (kit::choice(state, "print sheet", phrase("Print the answer sheet"))) {
      const std::string path = write_answer_sheet(mine.page, speech(state));
      mine.said = path.empty() ? Message(phrase("It could not be saved.")) : Message(Name{path});
      if (!path.empty()) open_outside(path);
    }
    kit::beside(state, phrase("Open in an editor"), 24 * s);
  }
  if (kit::choice(state, "edit", phrase("Open in an editor")) && !open_outside(mine.chosen))
    mine.said = phrase("The system has no xdg-open: open the file in an editor of yours.");
  const bool ticket = ticket_at(mine, mine.chosen) != nullptr;
  if (ticket) kit::beside(state, phrase("Write one yourself, from this one"), 24 * s);
  if (ticket && kit::choice(state, "copy", phrase("Write one yourself, from this one"))) {
    const std::string path = session::copy_ticket(mine.chosen);
    mine.read = false;
    mine.said = path.empty() ? Message(phrase("It could not be saved."))
                             : say("{file} was written. Change it in an editor; it is read again "
                                   "as soon as it is saved.",
                                   {{"file", Name{path}}});
  }
  if (!mine.said.empty()) kit::words(state, mine.said, kit::Tone::pen);
}

void draw_chosen(State& state, LeadState& mine, float width) {
  if (mine.working) {
    if (const score::LeadPage* page = mine.working->answer()) {
      mine.page = *page;
      mine.has_page = true;
      mine.working.reset();
    } else {
      state.look_in_s = 0.1;
      kit::words(state, phrase("Working it out …"));
    }
  }
  if (mine.bench.writing) {
    const std::string path = draw_scenario_form(state, mine.bench, width);
    if (path.empty()) return;
    read(state, mine);
    choose(state, mine, path);
  }
  if (mine.chosen.empty()) {
    kit::words(state, phrase("Choose a scenario at the left. This page shows the answers."),
               kit::Tone::dim, width);
    kit::words(state,
               say("How scenarios are written: {home}/scenarios/README.md. How units are: "
                   "{home}/circuits/README.md.",
                   {{"home", Name{state.home}}}),
               kit::Tone::dim, width);
    return;
  }
  draw_actions(state, mine);
  if (const session::TicketLine* line = ticket_at(mine, mine.chosen); line != nullptr) {
    kit::small_words(state, Name{line->path});
    if (!line->broken.empty()) draw_findings(state, spoken(state, line->broken));
  }
  if (mine.checking) {
    if (const std::string* found = mine.checking->answer()) {
      mine.checked = *found;
      mine.sound = found->empty();
      mine.checking.reset();
    } else {
      state.look_in_s = 0.1;
      kit::small_words(state, phrase("The file is being checked …"));
    }
  }
  if (mine.sound) kit::words(state, phrase("The check finds nothing."));
  draw_findings(state, mine.checked);
  for (const UnitFile& file : mine.units) {
    if (file.path != mine.chosen) continue;
    kit::small_words(state, Name{file.path});
    draw_unit_days(state, mine.bench, file.path, width);
  }
  if (mine.has_page) draw_answer(state, mine.page, width);
}

}  // namespace

void open_lead(State& state, const std::string& scenario) {
  LeadState& mine = state.screens->lead;
  state.screen = "lead";
  read(state, mine);
  for (const session::TicketLine& line : mine.tickets) {
    if (line.id == scenario || line.path == scenario) choose(state, mine, line.path);
  }
}

void leave_lead(State& state) {
  LeadState& mine = state.screens->lead;
  mine.read = false;
  leave(state, mine.working);
  leave(state, mine.checking);
  leave(state, mine.bench.living);
  mine.chosen.clear();
  mine.has_page = false;
}

namespace {
std::vector<Message> lead_in_hand(const State&) {
  return {
      phrase("Here the answers stand: what is wrong in each call, the route to it, and the "
             "readings to expect. New scenarios are written and checked here too. Whoever "
             "trains does not look at this page.")};
}
}  // namespace

void draw_lead(State& state) {
  LeadState& mine = state.screens->lead;
  if (!mine.read) read(state, mine);
  watch(state, mine);
  const float s = state.ink.scale;
  const ImVec2 all = ImGui::GetIO().DisplaySize;
  const float margin = std::max(28 * s, all.x * 0.04F);
  if (!state.help && kit::keys_free() && kit::pressed(Key::escape)) {
    go_home(state);
    return;
  }
  kit::at(margin, 22 * s);
  kit::heading(state, phrase("For the shop lead"));
  const float top = kit::down() + 10 * s, side = 330 * s;
  if (!mine.bench.open) {
    kit::at(margin, top);
    ImGui::BeginChild("gate", {all.x - 2 * margin, all.y - top - 20 * s}, false,
                      ImGuiWindowFlags_NavFlattened);
    draw_lead_gate(state, mine.bench, std::min(all.x - 2 * margin, 700 * s));
    ImGui::EndChild();
    return;
  }
  kit::at(margin, top);
  ImGui::BeginChild("list", {side, all.y - top - 20 * s}, false, ImGuiWindowFlags_NavFlattened);
  draw_list(state, mine);
  ImGui::EndChild();
  const float width = all.x - 2 * margin - side - 30 * s;
  kit::at(margin + side + 30 * s, top);
  ImGui::BeginChild("answer", {width, all.y - top - 20 * s}, false, ImGuiWindowFlags_NavFlattened);
  draw_chosen(state, mine, std::min(width - 20 * s, 900 * s));
  ImGui::EndChild();
}

std::span<const Screen> screens_of_lead() {
  static const Screen kScreens[] = {{"lead", draw_lead, {}, lead_in_hand}};
  return kScreens;
}

}  // namespace legwork::gui
