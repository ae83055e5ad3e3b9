import { appliedKind, appliedWords } from '../../app/applied-words.ts'
import { leadsLeave } from '../../app/bridge/point-wiring.ts'
import { asJudged, changedSinceJudged } from '../../app/evaluation/as-judged.ts'
import { evaluateQuickCheck, type QuickCheckResult, superseded } from '../../app/evaluation/quick-check.ts'
import type { Indicator, Job, Point, QuickCheck, SettingsImage, Visit } from '../../app/job/schema.ts'
import { sharePercentText } from '../../app/loadpath/point-share.ts'
import { isKept, unsavedWords } from '../../app/profile/kept.ts'
import { type Profile, registerKey } from '../../app/profile/schema.ts'
import { settingWords } from '../../app/profile/setting-words.ts'
import { settingRegisters, unitsAcross } from '../../app/profile/settings.ts'
import { exact, toDecimal } from '../../app/quantity/exact.ts'
import { decimalsWorth, formatDecimal, formatExact, formatQuantity, plusMinus } from '../../app/quantity/format.ts'
import { alwaysOn } from '../../app/scaling/always-on.ts'
import { explainScalingFailure } from '../../app/scaling/scaling-failure.ts'
import { type Html, html } from './html.ts'
import { type InstantText, localTime, type Printing } from './local-time.ts'
import { sheetStyle } from './sheet-style.ts'

/** One page that stays with the machine: what was found, what was left, how it checked, who and when. A complete HTML document. */
export function handoverSheet(
  job: Job,
  point: Point,
  profiles: ReadonlyMap<string, Profile>,
  visitId: string | null,
  printing: Printing,
): string {
  const instant = localTime(printing.zone)
  const indicator = job.indicators.find((i) => i.id === point.indicatorId)
  const profile = indicator && profiles.get(indicator.profileId)
  const visit = job.visits.find((v) => v.id === visitId) ?? job.visits.at(-1)
  const left = indicator && visit?.left[indicator.id]
  const found = indicator && visit?.found[indicator.id]
  const page = html`<!doctype html>
<html lang="en"><head><meta charset="utf-8"><title>${point.tag} handover</title><style>${{ markup: sheetStyle }}</style></head><body>
${job.simulated ? html`<p class="simulated">Practice: simulated indicator, no real machine.</p>` : ''}
<header><h1>${point.tag} <span>${point.name}</span></h1><p>${job.name}${job.site ? `, ${job.site}` : ''}</p></header>
<section><h2>Who and when</h2>${facts([
    ['Visit', visit ? instant(visit.startedAt) : 'no visit'],
    ['By', visit?.by ?? 'not stated'],
    ['Printed', instant(printing.at)],
    ['Job revision', String(job.revision)],
  ])}</section>
<section><h2>Measuring point</h2>${facts(pointFacts(job, point, profile?.name, indicator?.unit))}</section>
${indicator?.sealed ? sealSection(indicator.sealed, instant) : ''}
<section><h2>Settings</h2>${profile && left ? settingsTable(job, profile, point, found, left, instant) : html`<p>Not read in this visit.</p>`}</section>
<section><h2>Check</h2>${checks(job, point, visit, left, instant)}</section>
<footer><p>In-house sheet, not an accredited certificate. It does not replace licensed practice or local codes.</p>
<p class="signed">Handed over by <span></span> Taken over by <span></span></p></footer>
</body></html>`
  return page.markup
}

type Seal = NonNullable<Indicator['sealed']>
const brokenWords = (seals: string, { by, reason, at }: NonNullable<Seal['broken']>, instant: InstantText) =>
  `${seals}, broken on ${instant(at)} by ${by}: ${reason}.`

function sealSection({ seals, broken, earlier = [] }: Seal, instant: InstantText): Html {
  const before = earlier.map((e) => html`<p>Before: ${brokenWords(e.seals, e.broken, instant)}</p>`)
  if (!broken) return html`<section><h2>Seal</h2><p>${seals}, not broken. The indicator is read only.</p>${before}</section>`
  return html`<section><h2>Seal</h2><p>${brokenWords(seals, broken, instant)}</p>${before}
<p><strong>Re-verification is due before the indicator is used for legal-for-trade weighing or sealed use again.</strong></p></section>`
}

/** Longer than this a fact takes the whole width of the page, in characters. */
const longFact = 44

const facts = (rows: readonly (readonly [string, string])[]): Html =>
  html`<dl>${rows.map(([k, v]) => html`<div class="${v.length > longFact ? 'wide' : ''}"><dt>${k}</dt><dd>${v}</dd></div>`)}</dl>`

