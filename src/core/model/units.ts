// Unit texts into canonical units and their factors to pascal or ohm.
import type { Quantity } from './reading.ts'

/**
 * Pascal per unit. Sources: NIST SP 811 (2008), Appendix B.8, conventional water and mercury columns (the exact
 * products behind its rounded table: 1 mmH2O = 9.80665 Pa, 1 in = 25.4 mm, conventional mercury 13 595.1 kg/m3);
 * torr = 101 325/760 Pa by definition; psi = 0.45359237 kg × 9.80665 m/s2 / (0.0254 m)2.
 */
export const pressureUnits = {
  Pa: 1,
  hPa: 100,
  kPa: 1000,
  mbar: 100,
  inH2O: 9.80665 * 25.4,
  mmH2O: 9.80665,
  cmH2O: 98.0665,
  psi: (0.45359237 * 9.80665) / (0.0254 * 0.0254),
  inHg: 13.5951 * 9.80665 * 25.4,
  mmHg: 13.5951 * 9.80665,
  Torr: 101325 / 760,
} as const

export type PressureUnit = keyof typeof pressureUnits

export const pressureUnitNames = Object.keys(pressureUnits) as readonly PressureUnit[]

/** A unit found in a text: what it measures, its canonical name, and pascal or ohm per unit. */
export type KnownUnit = { quantity: Quantity; unit: string; factor: number }

// Spellings seen on displays and labels: common practice, no source. `h20`: a nought typed for the letter.
const spellings: Record<PressureUnit, string> = {
  Pa: 'pa pascal pascals',
  hPa: 'hpa',
  kPa: 'kpa',
  mbar: 'mbar',
  inH2O: 'inh2o inh20 inwc inwg iwc iwg inchwc incheswc inchh2o inchesh2o "h2o "h20 "wc "wg',
  mmH2O: 'mmh2o mmh20 mmwc mmwg mmws',
  cmH2O: 'cmh2o cmh20 cmwc cmwg cmws',
  psi: 'psi psid psig',
  inHg: 'inhg inchhg incheshg "hg',
  mmHg: 'mmhg',
  Torr: 'torr',
}

const bySpelling = new Map(
  pressureUnitNames.flatMap((unit) => spellings[unit].split(' ').map((text) => [text, unit] as const)),
)

const resistanceText = /^(µ|u|m|k|K|M|meg|Meg|MEG)?(ohms?|Ohms?|OHMS?|Ω)$/

/** The canonical unit of a text such as `in wc`, `InH2O`, `"H2O`, `mm H2O`; null where it is no pressure unit known here. */
export function pressureUnit(text: string): PressureUnit | null {
  const bare = text
    .replace(/[\s._-]/g, '')
    .replace("''", '"')
    .toLowerCase()
  return bySpelling.get(bare) ?? null
}

/**
 * Ohm per unit of a text such as `ohm`, `kOhm`, `MΩ`; null where it is no resistance unit known here. `m` is milli and
 * `M` mega; `MOHM` is megohm (IEEE 488.2, 7.7.3; clause from memory), and `mohm` in small letters is either: null.
 */
export function resistanceFactor(text: string): number | null {
  // U+2126 OHM SIGN and U+03A9 OMEGA look alike, as do U+03BC MU and U+00B5 MICRO SIGN.
  const bare = text
    .replace(/[\s._-]/g, '')
    .replaceAll('\u2126', 'Ω')
    .replaceAll('\u03bc', 'µ')
  const [, prefix, ohm] = resistanceText.exec(bare) ?? []
  if (ohm === undefined) return null
  if (prefix === undefined) return 1
  if (prefix === 'm') return ohm.startsWith('o') ? null : 1e-3
  if (prefix === 'µ' || prefix === 'u') return 1e-6
  return prefix.toLowerCase() === 'k' ? 1e3 : 1e6
}

const byName: ReadonlyMap<string, KnownUnit> = new Map<string, KnownUnit>([
  ...pressureUnitNames.map((unit) => [unit, knownPressure(unit)] as const),
  ['ohm', { quantity: 'resistance', unit: 'ohm', factor: 1 }],
])

function knownPressure(unit: PressureUnit): KnownUnit {
  return { quantity: 'pressure', unit, factor: pressureUnits[unit] }
}

/** The pressure or resistance unit of a text; a resistance is always in `ohm`, so that a change of range is no change of unit. */
export function knownUnit(text: string): KnownUnit | null {
  const named = byName.get(text)
  if (named !== undefined) return named
  const pressure = pressureUnit(text)
  if (pressure !== null) return knownPressure(pressure)
  const factor = resistanceFactor(text)
  return factor === null ? null : { quantity: 'resistance', unit: 'ohm', factor }
}
