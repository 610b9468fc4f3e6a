// A debrief as one HTML file (debrief.h): ink on paper, no script, no network, good on screen and
// in print. What the trainee is asked first stands first; the rest opens under it.

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "engine/base/catalogue.h"
#include "engine/base/plain_text.h"
#include "engine/config/page_colours.h"
#include "engine/score/chart_axes.h"
#include "engine/score/debrief.h"
#include "engine/score/words.h"
#include "engine/session/ticket_files.h"

namespace legwork::score {

namespace {

constexpr std::string_view kStyle = R"css(
*{box-sizing:border-box}body{margin:0;background:var(--paper);color:var(--ink);
font:16px/1.5 Inter,"DejaVu Sans",sans-serif}main{max-width:62rem;margin:0 auto;padding:2.5rem 2rem 4rem}
h1{font-size:1.45rem;margin:0 0 .3rem;font-weight:600}h2{font-size:1.05rem;margin:2.4rem 0 .6rem;
border-bottom:1px solid var(--rule);padding-bottom:.2rem;font-weight:600}p{margin:.4rem 0}
.said{font-style:italic;max-width:46rem}.small,.num{color:var(--faint);font-size:.86rem}
.mono,td.p,.shown{font-family:"JetBrains Mono","DejaVu Sans Mono",monospace;font-size:.9rem}
table{border-collapse:collapse;width:100%}td,th{text-align:left;vertical-align:top;padding:.25rem .8rem .25rem 0;
border-bottom:1px solid var(--rule)}td.p{white-space:nowrap;text-align:right}th{font-weight:600}
article{display:grid;grid-template-columns:3.2rem 1fr;gap:0 1rem;padding:.8rem 0;border-bottom:1px solid var(--rule);
break-inside:avoid}article>.n{font-family:"JetBrains Mono",monospace;color:var(--faint);text-align:right}
.class{font-variant:small-caps;letter-spacing:.03em}.struck{text-decoration:line-through;color:var(--faint)}
.hazard{border-left:6px double var(--ink);padding-left:.7rem;margin:.4rem 0}ul.ink{columns:2;list-style:none;
padding:0;margin:.3rem 0;font-size:.92rem}svg.sheet{width:100%;height:auto}svg.chart{width:100%;height:auto}
svg.chart text{font:11px Inter,"DejaVu Sans",sans-serif;fill:var(--dim)}svg.chart .rule{stroke:var(--rule)}
svg.chart .step{stroke:var(--faint)}
.two{display:grid;grid-template-columns:1fr 1fr;gap:0 2rem}details>summary{cursor:pointer}
h2,figcaption,summary{break-after:avoid}figure,tr,li{break-inside:avoid}figure{margin:.6rem 0}
@page{margin:16mm 15mm}
@media print{body{font-size:10.5pt;background:none}
details{display:block}main{max-width:none;padding:0}h2{margin-top:1.4rem}article{padding:.5rem 0;break-inside:auto}
article p{break-after:avoid}svg.sheet{break-inside:avoid}ul.ink{break-before:avoid}
svg.sheet{max-height:15cm}a{text-decoration:none}p{orphans:3;widows:3}}
@media(max-width:46rem){.two{grid-template-columns:1fr}ul.ink{columns:1}}
)css";

// A number as short as it can be: "24", "0.5", with a real minus sign.
std::string number(double value) {
  std::string out = fmt::format("{:g}", value + 0.0);
  if (out[0] == '-') out = "−" + out.substr(1);
  return out;
}

class Writer {
 public:
  explicit Writer(const HtmlOptions& options) : options_(options) {}

