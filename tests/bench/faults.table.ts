// The faults that are done to a test, one a row: what is done, and what of the recording that takes by itself.
import { renameSync, rmSync, truncateSync } from 'node:fs'
import { setTimeout as wait } from 'node:timers/promises'
import { descendantsOf, signalTo } from '../harness/processes.ts'
import type { Setting, Victim } from './fault-session.ts'

export type Fault = {
  name: string
  /** How many of `--n` are done: a stalled terminal takes its time. */
  share: number
  setting: Setting
  /** What is no miss here: a file that cannot grow takes no seal, and a cut takes lines away. */
  takes: readonly ('lines' | 'seal')[]
  act(victim: Victim, random: () => number, stallS: number): Promise<void> | void
}

const usual: Setting = { linesPerS: 200 }
/** At any moment of the first second: what was written a moment ago is what would be lost. */
const anyMoment = (random: () => number) => wait(random() * 1000)

const kill = (name: string, who: 'started' | 'screen' | 'recorder', setting: Setting = usual): Fault => ({
  ...{ name, share: 1, setting, takes: [] },
  async act(victim, random) {
    await anyMoment(random)
    signalTo(victim[who], 'SIGKILL')
  },
})

const takenAway = (name: string, takes: Fault['takes'], take: (file: string) => void): Fault => ({
  ...{ name, share: 0.25, setting: usual, takes },
  async act({ file }, random) {
    await anyMoment(random)
    take(file)
  },
})

export const faults: readonly Fault[] = [
  kill('screen killed', 'screen'),
  kill('recorder killed', 'recorder'),
  kill('launcher killed', 'started', { ...usual, launcher: true }),
  {
    ...{ name: 'cable pulled at 1 000 lines/s', share: 0.25, setting: { linesPerS: 1000 }, takes: [] },
    async act({ manometer, screen }, random) {
      await anyMoment(random)
      manometer.unplug()
      await wait(500)
      manometer.plug()
      await wait(2000)
      signalTo(screen, 'SIGINT')
    },
  },
  {
    ...{ name: 'no more room', share: 0.25, setting: { linesPerS: 1000, ulimitBlocks: 100 }, takes: ['seal'] },
    act: () => {},
  },
  takenAway('recording deleted', [], (file) => rmSync(file)),
  takenAway('recording moved', [], (file) => renameSync(file, `${file}.moved`)),
  takenAway('recording cut', ['lines', 'seal'], (file) => truncateSync(file, 3000)),
  {
    ...{ name: 'terminal stalled', share: 0.05, setting: { ...usual, terminal: true }, takes: [] },
    async act({ stall, screen }, _, stallS) {
      stall(true)
      await wait(stallS * 1000)
      stall(false)
      signalTo(screen, 'SIGTERM')
    },
  },
  {
    ...{ name: 'machine suspended', share: 0.1, setting: usual, takes: [] },
    async act({ started, screen }, random) {
      await anyMoment(random)
      const all = [started, ...descendantsOf(started)]
      for (const pid of all) signalTo(pid, 'SIGSTOP')
      await wait(3000)
      for (const pid of all) signalTo(pid, 'SIGCONT')
      await wait(1000)
      signalTo(screen, 'SIGINT')
    },
  },
]
