// A part into a few words: its rated point first, then limits and the rest, in its own units.
import type { Part } from '../../core/model/part.ts'

/** `0.25 inH2O on make`, then a line for each thing that its file states. */
export function partText(part: Part): string[] {
  const { rated, limits, contact, proof } = part
  const range = ({ low, high, unit }: { low: number | null; high: number | null; unit: string }) =>
    low === null ? `at most ${high} ${unit}` : high === null ? `at least ${low} ${unit}` : `${low} to ${high} ${unit}`
  const told = (['make', 'break', 'differential'] as const).map((name) => {
    const limit = limits?.[name]
    return limit && (limit.low !== null || limit.high !== null) ? `${name} ${range(limit)}` : `${name} measured only`
  })
  return [
    `${rated.value} ${rated.unit} on ${rated.on}`,
    `${part.kind}: ${told.join('; ')}.`,
    ...(contact?.maxOhm ? [`Contact at most ${contact.maxOhm} ohm.`] : []),
    ...(proof ? [`Proof pressure ${proof.value} ${proof.unit}.`] : []),
  ]
}