  // One quantity over the call: scale at the left, the site clock along the foot, and the steps on
  // it by their numbers.
  std::string chart(const Series& s, const Debrief& d) const {
    if (s.minute.size() < 2) return {};
    const auto [low_it, high_it] = std::minmax_element(s.value.begin(), s.value.end());
    const double step = round_step(std::max(1.0F, *high_it - *low_it), 4);
    const double low = std::floor(*low_it / step) * step;
    const double high = std::max(low + step, std::ceil(*high_it / step) * step);
    const double last = std::max(1.0F, s.minute.back());
    const auto x = [&](double minute) { return 44 + 424 * minute / last; };
    const auto y = [&](double value) { return 112 - 100 * (value - low) / (high - low); };
    std::string out = fmt::format(
        "<figure><figcaption class=\"small\">{}, {}</figcaption>"
        "<svg class=\"chart\" viewBox=\"0 0 480 158\" role=\"img\" aria-label=\"{}\">",
        said(say("{Name}", {{"name", s.name}})), escaped_html(s.unit),
        said(say("{Name}", {{"name", s.name}})));
    for (double value = low; value <= high + step / 2; value += step) {
      out += fmt::format(
          "<line class=\"rule\" x1=\"44\" x2=\"468\" y1=\"{0:.1f}\" y2=\"{0:.1f}\"/>"
          "<text x=\"38\" y=\"{1:.1f}\" text-anchor=\"end\">{2}</text>",
          y(value), y(value) + 4, number(value));
    }
    const int begins = minute_of_day(d.clock);
    for (const double minute : clock_marks(begins, last, 6)) {
      out += fmt::format(
          "<line class=\"rule\" x1=\"{0:.1f}\" x2=\"{0:.1f}\" y1=\"12\" y2=\"116\"/>"
          "<text x=\"{0:.1f}\" y=\"154\" text-anchor=\"middle\">{1}</text>",
          x(minute), clock_text((begins + minute) * 60));
    }
    double free = -1e9;  // up to here the numbers of steps have written
    for (const Page& page : d.pages) {
      if (page.at_minute > last) continue;
      const double at = x(page.at_minute);
      out += fmt::format(
          "<line class=\"step\" x1=\"{0:.1f}\" x2=\"{0:.1f}\" y1=\"112\" y2=\"120\"/>", at);
      if (at < free) continue;
      out += fmt::format("<text x=\"{:.1f}\" y=\"133\" text-anchor=\"middle\">{}</text>", at,
                         page.number);
      free = at + 20;
    }
    std::string points;
    for (std::size_t i = 0; i < s.minute.size(); ++i)
      points += fmt::format("{:.1f},{:.1f} ", x(s.minute[i]), y(s.value[i]));
    out += fmt::format(
        "<polyline fill=\"none\" stroke=\"currentColor\" stroke-width=\"1.6\" points=\"{}\"/>",
        points);
    return out + "</svg></figure>\n";
  }

  std::string account(const Debrief& d) const {
    std::string out = h2(phrase("Account"));
    if (!d.account.scored) {
      out += paragraph(say("Not scored."));
    } else {
      out += "<table>\n";
      for (const Dimension& dim : d.account.dimensions) {
        out += fmt::format("<tr><th>{}</th><td class=\"p\">{:.1f} / {:.0f}</td><td>{}</td></tr>\n",
                           said(name(dim.dim)), dim.points, dim.of, said(dim.sentence));
      }
      if (d.account.slip_points > 0)
        out += fmt::format("<tr><th>{}</th><td class=\"p\">−{:.1f}</td><td>{}</td></tr>\n",
                           said(phrase("Slips")), d.account.slip_points,
                           said(phrase("Steps that could have hurt somebody: each is named "
                                       "below.")));
      out += fmt::format(
          "<tr><th>{}</th><td class=\"p\">{:.1f} / 100</td><td>{}</td></tr>\n</table>\n",
          said(phrase("In all")), d.account.total, said(outcome_word(d.account)));
      for (const Gate& gate : d.account.gates) {
        if (!gate.met) out += fmt::format("<p>{}: {}</p>\n", said(gate.name), said(gate.sentence));
      }
    }
    for (const Message& remark : d.account.remarks) out += paragraph(remark);
    for (const Message& remark : options_.beside)
      out += small(say("Beside the points: {remark}.", {{"remark", remark}}));
    return out;
  }

