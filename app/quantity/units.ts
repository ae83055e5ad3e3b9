/** Closed list of units. Ids are what people write in ASCII and are case-sensitive: MN is not mN. */
export const unitIds = [
  'kg',
  'g',
  'mg',
  't',
  'lb',
  'oz',
  'gr',
  'ton-short',
  'ton-long',
  'cwt-short',
  'cwt-long',
  'slug',
  'oz-troy',
  'ct',
  'N',
  'mN',
  'kN',
  'MN',
  'kgf',
  'gf',
  'tf',
  'lbf',
  'klbf',
  'kip',
  'ozf',
  'tonf-short',
  'tonf-long',
  'dyn',
  'pdl',
  'Pa',
  'hPa',
  'kPa',
  'MPa',
  'GPa',
  'bar',
  'mbar',
  'psi',
  'ksi',
  'kgf/cm2',
  'kgf/mm2',
  'atm',
  'Torr',
  'mmHg',
  'inHg',
  'mmH2O',
  'cmH2O',
  'inH2O',
  'ftH2O',
  'inHg-32F',
  'inHg-60F',
  'inH2O-4C',
  'inH2O-60F',
  'inH2O-20C',
  'mmH2O-4C',
  'N.m',
  'kN.m',
  'N.cm',
  'mN.m',
  'lbf.ft',
  'lbf.in',
  'ozf.in',
  'kgf.m',
  'kgf.cm',
  'gf.cm',
  'dyn.cm',
  'V',
  'mV',
  'uV',
  'mV/V',
  'uV/V',
  'ohm',
  'kohm',
  'Mohm',
  'A',
  'mA',
  'W',
  'mW',
  'm',
  'mm',
  'cm',
  'km',
  'in',
  'ft',
  's',
  'ms',
  'us',
  'min',
  'h',
  'degC',
  'K',
  'degF',
  'm/s2',
  'g_n',
  '%',
  'ppm',
  'kg/m3',
] as const
export type UnitId = (typeof unitIds)[number]

export type Dimension =
  | 'mass'
  | 'force'
  | 'pressure'
  | 'torque'
  | 'voltage'
  | 'bridge-signal'
  | 'resistance'
  | 'current'
  | 'power'
  | 'length'
  | 'time'
  | 'temperature'
  | 'acceleration'
  | 'ratio'
  | 'density'

export type Unit = {
  dimension: Dimension
  /** As printed for people. */
  symbol: string
  name: string
  /** Base units in one of this unit: a decimal, or a quotient of two decimals, exact. */
  factor: string
  /** Added to the value before the factor (degC, degF): base = (value + offset) x factor. */
  offset?: string
  /** The factor is itself a rounded table value: more digits than it shows are not justified. */
  rounded?: true
}

const of =
  (dimension: Dimension) =>
  (symbol: string, name: string, factor: string, more: Pick<Unit, 'offset' | 'rounded'> = {}): Unit => ({
    dimension,
    symbol,
    name,
    factor,
    ...more,
  })
const [mass, force, pressure, torque, length, time] = [of('mass'), of('force'), of('pressure'), of('torque'), of('length'), of('time')]

/**
 * Every unit with its exact factor.
 * Source: definitions (lb 0.45359237 kg, in 0.0254 m, standard gravity 9.80665 m/s2, atm 101325 Pa), as in NIST SP 811 (2008) App. B.8,
 * against which each is tested. Units of a measured property (mercury or water at a stated temperature) are rounded table values;
 * inH2O at 20 degC is computed from the density of water, 998.2071 kg/m3, and is not in SP 811.
 */
