/** The report's style: light or dark as the reader's system is set, narrow screens, paper. */
export const reportStyle = `
:root {
  color-scheme: light dark;
  --paper: #ffffff; --ground: #f4f5f2; --ink: #1b1e20; --soft: #4c5357; --faint: #8b9196; --rule: #c9cdc9;
  --grid: #e3e6e2; --accent: #005a8c; --before: #0072b2; --after: #d55e00; --eq: #00805d; --veil: rgba(90, 90, 90, 0.16);
  --warn: #8a3b00; --warnground: #fdf0e4;
}
@media (prefers-color-scheme: dark) {
  :root {
    --paper: #16191b; --ground: #0e1011; --ink: #eceeec; --soft: #b6bcbf; --faint: #868d92; --rule: #43494d;
    --grid: #2b3033; --accent: #7cc4ee; --before: #56b4e9; --after: #ef8a3c; --eq: #35c79b; --veil: rgba(200, 200, 200, 0.16);
    --warn: #ffb57d; --warnground: #2e2013;
  }
}
* { box-sizing: border-box; }
html { background: var(--ground); color: var(--ink); -webkit-text-size-adjust: 100%; }
body {
  margin: 0 auto; max-width: 66rem; padding: 2rem 1.5rem 4rem;
  font: 1rem/1.55 system-ui, "Liberation Sans", Arial, sans-serif; overflow-wrap: break-word;
}
h1 { font-size: 1.9rem; line-height: 1.2; margin: 0.1rem 0 0.9rem; }
h2 { font-size: 1.3rem; line-height: 1.25; margin: 0 0 0.8rem; }
h3 { font-size: 1.05rem; line-height: 1.3; margin: 0; }
p { margin: 0 0 0.8rem; }
a { color: var(--accent); }
.kicker { margin: 0; color: var(--soft); }
.conclusion { font-size: 1.2rem; line-height: 1.5; max-width: 46rem; }
.stamp {
  display: inline-block; margin: 0 0 0.9rem; padding: 0.15rem 0.6rem; border: 2px solid var(--warn); border-radius: 3px;
  color: var(--warn); font-weight: 600;
}
.figures { display: grid; grid-template-columns: repeat(auto-fit, minmax(10.5rem, 1fr)); gap: 0; margin: 1.4rem 0 0; padding: 0; border-top: 1px solid var(--rule); border-bottom: 1px solid var(--rule); }
.figures div { padding: 0.7rem 0.9rem 0.7rem 0; }
.figures dt { color: var(--soft); font-size: 0.88rem; }
.figures dd { margin: 0.1rem 0 0; font-size: 1.25rem; font-weight: 600; font-variant-numeric: tabular-nums; }
main > section { background: var(--paper); border: 1px solid var(--rule); border-radius: 6px; margin: 1.4rem 0 0; padding: 1.3rem 1.4rem 1.1rem; }
figure { margin: 0; }
#plot { display: none; height: 36rem; }
.live #plot { display: block; }
.live .still { display: none; }
.still { overflow-x: auto; background: #fff; }
.still svg { display: block; width: 100%; min-width: 42rem; height: auto; }
.small-plot svg { display: block; width: 100%; max-width: 34rem; height: auto; }
figcaption { color: var(--soft); font-size: 0.92rem; margin-top: 0.6rem; }
.cards { display: grid; grid-template-columns: repeat(auto-fill, minmax(min(100%, 25rem), 1fr)); gap: 1rem; align-items: start; }
.card { border: 1px solid var(--rule); border-radius: 5px; padding: 0.9rem 1rem 0.6rem; }
.card.move { border-left: 5px solid var(--ink); }
.card header { display: flex; flex-wrap: wrap; align-items: center; gap: 0.4rem 0.6rem; margin-bottom: 0.5rem; }
.mark { flex: none; width: 1.65rem; height: 1.65rem; border: 2px solid var(--ink); border-radius: 50%; display: inline-grid; place-items: center; font-size: 0.85rem; font-weight: 700; line-height: 1; }
.move .mark { border-radius: 3px; background: var(--ink); color: var(--paper); }
.leave .mark { border: 1px dashed var(--faint); color: var(--soft); }
.verdict { margin-left: auto; color: var(--soft); font-size: 0.9rem; font-weight: 600; }
.move .verdict { color: var(--warn); }
.card dl { display: grid; grid-template-columns: 6.2rem 1fr; gap: 0.25rem 0.6rem; margin: 0; }
.card dt { color: var(--soft); font-size: 0.92rem; }
.card dd { margin: 0 0 0.25rem; min-width: 0; }
.card ul { margin: 0; padding-left: 1.05rem; }
.scroll { overflow-x: auto; }
table { border-collapse: collapse; width: 100%; font-variant-numeric: tabular-nums; }
th, td { padding: 0.35rem 0.7rem; border-bottom: 1px solid var(--rule); text-align: left; vertical-align: top; }
th { font-weight: 600; color: var(--soft); font-size: 0.92rem; }
thead th { border-bottom: 2px solid var(--rule); vertical-align: bottom; }
thead .number { white-space: normal; }
tbody th { color: var(--ink); font-size: 1rem; }
.number { text-align: right; white-space: nowrap; }
caption { text-align: left; color: var(--soft); font-size: 0.92rem; padding-bottom: 0.4rem; }
.settings { display: grid; grid-template-columns: max-content 1fr; gap: 0.2rem 1rem; margin: 0 0 1rem; }
.settings dt { color: var(--soft); }
.settings dd { margin: 0; font-weight: 600; }
ol, ul { padding-left: 1.3rem; margin: 0 0 0.8rem; }
li { margin-bottom: 0.35rem; }
details { margin-top: 1rem; }
summary { cursor: pointer; font-weight: 600; padding: 0.3rem 0; }
details > .cards, details > .scroll { margin-top: 0.7rem; }
.warnings li { margin-bottom: 0.6rem; }
code { white-space: nowrap; }
.code { color: var(--soft); font-size: 0.88rem; font-family: ui-monospace, "Liberation Mono", monospace; }
main > .cautions { background: var(--warnground); border-color: var(--warn); }
footer { color: var(--soft); font-size: 0.9rem; margin-top: 1.6rem; }
@media (max-width: 640px) {
  body { padding: 1.1rem 0.8rem 3rem; }
  h1 { font-size: 1.5rem; }
  .conclusion { font-size: 1.08rem; }
  main > section { padding: 1rem 0.8rem 0.8rem; }
  .figures { grid-template-columns: 1fr 1fr; }
  .figures dd { font-size: 1.1rem; }
  #plot { height: 33rem; }
  .card { padding: 0.8rem 0.8rem 0.5rem; }
  .card dl { grid-template-columns: 1fr; gap: 0; }
  .card dd { margin-bottom: 0.5rem; }
  .verdict { margin-left: 0; flex-basis: 100%; }
  th, td { padding: 0.35rem 0.3rem; }
  td, tbody th { font-size: 0.95rem; }
  thead th { font-size: 0.8rem; }
  th:first-child { padding-left: 0; }
  td:last-child, th:last-child { padding-right: 0; }
}
@page { margin: 14mm; }
@media print {
  :root { --paper: #fff; --ground: #fff; --ink: #000; --soft: #333; --faint: #777; --rule: #999; --grid: #ddd; --accent: #000; --before: #0072b2; --after: #d55e00; --veil: rgba(90, 90, 90, 0.16); --warn: #000; --warnground: #fff; }
  html { background: #fff; font-size: 9.5pt; }
  body { padding: 0; max-width: none; }
  main > section { border: 0; border-top: 1px solid #999; border-radius: 0; padding: 0.8rem 0 0; }
  .live #plot, nav { display: none; }
  .live .still { display: block; overflow: visible; }
  .still svg { min-width: 0; max-height: 17cm; }
  /* Side by side, each card as a whole, they left a third of the paper empty. */
  .cards { display: block; }
  .card, .card.move { border: 0; border-top: 1px solid #999; border-radius: 0; padding: 0.5rem 0 0.3rem; }
  .move .mark { background: none; color: var(--ink); }
  th, td { padding-block: 0.1rem; }
  tr, li, svg { break-inside: avoid; }
  .figures dd { font-size: 1rem; }
  h2, h3, .card header, dt, summary { break-after: avoid; }
  .scroll { overflow: visible; }
}
`;
