#include "cli/sheet_style.h"

namespace leadline::cli {

// Contrast on white: ink 14.6, muted 7.0, signal 5.9, lines 3 or more (reckoned by the formula of WCAG 2.2). Rows and drawings are not cut by a page's end.
const char* const sheet_style = R"css(
:root { --ink: #17262e; --muted: #4a5a63; --rule: #7d8b93; --wash: #eef2f1; --signal: #a63a0a; --calm: #1f6a57; }
* { box-sizing: border-box; }
html { color: var(--ink); background: #fff; font: 100%/1.45 Georgia, Cambria, serif; }
body { margin: 0 auto; max-width: 52rem; padding: 1rem; overflow-wrap: anywhere; }
h1, h2, h3, th, .judged, figcaption, svg text { font-family: Verdana, Geneva, sans-serif; }
h1 { font-size: 1.35rem; line-height: 1.25; margin: 0 0 .5rem; }
h2 { font-size: 1rem; margin: 1.75rem 0 .5rem; padding-left: .6rem; border-left: .35rem solid var(--calm); break-after: avoid; }
h3 { font-size: .875rem; margin: 1rem 0 .25rem; break-after: avoid; }
p, ul, ol { margin: .35rem 0; }
ul, ol { padding-left: 1.25rem; }
li { break-inside: avoid; }
.kind { letter-spacing: .08em; margin: 0; color: var(--muted); }
.advice { border: 1px solid var(--rule); padding: .5rem .75rem; background: var(--wash); }
.care { list-style: none; padding: 0; }
.care li { border-left: .35rem double var(--signal); padding: .15rem 0 .15rem .6rem; margin: .3rem 0; }
table { border-collapse: collapse; width: 100%; margin: .5rem 0; font-size: .9rem; }
caption { text-align: left; color: var(--muted); padding-bottom: .25rem; }
th, td { text-align: left; vertical-align: top; padding: .3rem .4rem; border-bottom: 1px solid #c3ccd0; }
th { font-size: .75rem; }
tbody th { font-weight: normal; font-family: inherit; font-size: inherit; }
thead { display: table-header-group; }
tr { break-inside: avoid; }
tr.then td { background: var(--wash); font-style: italic; }
td.figure, th.figure { text-align: right; white-space: nowrap; }
.judged { white-space: nowrap; font-size: .8rem; }
.abnormal { color: var(--signal); font-weight: bold; }
.remark { display: block; white-space: normal; color: var(--muted); font-weight: normal; }
figure { margin: .75rem 0; break-inside: avoid; max-width: 30rem; }
figcaption { font-size: .8rem; color: var(--muted); }
svg { display: block; width: 100%; height: auto; }
svg text { font-size: 11.5px; fill: var(--ink); }
svg text.first { font-weight: bold; }
svg text.abnormal { fill: var(--signal); font-weight: bold; }
svg text.small { fill: var(--muted); }
.grid { stroke: #c3ccd0; stroke-width: 1; }
.remedy { stroke: var(--muted); stroke-width: 1.5; stroke-dasharray: 2 3; }
.bar-room { fill: #fff; stroke: var(--rule); }
.bar { fill: var(--rule); }
.bar.leading { fill: var(--calm); }
.course { fill: none; stroke-width: 2; }
.course.l0 { stroke: #1f6a57; } .course.l1 { stroke: #a63a0a; stroke-dasharray: 7 3; } .course.l2 { stroke: #3d4fa1; stroke-dasharray: 2 3; }
.course.l3 { stroke: #8a2f6b; stroke-dasharray: 8 3 2 3; } .course.l4 { stroke: #6b5a14; stroke-dasharray: 4 4; }
.mark { stroke: #fff; stroke-width: .8; }
.mark.l0 { fill: #1f6a57; } .mark.l1 { fill: #a63a0a; } .mark.l2 { fill: #3d4fa1; } .mark.l3 { fill: #8a2f6b; } .mark.l4 { fill: #6b5a14; }
.wire, .symbol { fill: none; stroke: var(--ink); stroke-width: 1.6; stroke-linecap: square; }
.symbol { fill: #fff; }
.solid { fill: var(--ink); stroke: none; }
.thin { stroke: var(--ink); stroke-width: 1; fill: none; }
.suspect { fill: none; stroke: var(--signal); stroke-width: 2.5; stroke-dasharray: 6 3; }
.flag { fill: var(--signal); }
.suspect-pole { stroke: var(--signal); stroke-width: 2; }
.sketches { display: flex; flex-wrap: wrap; gap: 0 1.5rem; align-items: flex-start; }
.sketches figure { flex: 1 1 16rem; max-width: 25rem; min-width: 0; }
.sign { break-inside: avoid; }
.lines { display: flex; flex-wrap: wrap; gap: 0 1.5rem; }
.lines p { flex: 1 1 12rem; margin-top: 3.5rem; padding-top: .25rem; border-top: 1px solid var(--ink); font-size: .9rem; }
.digest { font-family: monospace; font-size: .8rem; }
@media (max-width: 34rem) {
  body { padding: .75rem; }
  th, td { padding: .25rem .2rem; }
  table { font-size: .8rem; }
  th { font-size: .7rem; }
  table.findings { table-layout: fixed; font-size: .75rem; hyphens: auto; }
  table.findings th { font-size: .68rem; }
  table.findings tbody th { font-size: .75rem; }
  table.findings th:nth-child(1) { width: 31%; } table.findings th:nth-child(2) { width: 22%; } table.findings th:nth-child(3) { width: 25%; }
  .judged { font-size: .65rem; white-space: normal; }
}
@page { margin: 14mm 15mm 16mm; }
@media print {
  html { font-size: 10pt; }
  body { max-width: none; padding: 0; }
  .advice { background: none; }
  .sketches { break-inside: avoid; }
}
)css";

}  // namespace leadline::cli
