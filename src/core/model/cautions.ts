// What can hurt at the bench, told before the first stroke, acknowledged once and kept on the record under its name.
import type { Mark } from './marks.ts'
import type { Purpose } from './purposes.ts'

export type Caution = { name: string; text: string }

/** Common practice, no source; local codes, the appliance's own instructions and licensed practice come first. */
const atBench: readonly Caution[] = [
  {
    name: 'mains-off',
    text: 'Disconnect the mains and prove it dead before a part is taken out; an interlock does not isolate.',
  },
  { name: 'part-alone', text: 'The part is out of its appliance and nothing else is connected to its tabs.' },
  { name: 'not-by-mouth', text: 'Draw with a syringe or a pump, never by mouth, and never with compressed air.' },
  {
    name: 'no-bypass',
    text: 'Leave no bypass in the appliance. Local codes and licensed practice come first.',
  },
]

const inPlace: readonly Caution[] = [
  {
    name: 'not-on-live',
    text: 'Never measure ohms on a wired or live circuit; prove the mains dead before touching tabs.',
  },
  { name: 'no-bypass', text: 'Never run a fire with an interlock bypassed; leave no bypass in place.' },
  { name: 'co-alarm', text: 'A carbon monoxide alarm is on. If it sounds: stop, ventilate, leave.' },
  { name: 'hot-parts', text: 'Keep clear of hot surfaces, augers and fans; ash holds embers for days.' },
]

/** The cautions of a test with this purpose. */
export const cautionsOf = (purpose: Purpose): readonly Caution[] => (purpose === 'in-place' ? inPlace : atBench)

/** Those of them that no `caution` mark has acknowledged yet. */
export function openCautions(purpose: Purpose, marks: readonly Mark[]): Caution[] {
  const known = new Set(marks.flatMap((m) => (m.mark === 'caution' && m.text !== null ? [m.text] : [])))
  return cautionsOf(purpose).filter(({ name }) => !known.has(name))
}

/** The note that keeps in the recording that the cautions were shown and wait for a key. */
export const cautionsWaitNote = 'The cautions wait to be read'

/**
 * Since when strokes may count, µs: since the last caution was acknowledged. From the start where nobody was asked to, never where
 * one still waits.
 */
export function cautionsReadUs(purpose: Purpose, marks: readonly Mark[]): number {
  const lastUs = marks.findLast(({ mark }) => mark === 'caution')?.tUs ?? Number.NEGATIVE_INFINITY
  const wait = marks.some(({ text }) => text === cautionsWaitNote) && openCautions(purpose, marks).length > 0
  return wait ? Number.POSITIVE_INFINITY : lastUs
}