function pointFacts(job: Job, point: Point, model: string | undefined, unitAddress: number | undefined): [string, string][] {
  const say = (value: string) => formatQuantity(value, point.unit, job.decimalSign)
  const { certificates } = point.sensors
  const { zeroSignal, zeroExcitation } = point.measured
  const capacity = certificates[0]?.capacity
  return [
    [appliedWords(point).maximumName, say(point.maximumLoad)],
    ['Scale interval d', say(point.scaleInterval)],
    ...appliedFacts(job, point),
    ['Wiring', wiringText(point, job.decimalSign)],
    ...(point.verificationInterval === undefined ? [] : [verificationFact(point, say)]),
    ['Indicator', model ? `${model}, unit ${unitAddress}` : 'none'],
    [
      'Sensors',
      certificates.length === 0
        ? 'no certificate'
        : `${certificates.length} × ${capacity ? formatQuantity(capacity.value, capacity.unit, job.decimalSign) : 'capacity not stated'}`,
    ],
    [
      'Certificates',
      certificates
        .map(
          (c) =>
            `${c.number} (${c.serial}): ${c.ratedOutput ? formatQuantity(c.ratedOutput.value, c.ratedOutput.unit, job.decimalSign) : 'rated output not stated'}`,
        )
        .join('; ') || 'none',
    ],
    [
      'Zero signal',
      zeroSignal
        ? `${formatQuantity(zeroSignal.value, zeroSignal.unit, job.decimalSign)}, measured${zeroExcitation ? ` at ${formatQuantity(zeroExcitation.value, zeroExcitation.unit, job.decimalSign)} of excitation` : ''}`
        : 'not measured',
    ],
    [
      'Tolerance',
      point.tolerance ? `${plusMinus(say(point.tolerance.value))}, ${point.tolerance.why || 'its source not stated'}` : 'not stated',
    ],
  ]
}

/** How what is applied reaches the sensors, as scaling counts it. */
function appliedFacts(job: Job, point: Point): [string, string][] {
  const { gravityHere, pressure } = point.loadPath
  const always = alwaysOn(point)
  const places = decimalsWorth(exact(point.scaleInterval)) + 1
  const standing = (none: string) =>
    !always.ok
      ? explainScalingFailure(always.failure)
      : always.value.from === 'not-stated'
        ? none
        : formatQuantity(toDecimal(always.value.load, places), point.unit, job.decimalSign)
  if (appliedKind(point) !== 'load')
    return [
      ['Measures', pressure ? `${pressure} pressure` : 'gauge or absolute not stated'],
      ['Head of fluid', standing('none stated')],
    ]
  return [
    ['Share on the sensors', `${formatDecimal(sharePercentText(point.loadPath), job.decimalSign)} %`],
    ['Dead load', standing('not stated')],
    ['Gravity here', gravityHere ? formatQuantity(gravityHere.value, gravityHere.unit, job.decimalSign) : 'not stated'],
  ]
}

function wiringText({ wiring, sensors }: Point, sign: Job['decimalSign']): string {
  const left = leadsLeave(wiring, sensors.certificates)
  const wires = wiring.wires === 6 ? 'six-wire' : 'four-wire'
  if (!left.ok) return `${wires}, what the leads take is not known`
  if (left.value.known !== 'computed')
    return `${wires}, ${left.value.known === 'cable-not-stated' ? 'cable not stated' : 'no loss counted'}`
  return `${wires}, leads take ${formatDecimal(((1 - left.value.span) * 100).toFixed(3), sign)} % of the span`
}

/** Max, e and n are what an instrument for legal trade is classed by (OIML R 76-1:2006, 3.2). */
function verificationFact(point: Point, say: (value: string) => string): [string, string] {
  const e = point.verificationInterval ?? point.scaleInterval
  return ['Verification scale interval e', `${say(e)}, n = ${toDecimal(exact(point.maximumLoad).div(exact(e)), 0)}`]
}

