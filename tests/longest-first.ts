// Test files into the order they run in: those that follow real time first, so that no core is left waiting for one at the end.
import { BaseSequencer, type TestSpecification } from 'vitest/node'

/** Folders and files of tests that wait for instruments and screens, the longest first. */
const waiting = [
  'end-to-end/guided',
  'end-to-end/served',
  'cli/run',
  'end-to-end/',
  'acquisition/',
  'cli/',
  'terminal/screen.test',
]

const rank = ({ moduleId }: TestSpecification) => {
  const at = waiting.findIndex((name) => moduleId.includes(`/tests/${name}`))
  return at < 0 ? waiting.length : at
}

/** The rest as vitest sorts it: files that took long before, else large ones. */
export class LongestFirst extends BaseSequencer {
  override async sort(files: TestSpecification[]): Promise<TestSpecification[]> {
    return (await super.sort(files)).sort((a, b) => rank(a) - rank(b))
  }
}