export const units: Record<UnitId, Unit> = {
  kg: mass('kg', 'kilogram', '1'),
  g: mass('g', 'gram', '0.001'),
  mg: mass('mg', 'milligram', '0.000001'),
  t: mass('t', 'tonne (metric ton)', '1000'),
  lb: mass('lb', 'pound', '0.45359237'),
  oz: mass('oz', 'ounce', '0.028349523125'),
  gr: mass('gr', 'grain', '0.00006479891'),
  'ton-short': mass('ton (US)', 'short ton, 2000 lb', '907.18474'),
  'ton-long': mass('ton (UK)', 'long ton, 2240 lb', '1016.0469088'),
  'cwt-short': mass('cwt (US)', 'short hundredweight, 100 lb', '45.359237'),
  'cwt-long': mass('cwt (UK)', 'long hundredweight, 112 lb', '50.80234544'),
  slug: mass('slug', 'slug', '4.4482216152605/0.3048'),
  'oz-troy': mass('oz t', 'troy ounce, 480 gr', '0.0311034768'),
  ct: mass('ct', 'metric carat', '0.0002'),

  N: force('N', 'newton', '1'),
  mN: force('mN', 'millinewton', '0.001'),
  kN: force('kN', 'kilonewton', '1000'),
  MN: force('MN', 'meganewton', '1000000'),
  kgf: force('kgf', 'kilogram-force', '9.80665'),
  gf: force('gf', 'gram-force', '0.00980665'),
  tf: force('tf', 'tonne-force', '9806.65'),
  lbf: force('lbf', 'pound-force', '4.4482216152605'),
  klbf: force('klbf', 'thousand pounds-force', '4448.2216152605'),
  kip: force('kip', 'kip, 1000 lbf', '4448.2216152605'),
  ozf: force('ozf', 'ounce-force', '0.27801385095378125'),
  'tonf-short': force('tonf (US)', 'short ton-force, 2000 lbf', '8896.443230521'),
  'tonf-long': force('tonf (UK)', 'long ton-force, 2240 lbf', '9964.01641818352'),
  dyn: force('dyn', 'dyne', '0.00001'),
  pdl: force('pdl', 'poundal', '0.138254954376'),

  Pa: pressure('Pa', 'pascal', '1'),
  hPa: pressure('hPa', 'hectopascal', '100'),
  kPa: pressure('kPa', 'kilopascal', '1000'),
  MPa: pressure('MPa', 'megapascal', '1000000'),
  GPa: pressure('GPa', 'gigapascal', '1000000000'),
  bar: pressure('bar', 'bar', '100000'),
  mbar: pressure('mbar', 'millibar', '100'),
  psi: pressure('psi', 'pound-force per square inch', '4.4482216152605/0.00064516'),
  ksi: pressure('ksi', 'kip per square inch', '4448.2216152605/0.00064516'),
  'kgf/cm2': pressure('kgf/cm²', 'technical atmosphere', '98066.5'),
  'kgf/mm2': pressure('kgf/mm²', 'kilogram-force per square millimetre', '9806650'),
  atm: pressure('atm', 'standard atmosphere', '101325'),
  Torr: pressure('Torr', 'torr, atm/760', '101325/760'),
  mmHg: pressure('mmHg', 'millimetre of mercury, conventional', '133.322387415'),
  inHg: pressure('inHg', 'inch of mercury, conventional', '3386.388640341'),
  mmH2O: pressure('mmH₂O', 'millimetre of water, conventional', '9.80665'),
  cmH2O: pressure('cmH₂O', 'centimetre of water, conventional', '98.0665'),
  inH2O: pressure('inH₂O', 'inch of water, conventional', '249.08891'),
  ftH2O: pressure('ftH₂O', 'foot of water, conventional', '2989.06692'),
  'inHg-32F': pressure('inHg (32 °F)', 'inch of mercury at 0 °C', '3386.38', { rounded: true }),
  'inHg-60F': pressure('inHg (60 °F)', 'inch of mercury at 60 °F', '3376.85', { rounded: true }),
  'inH2O-4C': pressure('inH₂O (4 °C)', 'inch of water at 4 °C', '249.082', { rounded: true }),
  'inH2O-60F': pressure('inH₂O (60 °F)', 'inch of water at 60 °F', '248.84', { rounded: true }),
  'inH2O-20C': pressure('inH₂O (20 °C)', 'inch of water at 20 °C (68 °F)', '248.642', { rounded: true }),
  'mmH2O-4C': pressure('mmH₂O (4 °C)', 'millimetre of water at 4 °C', '9.80638', { rounded: true }),

  'N.m': torque('N·m', 'newton metre', '1'),
  'kN.m': torque('kN·m', 'kilonewton metre', '1000'),
  'N.cm': torque('N·cm', 'newton centimetre', '0.01'),
  'mN.m': torque('mN·m', 'millinewton metre', '0.001'),
  'lbf.ft': torque('lbf·ft', 'pound-force foot', '1.3558179483314004'),
  'lbf.in': torque('lbf·in', 'pound-force inch', '0.1129848290276167'),
  'ozf.in': torque('ozf·in', 'ounce-force inch', '0.00706155181422604375'),
  'kgf.m': torque('kgf·m', 'kilogram-force metre', '9.80665'),
  'kgf.cm': torque('kgf·cm', 'kilogram-force centimetre', '0.0980665'),
  'gf.cm': torque('gf·cm', 'gram-force centimetre', '0.0000980665'),
  'dyn.cm': torque('dyn·cm', 'dyne centimetre', '0.0000001'),

  V: of('voltage')('V', 'volt', '1'),
  mV: of('voltage')('mV', 'millivolt', '0.001'),
  uV: of('voltage')('µV', 'microvolt', '0.000001'),
  'mV/V': of('bridge-signal')('mV/V', 'millivolt per volt', '0.001'),
  'uV/V': of('bridge-signal')('µV/V', 'microvolt per volt', '0.000001'),
  ohm: of('resistance')('Ω', 'ohm', '1'),
  kohm: of('resistance')('kΩ', 'kilohm', '1000'),
  Mohm: of('resistance')('MΩ', 'megohm', '1000000'),
  A: of('current')('A', 'ampere', '1'),
  mA: of('current')('mA', 'milliampere', '0.001'),
  W: of('power')('W', 'watt', '1'),
  mW: of('power')('mW', 'milliwatt', '0.001'),

  m: length('m', 'metre', '1'),
  mm: length('mm', 'millimetre', '0.001'),
  cm: length('cm', 'centimetre', '0.01'),
  km: length('km', 'kilometre', '1000'),
  in: length('in', 'inch', '0.0254'),
  ft: length('ft', 'foot (international)', '0.3048'),
  s: time('s', 'second', '1'),
  ms: time('ms', 'millisecond', '0.001'),
  us: time('µs', 'microsecond', '0.000001'),
  min: time('min', 'minute', '60'),
  h: time('h', 'hour', '3600'),
  degC: of('temperature')('°C', 'degree Celsius', '1', { offset: '273.15' }),
  K: of('temperature')('K', 'kelvin', '1'),
  degF: of('temperature')('°F', 'degree Fahrenheit', '5/9', { offset: '459.67' }),
  'm/s2': of('acceleration')('m/s²', 'metre per second squared', '1'),
  g_n: of('acceleration')('gₙ', 'standard gravity', '9.80665'),
  '%': of('ratio')('%', 'percent', '0.01'),
  ppm: of('ratio')('ppm', 'parts per million', '0.000001'),
  'kg/m3': of('density')('kg/m³', 'kilogram per cubic metre', '1'),
}
