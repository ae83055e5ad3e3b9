import type { EntrySheetView } from '../../app/contract/entry-sheet-calls.ts'
import type { Job } from '../../app/job/schema.ts'
import { formatDecimal, formatQuantity } from '../../app/quantity/format.ts'
import { expectation, safetyWords, sheetWarnings } from '../../app/scaling/entry-sheet-words.ts'
import { type Html, html } from './html.ts'
import { localTime, type Printing } from './local-time.ts'
import { sheetStyle } from './sheet-style.ts'

/** What is typed is large and every digit as wide as the next: it is read at arm's length beside a panel. */
const entryStyle = `
.sheet + .sheet { break-before: page; margin-top: 40px; } @media print { .sheet + .sheet { margin-top: 0; } }
.before { border: 1.5px solid #1A1D21; padding: 4px 8px; margin: 8px 0; } .before p { margin: 2px 0; }
.warn { border-left: 4px solid #1A1D21; padding: 1px 8px; margin: 4px 0; font-weight: 600; }
.entries td, .entries th { padding: 5px 6px; vertical-align: baseline; } .entries td:nth-child(-n+3), .entries thead td:nth-child(-n+3) { text-align: left; }
.entries .menu { font-weight: 600; white-space: nowrap; }
.entries .type { font: 600 14pt/1.1 'JetBrains Mono', 'DejaVu Sans Mono', Consolas, monospace; white-space: nowrap; }
.entries .asis { color: #5B6067; font-size: 9.5pt; } .entries .found { min-width: 32mm; } .entries .tick { width: 9mm; }
.signed span { width: 36mm; margin-right: 5mm; }
.entries .found { background: linear-gradient(#8C877B, #8C877B) 6px calc(100% - 4px) / calc(100% - 12px) 1px no-repeat; }
.tick span { display: inline-block; width: 4mm; height: 4mm; border: 1px solid #1A1D21; }
`

/** Sheets to carry to the indicators: a page for each point. A complete HTML document. */
export function entrySheetsHtml(job: Job, sheets: readonly EntrySheetView[], printing: Printing): string {
  const printed = localTime(printing.zone)(printing.at)
  const title = sheets.map((s) => s.tag).join(', ')
  return html`<!doctype html>
<html lang="en"><head><meta charset="utf-8"><title>${title} entry sheet</title><style>${{ markup: sheetStyle + entryStyle }}</style></head><body>
${sheets.map((sheet) => page(job, sheet, printed))}
</body></html>`.markup
}

const page = (job: Job, sheet: EntrySheetView, printed: string): Html => html`<article class="sheet">
${job.simulated ? html`<p class="simulated">Practice: simulated indicator, no real machine.</p>` : ''}
<header><h1>${sheet.tag} <span>${sheet.name}</span></h1><p>Entry sheet for ${sheet.indicator.name} (${sheet.indicator.model}, unit ${sheet.indicator.unit}). ${job.name}${job.site ? `, ${job.site}` : ''}, job revision ${job.revision}, printed ${printed}</p></header>
<div class="before">${safetyWords.map((w) => html`<p>${w}</p>`)}</div>
${[...sheetWarnings(sheet), ...sheet.warnings].map((w) => html`<p class="warn">${w}</p>`)}
<section><h2>Type in this order</h2>${entries(job, sheet)}</section>
${sheet.captures.length === 0 ? '' : html`<section><h2>Apply and command</h2>${captures(job, sheet)}</section>`}
<section><h2>Then</h2><p>${expectation(sheet, (text) => formatDecimal(text, job.decimalSign))}</p>
<p>Check the point against known values before it is used; typing alone proves nothing.</p></section>
<footer><p>In-house sheet. It does not replace licensed practice or local codes.</p>
<p class="signed">Typed by <span></span> Compared by <span></span> Date <span></span></p></footer></article>`

function entries(job: Job, sheet: EntrySheetView): Html {
  const hasMenu = sheet.order === 'panel'
  const shown = (type: string) => (/^-?\d+(\.\d+)?$/.test(type) ? plain(type, job) : type)
  const rows = sheet.lines.map(
    (line, i) =>
      html`<tr><td>${i + 1}</td><td class="menu">${hasMenu ? (line.label ?? '') : ''}</td><td>${line.words}</td><td class="found"></td>${
        line.type === null ? html`<td class="asis">as it is</td>` : html`<td class="type">${shown(line.type)}</td>`
      }<td class="unit">${line.type === null ? '' : (line.unit ?? '')}</td><td class="tick"><span></span></td></tr>`,
  )
  return html`<table class="entries"><thead><tr><td></td><td>${hasMenu ? 'panel shows' : ''}</td><td>which is</td><td>found there</td><td>type</td><td class="unit"></td><td>done</td></tr></thead><tbody>${rows}</tbody></table>`
}

/** Digits to be typed stand as they are typed: no groups, and a hyphen that a keypad has. */
const plain = (text: string, job: Job) => text.replace('.', job.decimalSign)

function captures(job: Job, sheet: EntrySheetView): Html {
  const rows = sheet.captures.map(
    (c) =>
      html`<tr><th>${c.command.replace('-', ' ')}</th><td>${formatQuantity(c.apply, c.unit, job.decimalSign)}</td><td>${formatQuantity(c.expectSignal, c.signalUnit, job.decimalSign)}</td></tr>`,
  )
  return html`<table><thead><tr><td>command</td><td>applied</td><td>signal to expect</td></tr></thead><tbody>${rows}</tbody></table>`
}
