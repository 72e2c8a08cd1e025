// A finished recording into what is shown of it at any of its times, what it comes to, and its curve.
import type { FindDecode } from '../commands/bind-drivers.ts'
import { changedDrivers } from '../commands/changed-drivers.ts'
import { drawCurve, exportCurve } from '../commands/curve.ts'
import { tell } from '../commands/describe-run.ts'
import { naming } from '../commands/fold-recording.ts'
import { keysHere } from '../commands/read-evidence.ts'
import { readReportShop, readShop } from '../commands/read-shop.ts'
import { proofOf } from '../commands/read-signature.ts'
import { unknownSetup } from '../commands/unknown-setup.ts'
import { type Assessment, assess } from '../core/assess.ts'
import { initialRun } from '../core/intake/run.ts'
import { createTimeline } from '../core/intake/timeline.ts'
import type { RecordedEvent } from '../core/model/event.ts'
import { liveOf } from '../core/view/live-view.ts'
import type { Driver } from '../driver.ts'
import type { Heartbeat } from '../heartbeat.ts'
import { createReader } from '../recording/read.ts'
import { replay } from '../source/replay.ts'
import type { Asks } from './messages.ts'
import { packLive } from './packed-live.ts'

export type PlayWorld = {
  drivers: ReadonlyMap<string, Driver>
  findDecode: FindDecode
  ours: Heartbeat['ours']
}

export type Play = {
  opened: Asks['open']['gives']
  look(atS: number): Asks['look']['gives']
  tell(): Asks['tell']['gives']
  curve(out: string): Promise<Asks['curve']['gives']>
  drawings(): Asks['drawings']['gives']
  report(out: string): Promise<Asks['report']['gives']>
  tag(out: string): Promise<Asks['tag']['gives']>
}

/** Reads the recording at `path`. Throws a Problem for a file that is not a recording. */
export async function openPlay(path: string, { drivers, findDecode, ours }: PlayWorld): Promise<Play> {
  const events: RecordedEvent[] = []
  const reader = createReader()
  await naming(path, async () => {
    for await (const batch of replay(path, reader)) events.push(...batch)
  })
  const proof = proofOf({ first: events[0], last: events.at(-1) }, reader.digests(), keysHere())
  const signedBy = proof.told?.text ?? null
  const timeline = createTimeline(events, initialRun(findDecode))
  const whole = timeline.at(timeline.endUs)
  const { setup } = whole
  if (setup === null) throw unknownSetup(whole, path)
  // The analysis of the last look is kept for as long as no stroke has ended since.
  let assessment: Assessment = null
  return {
    opened: { start: setup.start, endS: timeline.endUs / 1e6 },
    look(atS) {
      const run = timeline.at(atS * 1e6)
      return ours(() => {
        assessment = assess(run, assessment)
        const signature = run.end === null ? null : signedBy
        return packLive({ ...liveOf(run, assessment), signature })
      })
    },
    tell: () => ours(() => ({ told: tell(whole, null, signedBy), notes: changedDrivers(setup.start, drivers) })),
    curve: async (out) => exportCurve(path, whole, out, (await readShop()).decimal),
    drawings: () => ours(() => drawCurve(path, whole).drawings),
    async report(out) {
      const { writeReport } = await import('../commands/write-report.ts')
      const shop = await readReportShop()
      return (await writeReport(path, { run: whole, proof }, { out, drivers, shop, paper: shop.paper, number: null }))
        .path
    },
    async tag(out) {
      const { writeTag } = await import('../commands/tag.ts')
      return writeTag(path, { run: whole, proof }, { out, drivers, shop: await readReportShop() })
    },
  }
}
