// Pauses of the manometer that come on a beat into a finding: it zeroes itself, and a trip in a pause does not count.
import { criteria } from '../../criteria.table.ts'
import { toArray } from '../../model/series.ts'
import { medianIntervalS } from '../../signal/pressure-track.ts'
import { gapUs } from '../../signal/silence.ts'
import { median } from '../../statistics/mean.ts'
import { givenText } from '../../text/figures-text.ts'
import { type Rule, sight } from '../rule.ts'

export const zeroingPauses: Rule = (c) => {
  const { tUs } = c.track.of
  const limitUs = gapUs(medianIntervalS(c.track))
  const away = [...toArray(c.run.linkBreaks).map((l) => l.tUs), ...toArray(c.run.sleeps).map((s) => s.fromUs)]
  const pauses: { fromUs: number; forUs: number }[] = []
  for (let i = 1; i < c.track.length; i++) {
    const fromUs = tUs[i - 1]!
    const toUs = tUs[i]!
    if (toUs - fromUs <= limitUs || away.some((atUs) => atUs >= fromUs && atUs <= toUs)) continue
    pauses.push({ fromUs, forUs: toUs - fromUs })
  }
  if (pauses.length < criteria.pausesLeast) return []
  const beatsUs = pauses.slice(1).map(({ fromUs }, i) => fromUs - pauses[i]!.fromUs)
  const [beatUs, forUs] = [median(beatsUs) ?? 0, median(pauses.map((pause) => pause.forUs)) ?? 0]
  const isEven = (us: number, usualUs: number) => Math.abs(us - usualUs) <= criteria.pauseEvenShare * usualUs
  if (!beatsUs.every((us) => isEven(us, beatUs)) || !pauses.every((pause) => isEven(pause.forUs, forUs))) return []
  const [everyS, forS] = [beatUs / 1e6, forUs / 1e6]
  const text = `The manometer sends nothing for ${givenText(forS, 2)} s every ${givenText(everyS, 2)} s, as one that zeroes itself does. Switch that off where it can be; a stroke that trips in such a pause does not count.`
  return [sight('note', pauses[0]!.fromUs, text, { pauses: pauses.length, everyS, forS })]
}
