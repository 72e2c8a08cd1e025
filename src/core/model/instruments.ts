// What a manometer, a meter and a board that is both are stated to be in a rig file: driver, port, accuracy, certificate.
import { z } from 'zod'
import { certificateSchema, coverageSchema } from './certificate.ts'
import { pairs } from './pair.ts'
import { about, amount, type ObjectMaker } from './schema.ts'

const positive = z.number().positive()
const nonnegative = z.number().nonnegative()
const text = z.string()
const share = z.number().min(0).max(1)
/** No instrument of use here is worse than a tenth: common practice, no source. */
const usualMost = 0.1
const distribution = z
  .enum(['rectangular', 'normal'])
  .default('rectangular')
  .meta(
    about('distribution', 'rectangular: limits of error, as most data sheets state; normal: with a coverage factor.', {
      example: 'rectangular',
    }),
  )

/** What both instruments have, before and behind what is their own. */
function deviceShape(object: ObjectMaker, driver: string, path: string, options: object) {
  const before = {
    driver: text.min(1).meta(about('driver', 'How the instrument talks.', { example: driver })),
    port: object({
      path: text
        .min(1)
        .nullish()
        .meta(about('', 'Such as /dev/ttyUSB0 or COM3.', { example: path })),
      baudRate: z
        .int()
        .min(50)
        .max(4_000_000)
        .nullish()
        .meta(about('baud', 'How the instrument is set; left out: as its driver expects.', { example: 9600 })),
      dataBits: z
        .literal([7, 8])
        .nullish()
        .meta(about('data bits', 'How the instrument is set; left out: as its driver expects.', { example: 8 })),
      parity: z
        .enum(['none', 'even', 'odd'])
        .nullish()
        .meta(about('parity', 'How the instrument is set; left out: as its driver expects.', { example: 'none' })),
      stopBits: z
        .literal([1, 2])
        .nullish()
        .meta(about('stop bits', 'How the instrument is set; left out: as its driver expects.', { example: 1 })),
    })
      .nullish()
      .meta(about('port', 'The serial port and how it is set.')),
    options: z
      .record(text, z.union([text, z.number()]))
      .nullish()
      .meta(about('options', 'The options of the driver.', { example: options })),
  }
  const identity = object({
    serial: text.nullish().meta(about('serial', 'Serial number of the instrument.', { example: '70412' })),
    certificate: text.nullish().meta(about('number', 'Number of its certificate.', { example: 'K-2027-118' })),
    due: z.iso
      .date()
      .nullish()
      .meta(about('due', 'Last day on which it is valid.', { example: '2027-03-31' })),
  })
    .nullish()
    .meta(about('certificate', 'What tells this instrument from others, and until when it may be used.'))
  return { before, behind: { identity } }
}

function manometerShape(object: ObjectMaker) {
  const ofScale = 'From its data sheet, such as 0.5 % of full scale; what is left after zeroing.'
  return {
    suctionSign: z
      .literal([-1, 1])
      .meta(about('sign', '-1: it shows what pushes the switch as a negative number.', { example: -1 })),
    digit: amount(object, positive, 0.001).meta(about('last digit', 'The smallest step of the display.')),
    accuracy: object({
      ofReading: share.meta(
        about('of reading', 'From its data sheet, such as 0.5 % of reading; 0 where it states none.', {
          ...{ example: 0, shareOf: 'the reading', usualMost },
        }),
      ),
      ofFullScale: share.meta(about('of scale', ofScale, { example: 0.005, shareOf: 'full scale', usualMost })),
      fullScale: amount(object, positive, 2).meta(about('full scale', 'Full scale, for an accuracy in % of scale.')),
      distribution,
      coverage: coverageSchema.nullish(),
      hysteresis: share.nullish().meta(
        about(
          'hysteresis',
          'The part of the accuracy that differs between rise and fall, so that the differential keeps it.',
          {
            ...{ example: 0.2, shareOf: 'the accuracy' },
          },
        ),
      ),
    })
      .nullish()
      .meta(about('accuracy', 'Without accuracy or calibration nothing can pass.')),
    calibration: certificateSchema(object)
      .nullish()
      .meta(about('calibration', 'The points of its certificate; they count in place of the accuracy.')),
    zero: amount(object, nonnegative, 0.001)
      .nullish()
      .meta(about('zero', 'By how much it may be off zero, where a test has no zero at one end.')),
  }
}

function contactShape() {
  return {
    pair: z.enum(pairs).meta(
      about('leads on', 'The pair the leads are meant to be on; network: the three resistors.', {
        example: 'com-no',
      }),
    ),
    leadsOhm: nonnegative
      .default(0)
      .meta(about('leads', 'Resistance of the leads, taken off each reading.', { unit: 'ohm', example: 0.2 })),
    closedBelowOhm: positive
      .default(10)
      .meta(about('closed below', 'A contact with less is closed.', { unit: 'ohm', example: 10 })),
    openAboveOhm: positive
      .default(1000)
      .meta(about('open above', 'A contact with more is open.', { unit: 'ohm', example: 1000 })),
  }
}

const resistanceAccuracy = (object: ObjectMaker) =>
  object({
    ofReading: share.meta(
      about('of reading', 'From its data sheet.', { example: 0.005, shareOf: 'the reading', usualMost }),
    ),
    ohm: nonnegative.meta(about('and', 'What its data sheet adds to that.', { unit: 'ohm', example: 0.1 })),
    distribution,
    coverage: coverageSchema.nullish(),
  })
    .nullish()
    .meta(about('accuracy', 'Of a resistance.'))

/** A manometer, a second one at the switch, a meter, and a board in place of manometer and meter with the fields of both. */
export function instrumentSchemas(object: ObjectMaker) {
  const gauge = deviceShape(object, 'ascii-line', '/dev/ttyUSB0', { unit: 'inH2O' })
  const meter = deviceShape(object, 'scpi-query', '/dev/ttyUSB1', { command: 'READ?' })
  const atSwitch = deviceShape(object, 'ascii-line', '/dev/ttyUSB2', { unit: 'inH2O' })
  return {
    manometer: object({ ...gauge.before, ...manometerShape(object), ...gauge.behind })
      .optional()
      .meta(about('manometer')),
    'manometer-2': object({ ...atSwitch.before, ...manometerShape(object), ...atSwitch.behind })
      .optional()
      .meta(
        about(
          'second manometer',
          'At the switch end of the hose, beside the first one at the tee: it proves the line.',
        ),
      ),
    meter: object({ ...meter.before, ...contactShape(), accuracy: resistanceAccuracy(object), ...meter.behind })
      .optional()
      .meta(about('meter')),
    bridge: object({ ...gauge.before, ...manometerShape(object), ...contactShape(), ...gauge.behind })
      .optional()
      .meta(about('board', 'One board in place of manometer and meter, with the fields of both.')),
  }
}
