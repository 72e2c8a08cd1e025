// The faults that are done to a test, one a row: what is done, and what of the recording that takes by itself.
import { renameSync, rmSync, statSync, truncateSync } from 'node:fs'
import { setTimeout as wait } from 'node:timers/promises'
import { descendantsOf, signalTo } from '../harness/processes.ts'
import type { Act, Setting, Victim } from './fault-session.ts'

export type Fault = {
  name: string
  /** How many of `--n` are done: kills and cables as often as that, what takes its time or is the same each time less often. */
  share: number
  setting: Setting
  /** What is not a miss here: a file that cannot grow takes no seal, and a cut takes lines away. */
  takes: readonly ('lines' | 'seal')[]
  act(victim: Victim, random: () => number, stallS: number): ReturnType<Act>
}

const usual: Setting = { linesPerS: 200 }
/** At any moment of the first second: what was written a moment ago is what would be lost. */
const anyMoment = (random: () => number) => wait(random() * 1000)

const kill = (name: string, who: 'started' | 'screen' | 'recorder', setting: Setting = usual): Fault => ({
  ...{ name, share: 1, setting, takes: [] },
  async act(victim, random) {
    await anyMoment(random)
    signalTo(victim[who], 'SIGKILL')
    return null
  },
})

const takenAway = (name: string, takes: Fault['takes'], take: (file: string) => void): Fault => ({
  ...{ name, share: 0.1, setting: usual, takes },
  async act({ file }, random) {
    await anyMoment(random)
    take(file)
    return null
  },
})

export const faults: readonly Fault[] = [
  kill('screen killed', 'screen'),
  kill('recorder killed', 'recorder'),
  kill('launcher killed', 'started', { ...usual, launcher: true }),
  {
    ...{ name: 'cable pulled at 1 000 lines/s', share: 1, setting: { linesPerS: 1000 }, takes: [] },
    async act({ cable, screen, taken }, random) {
      await anyMoment(random)
      cable(false)
      await wait(500)
      cable(true)
      const due = await taken()
      signalTo(screen, 'SIGINT')
      return due
    },
  },
  {
    ...{ name: 'no more room', share: 0.1, setting: { linesPerS: 1000, ulimitBlocks: 100 }, takes: ['seal'] },
    act: () => null,
  },
  takenAway('recording deleted', [], (file) => rmSync(file)),
  takenAway('recording moved', [], (file) => renameSync(file, `${file}.moved`)),
  takenAway('recording cut', ['lines', 'seal'], (file) => truncateSync(file, statSync(file).size / 2)),
  {
    ...{ name: 'terminal stalled', share: 0.1, setting: { ...usual, terminal: true }, takes: [] },
    async act({ stall, screen, taken }, _, stallS) {
      stall(true)
      await wait(stallS * 1000)
      const due = await taken()
      stall(false)
      signalTo(screen, 'SIGTERM')
      return due
    },
  },
  {
    ...{ name: 'machine suspended', share: 0.1, setting: usual, takes: [] },
    async act({ started, screen, taken }, random) {
      await anyMoment(random)
      const all = [started, ...descendantsOf(started)]
      for (const pid of all) signalTo(pid, 'SIGSTOP')
      await wait(3000)
      for (const pid of all) signalTo(pid, 'SIGCONT')
      const due = await taken()
      signalTo(screen, 'SIGINT')
      return due
    },
  },
]