  std::string page_of(const Debrief& d, const Page& p, const std::string& scene) const {
    std::string out =
        fmt::format("<article id=\"page{}\"><div class=\"n\">{}</div><div>\n", p.number, p.number);
    out += fmt::format(
        "<p>{} <span class=\"shown\">{}</span> <span class=\"small\">{:.1f} min, {}</span></p>\n",
        said(p.words), said(List{p.shown, Joined::by_semicolons}), p.at_minute,
        escaped_html(p.place));
    if (!p.happened.empty())
      out += paragraph(say("Heard: {what}.", {{"what", List{p.happened, Joined::by_commas}}}));
    for (const Message& h : p.hazards) out += fmt::format("<p class=\"hazard\">{}</p>\n", said(h));
    if (!p.verdict.empty() && p.step_class != StepClass::unsafe) {
      const Message label = word(p.step_class);
      out += fmt::format(
          "<p>{}{}</p>\n",
          label.empty() ? "" : fmt::format("<span class=\"class\">{}</span> · ", said(label)),
          said(p.verdict));
    }
    if (!scene.empty()) out += scene + "\n";
    if (!p.struck.empty()) {
      out += "<ul class=\"ink\">";
      for (const int i : p.struck) {
        out += fmt::format("<li class=\"struck\">{}</li>",
                           said(d.suspects[static_cast<std::size_t>(i)].name));
      }
      out += "</ul>\n";
    }
    return out + "</div></article>\n";
  }

  std::string ink_list(const Debrief& d) const {
    std::string out = h2(phrase("The ink list")) + "<ul class=\"ink\">";
    for (const SuspectLine& s : d.suspects) {
      if (s.struck_by == 0) continue;
      if (s.struck_by > 0) {
        out +=
            fmt::format("<li><span class=\"num\">{}</span> <span class=\"struck\">{}</span></li>",
                        s.struck_by, said(s.name));
      } else {
        out += fmt::format("<li>{}</li>", said(s.name));
      }
    }
    return out + "</ul>\n" + small(say("The number is the page that struck the name."));
  }

