// The rig: its file's shape, and its numbers in pascal and seconds.
import { z } from 'zod'
import { type Certificate, certificateOf } from './certificate.ts'
import { instrumentSchemas } from './instruments.ts'
import { about, looseObject, type ObjectMaker, strictObject } from './schema.ts'
import { type Typist, typedDriver } from './typed.ts'
import { pressureUnits } from './units.ts'

export const portNames = ['manometer', 'manometer-2', 'meter', 'bridge'] as const
export type PortName = (typeof portNames)[number]

/** What the instrument of a port is used for. */
export const roleOf = (port: PortName): Exclude<PortName, 'manometer-2'> =>
  port === 'manometer-2' ? 'manometer' : port

function rigSchema(object: ObjectMaker) {
  const seconds = z.number().max(10)
  const positive = z.number().positive()
  const nonnegative = z.number().nonnegative()
  return object({
    name: z
      .string()
      .nullish()
      .meta(about('name of the rig', 'As each recording names it.', { example: 'north bench' })),
    ...instrumentSchemas(object),
    lag: object({
      valueS: seconds.min(-10).meta(about('', '', { unit: 's', example: 0.06 })),
      uS: seconds.positive().meta(about('u', 'Its standard uncertainty.', { unit: 's', example: 0.02 })),
      n: z
        .int()
        .positive()
        .nullish()
        .meta(about('tests', 'How many tests it comes from; left out: it is a statement.', { example: 14 })),
    })
      .nullish()
      .meta(about('lag', 'How much later the contact is seen than the pressure; `makebreak rig lag` finds it.')),
    hose: object({
      lengthM: positive.meta(about('length', 'From the manometer to the switch.', { unit: 'm', example: 0.8 })),
      boreMm: positive.meta(about('bore', 'Its inner diameter.', { unit: 'mm', example: 4 })),
    })
      .nullish()
      .meta(about('hose', 'The hose between manometer and switch.')),
    proved: object({
      at: z
        .union([z.iso.date(), z.iso.datetime()])
        .meta(about('on', 'The day on which it was measured.', { example: '2027-03-14' })),
      hoseS: nonnegative.nullish().meta(about('hose', 'Time constant of the hose.', { unit: 's', example: 0.01 })),
      uHoseS: positive.nullish().meta(about('u', 'Standard uncertainty of that.', { unit: 's', example: 0.004 })),
      leakPaPerS: nonnegative
        .nullish()
        .meta(about('leak', 'Of the whole bench, closed.', { unit: 'Pa/s', example: 0.05 })),
      recording: z
        .string()
        .min(1)
        .nullish()
        .meta(
          about('recording', 'The recording that shows it. Without it the record counts for nothing.', {
            example: '0197f0c2-5d1e-7b3a-9c40-2f6a8d1e5b77',
          }),
        ),
    })
      .nullish()
      .meta(about('line proved', 'What a test of the line alone has shown; it counts for seven days.')),
    decision: object({
      rule: z
        .enum(['guarded', 'simple', 'risk'])
        .default('guarded')
        .meta(
          about('', 'guarded: U is kept off each limit; simple: it is not; risk: as much as a risk allows.', {
            example: 'guarded',
          }),
        ),
      guardFactor: z
        .number()
        .min(0)
        .max(5)
        .default(1)
        .meta(about('guard factor', 'How many U are kept off each limit.', { example: 1 })),
      risk: z
        .number()
        .min(1e-6)
        .max(0.5)
        .nullish()
        .meta(
          about('risk', 'Chance that a part exactly at a limit passes. Left out: 2.5 %.', {
            example: 0.025,
            shareOf: 'such parts',
          }),
        ),
    })
      .nullish()
      .meta(about('decision', 'How a limit is held against a result.')),
  })
    .superRefine((rig, context) => {
      const pairOk = rig.bridge ? !rig.manometer && !rig.meter : rig.manometer && rig.meter
      if (!pairOk)
        context.addIssue({
          code: 'custom',
          message: 'a rig needs a manometer and a meter, or a bridge in place of both',
        })
      if (rig.bridge?.driver === typedDriver)
        context.addIssue({
          code: 'custom',
          path: ['bridge', 'driver'],
          message: 'a board sends; what is typed is a manometer, a meter or both',
        })
      const second = rig['manometer-2']
      if (second && (second.driver === typedDriver || rig.manometer?.driver === typedDriver))
        context.addIssue({
          code: 'custom',
          path: ['manometer-2', 'driver'],
          message: 'a second manometer is held against the first all along, so both must send; leave it out',
        })
      if (second && !second.accuracy && !second.calibration)
        context.addIssue({
          code: 'custom',
          path: ['manometer-2', 'accuracy'],
          message: 'a second manometer needs its accuracy or calibration: without it, it proves nothing',
        })
      const contact = rig.bridge ?? rig.meter
      if (contact && contact.closedBelowOhm >= contact.openAboveOhm)
        context.addIssue({
          code: 'custom',
          path: [rig.bridge ? 'bridge' : 'meter', 'closedBelowOhm'],
          message: `${contact.closedBelowOhm} ohm is not below the ${contact.openAboveOhm} ohm above which it is open`,
        })
    })
    .meta({
      oneOf: [
        { required: ['manometer', 'meter'], properties: { manometer: true, meter: true, bridge: false } },
        { required: ['bridge'], properties: { manometer: false, meter: false, bridge: true } },
      ],
    })
}

