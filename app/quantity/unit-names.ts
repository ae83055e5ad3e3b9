import { type UnitId, unitIds, units } from './units.ts'

/** Ways of writing that mean one unit only. */
const otherNames: Record<string, UnitId> = {
  kgs: 'kg',
  tonne: 't',
  tonnes: 't',
  lbs: 'lb',
  'oz av': 'oz',
  'oz avdp': 'oz',
  'oz t': 'oz-troy',
  ozt: 'oz-troy',
  grain: 'gr',
  grains: 'gr',
  'ton (us)': 'ton-short',
  'short ton': 'ton-short',
  'short tons': 'ton-short',
  'us ton': 'ton-short',
  'ton (uk)': 'ton-long',
  'long ton': 'ton-long',
  'long tons': 'ton-long',
  'uk ton': 'ton-long',
  'cwt (us)': 'cwt-short',
  'cwt (uk)': 'cwt-long',
  kp: 'kgf',
  kips: 'kip',
  'tonf (us)': 'tonf-short',
  'tonf (uk)': 'tonf-long',
  'n/mm2': 'MPa',
  'lbf/in2': 'psi',
  'kg/cm2': 'kgf/cm2',
  at: 'kgf/cm2',
  torr: 'Torr',
  'inh2o (4c)': 'inH2O-4C',
  'inh2o (60f)': 'inH2O-60F',
  'inh2o (20c)': 'inH2O-20C',
  'inh2o (68f)': 'inH2O-20C',
  'mmh2o (4c)': 'mmH2O-4C',
  'inhg (32f)': 'inHg-32F',
  'inhg (60f)': 'inHg-60F',
  'inhg (0c)': 'inHg-32F',
  nm: 'N.m',
  knm: 'kN.m',
  ncm: 'N.cm',
  'ft.lbf': 'lbf.ft',
  'ft.lb': 'lbf.ft',
  'lb.ft': 'lbf.ft',
  'in.lbf': 'lbf.in',
  'in.lb': 'lbf.in',
  'lb.in': 'lbf.in',
  'kg.m': 'kgf.m',
  'kg.cm': 'kgf.cm',
  sec: 's',
  'm/s^2': 'm/s2',
  'kg/m^3': 'kg/m3',
  'kgf/cm^2': 'kgf/cm2',
  'kg/cm^2': 'kgf/cm2',
  'n/mm^2': 'MPa',
  volt: 'V',
  volts: 'V',
  percent: '%',
}

/** Ways of writing that mean several units: never guessed between. */
const severalMeanings: Record<string, UnitId[]> = {
  ton: ['t', 'ton-short', 'ton-long', 'tf', 'tonf-short', 'tonf-long'],
  tons: ['t', 'ton-short', 'ton-long', 'tf', 'tonf-short', 'tonf-long'],
  T: ['t', 'ton-short', 'ton-long'],
  tonf: ['tf', 'tonf-short', 'tonf-long'],
  cwt: ['cwt-short', 'cwt-long'],
  oz: ['oz', 'oz-troy', 'ozf'],
  ounce: ['oz', 'oz-troy', 'ozf'],
  ounces: ['oz', 'oz-troy', 'ozf'],
  pound: ['lb', 'lbf'],
  pounds: ['lb', 'lbf'],
  '#': ['lb', 'lbf'],
  klb: ['klbf'],
  kilo: ['kg', 'kgf', 'kN'],
  kilos: ['kg', 'kgf'],
  inwc: ['inH2O', 'inH2O-4C', 'inH2O-60F', 'inH2O-20C'],
  inwg: ['inH2O', 'inH2O-4C', 'inH2O-60F', 'inH2O-20C'],
  iwc: ['inH2O', 'inH2O-4C', 'inH2O-60F', 'inH2O-20C'],
  mmwc: ['mmH2O', 'mmH2O-4C'],
  mmws: ['mmH2O', 'mmH2O-4C'],
  C: ['degC'],
  F: ['degF'],
}

/** Letters that are only the beginning of a unit: refused even where the field leaves one of these. */
export const beginnings: Record<string, UnitId[]> = {
  M: ['MN', 'MPa', 'Mohm', 'm', 'mm'],
  k: ['kg', 'kN', 'kPa', 'kohm'],
  G: ['g', 'GPa'],
}

/** One spelling of signs that print and keyboards write differently. */
const plainSpelling = (text: string) =>
  text
    .trim()
    .replace(/[\u00b5\u03bc]/g, 'u')
    .replace(/[\u03a9\u2126]/g, 'ohm')
    .replace(/\u00b2/g, '2')
    .replace(/\u00b3/g, '3')
    .replace(/\u2082/g, '2')
    .replace(/\u00b0\s?/g, 'deg')
    .replace(/[\u00b7\u22c5*]/g, '.')
    .replace(/\u2099/g, '_n')
    .replace(/[\u00a0\u2009\u202f]/g, ' ')

const bySpelling = new Map<string, UnitId>(
  unitIds.flatMap(
    (id) =>
      [
        [plainSpelling(units[id].symbol), id],
        [id, id],
      ] as const,
  ),
)

/**
 * Units that a written name can mean: none, one, or several. Upper and lower case are told apart (mN is not MN); where the case fits none,
 * the letters alone decide, except between the prefixes m and M.
 */
export function unitsNamed(written: string): readonly UnitId[] {
  const text = plainSpelling(written)
  if (Object.hasOwn(beginnings, text)) return beginnings[text] ?? []
  const exactCase = Object.hasOwn(severalMeanings, text) ? severalMeanings[text] : undefined
  if (exactCase) return exactCase
  const several = Object.hasOwn(severalMeanings, text.toLowerCase()) ? severalMeanings[text.toLowerCase()] : undefined
  const found = bySpelling.get(text) ?? bySpelling.get(text.replace(/ /g, '.')) ?? bySpelling.get(text.replace(/deg([CF])\b/, '$1'))
  if (found) return [found]
  const lower = text
    .toLowerCase()
    .replace(/deg(?=[cf]\))/g, '')
    .replace(/-/g, '.')
  const named = Object.hasOwn(otherNames, lower) ? otherNames[lower] : undefined
  if (named && !/^M/.test(text)) return [named]
  if (several) return several
  return [...new Set([...bySpelling].filter(([spelling]) => spelling.toLowerCase() === text.toLowerCase()).map(([, id]) => id))]
}

/** Is the case of the first letter all that makes the written name this unit, and does that letter tell milli from mega? */
export const prefixCaseDiffers = (written: string, id: UnitId): boolean => {
  const [first, meant] = [plainSpelling(written).charAt(0), id.charAt(0)]
  return first !== meant && first.toLowerCase() === 'm' && meant.toLowerCase() === 'm'
}
