// Unit texts into canonical pressure units and their factors to pascal; also the one way numbers are shown in a unit.

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

const pressureSpellings: Record<string, PressureUnit> = {
  pa: 'Pa',
  hpa: 'hPa',
  kpa: 'kPa',
  mbar: 'mbar',
  inh2o: 'inH2O',
  inwc: 'inH2O',
  inwg: 'inH2O',
  '"h2o': 'inH2O',
  '"wc': 'inH2O',
  mmh2o: 'mmH2O',
  mmwc: 'mmH2O',
  cmh2o: 'cmH2O',
  cmwc: 'cmH2O',
  psi: 'psi',
  inhg: 'inHg',
  '"hg': 'inHg',
  mmhg: 'mmHg',
  torr: 'Torr',
}

const resistanceSpellings: Record<string, number> = {
  ohm: 1,
  ohms: 1,
  Ω: 1,
  ω: 1,
  r: 1,
  kohm: 1e3,
  kohms: 1e3,
  kΩ: 1e3,
  kω: 1e3,
  mohm: 1e6,
  mohms: 1e6,
  mΩ: 1e6,
  mω: 1e6,
  k: 1e3,
}

/** The canonical unit of a text such as `in wc`, `InH2O`, `"H2O`, `mm H2O`; null where it is no pressure unit known here. */
export function pressureUnit(text: string): PressureUnit | null {
  return pressureSpellings[text.toLowerCase().replace(/[\s._]/g, '')] ?? null
}

/** Ohm per unit of a text such as `ohm`, `kOhm`, `MΩ` (a meter's M is mega: no ohmmeter here reads milliohm); null if unknown. */
export function resistanceFactor(text: string): number | null {
  return resistanceSpellings[text.toLowerCase().replace(/[\s._]/g, '')] ?? null
}