/** A rig file: an unknown key is an error. */
export const rigFileSchema = rigSchema(strictObject)
/** The rig inside a recording: unknown keys are kept. */
export const recordedRigSchema = rigSchema(looseObject)
export type Rig = z.infer<typeof rigFileSchema>
type Device = NonNullable<Rig['bridge']>
export type RigPort = Pick<Device, 'driver' | 'options' | 'port' | 'identity'>

/** The devices of a rig by the port each is recorded under. */
export function rigPorts(rig: Rig): { name: PortName; device: RigPort }[] {
  const names: readonly PortName[] = rig.bridge ? ['bridge', 'manometer-2'] : ['manometer', 'manometer-2', 'meter']
  return names.flatMap((name) => {
    const device = rig[name]
    return device ? [{ name, device }] : []
  })
}

/** Those of them that have a port: what is typed has none. */
export function wiredPorts(rig: Rig): ReturnType<typeof rigPorts> {
  return rigPorts(rig).filter(({ device }) => device.driver !== typedDriver)
}

/** The numbers of a manometer in SI units. */
export type ManometerSpec = {
  suctionSign: 1 | -1
  accuracy: {
    ofReading: number
    fullScalePa: number
    /** Its full scale: beyond it nothing is stated. */
    scalePa: number
    distribution: 'rectangular' | 'normal'
    coverage: number
    /** Share of it that differs between rise and fall; null where it is not stated. */
    hysteresis: number | null
  } | null
  /** Where given it counts in place of `accuracy`. */
  calibration: Certificate | null
  digitPa: number
  zeroPa: number | null
  /** Last day on which its certificate is valid, `YYYY-MM-DD`; null where none is stated. */
  due: string | null
}