  std::string whole(const Debrief& d) const {
    std::string out = fmt::format(
        "<!DOCTYPE html>\n<html lang=\"{}\"><head><meta charset=\"utf-8\">"
        "<meta name=\"viewport\" content=\"width=device-width, initial-scale=1\">"
        "<meta http-equiv=\"Content-Security-Policy\" content=\"default-src 'none'; style-src "
        "'unsafe-inline'\">"
        "<title>{} · {}</title><style>{}{}</style></head><body><main>\n",
        escaped_html(options_.speech.catalogue ? options_.speech.catalogue->tag() : "en"),
        escaped_html(d.scenario), said(d.site), page_colours(session::home_or(options_.home)),
        kStyle);
    out += fmt::format("<h1>{}</h1>\n<p class=\"small\">{} · {} · {} · {} · {}</p>\n", said(d.site),
                       said(d.unit_name), escaped_html(d.scenario),
                       said(say("{outdoor} outdoors", {{"outdoor", d.outdoor}})),
                       escaped_html(d.clock),
                       said(say("{minutes} min on site", {{"minutes", Number{d.minutes, 0}}})));
    out += fmt::format("<p class=\"said\">{}</p>\n", said(say("“{text}”", {{"text", d.said}})));
    out += h2(phrase("First, yours")) + paragraph(d.ask_first);
    if (d.closed) {
      out += h2(phrase("How it went")) + paragraph(d.opening);
      out += fmt::format("<details open><summary>{}</summary>\n{}</details>\n",
                         said(phrase("What it was")), paragraph(d.truth));
      if (!d.wrote.empty()) {
        out += h2(phrase("What you wrote"));
        for (const Message& line : d.wrote) out += paragraph(line);
        for (const Message& line : d.done) out += small(line);
      }
      if (!d.changes.empty()) {
        out += h2(phrase("Worth changing"));
        for (const Change& c : d.changes) {
          out += fmt::format("<p><a href=\"#page{0}\" style=\"color:inherit\">{1}</a>: {2}</p>\n",
                             c.page, said(say("{Step}", {{"step", c.step}})), said(c.sentence));
        }
      }
      out += h2(phrase("Next time")) + paragraph(d.goal);
      out += account(d);
    }
    out += h2(phrase("The log"));
    if (!options_.scenes.empty()) {
      out += small(
          say("On the sheets a conductor is marked by the leg that it follows: leg 1 dots, leg 2 "
              "dashes, leg 3 dots and dashes; floating hollow, back-fed hatched, dead thin."));
    }
    for (std::size_t k = 0; k < d.pages.size(); ++k) {
      out +=
          page_of(d, d.pages[k], k < options_.scenes.size() ? options_.scenes[k] : std::string());
    }
    out += ink_list(d);
    if (!d.route.empty()) {
      out += h2(phrase("Another way")) +
             small(say("{minutes} of searching", {{"minutes", minutes_words(d.route_minutes)}})) +
             "<table>\n";
      for (const RouteStep& s : d.route) {
        out += fmt::format(
            "<tr><td class=\"p\">{:.1f} min</td><td>{}</td><td "
            "class=\"shown\">{}</td><td>{}</td></tr>\n",
            s.at_minute, said(s.words), said(s.shown),
            s.shown.empty()
                ? ""
                : said(say_many("one repair left", "{n} repairs left", s.repairs_left)));
      }
      out += "</table>\n";
    }
    if (!d.stages.empty()) {
      out += h2(d.lead_wrote ? phrase("By stages: you, and the lead")
                             : phrase("By stages: you, and the direct route")) +
             "<table>\n";
      for (const Stage& stage : d.stages) {
        std::string own, lead;
        for (std::size_t k = 0; k < stage.pages.size(); ++k)
          own += fmt::format("<a href=\"#page{}\" style=\"color:inherit\">{}</a><br>",
                             stage.pages[k], said(stage.own[k]));
        for (const LeadStepView& step : stage.lead) {
          lead += fmt::format("{}. ", said(step.words));
          if (!step.remark.en.empty())
            lead += fmt::format("<span class=\"said\">“{}”</span> ", said(step.remark));
        }
        out += fmt::format("<tr><th>{}</th><td>{}</td><td>{}</td></tr>\n", said(stage.name), own,
                           lead);
      }
      out += "</table>\n";
    }
    std::string charts;
    for (const Series& s : d.series) charts += chart(s.in(options_.speech), d);
    if (!charts.empty())
      out += h2(phrase("The machine over the call")) +
             small(say("Along the foot: the steps by their numbers, and the site clock.")) +
             "<div class=\"two\">" + charts + "</div>\n";
    out +=
        fmt::format("<p class=\"small\" style=\"margin-top:3rem\">{}</p>\n</main></body></html>\n",
                    said(d.caution));
    return out;
  }

 private:
  std::string said(const Message& message) const {
    return escaped_html(render(message, options_.speech));
  }
  std::string h2(const Message& text) const { return fmt::format("<h2>{}</h2>\n", said(text)); }
  std::string small(const Message& text) const {
    return fmt::format("<p class=\"small\">{}</p>\n", said(text));
  }
  std::string paragraph(const Message& text) const {
    return fmt::format("<p>{}</p>\n", said(text));
  }

  const HtmlOptions& options_;
};

}  // namespace

std::string as_html(const Debrief& debrief, const HtmlOptions& options) {
  return Writer(options).whole(debrief);
}

}  // namespace legwork::score
