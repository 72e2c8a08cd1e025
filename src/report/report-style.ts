// The look of a report as HTML: dark and light by the reader's choice, black on white on paper, tables as lists where it is narrow.

export const reportStyle = `
:root { color-scheme: light dark; --ink: #20262b; --faint: #5c6770; --paper: #fff; --line: #c5ccd2; --soft: #f1f4f6; --stamp: #b3261e }
@media (prefers-color-scheme: dark) { :root { --ink: #e6eaed; --faint: #a3aeb7; --paper: #15191c; --line: #3b444b; --soft: #1f262a; --stamp: #ff8a80 } }
* { box-sizing: border-box }
body { margin: 0; background: var(--paper); color: var(--ink); font: 15px/1.45 "DejaVu Sans", Verdana, sans-serif; overflow-wrap: anywhere }
table { overflow-wrap: normal }
main { max-width: 62rem; margin: 0 auto; padding: 1.2rem }
header { display: flex; justify-content: flex-end; align-items: flex-start; gap: .8rem; text-align: right }
header p { margin: 0 }
header strong, header span { display: block }
.logo { max-width: 40%; max-height: 3.6rem; background: #fff; padding: 2px }
h1 { font-size: 1.6rem; margin: 0 }
h2 { font-size: 1.05rem; margin: 1.6rem 0 .5rem; padding-bottom: .2rem; border-bottom: 1px solid var(--line); break-after: avoid }
p { margin: .3rem 0 }
.subject, .foot { color: var(--faint) }
.verdict { border: 2px solid var(--ink); padding: .6rem .9rem; margin: 1rem 0 }
.verdict strong { font-size: 1.3rem }
.banner { border: 2px solid var(--stamp); color: var(--stamp); font-weight: bold; text-align: center; padding: .3rem; margin: 0 0 1rem }
.stamp { position: fixed; inset: 0; display: flex; align-items: center; justify-content: center; pointer-events: none; z-index: 1 }
.stamp span { transform: rotate(-35deg); font-weight: bold; font-size: min(13vw, 6.5rem); text-align: center; line-height: 1.1; color: var(--stamp); opacity: .2 }
dl { display: grid; grid-template-columns: minmax(9rem, 17rem) 1fr; gap: .15rem .9rem; margin: .4rem 0 }
dt { color: var(--faint) }
dd { margin: 0 }
table { border-collapse: collapse; width: 100%; margin: .5rem 0; font-size: .9rem; font-variant-numeric: tabular-nums }
th, td { text-align: left; vertical-align: top; padding: .25rem .5rem; border-bottom: 1px solid var(--line) }
thead th { background: var(--soft); vertical-align: bottom }
tr { break-inside: avoid }
figure { margin: .8rem 0; break-inside: avoid; overflow-x: auto; background: #fff; border: 1px solid var(--line) }
figure svg { display: block; width: 100%; max-width: 44rem; min-width: 30rem; margin: 0 auto; height: auto }
@media (max-width: 40rem) {
  main { padding: .8rem }
  dl { display: block }
  dd { margin: 0 0 .4rem .8rem }
  thead { position: absolute; clip-path: inset(50%); height: 1px; overflow: hidden }
  table, tbody, tr, td, tbody th { display: block; border: 0; padding: 0 }
  tbody tr { border-bottom: 1px solid var(--line); padding: .4rem 0 }
  td { padding-left: .8rem }
  td::before { content: attr(data-head) ": "; color: var(--faint) }
}
@page { margin: 14mm }
@media print {
  :root { font-size: 9.5pt; --ink: #000; --faint: #444; --paper: #fff; --line: #999; --soft: #eee; --stamp: #000 }
  body { font-size: 8.5pt }
  h2 { margin-top: .8rem }
  th, td { padding: .1rem .3rem }
  main { max-width: none; padding: 0 }
  figure { border: 0; overflow: visible }
  figure svg { min-width: 0 }
}
`
