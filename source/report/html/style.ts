/**
 * The page's style sheet: system fonts, one column on a phone, black on white in print, light or dark as the reader
 * has it. Colours only support what words, signs and hatching say; text keeps a contrast of 4.5:1 (WCAG 2.2, 1.4.3).
 */
export const pageStyle = `
:root{color-scheme:light dark;--ink:#1b1f24;--soft:#555d66;--paper:#fff;--line:#c9ced4;--band:#0b5fa5;--bad:#b3261e;--warn:#8a5a00;--good:#1a6b3a;--care:#1f4e9c}
@media (prefers-color-scheme:dark){:root{--ink:#e8eaed;--soft:#a9b1ba;--paper:#15181c;--line:#444b53;--band:#7db8ef;--bad:#ff9a90;--warn:#f0bd5a;--good:#7fd6a0;--care:#a9c7ff}}
*{box-sizing:border-box}
body{margin:0 auto;padding:1rem;max-width:72rem;background:var(--paper);color:var(--ink);font:16px/1.5 system-ui,sans-serif;overflow-wrap:anywhere}
h1{font-size:1.35rem;line-height:1.25;margin:.2rem 0}
h2{font-size:1.2rem;margin:2rem 0 .5rem;border-bottom:1px solid var(--line)}
h3{font-size:1rem;margin:1rem 0 .25rem}
p,ol,ul,dl,table,figure{margin:.5rem 0}
a{color:var(--band)}
.soft,figcaption,dt{color:var(--soft)}
.verdict{display:inline-block;border:2px solid;border-radius:.3rem;padding:0 .5rem;margin-right:.3rem}
.fail,.failure{color:var(--bad)}.attention,.out-of-spec{color:var(--warn)}.pass{color:var(--good)}.unproven,.maintenance,.function-check{color:var(--care)}
.grid2{display:grid;grid-template-columns:repeat(auto-fit,minmax(min(100%,21rem),1fr));gap:.5rem 1.5rem}
.finding{border-left:4px solid;padding-left:.8rem;margin:1rem 0;break-inside:avoid}
.finding>*{color:var(--ink)}
.finding h3 .failure{color:var(--bad)}.finding h3 .out-of-spec{color:var(--warn)}.finding h3 .maintenance,.finding h3 .function-check{color:var(--care)}
figure{break-inside:avoid}
dl{display:grid;grid-template-columns:max-content 1fr;gap:.1rem .8rem}
dd{margin:0}
table{border-collapse:collapse;font-size:.9em}
.wide{overflow-x:auto}
th,td{padding:.15rem .5rem .15rem 0;text-align:left;vertical-align:top;white-space:nowrap}
th{white-space:normal;overflow-wrap:normal}
td.prose{white-space:normal;min-width:12rem}
td.n,th.n{text-align:right}
tr+tr{border-top:1px solid var(--line)}
pre{overflow-x:auto;padding:.5rem;border:1px solid var(--line);font:13px/1.4 ui-monospace,monospace}
section section h2{margin-top:1rem}
.columns{columns:20rem;column-gap:1.5rem}.columns>*{break-inside:avoid;margin:.3rem 0}
pre.columns{columns:11rem}
svg{display:block;max-width:100%;height:auto}
svg text{fill:var(--ink);font:11px system-ui,sans-serif}
svg .small{font-size:9.5px}svg .mid{text-anchor:middle}svg .end{text-anchor:end}svg .strong{font-weight:600}
svg path{fill:none;stroke:var(--ink)}
svg .axis path{stroke:var(--soft)}svg .axis text{fill:var(--soft)}
svg path.grid,svg .axis path.grid{stroke:var(--line);stroke-width:.6}
svg .band{fill:var(--band);stroke:var(--band);stroke-width:.4}
svg .line{stroke:var(--band);stroke-width:1.3}svg .thin{stroke-width:.7}
svg .moment{stroke:var(--bad);stroke-width:1.5;stroke-dasharray:3 2}
svg .reach{stroke:var(--soft);stroke-dasharray:5 3}
svg .field{fill:none;stroke:var(--soft)}
svg .mark{fill:url(#hatch);stroke:var(--bad);stroke-width:.5}
svg .hatch{stroke:var(--bad);stroke-width:1}
svg .number{fill:var(--bad);font-weight:700}
svg .bar{fill:var(--band)}svg .bar.faulty,svg .bar.lost,svg .bar.failure{fill:var(--bad)}svg .bar.out-of-spec{fill:var(--warn)}svg .bar.maintenance,svg .bar.function-check{fill:var(--care)}
svg .before{fill:none;stroke:var(--ink);stroke-dasharray:3 2}svg .open{fill:none;stroke:var(--soft);stroke-dasharray:2 2}
svg.hidden{position:absolute;width:0;height:0}
.charts{gap:.25rem 1.5rem}
@media (max-width:30rem){table{font-size:.8em}th,td{padding-right:.35rem}}
@media print{
:root{color-scheme:light;--ink:#000;--soft:#444;--paper:#fff;--line:#bbb;--band:#333;--bad:#000;--warn:#000;--good:#000;--care:#000}
body{max-width:none;padding:0;font-size:9pt;line-height:1.35}
a{color:inherit;text-decoration:none}
h1{font-size:14pt}h2{font-size:11pt;margin:1rem 0 .3rem;break-after:avoid}h3{font-size:9pt;margin:.5rem 0 .1rem;break-after:avoid}
p,ol,ul,dl,table,figure,.finding{margin:.25rem 0}
.grid2{grid-template-columns:repeat(2,minmax(0,1fr))}.charts{grid-template-columns:repeat(3,minmax(0,1fr))}
h2+p{break-after:avoid}
svg{max-width:min(100%,290px)}svg.square{max-width:min(100%,190px)}
.wide{overflow:visible}
th,td{padding:0 .3rem 0 0}
table{break-inside:avoid}
pre{white-space:pre-wrap;font-size:7.5pt}
}
`.trim();
