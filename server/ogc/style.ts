/** The one stylesheet of the pages at /ogc: light and dark, from a phone to a wide screen, and on paper. */
export const STYLE = `:root {
  color-scheme: light dark;
  --paper: #ffffff; --paper-2: #f5f6f5; --ink: #172027; --ink-2: #4d5a62;
  --rule: #d4d9db; --accent: #0b6e64; --focus: #0a5fb4;
}
@media (prefers-color-scheme: dark) {
  :root {
    --paper: #171c20; --paper-2: #1e2429; --ink: #e8edef; --ink-2: #a9b6bd;
    --rule: #343d44; --accent: #4fd1c0; --focus: #7cc4ff;
  }
}
* { box-sizing: border-box; }
body {
  margin: 0 auto; max-width: 70rem; padding: 0 1rem 2rem;
  background: var(--paper); color: var(--ink);
  font: 1rem/1.5 system-ui, sans-serif; font-variant-numeric: tabular-nums; overflow-wrap: anywhere;
}
h1 { font-size: 1.5rem; line-height: 1.25; margin: 1rem 0 .5rem; }
h2 { font-size: 1.15rem; line-height: 1.25; margin: 1.5rem 0 .5rem; }
p { margin: .5rem 0; max-width: 45rem; }
a { color: var(--accent); display: inline-block; min-height: 1.5rem; vertical-align: top; }
p a { display: inline; }
:focus-visible { outline: 2px solid var(--focus); outline-offset: 2px; }
.skip { position: absolute; left: -100rem; }
.skip:focus { position: static; }
nav ol, nav ul { list-style: none; padding: 0; margin: .5rem 0; display: flex; flex-wrap: wrap; gap: .25rem 1rem; }
nav ol li + li::before { content: "/"; color: var(--ink-2); margin-right: 1rem; }
ul.list { padding-left: 1.25rem; }
dl { display: grid; grid-template-columns: minmax(6rem, max-content) 1fr; gap: .25rem 1rem; margin: .5rem 0; }
dt { color: var(--ink-2); }
dd { margin: 0; }
.wide { overflow-x: auto; border: 1px solid var(--rule); border-radius: 3px; }
table { border-collapse: collapse; width: 100%; overflow-wrap: normal; }
th, td { text-align: left; vertical-align: top; padding: .3rem .6rem; border-bottom: 1px solid var(--rule); white-space: nowrap; }
thead th { background: var(--paper-2); color: var(--ink-2); font-weight: 600; }
tbody th { font-weight: 400; }
tbody tr:last-child > * { border-bottom: 0; }
td.number, th.number { text-align: right; }
td.text { white-space: normal; min-width: 16rem; }
footer { margin-top: 2rem; padding-top: .5rem; border-top: 1px solid var(--rule); color: var(--ink-2); font-size: .875rem; }
@media (max-width: 30rem) {
  dl { grid-template-columns: 1fr; gap: 0; }
  dd { margin-bottom: .5rem; }
}
@media print { nav { display: none; } .wide { overflow: visible; border: 0; } }
`;
