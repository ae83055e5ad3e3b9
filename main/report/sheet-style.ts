/** Style of printed sheets: ink on paper, one A4 page, tabular figures. */
export const sheetStyle = `
@page { size: A4; margin: 12mm 15mm; }
* { box-sizing: border-box; }
body { font: 9.5pt/1.32 'Source Sans 3', 'Helvetica Neue', Arial, sans-serif; color: #1A1D21; background: #fff; margin: 0 auto; padding: 24px; max-width: 186mm; font-variant-numeric: tabular-nums; }
@media print { body { padding: 0; } }
header { border-bottom: 1.5px solid #1A1D21; margin-bottom: 6px; }
h1 { font-size: 17pt; margin: 0; } h1 span { font-weight: 400; color: #5B6067; }
header p { margin: 0 0 4px; color: #5B6067; }
h2 { font-size: 11pt; margin: 10px 0 3px; } h3 { font-size: 9.5pt; margin: 6px 0 1px; }
dl { display: grid; grid-template-columns: 1fr 1fr; column-gap: 24px; margin: 0; }
dl div { display: flex; gap: 10px; border-bottom: 1px solid #DDD9CF; padding: 1px 0; }
dl .wide { grid-column: 1 / -1; }
dt { color: #5B6067; min-width: 30mm; } dd { margin: 0; }
table { border-collapse: collapse; width: 100%; } td, th { text-align: right; font-weight: 400; padding: 0 6px; border-bottom: 1px solid #DDD9CF; }
th:first-child, .unit { text-align: left; } thead td, thead th { color: #5B6067; border-bottom-color: #8C877B; }
.changed th, .changed td { font-weight: 600; }
.small, footer p { font-size: 8.5pt; color: #5B6067; margin: 3px 0; }
.simulated { border: 1.5px dashed #1A1D21; padding: 2px 8px; font-weight: 600; margin: 0 0 8px; }
footer { margin-top: 12px; } .signed span { display: inline-block; width: 45mm; border-bottom: 1px solid #1A1D21; margin-right: 8mm; height: 22px; vertical-align: bottom; }
section, table { break-inside: avoid; }
`
