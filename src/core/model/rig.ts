// The rig: its file's shape, and its numbers in pascal and seconds.
import { z } from 'zod'
import { type Certificate, certificateOf, certificateSchema } from './certificate.ts'

import { amount, looseObject, type ObjectMaker, strictObject } from './schema.ts'
import { pressureUnits } from './units.ts'

export const portNames = ['manometer', 'meter', 'bridge'] as const
export type PortName = (typeof portNames)[number]

function rigSchema(object: ObjectMaker) {
  const options = z.record(z.string(), z.union([z.string(), z.number()])).nullish()
  const device = {
    driver: z.string().min(1),
    options,
    port: object({
      path: z.string().min(1).nullish(),
      baudRate: z.int().min(50).max(4_000_000).nullish(),
      dataBits: z.union([z.literal(7), z.literal(8)]).nullish(),
      parity: z.enum(['none', 'even', 'odd']).nullish(),
      stopBits: z.union([z.literal(1), z.literal(2)]).nullish(),
    }).nullish(),
    identity: object({
      serial: z.string().nullish(),
      certificate: z.string().nullish(),
      due: z.iso.date().nullish(),
    }).nullish(),
  }
  const manometer = {
    suctionSign: z.union([z.literal(1), z.literal(-1)]),
    accuracy: object({
      ofReading: z.number().min(0).max(1),
      ofFullScale: z.number().min(0).max(1),
      fullScale: amount(object, z.number().positive()),
      distribution: z.enum(['rectangular', 'normal']).default('rectangular'),
      coverage: z.number().min(1).max(5).nullish(),
    }).nullish(),
    calibration: certificateSchema(object).nullish(),
    digit: amount(object, z.number().positive()),
    zero: amount(object, z.number().nonnegative()).nullish(),
  }
  const meter = {
    pair: z.enum(['com-no', 'com-nc', 'network']),
    closedBelowOhm: z.number().positive().default(10),
    openAboveOhm: z.number().positive().default(1000),
    leadsOhm: z.number().nonnegative().default(0),
  }
  return object({
    name: z.string().nullish(),
    manometer: object({ ...device, ...manometer }).optional(),
    meter: object({ ...device, ...meter }).optional(),
    bridge: object({ ...device, ...manometer, ...meter }).optional(),
    lag: object({
      valueS: z.number().min(-10).max(10),
      uS: z.number().positive().max(10),
      n: z.int().positive().nullish(),
    }).nullish(),
    decision: object({
      rule: z.enum(['guarded', 'simple', 'risk']).default('guarded'),
      guardFactor: z.number().min(0).max(5).default(1),
      /** With the rule `risk`: the chance that a part exactly at a limit passes. */
      risk: z.number().min(1e-6).max(0.5).nullish(),
    }).nullish(),
  }).superRefine((rig, context) => {
    const pairOk = rig.bridge ? !rig.manometer && !rig.meter : rig.manometer && rig.meter
    if (!pairOk)
      context.addIssue({ code: 'custom', message: 'a rig needs a manometer and a meter, or a bridge in place of both' })
    const contact = rig.bridge ?? rig.meter
    if (contact && contact.closedBelowOhm >= contact.openAboveOhm)
      context.addIssue({
        code: 'custom',
        path: [rig.bridge ? 'bridge' : 'meter', 'closedBelowOhm'],
        message: `${contact.closedBelowOhm} ohm is not below the ${contact.openAboveOhm} ohm above which it is open`,
      })
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
  if (rig.bridge) return [{ name: 'bridge', device: rig.bridge }]
  const ports: { name: PortName; device: RigPort }[] = []
  if (rig.manometer) ports.push({ name: 'manometer', device: rig.manometer })
  if (rig.meter) ports.push({ name: 'meter', device: rig.meter })
  return ports
}

/** The numbers of a rig in SI units. */
export type RigSpec = {
  suctionSign: 1 | -1
  accuracy: { ofReading: number; fullScalePa: number; distribution: 'rectangular' | 'normal'; coverage: number } | null
  /** Where given it stands in place of `accuracy`. */
  calibration: Certificate | null
  digitPa: number
  zeroPa: number | null
  pair: 'com-no' | 'com-nc' | 'network'
  closedBelowOhm: number
  openAboveOhm: number
  leadsOhm: number
  lag: { valueS: number; uS: number; n: number | null } | null
  rule: 'guarded' | 'simple' | 'risk'
  guardFactor: number
  /** Chance that a part exactly at a limit passes, where the rule is `risk`. */
  risk: number
  /** Last day on which the manometer's certificate is valid, `YYYY-MM-DD`; null where none is stated. */
  due: string | null
}

/** Numbers of `rig` in SI units. `accuracy.fullScalePa` is already ofFullScale × full scale: what is left after zeroing. */
export function rigSpecOf(rig: Rig): RigSpec {
  const manometer = rig.bridge ?? rig.manometer
  const contact = rig.bridge ?? rig.meter
  if (!manometer || !contact) throw new Error('rigSpecOf: a checked rig has a manometer and a meter')
  const inPa = (a: { value: number; unit: keyof typeof pressureUnits }) => a.value * pressureUnits[a.unit]
  const { accuracy } = manometer
  return {
    suctionSign: manometer.suctionSign,
    accuracy: accuracy
      ? {
          ofReading: accuracy.ofReading,
          fullScalePa: accuracy.ofFullScale * inPa(accuracy.fullScale),
          distribution: accuracy.distribution,
          coverage: accuracy.coverage ?? 2,
        }
      : null,
    calibration: manometer.calibration ? certificateOf(manometer.calibration, manometer.suctionSign) : null,
    digitPa: inPa(manometer.digit),
    zeroPa: manometer.zero ? inPa(manometer.zero) : null,
    pair: contact.pair,
    closedBelowOhm: contact.closedBelowOhm,
    openAboveOhm: contact.openAboveOhm,
    leadsOhm: contact.leadsOhm,
    lag: rig.lag ? { valueS: rig.lag.valueS, uS: rig.lag.uS, n: rig.lag.n ?? null } : null,
    rule: rig.decision?.rule ?? 'guarded',
    guardFactor: rig.decision?.guardFactor ?? 1,
    risk: rig.decision?.risk ?? 0.025,
    due: manometer.identity?.due ?? null,
  }
}