/** The numbers of a rig in SI units; those of its manometer at the tee are its own. */
export type RigSpec = ManometerSpec & {
  /** The manometer at the switch end; null where there is none. */
  atSwitch: ManometerSpec | null
  pair: 'com-no' | 'com-nc' | 'network'
  closedBelowOhm: number
  openAboveOhm: number
  leadsOhm: number
  /** Of a resistance, ohm added to a share of the reading; null where it is not stated. */
  meterAccuracy: { ofReading: number; ohm: number; distribution: 'rectangular' | 'normal'; coverage: number } | null
  lag: { valueS: number; uS: number; n: number | null } | null
  /** What a test of the line alone has shown on a day, and the recording of it; null where none is stated. */
  proved: { on: string; hoseS: number | null; uHoseS: number | null; leakPaPerS: number | null } | null
  rule: 'guarded' | 'simple' | 'risk'
  guardFactor: number
  /** Chance that a part exactly at a limit passes, where the rule is `risk`. */
  risk: number
  /** Last day on which the certificate of a meter of its own is valid; null where none is stated. */
  meterDue: string | null
  /** Who reads the manometer, and who hears the contact; null where an instrument sends it. */
  typed: { pressure: Typist | null; contact: Typist | null }
}

/** Numbers of a manometer in SI units. `accuracy.fullScalePa` is already ofFullScale × full scale: what is left after zeroing. */
function manometerSpecOf(manometer: NonNullable<Rig['manometer']>): ManometerSpec {
  const inPa = (a: { value: number; unit: keyof typeof pressureUnits }) => a.value * pressureUnits[a.unit]
  const { accuracy } = manometer
  return {
    suctionSign: manometer.suctionSign,
    accuracy: accuracy
      ? {
          ofReading: accuracy.ofReading,
          fullScalePa: accuracy.ofFullScale * inPa(accuracy.fullScale),
          scalePa: inPa(accuracy.fullScale),
          distribution: accuracy.distribution,
          coverage: accuracy.coverage ?? 2,
          hysteresis: accuracy.hysteresis ?? null,
        }
      : null,
    calibration: manometer.calibration ? certificateOf(manometer.calibration, manometer.suctionSign) : null,
    digitPa: inPa(manometer.digit),
    zeroPa: manometer.zero ? inPa(manometer.zero) : null,
    due: manometer.identity?.due ?? null,
  }
}

/** Numbers of `rig` in SI units. */
export function rigSpecOf(rig: Rig): RigSpec {
  const manometer = rig.bridge ?? rig.manometer
  const contact = rig.bridge ?? rig.meter
  if (!manometer || !contact) throw new Error('rigSpecOf: a checked rig has a manometer and a meter')
  const ofMeter = rig.meter?.accuracy
  const second = rig['manometer-2']
  return {
    ...manometerSpecOf(manometer),
    atSwitch: second ? manometerSpecOf(second) : null,
    pair: contact.pair,
    closedBelowOhm: contact.closedBelowOhm,
    openAboveOhm: contact.openAboveOhm,
    leadsOhm: contact.leadsOhm,
    meterAccuracy: ofMeter ? { ...ofMeter, coverage: ofMeter.coverage ?? 2 } : null,
    lag: rig.lag ? { valueS: rig.lag.valueS, uS: rig.lag.uS, n: rig.lag.n ?? null } : null,
    proved: rig.proved?.recording
      ? {
          on: rig.proved.at.slice(0, 10),
          hoseS: rig.proved.hoseS ?? null,
          uHoseS: rig.proved.uHoseS ?? null,
          leakPaPerS: rig.proved.leakPaPerS ?? null,
        }
      : null,
    rule: rig.decision?.rule ?? 'guarded',
    guardFactor: rig.decision?.guardFactor ?? 1,
    risk: rig.decision?.risk ?? 0.025,
    meterDue: rig.meter?.identity?.due ?? null,
    typed: { pressure: typistOf(rig.manometer), contact: typistOf(rig.meter) },
  }
}

/** A recording may hold options that no file may: one that is no such number counts as not stated. */
function typistOf(device: RigPort | undefined): Typist | null {
  if (device?.driver !== typedDriver) return null
  const { reactionS, pacePercentPerS } = device.options ?? {}
  const positive = (value: unknown) => (typeof value === 'number' && value > 0 ? value : null)
  const pacePercent = positive(pacePercentPerS)
  return { reactionS: positive(reactionS), paceShare: pacePercent === null ? null : pacePercent / 100 }
}
