// A driver and the bytes of a port into the options to try it with: choices in full, places that the lines have, usual queries.
import { knownUnit, pressureUnitNames } from '../core/model/units.ts'
import {
  type Driver,
  type OptionSpec,
  type Options,
  type OptionValue,
  type Role,
  resolveOptions,
  wireOf,
} from '../driver.ts'

/** What no byte tells: the unit of a bare number (`#` in `text` is its place in the option's value), and what one step is worth. */
export type Open = { unit: { option: string; text: string; names: readonly string[] } | null; scale: string | null }

/** A driver with options, and the query that it sends; null for an instrument that sends by itself. */
export type Trial = { driver: Driver; role: Role; options: Options; query: string | null; end: string; open: Open }

/** One way to fill an option in, and what stays open then. */
type Filling = { value: OptionValue; open?: Partial<Open> }

// Queries that read and change nothing, as IEEE 488.2 instruments know them. Common practice, no source.
const usualQueries = ['READ?', 'MEAS?', 'MEAS:PRES?', 'MEAS:RES?', 'FETC?', 'VAL?']
const mostSlaves = 4
const mostRegisters = 16
const mostColumns = 8
const mostLabels = 8
/** More ways to fill the options in than this are not gone through. */
const mostTrials = 4000

/** What was worked out before: a query takes its time, and a driver of registers has thousands. */
const known = new WeakMap<Driver, Map<string, Trial[]>>()

/** The ways to try `driver` as an instrument of `role` on the line that `sample` is from; none where its own code throws. */
export function trialsOf(driver: Driver, role: Role, sample: string): Trial[] {
  const ways = Object.entries(driver.options).map(([name, spec]) => waysToFill(name, spec, role, sample))
  const key = JSON.stringify([role, ways])
  const kept = known.get(driver) ?? new Map<string, Trial[]>()
  const trials = kept.get(key) ?? fillIn(driver, role, ways)
  known.set(driver, kept.set(key, trials))
  return trials
}

function fillIn(driver: Driver, role: Role, ways: readonly Filling[][]): Trial[] {
  let fillings: { options: Options; open: Open }[] = [{ options: {}, open: { unit: null, scale: null } }]
  for (const [i, name] of Object.keys(driver.options).entries()) {
    if (fillings.length * ways[i]!.length > mostTrials) continue
    fillings = fillings.flatMap(({ options, open }) =>
      ways[i]!.map((way) => ({ options: { ...options, [name]: way.value }, open: { ...open, ...way.open } })),
    )
  }
  try {
    return fillings.map(({ options, open }) => trialWith({ driver, role, open }, options))
  } catch {
    return []
  }
}

/** Whether an instrument of `driver` is asked; false too where its own code throws. */
export function asks(driver: Driver): boolean {
  try {
    return wireOf(driver, resolveOptions(driver, {})).poll.length > 0
  } catch {
    return false
  }
}

/** The trial with these options, its query worked out. Throws where the driver does not take them. */
export function trialWith(trial: Pick<Trial, 'driver' | 'role' | 'open'>, options: Options): Trial {
  const all = resolveOptions(trial.driver, options)
  const { poll, framing } = wireOf(trial.driver, all)
  const end = framing.kind === 'bytes' ? '' : framing.end === 'cr' ? '\r' : '\n'
  return { ...trial, options: all, query: poll[0]?.bytes ?? null, end }
}

/** The first way is the default, or what is put in for it until the unit is known. */
function waysToFill(name: string, spec: OptionSpec, role: Role, sample: string): Filling[] {
  const usual: Filling[] = [{ value: spec.default }]
  if (spec.kind === 'choice') {
    if (!isUnitOption(spec)) return unique([spec.default, ...spec.values])
    const names = spec.values.filter((value) => fitsRole(value, role))
    const [first] = names
    return first === undefined ? usual : [{ value: first, open: { unit: { option: name, text: '#', names } } }]
  }
  if (spec.kind === 'number') {
    if (name === 'scale') return [{ value: 1, open: { scale: name } }]
    if (name === 'column' || name === 'item') return countTo(1, Math.min(mostColumns, columnsIn(sample)))
    if (name === 'display') return countTo(1, Math.max(1, displaysIn(sample)))
    if (name === 'slave') return countTo(1, mostSlaves)
    if (name === 'register') return countTo(0, mostRegisters - 1)
    return usual
  }
  if (name === 'command' && spec.default.endsWith('?')) return unique([spec.default, ...usualQueries])
  if (name === 'only') return unique(['', ...labelsIn(sample)])
  if (name === 'units') return [...usual, ...unitCodes(name, spec.default, role, sample)]
  return usual
}

const unique = (values: readonly OptionValue[]): Filling[] => [...new Set(values)].map((value) => ({ value }))

function countTo(first: number, last: number): Filling[] {
  return Array.from({ length: Math.max(1, last - first + 1) }, (_, i) => ({ value: first + i }))
}

/** Whether an option states the unit of a number that comes without one. */
export function isUnitOption(spec: OptionSpec | undefined): boolean {
  return spec?.kind === 'choice' && spec.values.every((value) => value === 'auto' || knownUnit(value) !== null)
}

/** A board states the units of its two numbers itself. */
const fitsRole = (unit: string, role: Role) =>
  role !== 'bridge' && knownUnit(unit)?.quantity === (role === 'manometer' ? 'pressure' : 'resistance')

const linesOf = (sample: string) => sample.split(/[\r\n]+/).filter((line) => line.trim() !== '')

const columnsIn = (sample: string) => Math.max(1, ...linesOf(sample).map((line) => line.split(/[,;\t]/).length))

/** What frames of sixteen characters begin with: the display's number, and the code of its unit. */
function framesIn(sample: string): { display: number; code: string }[] {
  return sample.split('\x02').flatMap((text) => {
    const [, display, code] = /^4([1-9])([0-9A-Za-z]{2})/.exec(text) ?? []
    return display === undefined || code === undefined ? [] : [{ display: Number(display), code }]
  })
}

const displaysIn = (sample: string) => Math.max(1, ...framesIn(sample).map(({ display }) => display))

/** Each unit code of such frames that `known` gives no meaning, its meaning open. */
function unitCodes(option: string, known: string, role: Role, sample: string): Filling[] {
  const codes = new Set(framesIn(sample).map(({ code }) => code))
  const fitting = [...pressureUnitNames, 'ohm', 'kOhm', 'MOhm'].filter((name) => fitsRole(name, role))
  return [...codes]
    .filter((code) => !known.split(/[\s,;]+/).some((each) => each.startsWith(`${code}=`)))
    .filter(() => fitting.length > 0)
    .map((code) => {
      const text = `${known} ${code}=#`
      return { value: text.replace('#', fitting[0]!), open: { unit: { option, text, names: fitting } } }
    })
}

/** Words and numbered labels that some of the lines have and others do not: where displays come in turn, these tell them apart. */
function labelsIn(sample: string): string[] {
  const lines = linesOf(sample).slice(1)
  const counts = new Map<string, number>()
  for (const line of lines)
    for (const [label] of new Set([...line.matchAll(/[A-Za-z"%][A-Za-z0-9"%]*|\b\d+:/g)]))
      counts.set(label, (counts.get(label) ?? 0) + 1)
  const some = [...counts].filter(([, count]) => count >= lines.length / 5 && count <= (lines.length * 4) / 5)
  return some.map(([label]) => label).slice(0, mostLabels)
}