function settingsTable(
  job: Job,
  profile: Profile,
  point: Point,
  found: SettingsImage | undefined,
  left: SettingsImage,
  instant: InstantText,
): Html {
  const mine = settingRegisters(profile).filter((r) => r.channel === undefined || r.channel === point.channel)
  const unsaved: string[] = []
  const rows = mine.map((r) => {
    const key = registerKey(r)
    const [was, is] = [found?.values[key], left.values[key]]
    const units = unitsAcross(
      profile,
      r,
      (k) => found?.values[k]?.value,
      (k) => left.values[k]?.value,
    )
    // Where the unit is another now, each number has its own beside it.
    const ownUnits = was !== undefined && units.heldUnit !== undefined
    const show = (held: typeof is, unit?: string) =>
      held
        ? held.value === null
          ? `words ${held.words.join(' ')}`
          : r.options
            ? held.value
            : `${formatDecimal(held.value, job.decimalSign)} ${(ownUnits && unit) || ''}`.trimEnd()
        : 'not read'
    const changed = was !== undefined && is !== undefined && was.words.join() !== is.words.join()
    const lost = changed && !isKept(profile, r)
    if (lost) unsaved.push(key)
    return html`<tr class="${changed ? 'changed' : ''}"><th>${settingWords(key)}</th><td>${show(was, units.heldUnit)}</td><td>${show(is, units.unit)}</td><td class="unit">${ownUnits ? '' : (units.unit ?? '')}</td><td>${lost ? 'changed, not saved' : changed ? 'changed' : ''}</td></tr>`
  })
  return html`<table><thead><tr><th>setting</th><td>as found</td><td>as left</td><td></td><td></td></tr></thead><tbody>${rows}</tbody></table>${unsaved.length > 0 ? html`<p><strong>${unsavedWords(unsaved, 1, 'after')}</strong></p>` : ''}
<p class="small">As found ${found ? instant(found.at) : 'not read'}, as left ${instant(left.at)}. Raw register words are kept in the job.</p>`
}

function checks(job: Job, point: Point, visit: Visit | undefined, left: SettingsImage | undefined, instant: InstantText): Html {
  const mine = visit?.checks.filter((c) => c.pointId === point.id && c.steps.length > 0) ?? []
  if (mine.length === 0) return html`<p>Not checked in this visit.</p>`
  const missing = (['as-found', 'as-left'] as const).filter((when) => mine.every((c) => c.when !== when))
  return html`${mine.map((c) => checkTable(job, point, c, left, instant))}
${missing.map((when) => html`<p class="small">${whenWords[when]}: not checked in this visit.</p>`)}`
}

const whenWords = { 'as-found': 'As found', 'as-left': 'As left' } as const
const verdictWords = { within: 'within tolerance', outside: 'OUTSIDE tolerance', 'cannot-be-judged': 'cannot be judged' } as const

function checkTable(job: Job, pointNow: Point, check: QuickCheck, left: SettingsImage | undefined, instant: InstantText): Html {
  const point = asJudged(check, pointNow)
  const result: QuickCheckResult = evaluateQuickCheck(check, point, job.decimalSign)
  const decimals = decimalsWorth(exact(point.scaleInterval))
  // An amount typed finer than the interval gives an error as fine.
  const loadDecimals = check.steps.map((s) => Math.max(decimals, s.load.split('.')[1]?.length ?? 0))
  const errorDecimals = Math.max(decimals, ...loadDecimals)
  const { quantity } = appliedWords(point)
  const number = (value: Parameters<typeof formatExact>[0], places: number, signed = false) =>
    formatExact(value, places, job.decimalSign, signed)
  const rows = result.steps.map(
    (s, i) =>
      html`<tr><td>${number(s.load, loadDecimals[i] ?? decimals)}</td><td>${number(s.reading, decimals)}</td><td>${number(s.error, errorDecimals, true)}</td><td>${number(s.intervals, 1, true)}</td><td>${s.percentOfLoad ? number(s.percentOfLoad, 3, true) : ''}</td><td>${check.steps[i]?.origin ?? ''}</td></tr>`,
  )
  const changed = changedSinceJudged(check, pointNow, job.decimalSign)
  const isOld = check.when === 'as-found' ? 'no' : superseded(check.held, left, point.channel)
  return html`<h3>${whenWords[check.when]}: ${verdictWords[result.verdict]}${isOld === 'yes' ? ' (superseded: the scaling changed afterwards)' : changed.length > 0 ? ' (superseded)' : ''}</h3>
<table><thead><tr><td>${quantity} ${point.unit}</td><td>reading ${point.unit}</td><td>error ${point.unit}</td><td>error d</td><td>error % of ${quantity}</td><td>origin</td></tr></thead><tbody>${rows}</tbody></table>
<p class="small">${instant(check.startedAt)}, ${check.by}. ${appliedWords(point).standards}: ${check.standards ?? 'not stated'}. ${[...changed, ...result.reasons, ...result.remarks].join(' ')} No uncertainty is counted in this check.</p>`
}
